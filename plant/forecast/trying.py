"""Ask what would be if, carry it out beside the web, stop it. Nothing of the plant is changed.

Each step is written where it stands, so that a page can show it; before each it is looked whether
somebody has stopped it. Sent twice, or by two at once, it is carried out once: who takes it from
`waits` has it. What a worker that was killed leaves in `runs` is seen as such (`stuck`) and is
asked anew.
"""

import logging
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import transaction

from pickups.casings import queries as casings
from pickups.kernel import locks
from pickups.people.models import User
from pickups.promises.doors import finishing, risks
from plant.forecast import services, simulating, supposing
from plant.forecast.models import Supposed
from plant.forecast.supposing import Course
from plant.forecast.supposing import Supposed as What

log = logging.getLogger(__name__)

STEPS = 4
"""What was told is read; the plant as it is; as it is supposed to be; the promises of both."""
NINE_OF_TEN = 0.9
STUCK = timedelta(minutes=10)
"""After so long nobody computes it any more. Our own figure."""


_OPEN = (Supposed.State.WAITS, Supposed.State.RUNS)


class Stopped(Exception):
    """Somebody has stopped it meanwhile."""


class OneAtATime(Exception):
    """Somebody has asked something already that is not at its end."""


def ask(*, plant: UUID, what: What, by: User, at: datetime, uid: UUID) -> UUID:
    """Keep what is to be tried; the sweep finds it (tasks.py), a broker that is away or not.

    uid: of the form; sent twice it is asked once. One question a person, as promises are forecast
    by the worker that computes them: raises OneAtATime; what a rush would move is beside it.
    Lock: the person.
    """
    with transaction.atomic():
        locks.take([locks.asker_key(by.pk)])
        mine = Supposed.objects.filter(by=by, state__in=_OPEN, asked__first=None)
        if Supposed.objects.filter(uid=uid).exists():
            return uid
        if what.first is None and mine.filter(asked_at__gte=at - STUCK).exists():
            raise OneAtATime
        Supposed.objects.create(uid=uid, plant_id=plant, by=by, asked_at=at, asked=plain(what))
    return uid


def waiting(*, at: datetime) -> list[UUID]:
    """What is still to be begun."""
    rows = Supposed.objects.filter(state=Supposed.State.WAITS, asked_at__gte=at - STUCK)
    return list(rows.order_by("asked_at").values_list("uid", flat=True))


def stop(*, uid: UUID, plant: UUID) -> bool:
    """Nothing more is computed of it; False where it has come to its end already."""
    open_ = Supposed.objects.filter(uid=uid, plant=plant, state__in=_OPEN)
    return open_.update(state=Supposed.State.STOPPED) == 1


def again(*, uid: UUID, plant: UUID, at: datetime) -> bool:
    """Make room for the same question asked anew, once the first has come to an end or is stuck."""
    row = one(plant, uid)
    over = row is not None and (row.state not in _OPEN or stuck(row, at=at))
    return over and Supposed.objects.filter(uid=uid, plant=plant).delete()[0] == 1


def carry_out(*, uid: UUID, at: datetime) -> str:
    """Compute it; returns how it stands then."""
    waits = Supposed.objects.filter(uid=uid, state=Supposed.State.WAITS)
    if waits.update(state=Supposed.State.RUNS) != 1:
        return "not_waiting"
    try:
        return _carry_out(uid, at)
    except Stopped:
        return str(Supposed.State.STOPPED)
    except Exception as e:
        log.exception("what was supposed in %s came to nothing", uid)
        _write(uid, state=Supposed.State.FAILED, why=type(e).__name__[:60])
        return str(Supposed.State.FAILED)


def _carry_out(uid: UUID, at: datetime) -> str:
    row = Supposed.objects.get(uid=uid)
    plant, what = row.plant_id, read(row.asked)
    found = services.gathered(plant, at=at)
    if found.told is None:
        return _write(uid, state=Supposed.State.LACKS)
    _write(uid, step=1)
    seed = services.seed(plant)
    before = supposing.course(found.told, What(), seed=seed)
    _write(uid, step=2)
    after = supposing.course(found.told, what, seed=seed)
    _write(uid, step=3)
    came = _compared(plant, before, after, at)
    return _write(uid, state=Supposed.State.DONE, step=STEPS, at=at, came=came)


