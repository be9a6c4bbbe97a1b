"""Simulated courses of a plant, as samples: of each casing inside and of those that arrive. Pure.

A course is one replication; samples of one forecast have the same courses in the same order, so
that a group may be asked for course by course. What is simulated is corrected by what the plant
did lately (calibration.py), in worked hours: of a casing inside from the origin, of one that
arrives from its arrival on. Correcting keeps the order of courses.

Groups that arrive together are simulated in a few runs, each with one group every so many days, so
that the groups of a run hardly wait for each other. Which casing of a list is worked first nobody
knows when it is promised, nor how long the list will be: so one casing is any one of the largest
group of its run, and the last of so many is that of any so many of it. Each line of a list that is
not longer is then kept as often as was asked, the last in the queue with the others.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from plant.forecast import hours as calendar
from plant.forecast.coming import WORKS, Group
from plant.forecast.hours import Hours
from plant.forecast.laid_out import Layout
from plant.forecast.shop import Job

Floats = NDArray[np.float64]

COURSES = 200
"""Replications of a forecast: they fix the 90 % point to some minutes. Our own figure."""
DAYS = 28
"""For so many days of arrival it is said when a casing is finished."""
AHEAD_DAYS = 10
"""Casings that come later change nothing for what is inside now. Our own figure."""
NEVER_MIN = 2**31 - 1
RUNS: tuple[tuple[tuple[int, ...], int], ...] = (((1, 2, 5, 10, 20), 4), ((50,), 7))
"""Groups that are read off one run (the largest is simulated), and every how many days one comes. A
list of more than twenty is rare. Our own figures."""

Correct = Callable[[Floats], Floats]
"""From simulated worked hours to corrected ones, shape kept, inf stays inf."""
Simulate = Callable[[Sequence[Job], int], Floats]
"""From jobs and a seed to finishing hours from the origin, [course, job]; inf: rejected."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """When the last of so many casings is finished that arrive together on a day."""

    work: str
    on: date
    group: int
    hours: Floats


def courses(simulate: Simulate, jobs: Sequence[Job], *, seed: int) -> Floats:
    """Finishing hours of each, [course, casing]."""
    return simulate(jobs, seed) if jobs else np.empty((COURSES, 0))


def corrected(samples: Floats, hours: Hours, correct: Correct, *, since_h: float = 0.0) -> Floats:
    """Samples as the plant's own past corrects them: hours from the origin, of what is counted
    from `since_h` on."""
    if not samples.size:
        return samples
    begun = calendar.worked(hours, since_h)
    better = correct(_worked(hours, samples) - begun)
    return _at_worked(hours, np.maximum(better, 0.0) + begun, at_least=since_h)


def _worked(hours: Hours, samples: Floats) -> Floats:
    finite = np.where(np.isfinite(samples), samples, 0.0)
    return np.where(np.isfinite(samples), calendar.worked(hours, finite), np.inf)


def _at_worked(hours: Hours, worked: Floats, *, at_least: float) -> Floats:
    finite = np.where(np.isfinite(worked), worked, 0.0)
    found = np.maximum(calendar.at_worked(hours, finite), at_least)
    return np.where(np.isfinite(worked), found, np.inf)


def asked(
    first: date, every: int, largest: int, shift: int, works: Sequence[str] = WORKS
) -> dict[date, list[tuple[str, int]]]:
    """Which groups come in one run: one of each work in turn, from a shift of days on."""
    found: dict[date, list[tuple[str, int]]] = {}
    for away in range(DAYS):
        for turn, work in enumerate(works):
            if (away + turn * (every // 2)) % every == shift:
                found.setdefault(first + timedelta(days=away), []).append((work, largest))
    return found


def arrivals(
    simulate: Simulate,
    ours: Sequence[Job],
    come: Callable[[Mapping[date, Sequence[tuple[str, int]]]], tuple[list[Job], list[Group]]],
    layout: Layout,
    correct: Correct,
    *,
    first: date,
    works: Collection[str],
    seed: int,
) -> list[Arrival]:
    """Each of GROUPS that arrives on each of DAYS days from the first on, for each work that the
    plant does."""
    found: list[Arrival] = []
    any_order = np.random.default_rng(seed)
    done = [work for work in WORKS if work in works]
    for groups, every in RUNS:
        for shift in range(every):
            jobs, made = come(asked(first, every, max(groups), shift, done))
            samples = simulate([*ours, *jobs], seed)[:, len(ours) :]
            for group in made:
                at_h = jobs[group.jobs[0]].at_h
                each = corrected(samples[:, list(group.jobs)], layout.hours, correct, since_h=at_h)
                each = any_order.permuted(each, axis=1)
                found += [
                    Arrival(group.work, group.on, size, last(each[:, :size])) for size in groups
                ]
    return sorted(found, key=lambda one: (WORKS.index(one.work), one.on, one.group))


def last(each: Floats) -> Floats:
    """When the last of those that are finished is, in each course; inf where none is."""
    done = np.where(np.isfinite(each), each, -np.inf).max(axis=1)
    return np.where(np.isfinite(done), done, np.inf)


def minutes(hours: Floats) -> list[int]:
    """Finishing hours of one sample as minutes that have begun; NEVER_MIN where rejected."""
    finite = np.isfinite(hours)
    rounded = np.ceil(np.where(finite, hours, 0.0) * 60 - 1e-6)
    return [int(m) for m in np.where(finite, rounded, NEVER_MIN)]


def quantiles(sample: Floats, levels: Iterable[float]) -> list[float] | None:
    """Of the courses that finish it; None where none does."""
    done = sample[np.isfinite(sample)]
    if not done.size:
        return None
    return [float(q) for q in np.quantile(done, list(levels), method="inverted_cdf")]


def worked_quantiles(sample: Floats, hours: Hours, levels: Iterable[float]) -> list[float] | None:
    """The same in worked hours after the origin, rounded to a hundredth."""
    found = quantiles(_worked(hours, sample), levels)
    return None if found is None else [round(q, 2) for q in found]
