"""The story of one casing, told to its owner in sentences; and its photos, by their number.

Each hand-over is told once, whoever told it to us. Who worked on it and what our people wrote to
each other is not told. Where a phone's clock was off, the time is put right by what was measured
when it sent.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings import reasons, strokes
from pickups.casings.models import WorkOrder
from pickups.casings.words import Sayer
from pickups.custody.fold import Kind
from pickups.custody.queries import Fact
from pickups.kernel.languages import grouped
from pickups.notices.queries import days
from pickups.portal import words
from pickups.portal.queries import beside, handed, receipts, record
from pickups.portal.queries.beside import Beside
from pickups.portal.queries.record import Told
from pickups.portal.queries.times import local
from pickups.sync import queries as sync


@dataclass(frozen=True)
class Event:
    """One sentence; photos are numbers within the record, each with its words."""

    when: str
    said: str
    more: Sequence[str]
    photos: Sequence[tuple[int, str]]


@dataclass(frozen=True)
class Story:
    """One casing as its owner reads it. visit: its pickup, once it is over; delivery: in which it
    was handed back: a receipt lists it."""

    work_order: UUID
    label: str
    sign: strokes.Sign
    said: str
    marks: str
    tread: str
    told: Sequence[str]
    wanted: Sequence[str]
    promise: str
    late: bool
    rejected: bool
    stopped: bool
    where: str
    waits: str
    events: Sequence[Event]
    visit: UUID | None
    delivery: UUID | None


def story(customer: UUID, work_order: UUID, language: str, *, phone: str) -> Story | None:
    """The story of one of the customer's own; None alike for another's and for nobody's."""
    order = casings.of_customer(customer).filter(uid=work_order).first()
    if order is None:
        return None
    told, around = record.read(order), Beside([order], language)
    hashes = [sha256 for numbered in told.photos.values() for _, sha256 in numbered]
    missing = set(sync.missing_photos(hashes))
    state = beside.state(order)
    sayer = Sayer(language, settings.DEALER_CURRENCY)
    promise, late = around.promise_with_basis(order, back=_back_on(told))
    return Story(
        work_order=order.uid,
        label=grouped(order.label),
        sign=beside.sign(order),
        said=beside.said(order, language),
        marks=words.marks(language, order.told),
        # Where its kind was told, the depths by place stand among the sentences.
        tread="" if order.told.get("line") else words.tread(language, order.told),
        told=[*sayer.casing(order.told), *sayer.cautions(order.told)]
        if order.told.get("line")
        else [],
        wanted=words.wanted(language, order.told),
        promise=promise,
        late=late,
        rejected=beside.rejected(order),
        stopped=beside.stopped(order),
        where=_where(told, state, around),
        waits=_waits(order, around, phone=phone) if state == "rejected" else "",
        events=_events(told, around, missing, language),
        visit=order.pickup if receipts.of_customer(customer, order.pickup) else None,
        delivery=_delivered(customer, told),
    )


def _delivered(customer: UUID, told: Told) -> UUID | None:
    """The visit that is over in which it was handed back last, if that was its customer's."""
    visits = [UUID(f.told["delivery"]) for f in told.facts if f.told.get("delivery")]
    mine = [visit for visit in visits if receipts.of_customer(customer, visit)]
    return mine[-1] if mine else None


def _back_on(told: Told) -> date | None:
    """The day on which its owner got it back."""
    back = [h for h in told.handed.values() if h.taker == told.owner]
    return days.today(record.when(record.first(back[-1], told))) if back else None


def _waits(order: WorkOrder, around: Beside, *, phone: str) -> str:
    """What is done with one that is rejected: what its owner's specification says, or asks."""
    if (what := around.rejects(order)) == "ask":
        return words.say(around.language, "rejected_next", phone=phone)
    return f"{words.say(around.language, f'rejects_{what}')}."


def _where(told: Told, state: str, around: Beside) -> str:
    """Where it is and what comes next; a store's rack is named."""
    order, say = told.order, words.of(around.language)
    if state in ("ready", "finished"):
        return around.where_ready(order)
    last = told.last
    if state == "shipped" and last and handed.goes_to_owner(last, order):
        return say["where_out"]
    in_store = f"where_{state}_store"
    if order.holder.startswith("site:") and in_store in say:
        return words.say(around.language, in_store, place=around.place(order.holder))
    return say[f"where_{state}"]


def photo(customer: UUID, work_order: UUID, number: int) -> str | None:
    """The hash of one photo of one of the customer's own, by its number in the story."""
    order = casings.of_customer(customer).filter(uid=work_order).first()
    numbered = record.read(order).photos.values() if order else ()
    return next((h for photos in numbered for n, h in photos if n == number), None)


def _events(told: Told, around: Beside, missing: set[str], language: str) -> list[Event]:
    """A sentence a fact, but for the later witnesses of a hand-over: their photos stand with it."""
    of_another = {w.uid for h in told.handed.values() for w in h.witnesses[1:]}
    signed = handed.signed(told, language)
    made = []
    for f in told.facts:
        if f.uid in of_another:
            continue
        over = told.handed.get(f.uid)
        seen = [w.uid for w in over.witnesses] if over else [f.uid]
        made.append(
            Event(
                when=local(language, record.when(f)),
                said=handed.handed(over, told, around) if over else _said(f, told, language),
                more=[*_more(f, language), *signed.get(f.uid, ())],
                photos=[
                    (n, words.say(language, "photo", n=n))
                    for uid in seen
                    for n, sha256 in told.photos[uid]
                    if sha256 not in missing
                ],
            )
        )
    return made


def _said(f: Fact, told: Told, language: str) -> str:
    key = f"fact_{f.kind}"
    if f.corrects is not None:
        key = "fact_put_right"
    elif f.kind == Kind.RELEASED and f.told.get("releases") in _rejections(told):
        key = "fact_rejection_released"
    station = reasons.station(str(f.told.get("station", "")), language)
    return words.say(language, key, station=station)


def _rejections(told: Told) -> set[str]:
    return {str(f.uid) for f in told.facts if f.kind == Kind.REJECTED}


def _more(f: Fact, language: str) -> list[str]:
    """Of a rejection: why, where on the casing, and whose doing."""
    if f.kind != Kind.REJECTED:
        return []
    why = [reasons.words(str(f.told.get("reason", "")), language)]
    if f.told.get("zone"):
        zone = reasons.zone(str(f.told["zone"]), language)
        why.append(words.say(language, "in_zone", zone=zone))
    said = [words.say(language, "because", reason=", ".join(part for part in why if part))]
    if cause := words.of(language).get(f"cause_{f.told.get('cause')}"):
        said.append(cause)
    return said
