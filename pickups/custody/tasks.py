"""The queue's door to custody: what nobody has finished is asked about."""

from celery import shared_task

from pickups.custody import visits
from pickups.kernel import clock


@shared_task(name="custody.ask_unfinished", ignore_result=True)
def ask_unfinished() -> int:
    """Pickups with casings from more than a day ago and no end."""
    return visits.ask_unfinished(at=clock.now())
