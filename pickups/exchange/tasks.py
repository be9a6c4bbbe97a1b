"""The queue's door to lists: files that nobody needs any more are forgotten."""

from celery import shared_task

from pickups.exchange import services
from pickups.kernel import clock


@shared_task(name="exchange.forget", ignore_result=True)
def forget() -> int:
    """What was read more than a day ago."""
    return services.forget(at=clock.now())
