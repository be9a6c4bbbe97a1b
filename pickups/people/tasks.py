"""The queue's door to people: words that were kept long enough."""

from celery import shared_task

from pickups.kernel import clock
from pickups.people import services


@shared_task(name="people.purge", ignore_result=True)
def purge() -> None:
    """Erase what was typed longer ago than it is kept."""
    services.purge(at=clock.now())
