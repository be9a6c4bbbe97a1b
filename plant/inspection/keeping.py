"""Write down where casings stand inside a plant, folded from its events: for a set of labels.

In the transaction that told of them, under their labels' lock keys. A row changes only where the
fold says something else than before, so what is told again costs no version. What cannot be true
becomes a question for a person, and is settled when later events have answered it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import msgspec
from django.conf import settings
from django.db import connection

from pickups.casings import queries as casings
from pickups.casings.eligibility import Tin
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.names import Names
from pickups.kernel import clock, ids
from pickups.kernel.bulk import jsonb, texts
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
from pickups.sync import queries as sync_read
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.dock import queries as dock
from plant.inspection import binding, table
from plant.inspection.fold import SHIPPED, Event, Inside, Order, Route, Stop, fold
from plant.inspection.models import Work
from plant.inspection.ordering import Ordered, before

KINDS: dict[str, Question] = {
    "finished_and_rejected": Question.PLANT_IMPOSSIBLE,
    "finished_on_hold": Question.PLANT_IMPOSSIBLE,
    "worked_on_after_rejection": Question.PLANT_IMPOSSIBLE,
    "sent_back_after_finish": Question.PLANT_IMPOSSIBLE,
    "finished_not_repaired": Question.PLANT_IMPOSSIBLE,
    "seen_after_shipped": Question.PLANT_IMPOSSIBLE,
    "names_nothing": Question.PLANT_IMPOSSIBLE,
    "release_not_allowed": Question.RELEASE_NOT_ALLOWED,
    "built_differs": Question.BUILT_DIFFERS,
}
"""Which question each doubt of the fold is."""


@dataclass(frozen=True, slots=True)
class Read:
    """What the caller has read: all events under some labels, with new ones and perhaps others; and
    the labels of each casing, by any of them, as far as it is known."""

    labels: frozenset[str] = frozenset()
    events: Sequence[Event] = ()
    names: Mapping[str, Names] = field(default_factory=dict)


_NOTHING = Read()


@dataclass(frozen=True, slots=True)
class _Row:
    """Where one casing stands by the fold, and how many events say so."""

    uid: UUID
    names: Names
    inside: Inside
    events: int


@dataclass(frozen=True, slots=True)
class _Was:
    """A casing as it was written down before."""

    uid: UUID
    label: str
    doubts: dict[str, list[str]]
    version: int


def refold(
    *,
    plant: UUID,
    labels: Iterable[str],
    at: datetime,
    anew: bool = False,
    route: Route | None = None,
    read: Read = _NOTHING,
) -> dict[UUID, str]:
    """Fold the casings under these labels anew; returns the events that raised a question now,
    with its kind. Safe to repeat. The caller holds the lock keys of all labels that name them.

    anew: tablets are to see each again though the fold says the same: its order has changed. route:
    the plant's, where it was read already; read: what else was.
    """
    named = {label: read.names[label] for label in labels if label in read.names}
    if further := set(labels) - named.keys():
        named |= custody.names_of_each(sorted(further))
    names = {n.worn: n for n in named.values()}
    worn_by = {label: worn for worn, n in names.items() for label in n.every}
    every = sorted(worn_by)
    told: dict[str, list[Event]] = {worn: [] for worn in names}
    for event in _events(plant, every, read):
        told[worn_by[event.label]].append(event)
    known = _known(plant, every)
    orders = _orders(plant, [names[worn] for worn, events in told.items()
                             if any(e.told.built is not None for e in events)])  # fmt: skip
    route = route or route_of(plant)
    rows = [
        _Row(work_uid(plant, names[worn].first), names[worn], inside, len(events))
        for worn, events in told.items()
        if (inside := fold(route, events, orders.get(worn))) is not None
    ]
    gone = [was for uid, was in known.items() if uid not in {row.uid for row in rows}]
    # What was told of before and is not known was gone meanwhile: its versions go on.
    back = [row.uid for row in rows if row.uid not in known and row.events > 1]
    since = sync_read.versions(f"site:{plant}", "plant_work", back) if back else {}
    versions = _write(plant, rows, gone, since, anew=anew)
    return _ask(plant, [row for row in rows if row.uid in versions], known, gone, at)


def _events(plant: UUID, labels: Sequence[str], read: Read) -> list[Event]:
    """All that the plant has told under these labels."""
    unread = [label for label in labels if label not in read.labels]
    here = [e for e in read.events if e.label in read.labels]
    return [*here, *table.under(plant, unread)] if unread else here


_KNOWN = """
SELECT uid, label, doubts, version FROM inspection_work
WHERE plant_id = %s AND label = ANY(%s::text[])
"""
_doubts = msgspec.json.Decoder(dict[str, list[str]]).decode
"""Django leaves jsonb as text in raw queries."""


def _known(plant: UUID, labels: Iterable[str]) -> dict[UUID, _Was]:
    with connection.cursor() as c:
        c.execute(_KNOWN, [plant, texts(labels)])
        rows = c.fetchall()
    return {uid: _Was(uid, label, _doubts(doubts), v) for uid, label, doubts, v in rows}


def route_of(plant: UUID) -> Route:
    """A plant's stations as the fold needs them."""
    return Route(tuple(Stop(*step) for step in dock.steps(plant)))


