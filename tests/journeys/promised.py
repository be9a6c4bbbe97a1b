"""What a store may promise on the day of a journey."""

from datetime import date
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.kernel import clock
from tests.world.stack import Stack


def publish(stack: Stack, *, days: int) -> None:
    cast = stack.cast
    places = f"{cast['store']!r}, {cast['plant']!r}, {cast['yard']!r}"
    stack.call(f"publish_promises({places}, days={days})")


def offer(stack: Stack, place: str, work: str) -> str:
    """What the store's table offers for a casing that is handed over on the phone's today."""
    query = "SELECT computed_on, places FROM promises_table WHERE site = %s"
    computed_on, by_place = stack.rows(query, stack.cast["store"])[0]
    return str(by_place[place][work][(today() - computed_on).days])


def today() -> date:
    """The phone's day, which is its dealer's."""
    return clock.local(clock.now(), ZoneInfo(settings.DEALER_TIME_ZONE)).date()
