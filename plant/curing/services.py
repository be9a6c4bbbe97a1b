"""Take in what is told of loads and their records; hold and release; enter specifications.

Locks: the load's key together with the label keys of what it holds, before anything is read of it.
A load that falls short holds its casings by station events with derived ids, so that telling it
again holds nothing twice; what was held stays so until somebody whom the plant named qualified has
decided, and what is told to have been in it later is held too, whatever a later record says.
"""

import hashlib
from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

import msgspec
from django.db import OperationalError, transaction

from pickups.journal import services as journal
from pickups.kernel import clock, ids, locks
from pickups.kernel.problems import Code, Problem
from pickups.kernel.wire import Fault, Malformed, fingerprint
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from plant.curing import keeping, loading, queries
from plant.curing.equivalent import Law
from plant.curing.models import (
    CureLoad,
    CureRecord,
    CureSpecification,
    Decision,
    Hold,
    LoadWord,
    Qualified,
)
from plant.curing.record import Terms
from plant.curing.wire import LoadPosted
from plant.dock import queries as dock
from plant.inspection import services as inspection
from plant.inspection.services import Told
from plant.inspection.wire import StationEvent

ENVELOPING = "enveloping"
FELL_SHORT = "kept:load_short:{number}"
"""The note of such a hold: a code, which every screen says in its reader's language."""
MISSING_AFTER = timedelta(hours=1)
"""After the last casing of a load was scanned out. Our own figure."""
What = Decision.What


class NotQualified(Exception):
    """The plant has not named this person for it."""


class Outdated(Exception):
    """Somebody else has entered a specification meanwhile; carries the number that stands."""

    def __init__(self, number: int) -> None:
        super().__init__(f"number {number} stands")
        self.number = number


def tell(*, plant: UUID, posted: LoadPosted, key: str = "", by: UUID | None = None) -> bool:
    """One word about a load from a system or a page. Returns whether it is a repeat.

    Raises Problem(id_reused) where the id was used for another word.
    """
    at = clock.now()
    uid = ids.derived(plant, f"word:{posted.id}")
    told = _told(posted)
    hashed = fingerprint(told | {"number": posted.number, "told_at": clock.rfc3339(posted.told_at)})
    with transaction.atomic():
        locks.take([_key(plant, posted.number)])
        known = LoadWord.objects.filter(uid=uid).values_list("hash", flat=True).first()
        if known is not None:
            if bytes(known) != hashed:
                fault = Fault("id", str(posted.id), "an id not used for another word")
                raise Problem(Code.ID_REUSED, fault)
            return True
        keep_word(
            LoadWord(uid=uid, plant_id=plant, load=keeping.uid_of(plant, posted.number),
                     number=posted.number, told=told, hash=hashed,
                     stamp=clock.to_ms(posted.told_at), by=by, key=key, recorded_at=at)
        )  # fmt: skip
    _settle_now(plant, posted.number)
    return False


def keep_word(word: LoadWord) -> None:
    """Keep a word; the journal has the load settled, also one that the word's load was before."""
    before = LoadWord.objects.filter(plant=word.plant_id, load=word.load)
    numbers = {word.number, *before.values_list("number", flat=True)}
    word.save(force_insert=True)
    journal.record([told_note(word.plant_id, numbers)], at=word.recorded_at)


def told_note(plant: UUID, numbers: Collection[str]) -> journal.Note:
    """Something was told of these loads: they are to be settled."""
    return journal.Note("load.told", f"site:{plant}", {"loads": sorted(numbers)})


def take_record(
    *, plant: UUID, number: str, raw: bytes, form: str, key: str = "", by: UUID | None = None
) -> bool:
    """Take in a record as it came: bytes of a table, or of a posted series that was read already.

    The same bytes again are one record, whatever came in between; returns whether they are. Raises
    series.Unreadable, and NoSuchLoad for a load that nothing has named.
    """
    at = clock.now()
    sha = hashlib.sha256(raw).digest()
    with transaction.atomic():
        locks.take([_key(plant, number)])
        load = CureLoad.objects.filter(plant=plant, number=number).first()
        if load is None:
            load = keeping.refold(plant=plant, number=number, at=at)
        if load is None:
            raise NoSuchLoad(number)
        if CureRecord.objects.filter(plant=plant, number=number, sha256=sha).exists():
            return True
        made = CureRecord(plant_id=plant, number=number, form=form, raw=raw, sha256=sha,
                          start=load.started_at, by=by, key=key, recorded_at=at)  # fmt: skip
        queries.readings(made)
        made.save(force_insert=True)
        journal.record([told_note(plant, {number})], at=at)
    _settle_now(plant, number)
    return False


class NoSuchLoad(Exception):
    """Nothing here has ever named a load with this number."""


def _settle_now(plant: UUID, number: str) -> None:
    """At once, so that whoever told it sees it; where one of its casings is busy, the journal does
    it in its turn: what was told is kept and noted by then, and is not told twice."""
    try:
        settle(plant=plant, number=number)
    except OperationalError:
        return


