"""The story of one casing, told to its owner in sentences; and its photos, by their number.

Who worked on it and what our people wrote to each other is not told. Where a phone's clock was
off, the time is put right by what was measured when it sent.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from pickups.casings import queries as casings
from pickups.casings import reasons, strokes
from pickups.casings.models import WorkOrder
from pickups.custody import queries as custody
from pickups.custody.fold import Kind
from pickups.custody.queries import Fact
from pickups.customers import queries as customers
from pickups.kernel import clock
from pickups.kernel.languages import grouped
from pickups.people import queries as people
from pickups.portal import rules, words
from pickups.portal.queries.times import local
from pickups.sync import queries as sync

CLOCK_RIGHT_MS = 60_000
_HANDED = frozenset({Kind.HANDED_IN, Kind.HANDED_OUT})


@dataclass(frozen=True)
class Event:
    """One sentence; photos are numbers within the record, each with its words."""

    when: str
    said: str
    more: Sequence[str]
    photos: Sequence[tuple[int, str]]


@dataclass(frozen=True)
class Story:
    """One casing as its owner reads it."""

    work_order: UUID
    label: str
    sign: strokes.Sign
    said: str
    marks: str
    tread: str
    rejected: bool
    where: str
    waits: str
    events: Sequence[Event]


@dataclass(frozen=True)
class _Told:
    """A record whose facts were read: what of it is told, and every photo with its number."""

    order: WorkOrder
    facts: Sequence[Fact]
    photos: Mapping[UUID, Sequence[tuple[int, str]]]


def story(customer: UUID, work_order: UUID, language: str, *, phone: str) -> Story | None:
    """The story of one of the customer's own; None alike for another's and for nobody's."""
    order = casings.of_customer(customer).filter(uid=work_order).first()
    if order is None:
        return None
    told = _read(order)
    places = {s.uid: s.name for s in people.sites()}
    yard = str(customers.yard_bodies([order.yard])[order.yard]["name"])
    hashes = [sha256 for numbered in told.photos.values() for _, sha256 in numbered]
    missing = set(sync.missing_photos(hashes))
    state = rules.state(order.progress, reason=order.reason, on_hold=order.on_hold)
    rejected = rules.is_rejected(order.progress, order.reason)
    return Story(
        work_order=order.uid,
        label=grouped(order.label),
        sign=strokes.sign(order.progress, on_hold=order.on_hold, rejected=rejected),
        said=words.say(language, f"state_{state}"),
        marks=words.marks(language, order.told),
        tread=words.tread(language, order.told),
        rejected=rejected,
        where=_where(order, state, places, language),
        waits=words.say(language, "rejected_next", phone=phone) if state == "rejected" else "",
        events=[_event(f, told, yard, places, missing, language) for f in told.facts],
    )


def _where(order: WorkOrder, state: str, places: Mapping[UUID, str], language: str) -> str:
    """Where it is and what comes next; a store's rack is named."""
    in_store = f"where_{state}_store"
    if order.holder.startswith("site:") and in_store in words.of(language):
        return words.say(language, in_store, place=_place(order.holder, places, language))
    return words.say(language, f"where_{state}")


def photo(customer: UUID, work_order: UUID, number: int) -> str | None:
    """The hash of one photo of one of the customer's own, by its number in the story."""
    order = casings.of_customer(customer).filter(uid=work_order).first()
    numbered = _read(order).photos.values() if order else ()
    return next((h for photos in numbered for n, h in photos if n == number), None)


def _read(order: WorkOrder) -> _Told:
    """What is told of a record, in order: while it stands rejected, no "finished"."""
    rejected = rules.is_rejected(order.progress, order.reason)
    hidden = {Kind.FINISHED} if rejected else set()
    facts = [
        f
        for f in custody.of_work_order(order.uid)
        if (f.kind in _HANDED or f"fact_{f.kind}" in words.of("en")) and f.kind not in hidden
    ]
    photos, number = {}, 0
    for fact in facts:
        # What stands counts: a correction replaces what was told at first.
        first = fact.uid == order.uid
        hashes = order.told.get("photos", []) if first else fact.told.get("photos", [])
        hashes = [] if fact.corrects else hashes
        photos[fact.uid] = list(enumerate(hashes, number + 1))
        number += len(hashes)
    return _Told(order, facts, photos)


def _event(
    f: Fact,
    told: _Told,
    yard: str,
    places: Mapping[UUID, str],
    missing: set[str],
    language: str,
) -> Event:
    return Event(
        when=local(language, _when(f)),
        said=_said(f, told, yard, places, language),
        more=_more(f, language),
        photos=[
            (n, words.say(language, "photo", n=n))
            for n, sha256 in told.photos[f.uid]
            if sha256 not in missing
        ],
    )


def _when(f: Fact) -> datetime:
    skew_ms = f.skew_ms or 0
    return (
        clock.set_right(f.happened_at, skew_ms) if abs(skew_ms) >= CLOCK_RIGHT_MS else f.happened_at
    )


def _said(f: Fact, told: _Told, yard: str, places: Mapping[UUID, str], language: str) -> str:
    key = f"fact_{f.kind}"
    if f.corrects is not None:
        key = "fact_put_right"
    elif f.kind == Kind.RELEASED and f.told.get("releases") in _rejections(told):
        key = "fact_rejection_released"
    elif f.kind in _HANDED:
        key = "fact_loaded" if f.holder.startswith("person:") else "fact_unloaded"
    return words.say(
        language,
        key,
        yard=yard,
        place=_place(f.holder, places, language),
        station=reasons.station(str(f.told.get("station", "")), language),
    )


def _place(holder: str, places: Mapping[UUID, str], language: str) -> str:
    """The store or plant that has it; never a person of ours."""
    kind, _, uid = holder.partition(":")
    known = places.get(UUID(uid)) if kind in ("plant", "road", "site") else None
    return known or words.of(language)["our_plant"]


def _rejections(told: _Told) -> set[str]:
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
