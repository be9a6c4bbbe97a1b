"""Say what the plant owes and settle it; open and decide claims; hold what was worked too often.

Holds are station events with derived ids, told through inspection, so that telling one again holds
nothing twice. Locks: label keys, before anything is written.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction

from pickups.custody import ownership
from pickups.custody import queries as custody
from pickups.kernel import clock, ids, locks
from pickups.kernel.wire import Fault, Malformed
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from plant.adjustments import prorata, queries
from plant.adjustments.models import Claim, ClaimDecision, Owed, Settled
from plant.curing import queries as cures
from plant.curing import services as curing
from plant.curing import tracing
from plant.dock import queries as dock
from plant.inspection import queries as inspection
from plant.inspection import services as stations
from plant.inspection.services import Told, fact_uid
from plant.inspection.wire import StationEvent

TOO_OFTEN = "kept:too_often"
EVIDENCE = "kept:claim"
"""Notes of the holds from here: codes, which every screen says in its reader's language."""


class Gone(Exception):
    """It was settled or decided already, or is not there."""


def bring(*, plant: UUID, label: str) -> None:
    """What is owed for a casing follows its rejections by the plant's own doing that stand: one
    that stands is owed, also one of which the release was taken back; one that stands no longer is
    owed no more. What was made good stays so. Safe to repeat."""
    names = custody.names_of(label)
    work = inspection.of_label(plant, label)
    standing = set()
    for told in work.told["rejections"] if work is not None else ():
        if told["cause"] == "plant":
            standing.add(_owed(plant, names.worn, UUID(told["event"]), told["reason"]))
    over = Owed.objects.filter(plant=plant, label__in=names.every, settled=None)
    for owed in over.exclude(uid__in=standing):
        Settled.objects.get_or_create(
            owed=owed, defaults={"how": Settled.How.RELEASED, "settled_at": clock.now()}
        )


def _owed(plant: UUID, label: str, event: UUID, reason: str) -> UUID:
    """The row of a rejection: its first, or the one behind the last that was taken back."""
    uid = first = fact_uid(plant, event)
    known = queries.how_settled(uid)
    while known == Settled.How.RELEASED:
        uid = ids.derived(uid, "again")
        known = queries.how_settled(uid)
    if known is None:
        fact = custody.facts([first])[first]
        Owed.objects.get_or_create(uid=uid, defaults={
            "plant_id": plant, "label": label, "since": fact.happened_at, "reason": reason,
        })  # fmt: skip
    return uid


def settle(
    *,
    plant: UUID,
    owed: UUID,
    how: str,
    cents: int | None,
    said: str,
    by: UUID,
    office: bool = False,
) -> None:
    """Make good what is owed: by a casing from stock, which makes the ruined one the dealer's, or
    by a credit. office: by somebody of the office; who is not has to be named for claims.

    Raises NotQualified, Gone, Malformed, ownership.Refused where the casing cannot change hands.
    """
    if not said.strip():
        raise Malformed(Fault("said", "", "what was agreed, in words"))
    rows = Owed.objects.filter(uid=owed, plant=plant)
    label = rows.filter(settled=None).values_list("label", flat=True).first()
    if label is None:
        raise Gone
    with transaction.atomic():
        change = _exchanged(plant, label, how, by) if how == Settled.How.EXCHANGE else None
        if change is None:
            locks.take([locks.label_key(label)])
        if not office:
            curing.ask_qualified(plant=plant, person=by, matter=cures.Matter.CLAIM)
        row = rows.select_for_update(of=("self",)).get()
        if Settled.objects.filter(owed=row).exists():
            raise Gone
        if how not in (Settled.How.EXCHANGE, Settled.How.CREDIT):
            raise Malformed(Fault("how", how[:20], "exchange or credit"))
        if change is None and (cents is None or not 0 < cents <= prorata.MOST_CENTS):
            allowed = f"an amount up to {prorata.MOST_CENTS // 100}"
            raise Malformed(Fault("amount", "" if cents is None else str(cents), allowed))
        Settled.objects.create(owed=row, how=how, change=change, said=said.strip()[:500], by=by,
                               cents=cents if change is None else None,
                               settled_at=clock.now())  # fmt: skip


def _exchanged(plant: UUID, label: str, how: str, by: UUID) -> UUID:
    """The fact of the exchange; its keys and casings are locked by the trunk, before our row."""
    order = tracing.standing(plant, [label])[0].order
    if order is None:
        raise Malformed(Fault("how", how, "a casing whose owner is known"))
    return ownership.exchange(work_order=order.uid, by=by, owed=True)


def too_often(*, plant: UUID, label: str, fact: UUID) -> bool:
    """A casing was sent back to be worked again: past the plant's limit it is held and a person is
    asked. Returns whether it is past. Safe to repeat."""
    limit = dock.rework_limit(plant)
    work = inspection.of_label(plant, label)
    if limit is None or work is None or work.reworks <= limit:
        return False
    at, hold = clock.now(), ids.derived(fact, "too-often")
    if inspection.is_told(plant, hold):
        return True
    with transaction.atomic(), questions.together(at=at):
        _tell(plant, hold, work.label, "hold", at, note=TOO_OFTEN)
        facts = {"plant": str(plant), "reworks": work.reworks, "limit": limit, "hold": str(hold)}
        questions.ask([Ask(Kind.REWORK_LIMIT, f"label:{work.label}", facts)], at=at)
    return True


