"""The queue's door to loads: what is missing after an hour, what is over."""

from celery import shared_task

from pickups.kernel import clock
from plant.curing import services


@shared_task(name="curing.sweep", ignore_result=True)
def sweep() -> int:
    """Sent every ten minutes; repeatable."""
    return services.sweep(at=clock.now())