def work_uid(plant: UUID, first: str) -> UUID:
    """The id of a casing inside a plant, from the first of its labels."""
    return ids.derived(plant, f"work:{first}")


def _orders(plant: UUID, names: Sequence[Names]) -> dict[str, Order]:
    """What is to come out of each of these casings, by the label that it wears; one that nobody
    has picked up yet, that was never bound for this plant, or whose label is contested, is absent.
    """
    found: dict[str, Order] = {}
    every = {n.worn: n.every for n in names}
    orders = casings.under(every) if names else []
    here = binding.bound(plant, {o.uid: every.get(o.label, (o.label,)) for o in orders})
    code = dock.plant_code(plant) if orders else ""
    for order in orders:
        if order.uid in here and not order.withdrawn and not order.contested:
            found[order.label] = Order(_ordered(order, code), _zone())
    return found


def _ordered(order: WorkOrder, code: str) -> Ordered:
    told = order.told
    tins = msgspec.convert(told.get("tins", []), list[Tin])
    least, most = before(tins, clock.local(order.picked_up_at, _zone()).date())
    return Ordered(
        tread_design=told.get("tread_design", ""),
        fleet_brand=told.get("fleet_brand", ""),
        plant_code=code,
        caps_least=least,
        caps_most=most,
    )


def _zone() -> ZoneInfo:
    return ZoneInfo(settings.DEALER_TIME_ZONE)


_UPSERT = """
INSERT INTO inspection_work AS w (uid, plant_id, label, stage, station, next, load, envelope,
                                  reworks, entered_at, seen_at, told, doubts, version)
SELECT n.uid, %s, n.label, n.stage, n.station, n.next, n.load, n.envelope, n.reworks,
       n.entered_at, n.seen_at, n.told, n.doubts, n.since + 1
FROM jsonb_to_recordset(%s) n(
  uid uuid, label text, stage text, station text, next text, load text, envelope text,
  reworks smallint, entered_at timestamptz, seen_at timestamptz, told jsonb, doubts jsonb,
  since bigint)
ON CONFLICT (uid) DO UPDATE SET
  label = EXCLUDED.label, stage = EXCLUDED.stage, station = EXCLUDED.station,
  next = EXCLUDED.next, load = EXCLUDED.load, envelope = EXCLUDED.envelope,
  reworks = EXCLUDED.reworks, entered_at = EXCLUDED.entered_at, seen_at = EXCLUDED.seen_at,
  told = EXCLUDED.told, doubts = EXCLUDED.doubts, version = w.version + 1
WHERE %s OR (w.label, w.stage, w.station, w.next, w.load, w.envelope, w.reworks, w.entered_at,
             w.seen_at, w.told, w.doubts) IS DISTINCT FROM (
             EXCLUDED.label, EXCLUDED.stage, EXCLUDED.station, EXCLUDED.next, EXCLUDED.load,
             EXCLUDED.envelope, EXCLUDED.reworks, EXCLUDED.entered_at, EXCLUDED.seen_at,
             EXCLUDED.told, EXCLUDED.doubts)
RETURNING uid, version
"""


