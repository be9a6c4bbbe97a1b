"""The queue's doors to custody: what nobody has told for too long is asked about; names
that were kept long enough."""

from celery import shared_task

from pickups.custody import keeping, overdue
from pickups.kernel import clock


@shared_task(name="custody.ask_unfinished", ignore_result=True)
def ask_unfinished() -> int:
    """Pickups and deliveries with casings from more than a day ago and no end."""
    return overdue.ask_unfinished(at=clock.now())


@shared_task(name="custody.ask_one_sided", ignore_result=True)
def ask_one_sided() -> int:
    """Hand-overs from more than a day ago that only one side has told."""
    return overdue.ask_one_sided(at=clock.now())


@shared_task(name="custody.purge", ignore_result=True)
def purge() -> None:
    """Erase who signed or accepted longer ago than that is kept."""
    keeping.purge(at=clock.now())
