"""The queue's door to promises: each day's tables."""

from celery import shared_task

from pickups.kernel import clock
from pickups.promises import services


@shared_task(name="promises.compute_due", ignore_result=True)
def compute_due() -> int:
    """Compute the tables that are not of today; sent often, so that a day begins with its own."""
    return services.compute_due(at=clock.now())
