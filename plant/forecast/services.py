"""Compute a plant's forecast, publish it down, keep what was predicted until it can be scored.

Long work, so outside of any transaction: what is told meanwhile makes the forecast due again. One
computes a plant at a time (`locks.alone`), and only what is due, so a task that comes twice does
it once. A computing that fails leaves what stands, with its time, and is seen on the page. All of
a forecast is written in one transaction: a process that dies before has written nothing.
"""

import logging
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from time import perf_counter
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import transaction

from pickups.kernel import clock, locks
from pickups.people import queries as people
from pickups.promises import services as promises
from pickups.promises.doors import finishing
from plant.forecast import (
    calibration,
    coming,
    fitted,
    laid_out,
    making,
    queries,
    simulating,
    whereabouts,
)
from plant.forecast import hours as calendar
from plant.forecast.laid_out import Entered, Missing
from plant.forecast.learning import LearnedStation
from plant.forecast.making import Made, Told
from plant.forecast.models import Forecast, Learned, Prediction
from plant.forecast.shop import Station
from plant.inspection.doors import rushing

log = logging.getLogger(__name__)

SCORED_OVER = timedelta(weeks=26)
"""Casings that were finished longer ago correct nothing any more."""


def due(*, at: datetime) -> list[UUID]:
    """The plants whose forecast is to be computed now."""
    return [plant for plant in people.plants() if _is_due(plant, at)]


def _is_due(plant: UUID, at: datetime) -> bool:
    stands = queries.forecast(plant)
    if stands is None or stands.begun_at is None:
        return True
    since_s = (at - stands.begun_at).total_seconds()
    # Counted from its end: one that takes long leaves the worker as much time for other things.
    if since_s - stands.took_ms / 1000 < settings.FORECAST_EVERY_S:
        return False
    return since_s >= settings.FORECAST_LATEST_S or queries.mark(plant) != stands.mark


def compute(*, plant: UUID, at: datetime) -> str:
    """Compute what is due; returns what came of it: busy, not_due, failed, missing, computed.

    Safe to repeat and to run at once: only one computes, and nothing that is not due.
    """
    with locks.alone(locks.forecast_key(plant)) as mine:
        if not mine:
            return "busy"
        if not _is_due(plant, at):
            return "not_due"
        # Read first: what changes from here on makes it due again. Kept last: so does a kill.
        mark = queries.mark(plant)
        Forecast.objects.update_or_create(plant_id=plant, defaults={"begun_at": at})
        try:
            came = _compute(plant, at)
        except Exception as e:
            log.exception("the forecast of plant %s came to nothing", plant)
            failed = {"failed_at": at, "why": type(e).__name__[:60]}
            Forecast.objects.filter(plant=plant).update(**failed)
            came = "failed"
        Forecast.objects.filter(plant=plant).update(mark=mark)
        return came


@dataclass(frozen=True, slots=True)
class Gathered:
    """What a plant has told and entered, and what was learned from it. missing: what has to be
    entered first; told: all that a forecast is made from, None while something is missing."""

    entered: Entered
    learned: Mapping[str, LearnedStation]
    missing: Sequence[Missing]
    now: queries.Now | None = None
    told: Told | None = None


