"""The queue's door to station events: what names nothing after a day."""

from celery import shared_task

from pickups.kernel import clock
from plant.inspection import services


@shared_task(name="inspection.sweep", ignore_result=True)
def sweep() -> int:
    """Sent every hour; repeatable."""
    return services.sweep(at=clock.now())
