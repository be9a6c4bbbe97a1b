"""Forecasts as Hypothesis draws them, and what the cast's plant says of arrivals."""

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from hypothesis import strategies as st

from pickups.kernel import clock
from pickups.promises import services
from pickups.promises.finishing import ALL_SIZES, GROUPS, NEVER, pack
from pickups.promises.offering import Forecast, Key, Reached
from pickups.promises.services import Ahead, Arrival
from tests.pickups.promises.promising import today
from tests.pickups.promises.trucks import START, plants
from tests.world import World

CHICAGO = ZoneInfo("America/Chicago")
DAY_MIN = 24 * 60
AHEAD = Ahead("shearography", "Shearography", "Shearografía", 14)

minutes = st.integers(0, 20 * DAY_MIN) | st.just(NEVER)
samples = st.lists(minutes, min_size=4, max_size=4)
origins = st.integers(0, 30 * DAY_MIN).map(
    lambda m: datetime(START.year, START.month, START.day, 12, tzinfo=UTC) + timedelta(minutes=m)
)
keys = st.tuples(
    st.sampled_from(["retread", "repair"]),
    st.sampled_from([ALL_SIZES, "wide"]),
    st.integers(0, 20).map(lambda n: START + timedelta(days=n)),
    st.sampled_from(GROUPS),
)


def _forecast(origin: datetime, arrivals: Mapping[Key, list[int]], queue: int) -> Forecast:
    ends = origin + timedelta(days=1)
    ahead = [{"station": "s", "name": "Skiving", "name_es": "Desbaste", "count": queue}]
    return Forecast(origin, origin, ends, arrivals, ahead)


forecasts = st.builds(
    _forecast, origins, st.dictionaries(keys, samples, max_size=12), st.integers(0, 30)
)
reached = st.builds(Reached, plants, st.none() | forecasts)


def noon_of(day: date) -> datetime:
    """Noon of a day in the dealer's zone, in UTC."""
    zone = ZoneInfo(settings.DEALER_TIME_ZONE)
    return datetime(day.year, day.month, day.day, 12, tzinfo=zone).astimezone(UTC)


def spread(done: date) -> list[date]:
    """Ten courses: eight are done on a day, one the next day, one three days later; so 90 % is a
    day later than half, and 99 % later still."""
    return [done] * 8 + [done + timedelta(days=1), done + timedelta(days=3)]


def foretell(
    world: World,
    *,
    working: int = 5,
    works: Iterable[str] = ("retread", "repair"),
    casings: Mapping[UUID, Iterable[date]] | None = None,
    valid: timedelta = timedelta(days=1),
    made: datetime | None = None,
    groups: Mapping[int, int] | None = None,
    ahead: Iterable[Ahead] = (AHEAD,),
) -> None:
    """The cast's plant forecasts: what arrives on a day is done so many days after it, as
    `spread`; groups: how many days later the last of so many is."""
    at = made or clock.now()
    # A day before it was made, so that it may also have ended.
    origin = min(noon_of(today()), at) - timedelta(days=1)

    def packed(days: Iterable[date]) -> bytes:
        return pack(int((noon_of(day) - origin).total_seconds() // 60) for day in days)

    later = {1: 0} if groups is None else groups
    arrivals = [
        Arrival(work, ALL_SIZES, on, group, packed(spread(on + timedelta(days=working + behind))))
        for work in works
        for on in (today() + timedelta(days=n) for n in range(22))
        for group, behind in later.items()
    ]
    services.publish_forecast(
        plant=world.plant.uid,
        origin=origin,
        casings={uid: packed(days) for uid, days in (casings or {}).items()},
        arrivals=arrivals,
        ahead=list(ahead),
        valid_until=at + valid,
        at=at,
    )
