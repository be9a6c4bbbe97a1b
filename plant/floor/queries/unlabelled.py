"""What the pages about casings without a label show, in the reader's words."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.utils import timezone

from pickups.casings import queries as casings
from pickups.casings import reasons
from pickups.kernel.languages import grouped
from plant.dock import queries as dock
from plant.floor import words
from plant.unlabelled import queries
from plant.unlabelled.models import Unlabelled
from plant.unlabelled.rules import Candidate


@dataclass(frozen=True, slots=True)
class Found:
    """One that waits: what was seen of it, where and how long ago, and its place on the rack."""

    uid: UUID
    seen: str
    found: str
    rack: str


@dataclass(frozen=True, slots=True)
class Alike:
    """A casing that it may be. photos: their numbers at its pickup."""

    work_order: UUID
    label: str
    seen: str
    agrees: str
    differs: str
    last: str
    photos: range


@dataclass(frozen=True, slots=True)
class One:
    """One without a label beside what it may be; settled: in a sentence, empty while it is not."""

    uid: UUID
    seen: str
    note: str
    found: str
    rack: str
    alike: list[Alike]
    settled: str


def waiting(language: str, plant: UUID, *, at: datetime) -> list[Found]:
    """Those that nobody has recognised yet, oldest first."""
    return [
        Found(one.uid, _seen(language, one), _found(language, one, at), _rack(language, one))
        for one in queries.waiting(plant)
    ]


def one(language: str, found: Unlabelled, *, at: datetime) -> One:
    """One of them; what it may be is read only while nobody has recognised it."""
    alike = [] if found.settled_at else queries.alike(found, on=at.date())
    orders = casings.work_orders(c.missing.work_order for c in alike)
    photos = {uid: len(w.told.get("photos", [])) for uid, w in orders.items()}
    settled = ""
    if found.settled_at:
        settled = words.say(
            language,
            "unlabelled_settled",
            label=grouped(found.label),
            when=words.day_and_time(language, timezone.localtime(found.settled_at)),
            told_by=found.told_by,
        )
    return One(
        uid=found.uid,
        seen=_seen(language, found),
        note=found.note,
        found=_found(language, found, at),
        rack=_rack(language, found),
        alike=[_alike(language, c, photos.get(c.missing.work_order, 0), at) for c in alike],
        settled=settled,
    )


def stations(language: str, plant: UUID) -> list[tuple[str, str]]:
    """The stations to choose from: code and name."""
    return [(code, reasons.station(code, language)) for code in dock.codes(plant)]


def _alike(language: str, c: Candidate, photos: int, at: datetime) -> Alike:
    m = c.missing
    told = [m.size, m.brand, ", ".join(sorted(m.date_codes))]
    if m.tread_32nds is not None:
        told.append(f"{m.tread_32nds}/32")
    span = words.span(language, (at - m.seen_at).total_seconds())
    where = f"{reasons.station(m.station, language)}, " if m.station else ""
    return Alike(
        work_order=m.work_order,
        label=grouped(m.label),
        seen=" · ".join(part for part in told if part),
        agrees=", ".join(words.say(language, f"feature_{f}") for f in c.agrees),
        differs=", ".join(words.say(language, f"feature_{f}") for f in c.differs),
        last=f"{where}{span}",
        photos=range(1, photos + 1),
    )


def _seen(language: str, one: Unlabelled) -> str:
    told = [one.size, one.brand, one.date_code]
    if one.tread_32nds is not None:
        told.append(f"{one.tread_32nds}/32")
    return " · ".join(part for part in told if part)


def _found(language: str, one: Unlabelled, at: datetime) -> str:
    span = words.span(language, (at - one.found_at).total_seconds())
    if not one.station:
        return span
    station = reasons.station(one.station, language)
    return f"{words.say(language, 'unlabelled_at', station=station)}, {span}"


def _rack(language: str, one: Unlabelled) -> str:
    if one.rack:
        return words.say(language, "unlabelled_on_rack", rack=one.rack)
    return words.say(language, "unlabelled_searching")
