"""The queue's door to notices: stop-use notices that nobody has confirmed for too long."""

from celery import shared_task

from pickups.kernel import clock
from pickups.notices import stopping


@shared_task(name="notices.ask_unconfirmed", ignore_result=True)
def ask_unconfirmed() -> int:
    """Sent often; each owner is asked about once."""
    return stopping.ask_unconfirmed(at=clock.now())
