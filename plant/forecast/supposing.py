"""What would be if: more casings on a day, a chamber less, a second shift. Pure.

The plant is simulated twice from the same told, as it is and as it is supposed to be, with the same
luck: what differs comes from what was supposed. Casings of a second shift begin where those of the
first would have waited; people for it are taken for granted.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from typing import NamedTuple
from uuid import UUID

import numpy as np

from plant.dock.rules import Shift
from plant.forecast import coming, laid_out, making, simulating
from plant.forecast.laid_out import Layout
from plant.forecast.making import Told
from plant.forecast.shop import Job
from plant.forecast.simulating import COURSES, Floats

MOST_MORE = 500
DAYS = 14
"""The days from today on which more may come; our own figures."""
WATCHED_H = 7 * 24.0
"""Hours over which it is counted how many wait."""
WORTH = 0.1
"""Fewer than so many in the mean are nobody."""
FEW = 40
"""Courses that are enough to count who waits."""


class Supposed(NamedTuple):
    """more casings on a day; without one chamber, by its code; a shift beside those that are there,
    on each day that has one; this order's casing first at each station. Empty: not supposed."""

    more: int = 0
    on: date | None = None
    without: str = ""
    shift: tuple[time, time] | None = None
    first: UUID | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """One way in which it may go, all in finishing hours from the origin, one a course.

    orders: of each order whose casing is in process or known to come. arrive: of a casing that
    arrives on a day. waits: how many wait at each station in the mean, over the next WATCHED_H
    hours.
    """

    orders: Mapping[UUID, Floats]
    arrive: Mapping[date, Floats]
    waits: Mapping[str, float]


def course(told: Told, supposed: Supposed, *, seed: int) -> Course:
    """The plant as it is supposed to be; as it is, where nothing is."""
    from plant.forecast import engine  # as in making: only where something is computed

    rush = told.rush | ({supposed.first} if supposed.first else set())
    changed = replace(told, entered=_entered(told.entered, supposed), rush=rush)
    layout, placed = making.laid(changed)
    come, groups = making.come(changed, layout, DAYS, _asked(told))
    # Those that are supposed stand behind all others, so that these keep their luck.
    jobs = [*(one.job for one in placed), *come, *_more(changed, layout, supposed)]
    raw = engine.finishes(layout.shop, engine.jobs(jobs), replications=COURSES, seed=seed)
    inside = making.corrected(raw[:, : len(placed)], placed, layout, told.state)
    orders = {
        one.casing.order: inside[:, i]
        for i, one in enumerate(placed)
        if one.casing.order is not None
    }

    def arrived(i: int) -> Floats:
        column = raw[:, [len(placed) + i]]
        correct = making.correction(told.state, making.ARRIVAL)
        since_h = come[i].at_h
        return simulating.corrected(column, layout.hours, correct, since_h=since_h)[:, 0]

    whose = coming.whose(
        layout, changed.entered, changed.to_come, come, origin=changed.origin, days=DAYS
    )
    orders |= {order: arrived(i) for order, i in whose.items()}
    arrive = {group.on: arrived(group.jobs[0]) for group in groups}
    return Course(orders, arrive, _waits(layout, jobs, seed))


def _asked(told: Told) -> dict[date, list[tuple[str, int]]]:
    """One retread on each of the next days on which the plant works."""
    today = told.origin.astimezone(told.entered.zone).date()
    worked = {shift.weekday for shift in told.entered.shifts or ()} or set(range(7))
    days = (today + timedelta(days=away) for away in range(DAYS))
    open_ = (day for day in days if day.weekday() in worked and day not in told.entered.holidays)
    return {day: [("retread", 1)] for day in open_}


def _entered(entered: laid_out.Entered, supposed: Supposed) -> laid_out.Entered:
    shifts = entered.shifts or ()
    if supposed.shift is not None:
        worked = sorted({shift.weekday for shift in shifts})
        shifts = (*shifts, *(Shift(day, *supposed.shift) for day in worked))
    ovens = tuple(oven for oven in entered.ovens if oven.code != supposed.without)
    return replace(entered, shifts=shifts, ovens=ovens)


def _more(told: Told, layout: Layout, supposed: Supposed) -> list[Job]:
    if not supposed.more or supposed.on is None:
        return []
    zone = told.entered.zone
    day = supposed.on - told.origin.astimezone(zone).date()
    at = datetime.combine(supposed.on, told.usual.at(0.5), tzinfo=zone)
    known = [coming.Known(max(at, told.origin), "retread")] * supposed.more
    # With nothing usual beside them: only these.
    return coming.jobs(
        layout, told.entered, known, coming.Usual(), origin=told.origin, days=day.days + 1
    )[0]


def _waits(layout: Layout, jobs: Sequence[Job], seed: int) -> dict[str, float]:
    """Time in queues inside the hours that are watched, over those hours."""
    from plant.forecast import engine

    seen = engine.passages(layout.shop, engine.jobs(jobs), replications=FEW, seed=seed)
    waited = np.clip(seen.begun, 0, WATCHED_H) - np.clip(seen.arrived, 0, WATCHED_H)
    sums = np.bincount(seen.station, waited, minlength=len(layout.codes))
    return {
        code: float(total) / WATCHED_H / FEW for code, total in zip(layout.codes, sums, strict=True)
    }


def busiest(course: Course) -> str:
    """The station at which most wait; empty where nobody does."""
    code = max(course.waits, key=lambda one: course.waits[one], default="")
    return code if code and course.waits[code] > 0 else ""


def last_day(today: date) -> date:
    """The last day on which more may be supposed to come."""
    return today + timedelta(days=DAYS - 1)
