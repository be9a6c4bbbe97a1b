"""The queue's door to promises: each day's tables, and new days that are to be told."""

from celery import shared_task

from pickups.kernel import clock
from pickups.promises import services, watching


@shared_task(name="promises.compute_due", ignore_result=True)
def compute_due() -> int:
    """Compute the tables that are not of today; sent often, so that a day begins with its own."""
    return services.compute_due(at=clock.now())


@shared_task(name="promises.tell_due", ignore_result=True)
def tell_due() -> int:
    """Tell the new days that came up at night; sent often, so that the morning begins with it."""
    return watching.tell_due(at=clock.now())