def _write(
    plant: UUID,
    rows: Sequence[_Row],
    gone: Sequence[_Was],
    since: Mapping[UUID, int],
    *,
    anew: bool,
) -> dict[UUID, int]:
    """Write what says something else than before, all of it where `anew`; returns the version of
    each that was written. since: the versions that those had which come back."""
    if gone:
        Work.objects.filter(uid__in=[was.uid for was in gone]).delete()
    versions: dict[UUID, int] = {}
    if rows:
        told = [
            _columns(row) | {"since": since.get(row.uid, 0)}
            for row in sorted(rows, key=lambda r: r.uid)
        ]
        with connection.cursor() as c:
            values: list[Any] = [plant, jsonb(told), anew]
            c.execute(_UPSERT, values)
            versions = dict(c.fetchall())
    scope = f"site:{plant}"
    changes = [
        Change(scope, "plant_work", r.uid, versions[r.uid], gone=r.inside.stage == SHIPPED)
        for r in rows
        if r.uid in versions
    ]
    changes += [Change(scope, "plant_work", w.uid, w.version + 1, gone=True) for w in gone]
    sync.put(changes)
    return versions


def _columns(row: _Row) -> dict[str, Any]:
    names, inside = row.names, row.inside
    return {
        "uid": row.uid,
        "label": names.worn,
        "stage": inside.stage,
        "station": inside.station,
        "next": inside.next,
        "load": inside.load,
        "envelope": inside.envelope,
        "reworks": inside.reworks,
        "entered_at": inside.entered_at,
        "seen_at": inside.seen_at,
        "told": {"labels": names.every, **inside.told},
        "doubts": inside.doubts,
    }


def _ask(
    plant: UUID,
    rows: Sequence[_Row],
    known: Mapping[UUID, _Was],
    gone: Sequence[_Was],
    at: datetime,
) -> dict[UUID, str]:
    """Ask what is in doubt and was not before; settle what was and is no longer."""
    asks: list[Ask] = []
    raised: dict[UUID, str] = {}
    calm: dict[Question, set[str]] = {}
    for row in rows:
        was = known.get(row.uid)
        before = _by_kind(was.doubts if was else {})
        now = _by_kind(row.inside.doubts)
        subject = f"label:{row.names.worn}"
        for kind in before.keys() - now.keys():
            assert was is not None
            calm.setdefault(kind, set()).update({subject, f"label:{was.label}"})
        for kind, doubts in now.items():
            if _asked_already(row, doubts):
                calm.setdefault(kind, set()).add(subject)
                continue
            if before.get(kind) == doubts:
                continue
            said = {"plant": str(plant), "label": row.names.worn, **doubts}
            asks.append(Ask(kind, subject, said))
            raised |= {UUID(uid): kind.value for uids in doubts.values() for uid in uids}
    for w in gone:
        for kind in _by_kind(w.doubts):
            calm.setdefault(kind, set()).add(f"label:{w.label}")
    for kind, subjects in sorted(calm.items()):
        questions.settle(kinds=[kind], subjects=subjects, how="settled by a later event", at=at)
    questions.ask(asks, at=at)
    return raised


def _asked_already(row: _Row, doubts: Mapping[str, list[str]]) -> bool:
    """From the pick-up on this one is custody's to ask."""
    return set(doubts) == {"finished_and_rejected"} and bool(casings.worn([row.names.worn]))


def _by_kind(doubts: Mapping[str, list[str]]) -> dict[Question, dict[str, list[str]]]:
    found: dict[Question, dict[str, list[str]]] = {}
    for doubt, events in doubts.items():
        found.setdefault(KINDS[doubt], {})[doubt] = events
    return found
