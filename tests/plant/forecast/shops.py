"""Plants for the tests of the engine: invented figures, every feature somewhere, Hypothesis to mix
them."""

from hypothesis import strategies as st

from plant.forecast import hours
from plant.forecast.hours import ALWAYS, Hours
from plant.forecast.shop import Chamber, Job, Law, Shop, Station

DAYS = 40


def shift(begins: float, ends: float, days: int = DAYS) -> Hours:
    """Open at these hours on five days of each seven, from a week before the origin."""
    return hours.of(
        [(24 * day + begins, 24 * day + ends) for day in range(-7, days) if day % 7 < 5]
    )


CALENDARS = (shift(8, 16), shift(6, 22), ALWAYS)

_LAWS: list[Law] = ["lognormal", "lognormal", "exponential", "fixed"]
_laws = st.sampled_from(_LAWS)
_quarter = st.integers(1, 8).map(lambda n: n / 4)


@st.composite
def chambers(draw: st.DrawFn) -> Chamber:
    holds = draw(st.integers(1, 6))
    fixed = draw(st.sampled_from([(), (), tuple(12.0 * n for n in range(2 * DAYS))]))
    return Chamber(
        holds,
        draw(_quarter),
        draw(st.integers(1, holds)),
        draw(st.sampled_from([0.0, 0.5, 4.0])),
        fixed,
    )


@st.composite
def stations(draw: st.DrawFn, k: int, *, loops: bool) -> Station:
    machines = draw(st.integers(1, 3))
    law: Law = draw(_laws)
    chamber: Chamber | tuple[Chamber, ...] | None = None
    if draw(st.integers(0, 3)) == 0:
        chamber = tuple(draw(chambers()) for _ in range(machines))
    rework = loops and draw(st.booleans())
    return Station(
        f"s{k}",
        machines,
        draw(_quarter),
        draw(st.sampled_from([0.1, 0.5, 1.5])),
        law,
        hours=draw(st.integers(0, 2)),
        takes=draw(st.sampled_from([1, 1, 3])),
        passes=draw(st.sampled_from([1.0, 1.0, 0.5])),
        reject=draw(st.sampled_from([0.0, 0.0, 0.1])),
        rework=0.3 if rework else 0.0,
        rework_to=draw(st.integers(0, k)) if rework else -1,
        breakdown=(draw(_quarter) * 10, draw(_quarter)) if loops and draw(st.booleans()) else None,
        chamber=chamber,
    )


@st.composite
def shops(draw: st.DrawFn, *, loops: bool) -> Shop:
    many = draw(st.integers(1, 5))
    return Shop(
        tuple(draw(stations(k, loops=loops)) for k in range(many)),
        CALENDARS,
        draw(st.sampled_from([0, 1, 3])) if loops else None,
    )


@st.composite
def casings(draw: st.DrawFn, shop: Shop, *, priorities: bool) -> list[Job]:
    """Some waiting, some in work (a load a machine at most), some to come; many at whole quarters
    of an hour, so that they meet."""
    found: list[Job] = []
    for k, station in enumerate(shop.stations):
        rooms = [one.holds for one in station.chambers] or [station.takes] * station.machines
        loads = draw(st.integers(0, station.machines))
        begun = sorted(
            draw(st.lists(st.integers(1, 80), min_size=loads, max_size=loads, unique=True)),
            reverse=True,
        )
        for quarters, room in zip(begun, rooms, strict=False):
            many = draw(st.integers(1, room))
            found += [Job(k, -quarters / 4 - 1, -quarters / 4) for _ in range(many)]
    for _ in range(draw(st.integers(0, 25))):
        station_ = draw(st.integers(0, len(shop.stations) - 1))
        found.append(
            Job(
                station_,
                draw(st.integers(-40, 200)) / 4,
                None,
                draw(st.integers(0, 2)) if priorities else 0,
                draw(st.frozensets(st.integers(0, len(shop.stations) - 1), max_size=2)),
                draw(st.sampled_from([1.0, 1.0, 0.5])),
                draw(st.frozensets(st.integers(0, len(shop.stations) - 1), max_size=2)),
            )
        )
    order = draw(st.permutations(range(len(found))))
    return [found[at] for at in order]
