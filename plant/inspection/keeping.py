"""Write down where casings stand inside a plant, folded from its events: for a set of labels.

In the transaction that told of them, under their labels' lock keys. A row changes only where the
fold says something else than before, so what is told again costs no version. What cannot be true
becomes a question for a person, and is settled when later events have answered it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import msgspec
from django.conf import settings
from django.db import connection
from psycopg.types.json import Jsonb

from pickups.casings import queries as casings
from pickups.casings.eligibility import Tin
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.names import Names
from pickups.kernel import clock, ids
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask
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
class _Row:
    """What is written of one casing."""

    uid: UUID
    names: Names
    inside: Inside
    version: int


def refold(
    *,
    plant: UUID,
    labels: Iterable[str],
    at: datetime,
    anew: bool = False,
    route: Route | None = None,
) -> dict[UUID, str]:
    """Fold the casings under these labels anew; returns the events that raised a question now,
    with its kind. Safe to repeat. The caller holds the lock keys of all labels that name them.

    anew: tablets are to see each again though the fold says the same: its order has changed. route:
    the plant's, where it was read already.
    """
    names = {n.worn: n for n in custody.names_of_each(sorted(set(labels))).values()}
    every = sorted(label for n in names.values() for label in n.every)
    told: dict[str, list[Event]] = {worn: [] for worn in names}
    worn_by = {label: worn for worn, n in names.items() for label in n.every}
    for event in table.under(plant, every):
        told[worn_by[event.label]].append(event)
    known = {w.uid: w for w in Work.objects.raw(_KNOWN, [plant, every])}
    orders = _orders(plant, [names[worn] for worn, events in told.items()
                             if any(e.told.built is not None for e in events)])  # fmt: skip
    route = route or route_of(plant)
    rows, same = [], set()
    for worn, events in told.items():
        inside = fold(route, events, orders.get(worn))
        if inside is None:
            continue
        uid = work_uid(plant, names[worn].first)
        was = known.get(uid)
        if was is not None and not anew and _same(was, inside, names[worn]):
            same.add(uid)
            continue
        rows.append(_Row(uid, names[worn], inside, was.version + 1 if was else 1))
    gone = [w for uid, w in known.items() if uid not in same and uid not in {r.uid for r in rows}]
    _write(plant, rows, gone)
    return _ask(plant, rows, known, gone, at)


_KNOWN = "SELECT * FROM inspection_work WHERE plant_id = %s AND label = ANY(%s)"


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


def _same(was: Work, inside: Inside, names: Names) -> bool:
    """Whether nothing is to be written."""
    return (was.label, was.stage, was.station, was.next, was.load, was.envelope, was.reworks,
            was.entered_at, was.seen_at, was.doubts, was.told) == (
            names.worn, inside.stage, inside.station, inside.next, inside.load, inside.envelope,
            inside.reworks, inside.entered_at, inside.seen_at, inside.doubts,
            _told(inside, names))  # fmt: skip


def _told(inside: Inside, names: Names) -> dict[str, Any]:
    return {"labels": list(names.every), **inside.told}


_UPSERT = """
INSERT INTO inspection_work (uid, plant_id, label, stage, station, next, load, envelope, reworks,
                             entered_at, seen_at, told, doubts, version)
SELECT n.uid, %s, n.label, n.stage, n.station, n.next, n.load, n.envelope, n.reworks,
       n.entered_at, n.seen_at, n.told, n.doubts, n.version
FROM unnest(%s::uuid[], %s::text[], %s::text[], %s::text[], %s::text[], %s::text[], %s::text[],
            %s::smallint[], %s::timestamptz[], %s::timestamptz[], %s::jsonb[], %s::jsonb[],
            %s::bigint[])
     n(uid, label, stage, station, next, load, envelope, reworks, entered_at, seen_at, told,
       doubts, version)
ON CONFLICT (uid) DO UPDATE SET
  label = EXCLUDED.label, stage = EXCLUDED.stage, station = EXCLUDED.station,
  next = EXCLUDED.next, load = EXCLUDED.load, envelope = EXCLUDED.envelope,
  reworks = EXCLUDED.reworks, entered_at = EXCLUDED.entered_at, seen_at = EXCLUDED.seen_at,
  told = EXCLUDED.told, doubts = EXCLUDED.doubts, version = EXCLUDED.version
"""


def _write(plant: UUID, rows: Sequence[_Row], gone: Sequence[Work]) -> None:
    if gone:
        Work.objects.filter(uid__in=[w.uid for w in gone]).delete()
    if rows:
        rows = sorted(rows, key=lambda r: r.uid)
        insides = [r.inside for r in rows]
        with connection.cursor() as c:
            c.execute(
                _UPSERT,
                [
                    plant,
                    [r.uid for r in rows],
                    [r.names.worn for r in rows],
                    [i.stage for i in insides],
                    [i.station for i in insides],
                    [i.next for i in insides],
                    [i.load for i in insides],
                    [i.envelope for i in insides],
                    [i.reworks for i in insides],
                    [i.entered_at for i in insides],
                    [i.seen_at for i in insides],
                    [Jsonb(_told(r.inside, r.names)) for r in rows],
                    [Jsonb(i.doubts) for i in insides],
                    [r.version for r in rows],
                ],
            )
    scope = f"site:{plant}"
    changes = [
        Change(scope, "plant_work", r.uid, r.version, gone=r.inside.stage == SHIPPED) for r in rows
    ]
    changes += [Change(scope, "plant_work", w.uid, w.version + 1, gone=True) for w in gone]
    sync.put(changes)


def _ask(
    plant: UUID,
    rows: Sequence[_Row],
    known: Mapping[UUID, Work],
    gone: Sequence[Work],
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