def _write(uid: UUID, **fields: Any) -> str:
    """Of what still runs; raises Stopped where it does not."""
    runs = Supposed.objects.filter(uid=uid, state=Supposed.State.RUNS)
    if runs.update(**fields) != 1:
        raise Stopped
    return str(fields.get("state", Supposed.State.RUNS))


def _compared(plant: UUID, before: Course, after: Course, at: datetime) -> dict[str, Any]:
    """The open promises of casings in process and known to come, held against both."""
    orders = [one for one in casings.work_orders(before.orders).values() if risks.is_open(one)]
    held = [risks.held(orders, _samples(one, at), plant=plant) for one in (before, after)]
    both = [(uid, one, held[1][uid]) for uid, one in held[0].items() if uid in held[1]]
    moved = sorted(
        (_moved(uid, *pair) for uid, *pair in both if pair[0].expected != pair[1].expected),
        key=lambda one: (one["after"] or "9999", one["uid"]),
        reverse=True,
    )
    return {
        "open": len(both),
        "moved": moved,
        "at_risk": [sum(_at_risk(pair[i]) for _, *pair in both) for i in (0, 1)],
        "arrive": [
            {"on": on.isoformat(), "by": [_by(one.arrive[on], at) for one in (before, after)]}
            for on in before.arrive
            if on in after.arrive
        ],
        "busiest": [supposing.busiest(one) for one in (before, after)],
        "waits": {
            code: [round(one.waits.get(code, 0.0), 1) for one in (before, after)]
            for code in {**before.waits, **after.waits}
        },
    }


def _samples(course: Course, at: datetime) -> dict[UUID, finishing.Sample]:
    return {
        uid: finishing.Sample(at, simulating.minutes(one)) for uid, one in course.orders.items()
    }


def _by(sample: simulating.Floats, at: datetime) -> str | None:
    """When it is finished in nine of ten courses that finish it."""
    found = simulating.quantiles(sample, [NINE_OF_TEN])
    return (at + timedelta(hours=found[0])).isoformat() if found else None


def _at_risk(held: risks.Held) -> bool:
    return held.probability is not None and held.probability < risks.bound()


def _moved(uid: UUID, before: risks.Held, after: risks.Held) -> dict[str, Any]:
    return {
        "uid": str(uid),
        "promised": before.on.isoformat(),
        "before": before.expected and before.expected.isoformat(),
        "after": after.expected and after.expected.isoformat(),
        "kept": [before.probability, after.probability],
    }


def plain(what: What) -> dict[str, Any]:
    """As it is kept."""
    return {
        "more": what.more,
        "on": what.on and what.on.isoformat(),
        "without": what.without,
        "shift": what.shift and [clock.isoformat("minutes") for clock in what.shift],
        "first": what.first and str(what.first),
    }


def read(kept: Mapping[str, Any]) -> What:
    """What was kept."""
    begins, ends = [time.fromisoformat(clock) for clock in kept["shift"] or ()] or (None, None)
    return What(
        more=kept["more"],
        on=kept["on"] and date.fromisoformat(kept["on"]),
        without=kept["without"],
        shift=(begins, ends) if begins and ends else None,
        first=UUID(kept["first"]) if kept.get("first") else None,
    )


def stuck(row: Supposed, *, at: datetime) -> bool:
    """Whether nobody computes it any more, though it never came to an end."""
    return row.state in _OPEN and at - row.asked_at > STUCK


def latest(plant: UUID, *, most: int) -> list[Supposed]:
    """What was asked last, the newest first; what a rush would move stands with the rush."""
    rows = (
        Supposed.objects.filter(plant=plant, asked__first=None)
        .select_related("by")
        .order_by("-asked_at", "uid")
    )
    return list(rows[:most])


def one(plant: UUID, uid: UUID) -> Supposed | None:
    """One question of a plant."""
    return Supposed.objects.filter(plant=plant, uid=uid).select_related("by").first()


def purge(*, at: datetime) -> None:
    """What was asked longer ago than forecasts are kept is forgotten."""
    before = at - timedelta(days=settings.FORECAST_KEPT_DAYS)
    Supposed.objects.filter(asked_at__lt=before).delete()