def settle(*, plant: UUID, number: str) -> CureLoad | None:
    """Bring a load up to date and hold what it has to hold. Safe to repeat at any time."""
    at = clock.now()
    went_in = {row["label"] for row in keeping.contents(plant, number).set_in}
    with transaction.atomic(), questions.together(at=at):
        locks.take({_key(plant, number), *map(locks.label_key, went_in)})
        load = keeping.refold(plant=plant, number=number, at=at)
        if load is None or load.short_by is None:
            return load
        held = set(Hold.objects.filter(plant=plant, number=number).values_list("label", flat=True))
        new = sorted({row["label"] for row in load.set_in} & went_in - held)
        if new:
            _hold(load, new, at)
            load = keeping.refold(plant=plant, number=number, at=at)
    return load


def sweep(*, at: datetime) -> int:
    """Ask for what went in and was not seen to come out, and for what came out and was not seen to
    go in, an hour after the last was; take loads that nothing is open about off the devices.
    Returns how many loads were looked at. Repeatable.
    """
    odd = CureLoad.objects.exclude(missing=[], over=[])
    late = odd.filter(out_at__lte=at - MISSING_AFTER)
    rows = list(late.values_list("plant", "number"))
    for plant, number in rows:
        load = settle(plant=plant, number=number)
        if load is not None:
            _ask_odd(load, at)
    old = CureLoad.objects.filter(since__lt=at - timedelta(days=loading.SHOWN_DAYS), shown=True)
    quiet = old.exclude(state__in=[keeping.State.HELD, keeping.State.IN])
    over = list(quiet.values_list("plant", "number"))
    for plant, number in over:
        with transaction.atomic():
            locks.take([_key(plant, number)])
            keeping.hide(plant=plant, number=number)
    return len(rows) + len(over)


def _ask_odd(load: CureLoad, at: datetime) -> None:
    facts = {"plant": str(load.plant_id), "number": load.number}
    asks = []
    if load.missing:
        told = {**facts, "missing": True, "labels": load.missing}
        asks.append(Ask(Kind.LOAD_MISSING, keeping.subject(load.uid), told))
    if load.over:
        told = {**facts, "over": True, "labels": load.over}
        asks.append(Ask(Kind.LOAD_OVER, keeping.subject(load.uid), told))
    new = [q for q in asks if not asked.was_decided(q.kind, q.subject, q.facts)]
    questions.ask(new, at=at)


def answered(*, question: int, said: str, by: UUID) -> bool:
    """A person knows where they are that a load's question asks for; asked again only where it asks
    for others. Raises Malformed without words; returns whether the question was open."""
    if not said.strip():
        raise Malformed(Fault("said", "", "where they are, in words"))
    row = asked.question(question)
    return row is not None and bool(
        questions.settle(kinds=[Kind(row.kind)], subjects=[row.subject], how=said.strip(),
                         at=clock.now(), by=by)
    )  # fmt: skip


def _hold(load: CureLoad, labels: Sequence[str], at: datetime) -> None:
    note = FELL_SHORT.format(number=load.number)
    holds = [
        Hold(event=ids.derived(load.uid, label), plant_id=load.plant_id, number=load.number,
             label=label, held_at=at)
        for label in labels
    ]  # fmt: skip
    Hold.objects.bulk_create(holds)
    station = _station(load.plant_id, loading.CHAMBER)
    told = [_event(h.event, h.label, station, "hold", at, note=note) for h in holds]
    inspection.tell(plant=load.plant_id, at=at,
                    events=[Told(e, None, None, "", None) for e in told])  # fmt: skip


def decide(
    *, plant: UUID, number: str, labels: Sequence[str], what: str, grounds: str, by: UUID
) -> int:
    """What a qualified person decides about held casings of a load; returns how many.

    A casing is decided about once; those that were are left out. Rejected it is the plant's doing;
    to be cured again it goes back to enveloping and counts as worked again. Raises NotQualified,
    Malformed without grounds or labels that are held.
    """
    at = clock.now()
    if not grounds.strip():
        raise Malformed(Fault("grounds", "", "why, in words"))
    if what not in What.values:
        raise Malformed(Fault("what", what[:40], ", ".join(What.values)))
    if what == What.RECURE and not _again_at(plant):
        raise Malformed(Fault("again", what, f"a route with the station {ENVELOPING}"))
    with transaction.atomic(), questions.together(at=at):
        locks.take({_key(plant, number), *map(locks.label_key, labels)})
        ask_qualified(plant=plant, person=by, matter=Qualified.Matter.CURE)
        rows = Hold.objects.filter(plant=plant, number=number, label__in=list(labels))
        open_ones = list(rows.filter(decision=None).order_by("label"))
        if not open_ones:
            raise Malformed(Fault("labels", ", ".join(labels)[:80], "casings that are held"))
        Decision.objects.bulk_create(
            Decision(hold=h, what=what, grounds=grounds.strip()[:500], by=by, decided_at=at)
            for h in open_ones
        )
        station = _station(plant, loading.CHAMBER)
        events = [e for h in open_ones for e in _decided(h, what, grounds.strip(), station, at)]
        inspection.tell(plant=plant, at=at,
                        events=[Told(e, by, None, "", None) for e in events])  # fmt: skip
        keeping.refold(plant=plant, number=number, at=at)
    return len(open_ones)