def gathered(plant: UUID, *, at: datetime) -> Gathered:
    """All that a forecast of a plant is made from now."""
    entered = queries.entered(plant)
    past = queries.past(plant, at=at)
    hours = laid_out.open_hours(entered, at, back=SCORED_OVER.days // 7 + 1)
    known, learned = fitted.known(entered, past, hours, at)
    missing = laid_out.missing(entered, known)
    if missing:
        return Gathered(entered, learned, missing)
    usual = coming.usual(past.arrived, past.repairs, entered.zone)
    now = queries.now(plant, origin=at)
    scored = _scored(plant, now, hours, at, lost_h=known.lost_h)
    told = Told(
        origin=at,
        entered=entered,
        known=known,
        casings=now.casings,
        loads=now.loads,
        left=now.left,
        to_come=queries.known_to_come(plant, usual, at=at),
        usual=usual,
        state=calibration.state(scored, 0.0),
        rush=rushing.in_force(plant),
    )
    return Gathered(entered, learned, (), now, told)


def seed(plant: UUID) -> int:
    """Each plant has luck of its own, the same each time."""
    return plant.int % 2**31


def _compute(plant: UUID, at: datetime) -> str:
    begun = perf_counter()
    found = gathered(plant, at=at)
    if found.told is None or found.now is None:
        _withdraw(plant, found.entered, found.learned, found.missing, at)
        return "missing"
    made = making.make(found.told, seed=seed(plant))
    took_ms = int((perf_counter() - begun) * 1000)
    _keep(plant, at, found.told, made, found.learned, found.now, took_ms)
    return "computed"


def _withdraw(
    plant: UUID,
    entered: Entered,
    learned: Mapping[str, LearnedStation],
    missing: Sequence[Missing],
    at: datetime,
) -> None:
    """Nothing can be forecast: what stood counts no longer, standard times do."""
    with transaction.atomic():
        stood = Forecast.objects.select_for_update().get(plant=plant)
        if stood.at is not None:
            promises.publish_forecast(
                plant=plant, origin=at - timedelta(seconds=1), casings={}, arrivals=[], ahead=[],
                valid_until=at, at=at,
            )  # fmt: skip
        stood.missing = [[one.what, one.where] for one in missing]
        stood.at, stood.failed_at, stood.why = None, None, ""
        stood.said = {"stations": _stations(entered, learned, {}, ()), "lacking": True}
        stood.save()
        _keep_learned(plant, learned, at)


def _keep(
    plant: UUID,
    at: datetime,
    told: Told,
    made: Made,
    learned: Mapping[str, LearnedStation],
    now: queries.Now,
    took_ms: int,
) -> None:
    names = queries.names(plant)
    said = _said(told, made, learned, now, at)
    predicted = _predicted(plant, made, told.entered, at)
    casings = {
        one.casing.order: _packed(made.samples[:, i])
        for i, one in enumerate(made.placed)
        if one.casing.order is not None and one.casing.here
    }
    casings = {uid: _packed(sample) for uid, sample in made.coming.items()} | casings
    arrivals = [
        promises.Arrival(one.work, "", one.on, one.group, _packed(one.hours))
        for one in made.arrivals
    ]
    ahead = [
        promises.Ahead(code, *names.get(code, (code, code)), count)
        for code, count in making.ahead(made)
    ]
    with transaction.atomic():
        Forecast.objects.filter(plant=plant).update(
            at=at,
            failed_at=None,
            why="",
            missing=[],
            took_ms=took_ms,
            replications=simulating.COURSES,
            said=said,
        )
        _keep_learned(plant, learned, at)
        Prediction.objects.bulk_create(predicted, ignore_conflicts=True, batch_size=500)
        promises.publish_forecast(
            plant=plant,
            origin=at,
            casings=casings,
            arrivals=arrivals,
            ahead=ahead,
            valid_until=at + timedelta(hours=settings.FORECAST_VALID_HOURS),
            at=at,
        )


def _keep_learned(plant: UUID, learned: Mapping[str, LearnedStation], at: datetime) -> None:
    """One row a station and day, of the day's last; a day on which nothing is another has none."""
    on = clock.local(at, queries.zone()).date()
    newest = queries.learned(plant)
    rows = []
    for code, one in sorted(learned.items()):
        figures = asdict(one)
        known = newest.get(code)
        if known is None or known.on == on or known.figures != figures:
            rows.append(Learned(plant_id=plant, station=code, on=on, at=at, figures=figures))
    Learned.objects.bulk_create(
        rows,
        update_conflicts=True,
        unique_fields=["plant", "station", "on"],
        update_fields=["at", "figures"],
    )


def _packed(hours: simulating.Floats) -> bytes:
    return finishing.pack(simulating.minutes(hours))


def _predicted(plant: UUID, made: Made, entered: Entered, at: datetime) -> list[Prediction]:
    """Of each casing that an order is known of and nothing was predicted of today."""
    on = clock.local(at, entered.zone).date()
    told_before = queries.open_predictions(plant)
    today = {uid for uid, rows in told_before.items() if rows[-1].on == on}
    found = []
    for i, one in enumerate(made.placed):
        if one.casing.order is None or one.casing.order in today:
            continue
        grid = making.grid_of(made.raw[:, i], made.layout.hours)
        said = making.said_of(made.samples[:, i], made.layout.hours)
        if grid is None or said is None:
            continue
        first = one.casing.order not in told_before and making.kind_of(one) == making.ARRIVAL
        kind = Prediction.Kind.ARRIVAL if first else Prediction.Kind.INSIDE
        found.append(
            Prediction(plant_id=plant, work_order=one.casing.order, kind=kind, on=on, made_at=at,
                       grid=grid, said=said)
        )  # fmt: skip
    return found


def _scored(
    plant: UUID, now: queries.Now, hours: calendar.Hours, at: datetime, *, lost_h: float
) -> list[calibration.Scored]:
    """Hold what was predicted against what became of it; all that is known of it. Of a casing that
    is lost nothing will be."""
    lost = {one.order for one in now.casings if whereabouts.is_lost(one, lost_h)}
    # What was finished and is worked again has not come to its end.
    going_on = [one for one in now.casings if one.stage in whereabouts.GOES_ON]
    again = [one.order for one in going_on if one.order and one.order not in lost]
    Prediction.objects.filter(plant=plant, ended=True, work_order__in=again).update(
        ended=False, finished_at=None, actual_h=None, load=""
    )
    pending = queries.open_predictions(plant)
    for uid in pending.keys() & lost:
        Prediction.objects.filter(pk__in=[row.pk for row in pending.pop(uid)]).update(ended=True)
    going = {one.order for one in now.casings if one.stage not in ("finished", "rejected")}
    for uid, end in queries.ends(plant, pending.keys() - going).items():
        for row in pending.pop(uid):
            row.ended = True
            if end.at is not None and end.at >= row.made_at:
                row.finished_at, row.load = end.at, end.load
                row.actual_h = round(
                    _worked(hours, end.at, at) - _worked(hours, row.made_at, at), 3
                )
            row.save(update_fields=["ended", "finished_at", "load", "actual_h"])
    past = queries.scored(plant, since=at - SCORED_OVER)
    still = [row for rows in pending.values() for row in rows]
    return making.scored(
        [(row.made_at, row.grid, row.kind, row.actual_h) for row in (*past, *still)], hours, at
    )


def _worked(hours: calendar.Hours, at: datetime, origin: datetime) -> float:
    return calendar.worked(hours, (at - origin).total_seconds() / 3600)


def purge(*, at: datetime) -> None:
    """What was predicted and learned longer ago than it is kept is forgotten; the newest that was
    learned of a station stays."""
    before = at - timedelta(days=settings.FORECAST_KEPT_DAYS)
    Prediction.objects.filter(made_at__lt=before).delete()
    newest = {row.pk for plant in people.plants() for row in queries.learned(plant).values()}
    Learned.objects.filter(at__lt=before).exclude(pk__in=newest).delete()


def _said(
    told: Told, made: Made, learned: Mapping[str, LearnedStation], now: queries.Now, at: datetime
) -> dict[str, Any]:
    """What the plant's page shows of it, in figures."""
    today = clock.local(at, told.entered.zone).date()
    return {
        "inside": len(made.placed),
        "on_hold": now.on_hold,
        "unsure": now.unsure,
        "lost": sum(whereabouts.is_lost(one, told.known.lost_h) for one in told.casings),
        "lost_days": int(told.known.lost_h // 24),
        "known": len(told.to_come),
        "a_week": round(sum(told.usual.by_weekday.values()), 1),
        "left_out": list(made.layout.left_out),
        "stations": _stations(told.entered, learned, made.waiting, made.layout.shop.stations),
        "arrive": [
            {"work": one.work, "on": one.on.isoformat(), "by": _instants(one.hours, at)}
            for one in made.arrivals
            if one.group == 1 and one.on <= today + timedelta(days=1)
        ],
        "corrected": {
            "n": told.state.n,
            "kinds": [{"kind": t.kind, "n": t.n, "pending": t.pending} for t in told.state.tables],
        },
    }


def _instants(hours: simulating.Floats, at: datetime) -> list[str] | None:
    found = simulating.quantiles(hours, making.SAID)
    if found is None:
        return None
    return [clock.rfc3339(at + timedelta(hours=one)) for one in found]


def _stations(
    entered: Entered,
    learned: Mapping[str, LearnedStation],
    waiting: Mapping[str, int],
    used: Sequence[Station],
) -> list[dict[str, Any]]:
    """Each station of the route: what was learned, what is reckoned with, how many are there."""
    by_code = {one.code: one for one in used}
    return [
        {
            "code": stop.code,
            "learned": asdict(learned[stop.code]) if stop.code in learned else None,
            "mean_h": by_code[stop.code].mean_h if stop.code in by_code else None,
            "here": waiting.get(stop.code, 0),
        }
        for stop in entered.stops
    ]
