"""The verbs of a load sheet: drawn up, changed, handed to its driver, taken back, back again; and
the regular runs, whose timetable is published down to promises.

Each is one transaction under the sheet's lock and raises Refused (rules.py), with nothing written,
where it cannot be. `seen` is the version that the page showed: a page that is behind is told.
Devices see a sheet from the hour it is handed to the hour it is taken back or the truck is back.
What happens on the way is custody's, and no verb here.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import IntegrityError, transaction

from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.runs import sheet
from pickups.runs.models import Drop, Run, Stop
from pickups.runs.rules import Head, Placed, Refusal, Refused, Said, Taken, Why
from pickups.runs.sheet import State, opened
from pickups.runs.timetable import publish_timetable, set_regular_run

__all__ = ["add_stop", "amend", "come_back", "draw_up", "hand", "move_stop", "not_back",
           "publish_timetable", "put", "put_back", "put_stop_back", "remove_stop",
           "set_regular_run", "set_stop", "take_back", "take_off", "throw_away"]  # fmt: skip


def draw_up(*, site: UUID, head: Head, uid: UUID | None = None) -> Run:
    """A new sheet of a store, empty; nobody on the road sees it. One uid twice is one sheet."""
    if uid is not None and (known := Run.objects.filter(uid=uid, site_id=site).first()):
        return known
    run = Run(site_id=site, driver_id=sheet.driver_of(site, head.driver), **_columns(head))
    if uid is not None:
        run.uid = uid
    with transaction.atomic():
        sheet.check_head(run)
        run.save(force_insert=True)
    return run


def _columns(head: Head) -> dict[str, Any]:
    kind = Run.Kind(head.kind)
    return {"start_id": head.start, "on": head.on, "kind": kind, "vehicle": head.vehicle,
            "note": head.note}  # fmt: skip


def amend(*, run: UUID, head: Head, seen: int | None = None) -> Head:
    """Another head; returns the one before. A sheet that is handed keeps a driver."""
    with opened(run, seen=seen) as row:
        driver = row.driver.uid if row.driver else None
        old = Head(row.start_id, row.on, row.kind, row.vehicle, driver, row.note)
        for column, value in _columns(head).items():
            setattr(row, column, value)
        if head.driver != driver:  # one who has left stays on a sheet where something else changes
            row.driver_id = sheet.driver_of(row.site_id, head.driver)
        sheet.check_head(row)
    return old


def throw_away(*, run: UUID, seen: int | None = None) -> None:
    """A sheet that was never handed, or was taken back, is gone; what was on it is loose again."""
    with transaction.atomic():
        sheet.locked(run, seen=seen, states=(State.WRITTEN,)).delete()


def add_stop(
    *,
    run: UUID,
    seen: int | None = None,
    yard: UUID | None = None,
    site: UUID | None = None,
    place: int = 0,
    said: Said | None = None,
    uid: UUID | None = None,
) -> UUID:
    """Another stop, at a yard or at a store or plant; place 0 is after all others."""
    with opened(run, seen=seen) as row:
        stop = _stop(yard=yard, site=site, place=place, said=said or Said(), uid=uid)
        sheet.check_place(row, yard=yard, site=site)
        sheet.check_stop(stop)
        sheet.insert_stop(row, stop)
    return stop.uid


def _stop(
    *, yard: UUID | None, site: UUID | None, place: int, said: Said, uid: UUID | None
) -> Stop:
    stop = Stop(yard_id=yard, site_id=None if yard else site, place=place)
    if uid is not None:
        stop.uid = uid
    _say(stop, said)
    return stop


def _say(stop: Stop, said: Said) -> None:
    stop.from_time, stop.to_time = said.begins, said.to
    stop.fetch, stop.note = said.fetch, said.note


def set_stop(*, run: UUID, stop: UUID, said: Said, seen: int | None = None) -> Said:
    """Another window, count to fetch or note for a stop; returns what stood there."""
    with opened(run, seen=seen) as row:
        known = sheet.stop_of(row, stop)
        old = _said(known)
        _say(known, said)
        sheet.check_stop(known)
        known.save()
    return old


def _said(stop: Stop) -> Said:
    return Said(stop.from_time, stop.to_time, stop.fetch, stop.note)


def move_stop(*, run: UUID, stop: UUID, to: int, seen: int | None = None) -> int:
    """A stop goes to another place in the order (1 is first; past the end is last); returns the
    place it had."""
    with opened(run, seen=seen) as row:
        known = sheet.stop_of(row, stop)
        rest = list(row.stops.exclude(uid=stop).order_by("place"))
        old = known.place
        rest.insert(max(to, 1) - 1, known)
        sheet.renumber(rest)
    return old


def remove_stop(*, run: UUID, stop: UUID, seen: int | None = None) -> Taken:
    """A stop leaves the sheet and what was to be dropped there is loose; returns all of it. The
    last stop of a sheet that is handed stays: take the sheet back first."""
    with opened(run, seen=seen) as row:
        known = sheet.stop_of(row, stop)
        rest = list(row.stops.exclude(uid=stop).order_by("place"))
        if row.state == State.HANDED and not rest:
            raise Refused(Refusal.NO_STOP)
        drops = sorted(known.drops.values_list("work_order", flat=True))
        old = Taken(known.uid, known.place, known.yard_id, known.site_id, _said(known), drops)
        known.delete()
        sheet.renumber(rest)
    return old


def put_stop_back(*, run: UUID, stop: Taken, seen: int | None = None) -> None:
    """A stop that was removed stands where it stood, with what was to be dropped there."""
    with opened(run, seen=seen) as row:
        made = _stop(yard=stop.yard, site=stop.site, place=stop.place, said=stop.said, uid=stop.uid)
        sheet.check_place(row, yard=stop.yard, site=stop.site)
        sheet.insert_stop(row, made)
        where = dict.fromkeys(stop.drops, made.uid)
        sheet.check_casings(row, where)
        sheet.place(row, dict(where))


def put(
    *, run: UUID, work_orders: Sequence[UUID], stop: UUID | None = None, seen: int | None = None
) -> Placed:
    """Casings are to be dropped at a stop; all of them or none. One on another stop of this
    sheet moves. Without a stop each goes where it belongs: what waits for the plant to the plant,
    what is fetched at the counter to the store, all else to its own yard; a stop that the sheet
    does not have is made."""
    with opened(run, seen=seen) as row:
        made: list[UUID] = []
        if stop is None:
            where, made = sheet.own_places(row, work_orders)
        else:
            where = dict.fromkeys(work_orders, stop)
        sheet.check_casings(row, where)
        before = sheet.place(row, dict(where))
    return Placed(before, made)


def take_off(*, run: UUID, work_orders: Sequence[UUID], seen: int | None = None) -> Placed:
    """Casings are loose again; one that is not on the sheet stays as it is."""
    with opened(run, seen=seen) as row:
        before = sheet.place(row, dict.fromkeys(work_orders))
    return Placed(before)


def put_back(*, run: UUID, placed: Placed, seen: int | None = None) -> None:
    """Undo of `put` and `take_off`: each casing where it was, and no stop that was only made for
    them, unless something else is there by now."""
    with opened(run, seen=seen) as row:
        where = {uid: stop for uid, stop in placed.before.items() if stop}
        sheet.check_casings(row, where)
        sheet.place(row, placed.before)
        bare = row.stops.filter(uid__in=list(placed.made), drops=None)
        bare.filter(fetch=None, note="", from_time=None, to_time=None).delete()
        sheet.renumber(list(row.stops.order_by("place")))
        if row.state == State.HANDED and not row.stops.exists():
            raise Refused(Refusal.NO_STOP)


DONE_ALREADY = (Why.BACK, Why.THERE, Why.SENT)
"""What is where it was to go keeps no sheet from its driver; the pages say so beside it."""


def hand(*, run: UUID, seen: int | None = None, at: datetime | None = None) -> None:
    """The driver has the sheet from now on, and the phones of the store show it.

    Needs a driver of the store, a stop, a day that is not over, and casings that can be dropped.
    """
    at = at or clock.now()
    with opened(run, seen=seen, states=(State.WRITTEN,)) as row:
        if row.driver is None:
            raise Refused(Refusal.NO_DRIVER)
        sheet.driver_of(row.site_id, row.driver.uid)
        stops = list(row.stops.all())
        if not stops:
            raise Refused(Refusal.NO_STOP)
        for s in stops:
            sheet.check_place(row, yard=s.yard_id, site=s.site_id)
        if row.on < clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date():
            raise Refused(Refusal.DAY_OVER, on=row.on.isoformat())
        drops = Drop.objects.filter(stop__run=row, active=True)
        where = {d.work_order: d.stop_id for d in drops}
        sheet.check_casings(row, where, but_for=DONE_ALREADY)
        row.state = State.HANDED
        journal.record([_note("run.handed", row)], at=at)


def take_back(*, run: UUID, seen: int | None = None, at: datetime | None = None) -> None:
    """The sheet is being written again; the phones show it no longer. What was told on the way
    stays told."""
    with opened(run, seen=seen, states=(State.HANDED,)) as row:
        row.state = State.WRITTEN
        journal.record([_note("run.taken_back", row)], at=at or clock.now())


def come_back(*, run: UUID, seen: int | None = None, at: datetime | None = None) -> None:
    """The truck is back: what was not dropped is loose again, and the sheet is kept."""
    with opened(run, seen=seen, states=(State.HANDED,)) as row:
        Drop.objects.filter(stop__run=row).update(active=False)
        row.state = State.BACK
        journal.record([_note("run.back", row)], at=at or clock.now())


def not_back(*, run: UUID, seen: int | None = None, at: datetime | None = None) -> None:
    """The truck was said to be back by mistake: it is out again, with what no other sheet has
    taken; where one has, Refused."""
    with opened(run, seen=seen, states=(State.BACK,)) as row:
        drops = Drop.objects.filter(stop__run=row)
        mine = sorted(drops.values_list("work_order", flat=True))
        try:
            with transaction.atomic():
                for work_order in mine:  # in the order in which `put` writes them
                    drops.filter(work_order=work_order).update(active=True)
        except IntegrityError:
            elsewhere = Drop.objects.filter(work_order__in=mine, active=True)
            taken = elsewhere.values_list("work_order", flat=True)
            refused = [(uid, Why.OTHER_SHEET) for uid in sorted(taken)]
            raise Refused(Refusal.CASINGS, refused) from None
        row.state = State.HANDED
        journal.record([_note("run.handed", row)], at=at or clock.now())


def _note(kind: str, run: Run) -> journal.Note:
    driver = str(run.driver.uid) if run.driver else None
    body = {"site": str(run.site_id), "on": run.on.isoformat(), "driver": driver}
    return journal.Note(kind, f"run:{run.uid}", body)
