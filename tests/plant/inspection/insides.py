"""Events of one casing for the properties of the fold inside a plant, plausible or not."""

from dataclasses import replace
from datetime import timedelta
from typing import Any
from uuid import UUID

from hypothesis import strategies as st

from pickups.kernel import clock
from plant.dock.rules import DEFAULT_ROUTE
from plant.inspection.fold import Event, Route, Stop
from plant.inspection.wire import Finding, StationEvent

BEGAN_MS = 1_760_000_000_000
HOUR_MS = 3_600_000
DAY_MS = 24 * HOUR_MS
LABEL = "K7000Y02"
CODES = tuple(DEFAULT_ROUTE)
OPTIONAL = {"skiving", "repair", "final-ndt"}
ROUTE = Route(tuple(Stop(code, code in OPTIONAL) for code in CODES))
RELEASABLE, FOR_EVER = "SW_CUT", "ZIPPER"


def event(number: int, outcome: str, station: str = "buffing", hour: float = 0.0,
          about: int | None = None, label: str = LABEL, inner: bool = False,
          **told: Any) -> Event:  # fmt: skip
    """One event; number: its id, hour: since the casing came, by the clock of whoever told it;
    inner: told by the plant's own pages."""
    stamp, named = BEGAN_MS + round(hour * HOUR_MS), UUID(int=about) if about else None
    if outcome == "rejected":
        told = {"reason": RELEASABLE, "cause": "casing", **told}
    said = StationEvent(
        id=UUID(int=number),
        label=label,
        station=station,
        outcome=outcome,  # type: ignore[arg-type]
        happened_at=clock.from_ms(stamp),
        releases=named if outcome == "released" else None,
        withdraws=named if outcome == "withdrawn" else None,
        **told,
    )
    return Event(said.id, label, outcome, station, named, stamp, said, inner=inner)


def later(one: Event, ms: int) -> Event:
    """The same, told by a clock that is off."""
    said = replace_told(one, happened_at=one.told.happened_at + timedelta(milliseconds=ms))
    return replace(said, stamp=one.stamp + ms)


def replace_told(one: Event, **changed: Any) -> Event:
    """The same, with something else told."""
    told = {name: getattr(one.told, name) for name in one.told.__struct_fields__}
    return replace(one, told=StationEvent(**(told | changed)))


@st.composite
def events(draw: st.DrawFn, *, reworks: bool = True, most: int = 12) -> list[Event]:
    """Whatever stations may tell of one casing: releases and withdrawals name one that is there,
    or one that never comes."""
    made: list[Event] = []
    for number in range(1, draw(st.integers(1, most)) + 1):
        hour = draw(st.integers(-48, 48))
        station = draw(st.sampled_from(CODES))
        about: int | None = None
        told: dict[str, Any] = {}
        outcome = draw(st.sampled_from(
            ["received", "passed", "passed", "repair", "rejected", "hold", "released", "finished",
             "shipped", "withdrawn"]))  # fmt: skip
        if outcome in ("released", "withdrawn"):
            about = draw(st.integers(1, most + 1))
        if outcome == "rejected":
            told["reason"] = draw(st.sampled_from([RELEASABLE, FOR_EVER]))
        if outcome == "repair":
            if reworks and draw(st.booleans()):
                told["again_at"] = draw(st.sampled_from(CODES))
            told["findings"] = [Finding("crown", "nail hole", size_mm=4.0)]
        made.append(event(number, outcome, station, hour, about, **told))
    return made
