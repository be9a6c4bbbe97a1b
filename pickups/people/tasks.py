"""The queue's door to people: words that were kept long enough, settings that were not told."""

from celery import shared_task

from pickups.kernel import clock
from pickups.people import services, telling


@shared_task(name="people.purge", ignore_result=True)
def purge() -> None:
    """Erase what was typed longer ago than it is kept."""
    services.purge(at=clock.now())


@shared_task(name="people.tell_settings", ignore_result=True)
def tell_settings() -> None:
    """Tell devices what the dealer has set, where that has changed."""
    telling.tell_settings()
