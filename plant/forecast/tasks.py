"""The queue's doors to the forecast: what is due is looked for, one plant computed at a time."""

from uuid import UUID

from celery import shared_task

from pickups.kernel import clock
from plant.forecast import services, trying


@shared_task(name="forecast.sweep", ignore_result=True)
def sweep() -> int:
    """Send each plant whose forecast is due to be computed, and what somebody supposed; how many
    plants were."""
    now = clock.now()
    for uid in trying.waiting(at=now):
        suppose.apply_async((str(uid),), expires=30)
    due = services.due(at=now)
    for plant in due:
        # Not taken in time it is sent again: it is due until somebody has computed it.
        compute.apply_async((str(plant),), expires=30)
    return len(due)


@shared_task(name="forecast.compute", ignore_result=True)
def compute(plant: str) -> str:
    """One plant's forecast; sent twice, or at once by two, it is computed once."""
    return services.compute(plant=UUID(plant), at=clock.now())


@shared_task(name="forecast.suppose", ignore_result=True)
def suppose(uid: str) -> str:
    """What somebody supposed; sent twice, it is computed once."""
    return trying.carry_out(uid=UUID(uid), at=clock.now())


@shared_task(name="forecast.purge", ignore_result=True)
def purge() -> None:
    """What was predicted and learned longer ago than it is kept."""
    now = clock.now()
    services.purge(at=now)
    trying.purge(at=now)
