"""One forecast, from what was told of a plant to what is published and shown of it. Pure.

The same told twice gives the same: luck comes from the seed alone.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID

import numpy as np
from numpy.typing import NDArray

from plant.forecast import calibration, coming, laid_out, simulating, whereabouts
from plant.forecast import hours as calendar
from plant.forecast.calibration import State
from plant.forecast.laid_out import Entered, Known, Layout
from plant.forecast.shop import Job
from plant.forecast.simulating import Arrival
from plant.forecast.whereabouts import Inside, Load, Placed

Floats = NDArray[np.float64]

ARRIVAL, INSIDE = "arrival", "inside"
SAID: tuple[float, ...] = (0.5, 0.9, 0.99)
"""The shares that are kept and shown of what was said."""
MOST_AHEAD = 3
"""So many stations are named where casings wait most."""


@dataclass(frozen=True, slots=True)
class Told:
    """All that a forecast is made from; hours are from the origin. state: what to correct by; rush:
    orders whose casings go first at each station."""

    origin: datetime
    entered: Entered
    known: Known
    casings: Sequence[Inside]
    loads: Mapping[str, Load]
    left: Mapping[str, Sequence[float]]
    to_come: Sequence[coming.Known]
    usual: coming.Usual
    state: State
    rush: frozenset[UUID] = frozenset()


@dataclass(frozen=True, slots=True)
class Made:
    """placed: casings inside that go on by themselves; raw, samples: finishing hours of each from
    the origin, [course, casing], as simulated and as corrected. coming: the same, corrected, of the
    orders that are known to come. waiting: how many are at each station or in its queue."""

    layout: Layout
    placed: list[Placed]
    raw: Floats
    samples: Floats
    coming: dict[UUID, Floats]
    arrivals: list[Arrival]
    waiting: dict[str, int]


def make(told: Told, *, seed: int) -> Made:
    """The forecast of a plant of which nothing is missing (laid_out.missing)."""
    layout, placed = laid(told)
    ours = [one.job for one in placed]
    simulate = _simulate(layout)
    later, _ = come(told, layout, simulating.AHEAD_DAYS)
    whole = simulating.courses(simulate, [*ours, *later], seed=seed)
    raw = whole[:, : len(ours)]
    return Made(
        layout=layout,
        placed=placed,
        raw=raw,
        samples=corrected(raw, placed, layout, told.state),
        coming=_coming(told, layout, later, whole[:, len(ours) :]),
        arrivals=_arrivals(told, layout, ours, simulate, seed),
        waiting=whereabouts.waiting(layout, placed),
    )


def laid(told: Told) -> tuple[Layout, list[Placed]]:
    """The plant's shop, and where each casing stands in it that goes on by itself."""
    layout = laid_out.layout(told.entered, told.known, told.origin)
    placed = whereabouts.placed(
        layout, told.entered, told.casings, told.loads, told.left, told.known.lost_h
    )
    return layout, [
        replace(one, job=replace(one.job, priority=1)) if one.casing.order in told.rush else one
        for one in placed
    ]


def _simulate(layout: Layout) -> simulating.Simulate:
    # Loaded only where something is computed: what compiles takes every other process seconds.
    from plant.forecast import engine

    def simulate(jobs: Sequence[Job], seed: int) -> Floats:
        return engine.finishes(
            layout.shop, engine.jobs(jobs), replications=simulating.COURSES, seed=seed
        )

    return simulate


def come(
    told: Told, layout: Layout, days: int, asked: Mapping[Any, Any] | None = None
) -> tuple[list[Job], list[coming.Group]]:
    """What is still to come in so many days, known, expected and asked about."""
    return coming.jobs(layout, told.entered, told.to_come, told.usual, origin=told.origin,
                       days=days, asked=asked)  # fmt: skip


def _coming(
    told: Told, layout: Layout, later: Sequence[Job], courses: Floats
) -> dict[UUID, Floats]:
    """Of each order that is known to come, as of one that has arrived by then."""
    whose = coming.whose(layout, told.entered, told.to_come, later, origin=told.origin,
                         days=simulating.AHEAD_DAYS)  # fmt: skip
    correct = correction(told.state, ARRIVAL)
    return {
        order: simulating.corrected(courses[:, [i]], layout.hours, correct, since_h=later[i].at_h)[
            :, 0
        ]
        for order, i in whose.items()
    }


def _arrivals(
    told: Told, layout: Layout, ours: Sequence[Job], simulate: simulating.Simulate, seed: int
) -> list[Arrival]:
    return simulating.arrivals(
        simulate,
        ours,
        lambda asked: come(told, layout, simulating.DAYS, asked),
        layout,
        correction(told.state, ARRIVAL),
        first=told.origin.astimezone(told.entered.zone).date(),
        works=laid_out.works(told.entered, layout.codes),
        seed=seed,
    )


def kind_of(one: Placed) -> str:
    """Whether a casing has only just arrived, or is further."""
    return ARRIVAL if len(one.casing.passed) <= 1 and not one.casing.again_at else INSIDE


def corrected(raw: Floats, placed: Sequence[Placed], layout: Layout, state: State) -> Floats:
    better = raw.copy()
    for kind in (ARRIVAL, INSIDE):
        columns = [i for i, one in enumerate(placed) if kind_of(one) == kind]
        if columns:
            better[:, columns] = simulating.corrected(
                raw[:, columns], layout.hours, correction(state, kind)
            )
    return better


def correction(state: State, kind: str) -> Callable[[Floats], Floats]:
    return lambda samples: calibration.corrected(samples, state, kind)


def scored(
    past: Sequence[tuple[datetime, Sequence[float], str, float | None]],
    layout_hours: calendar.Hours,
    origin: datetime,
) -> list[calibration.Scored]:
    """What was predicted (when, grid, kind, worked hours that it took; None while it is inside) as
    calibration reads it: on the clock of worked hours from the origin."""
    found = []
    for made_at, grid, kind, took_h in past:
        since_h = (made_at - origin).total_seconds() / 3600
        asked_h = calendar.worked(layout_hours, since_h)
        if took_h is not None:
            # Shifts that were changed since do not make what is finished unfinished.
            asked_h = min(asked_h, -took_h)
        found.append(calibration.Scored(asked_h, grid, np.inf if took_h is None else took_h, kind))
    return found


def ahead(made: Made) -> list[tuple[str, int]]:
    """Where casings wait most, the longest queue first."""
    longest = sorted(made.waiting.items(), key=lambda one: (-one[1], one[0]))
    return longest[:MOST_AHEAD]


def grid_of(sample: Floats, hours: calendar.Hours) -> list[float] | None:
    """One simulated sample as it is kept of a prediction; None where no course finishes it."""
    return simulating.worked_quantiles(sample, hours, calibration.LEVELS)


def said_of(sample: Floats, hours: calendar.Hours) -> list[float] | None:
    """One corrected sample as it was said, at SAID."""
    return simulating.worked_quantiles(sample, hours, SAID)