def go_on(*, plant: UUID, label: str, hold: UUID, note: str, by: UUID) -> None:
    """What was worked too often may go on: somebody decided it. Safe to repeat."""
    release = ids.derived(hold, "released")
    if not inspection.is_told(plant, release):
        _tell(plant, release, label, "released", clock.now(), by=by, releases=hold, note=note)


def worked_again(*, plant: UUID, label: str, goes_on: bool, said: str, by: UUID) -> bool:
    """What a person decided about a casing that was worked too often: it goes on, and what held it
    for that is released, or it does not, and stays held. Raises Malformed without words; returns
    whether the question was open."""
    if not said.strip():
        raise Malformed(Fault("said", "", "why, in words"))
    at = clock.now()
    with transaction.atomic(), questions.together(at=at):
        locks.take(locks.label_key(name) for name in custody.names_of(label).every)
        if not questions.settle(kinds=[Kind.REWORK_LIMIT], subjects=[f"label:{label}"],
                                how=said.strip(), at=at, by=by):  # fmt: skip
            return False
        for hold in _too_often(plant, label) if goes_on else ():
            go_on(plant=plant, label=label, hold=hold, note=said.strip()[:500], by=by)
    return True


def _too_often(plant: UUID, label: str) -> list[UUID]:
    """The holds that stand because a casing was worked too often."""
    work = inspection.of_label(plant, label)
    standing = {UUID(told["event"]) for told in work.told["holds"]} if work is not None else set()
    again = [e for e in inspection.told_of(plant, label) if e.told.again_at]
    return sorted(standing & {ids.derived(fact_uid(plant, e.uid), "too-often") for e in again})


def claim(
    *, plant: UUID, found_by: str, label: str, complaint: str, readings: Sequence[int], by: UUID
) -> UUID:
    """Open a claim about a failed retread and keep the tire as evidence. Raises Malformed where
    nothing is complained of, no tread was measured, or a claim about it is open."""
    prorata.remaining(readings)
    if not complaint.strip():
        raise Malformed(Fault("complaint", "", "what failed, in words"))
    uid, at = ids.uuid7(), clock.now()
    hold = ids.derived(uid, "evidence")
    with transaction.atomic(), questions.together(at=at):
        locks.take([locks.label_key(label)])
        if queries.open_claim(plant, label) is not None:
            raise Malformed(Fault("label", label, "a tire without an open claim"))
        Claim.objects.create(uid=uid, plant_id=plant, found_by=found_by[:40], label=label,
                             complaint=complaint.strip()[:500], readings=list(readings),
                             hold=hold, opened_by=by, opened_at=at)  # fmt: skip
        work = inspection.of_label(plant, label)
        if work is not None and work.stage == work.Stage.SHIPPED:
            _tell(plant, ids.derived(uid, "back"), label, "received", at, first=True)
        _tell(plant, hold, label, "hold", at, note=EVIDENCE)
    return uid


def decide(
    *, plant: UUID, uid: UUID, what: str, grounds: str, terms: prorata.Terms | None, by: UUID
) -> int:
    """Decide a claim once, and let the evidence go; returns the credit in cents.

    Raises curing.NotQualified, Gone, Malformed without grounds or, honoured, without terms.
    """
    if not grounds.strip():
        raise Malformed(Fault("grounds", "", "why, in words"))
    at = clock.now()
    with transaction.atomic(), questions.together(at=at):
        known = Claim.objects.filter(uid=uid, plant=plant).first()
        if known is None:
            raise Gone
        locks.take([locks.label_key(known.label)])
        curing.ask_qualified(plant=plant, person=by, matter=cures.Matter.CLAIM)
        if ClaimDecision.objects.filter(claim=known).exists():
            raise Gone
        honoured = what == ClaimDecision.What.HONOURED
        if what not in ClaimDecision.What.values or (honoured and terms is None):
            raise Malformed(Fault("what", what[:20], ", ".join(ClaimDecision.What.values)))
        used = terms if honoured else None
        credit = prorata.credit_cents(known.readings, used) if used else 0
        ClaimDecision.objects.create(
            claim=known, what=what, grounds=grounds.strip()[:500], credit_cents=credit, by=by,
            price_cents=used.price_cents if used else None, decided_at=at,
            original_32nds=used.original_32nds if used else None,
            pull_32nds=used.pull_32nds if used else None,
        )  # fmt: skip
        _tell(plant, ids.derived(known.hold, "released"), known.label, "released", at,
              releases=known.hold, by=by, note=grounds.strip()[:500])  # fmt: skip
    return credit


def _tell(
    plant: UUID,
    uid: UUID,
    label: str,
    outcome: Any,
    at: datetime,
    *,
    by: UUID | None = None,
    first: bool = False,
    **more: Any,
) -> None:
    """first: at the first station, where it comes in; else where it was seen last."""
    work = inspection.of_label(plant, label)
    codes = dock.codes(plant)
    seen = not first and work is not None and work.station in codes
    here = work.station if work is not None and seen else dock.first(plant)
    event = StationEvent(id=uid, label=label, station=here, outcome=outcome, happened_at=at, **more)
    stations.tell(plant=plant, events=[Told(event, by, None, "", None)], at=at)
