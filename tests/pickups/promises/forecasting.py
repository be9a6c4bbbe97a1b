"""Forecasts of the cast's plant, by the days on which casings are finished in their courses."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from pickups.kernel import clock
from pickups.promises import services
from pickups.promises.finishing import NEVER, pack
from pickups.promises.services import Ahead
from tests.pickups.promises.promising import drained, noon, today
from tests.pickups.promises.trucks import WEEK, publish
from tests.world import World

DAY = timedelta(days=1)
COURSES = 200


def trucks_every_day(world: World, *, days: int | None = None) -> None:
    """A truck each way and a run to the yard each day: finished on a day, at the store on the next,
    in the yard on the one after. By default without a standard time."""
    publish(world, days=days, to_plant=WEEK, to_yard=WEEK, weekdays=WEEK)


def forecast(world: World, *casings: tuple[Mapping[str, Any], Sequence[int | None]]) -> None:
    """The plant publishes when these casings are finished, as so many days from today in each of
    the courses, repeated to fill them; None: rejected there. All owed by it is done."""
    at = clock.now()

    def minute(ahead: int | None) -> int:
        if ahead is None:
            return NEVER
        return (noon(today() + ahead * DAY) - at) // timedelta(minutes=1)

    services.publish_forecast(
        plant=world.plant.uid,
        origin=at,
        casings={
            UUID(op["id"]): pack([minute(days[i % len(days)]) for i in range(COURSES)])
            for op, days in casings
        },
        arrivals=[],
        ahead=[Ahead("shearography", "Shearography", "Shearografía", 14)],
        valid_until=at + timedelta(hours=6),
        at=at,
    )
    drained()


def courses(*, on: Mapping[int, int]) -> list[int]:
    """So many courses of a hundred for each day ahead."""
    return [ahead for ahead, share in on.items() for _ in range(share)]


def back(ahead: int) -> date:
    """When what is finished so many days from today is back in the yard, by daily trucks."""
    return today() + (ahead + 2) * DAY