def _decided(hold: Hold, what: str, grounds: str, station: str, at: datetime) -> list[StationEvent]:
    """The hold ends with every decision; what follows it stands beside."""
    note = grounds[:500]
    made = [_event(ids.derived(hold.event, "released"), hold.label, station, "released", at,
                   note=note, releases=hold.event)]  # fmt: skip
    after = ids.derived(hold.event, what)
    if what == What.REJECT:
        made.append(_event(after, hold.label, station, "rejected", at, note=note,
                           reason="CURED_DEFECT", cause="plant"))  # fmt: skip
    elif what == What.RECURE:
        again = _again_at(hold.plant_id)
        made.append(_event(after, hold.label, station, "repair", at, note=note, again_at=again))
    return made


def _again_at(plant: UUID) -> str:
    """Where a casing that is to be cured again begins, at the first of doubled ones; "" where the
    route has no such station."""
    doubled = f"{ENVELOPING}-"
    return next((c for c in dock.codes(plant) if c == ENVELOPING or c.startswith(doubled)), "")


def _event(
    uid: UUID, label: str, station: str, outcome: Any, at: datetime, **more: Any
) -> StationEvent:
    return StationEvent(
        id=uid, label=label, station=station, outcome=outcome, happened_at=at, **more
    )


def _station(plant: UUID, code: str) -> str:
    """A station of the usual route or, where this plant has none of the code, its last one."""
    codes = dock.codes(plant)
    return code if code in codes or not codes else codes[-1]


def specify(
    *,
    plant: UUID,
    chamber: str,
    terms: Terms | None,
    law: Law | None,
    source: str,
    by: UUID,
    knowing: int | None = None,
) -> CureSpecification:
    """What a plant enters for a chamber, or ("") for all; None: there is none from now on.

    knowing: the number that the writer saw, 0 where there was none; another stands: Outdated.
    """
    at = clock.now()
    with transaction.atomic():
        locks.take([locks.plant_key(plant)])
        rows = CureSpecification.objects.filter(plant=plant, chamber=chamber)
        number = rows.order_by("-number").values_list("number", flat=True).first() or 0
        if knowing is not None and knowing != number:
            raise Outdated(number)
        return CureSpecification.objects.create(
            plant_id=plant, chamber=chamber, number=number + 1, source=source,
            terms=_plain(terms), law=_plain(law), entered_by=by, entered_at=at,
        )  # fmt: skip


def name_qualified(*, plant: UUID, person: UUID, matter: str, grounds: str, by: UUID) -> None:
    """Name a person qualified; naming one again changes nothing. Raises Malformed for oneself."""
    if person == by:
        raise Malformed(Fault("person", str(person), "somebody else than who names"))
    Qualified.objects.get_or_create(
        plant_id=plant, person=person, matter=matter, until=None,
        defaults={"grounds": grounds[:300], "since": clock.now(), "named_by": by},
    )  # fmt: skip


def end_qualified(*, plant: UUID, qualified: int, by: UUID) -> bool:
    """From now on the person decides no more; what was decided stays."""
    rows = Qualified.objects.filter(plant=plant, id=qualified, until=None)
    return bool(rows.update(until=clock.now(), ended_by=by))


def qualified(*, plant: UUID, person: UUID, matter: str) -> bool:
    """Whether the plant has named this person for it, and not ended it."""
    named = Qualified.objects.filter(plant=plant, person=person, matter=matter, until=None)
    return named.exists()


def ask_qualified(*, plant: UUID, person: UUID, matter: str) -> None:
    """Raises NotQualified for whom the plant has not named. Inside a transaction: until it is over
    nobody ends it."""
    named = Qualified.objects.select_for_update(no_key=True)
    if named.filter(plant=plant, person=person, matter=matter, until=None).first() is None:
        raise NotQualified


def _key(plant: UUID, number: str) -> int:
    return locks.load_key(plant, number)


def _told(posted: LoadPosted) -> dict[str, Any]:
    plain: dict[str, Any] = msgspec.to_builtins(posted)
    return kept_of(plain, posted.started_at, posted.ended_at)


def kept_of(
    plain: Mapping[str, Any], started: datetime | None, ended: datetime | None
) -> dict[str, Any]:
    """What a word says, as it is kept: the same from a system and from a tablet. Its moments it
    says always, none where there is none; of the rest what was not said is left out."""
    names = ("chamber", "lots", "operator", "note")
    told = {name: plain[name] for name in names if plain[name] is not None}
    return told | {"started_at": clock.rfc3339(started) if started else None,
                   "ended_at": clock.rfc3339(ended) if ended else None}  # fmt: skip


def _plain(told: Terms | Law | None) -> dict[str, Any] | None:
    return None if told is None else msgspec.to_builtins(told)
