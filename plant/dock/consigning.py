"""Write trucks' lists: open them when a run is handed to its driver, keep them as casings move,
keep what was counted by hand, close them with what differed, also by what comes in later.

The trunk's runs and casings are only read. Locks: the list's row.
"""

from collections.abc import Collection, Iterable
from dataclasses import asdict
from datetime import datetime
from uuid import UUID

from django.db import transaction

from pickups.journal import services as journal
from pickups.kernel import ids
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from pickups.runs import queries as runs
from pickups.runs.models import Run
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.dock import consignments
from plant.dock.comparing import KINDS
from plant.dock.models import Consignment, Count
from plant.dock.wire import CountIn1


def of_run(*, run: UUID, at: datetime) -> None:
    """A run was handed to its driver: a list for each plant that it calls at, for either way; or it
    is being written again: they are gone. Safe to repeat."""
    sheet = runs.sheet(run)
    handed = sheet is not None and sheet.state == "handed"
    places = list(_places(sheet)) if sheet is not None and handed else []
    driver = sheet.driver.uid if sheet is not None and sheet.driver else None
    wanted = {ids.derived(place, way): (plant, stop, way) for place, plant, stop, way in places}
    with transaction.atomic():
        for uid, (plant, stop, way) in sorted(wanted.items()):
            assert sheet is not None
            new = {"plant_id": plant, "other_id": sheet.site_id, "way": way, "run": run,
                   "stop": stop, "driver": driver, "opened_at": at}  # fmt: skip
            Consignment.objects.get_or_create(uid=uid, defaults=new)
            Consignment.objects.filter(uid=uid, closed_at=None).update(driver=driver)
        for row in _locked(run=run, closed_at=None):
            if row.uid in wanted:
                _bring_up(row, anew=True)
            else:
                _take_off(row)
                row.delete()


def _places(sheet: Run) -> Iterable[tuple[UUID, UUID, UUID | None, str]]:
    """Where a run calls at a plant: what its lists are derived from, the plant, the stop, the
    way."""
    if sheet.start.kind == "plant":
        yield sheet.uid, sheet.start_id, None, "out"
    for stop in sheet.stops.all():
        if stop.site is not None and stop.site.kind == "plant":
            yield stop.uid, stop.site.uid, stop.uid, "in"
            yield stop.uid, stop.site.uid, stop.uid, "out"


def refresh(moved: Collection[UUID]) -> None:
    """These work orders have moved: open lists that hold or may hold one of them and are others
    now are told anew. Safe to repeat."""
    touched = consignments.touched_by(moved)
    with transaction.atomic():
        for row in _locked(uid__in=touched, closed_at=None) if touched else ():
            _bring_up(row)


def keep_count(
    *,
    uid: UUID,
    plant: UUID,
    told: CountIn1,
    stamp: int,
    by: UUID,
    device: UUID,
    happened_at: datetime,
    at: datetime,
) -> None:
    """A count by hand, in the open transaction; the plant's tablets see the one that stands."""
    Count(
        uid=uid,
        plant_id=plant,
        consignment=told.consignment,
        counted=told.counted,
        stamp=stamp,
        by=by,
        device=device,
        happened_at=happened_at,
        recorded_at=at,
    ).save(force_insert=True)
    for row in _locked(uid=told.consignment):
        if row.closed_at is None:
            _bring_up(row, anew=True)
        else:
            journal.record([journal.Note("consignment.counted", _subject(row), {})], at=at)


def close(*, uid: UUID, scanned: Iterable[str], at: datetime, by: UUID | None) -> bool:
    """A list is done with: what differs is kept with it, and a person is asked. False where it is
    closed already. A list of which nothing was counted or scanned is closed without a question: no
    truck was here."""
    scanned = sorted(set(scanned))
    with transaction.atomic():
        row = next(iter(_locked(uid=uid, closed_at=None)), None)
        if row is None:
            return False
        row.closed_at = at
        _compare(row, scanned, at, by)
        _take_off(row)
    return True


def compare_again(*, uid: UUID, scanned: Iterable[str], at: datetime) -> None:
    """More was told of a list that is closed: what differs now is kept with it and asked about, or
    the question is settled. Where as much was told before nothing changes. Safe to repeat."""
    scanned = sorted(set(scanned))
    with transaction.atomic():
        for row in _locked(uid=uid, closed_at__isnull=False):
            count = consignments.counted([uid]).get(uid)
            told = (len(scanned), count.counted if count else None)
            if told != (row.compared["scanned"], row.compared["counted"]):
                _compare(row, scanned, at, None)
                row.save(update_fields=["compared"])


def _compare(row: Consignment, scanned: list[str], at: datetime, by: UUID | None) -> None:
    count = consignments.counted([row.uid]).get(row.uid)
    found = consignments.compared(row, scanned)
    row.compared = {**asdict(found), "scanned": len(scanned)}
    row.compared["counted"] = count.counted if count else None
    miscounted = count is not None and count.counted != len(scanned)
    if (count or scanned) and (found.differs or miscounted):
        _ask(row, count, len(scanned), at, by)
    else:
        questions.settle(kinds=[Kind.CONSIGNMENT_DIFFERS], subjects=[_subject(row)],
                         how="all of it is here", at=at)  # fmt: skip


def _subject(row: Consignment) -> str:
    return f"consignment:{row.uid}"


def _ask(
    row: Consignment, count: Count | None, scanned: int, at: datetime, by: UUID | None
) -> None:
    told = {kind: row.compared[kind] for kind in KINDS}
    who = count.by if count else by
    facts = {**told, "counted": count.counted if count else None, "scanned": scanned,
             "site": str(row.plant_id), "by": str(who) if who else None,
             "way": "off" if row.way == "in" else "on"}  # fmt: skip
    questions.ask([Ask(Kind.CONSIGNMENT_DIFFERS, _subject(row), facts)], at=at)


def _bring_up(row: Consignment, *, anew: bool = False) -> None:
    """The list as it is now. An empty one of what is to be taken is shown to nobody."""
    listed = consignments.stands_on(row)
    if listed == row.listed and not anew:
        return
    row.listed = listed
    _put(row, gone=row.way == "out" and not listed)


def _take_off(row: Consignment) -> None:
    _put(row, gone=True)


def _put(row: Consignment, *, gone: bool) -> None:
    row.version += 1
    row.save()
    change = Change(f"site:{row.plant_id}", "consignment", row.uid, row.version, gone=gone)
    sync.put([change])


def _locked(**which: object) -> list[Consignment]:
    rows = Consignment.objects.select_for_update(no_key=True).filter(**which)
    return list(rows.order_by("uid"))
