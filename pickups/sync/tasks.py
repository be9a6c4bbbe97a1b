"""The queue's door to the sync: what is tried again, and what is forgotten."""

from datetime import timedelta

from celery import shared_task

from pickups.kernel import clock
from pickups.sync import push, services, unsent
from pickups.sync.wire import RESEND_DAYS


@shared_task(name="sync.retry_held", ignore_result=True)
def retry_held() -> int:
    """Try those whose awaited operation has arrived meanwhile."""
    return push.retry_held()


@shared_task(name="sync.purge", ignore_result=True)
def purge() -> int:
    """Forget drops that every phone in use has seen long ago, and old words of what is held."""
    services.erase_typed(at=clock.now())
    return services.purge(older_than=clock.now() - timedelta(days=RESEND_DAYS))


@shared_task(name="sync.forget_unsent", ignore_result=True)
def forget_unsent() -> int:
    """Forget sealed files that were put by; a fault of their store keeps nothing else waiting."""
    return unsent.forget(older_than=clock.now() - timedelta(days=1))
