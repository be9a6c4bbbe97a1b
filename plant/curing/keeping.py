"""A load as it stands, written down from its words, its record and the station events.

Called in a transaction that holds the load's lock key. Whoever wrote a word or a record calls it,
and so does the reaction to station events that name the load; it may run any number of times.
"""

from collections.abc import Iterable
from datetime import datetime
from typing import Any
from uuid import UUID

from pickups.custody import queries as custody
from pickups.kernel import clock, ids
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from pickups.sync import services as sync
from pickups.sync.rules import Change
from plant.curing import equivalent, loading, queries, record
from plant.curing.loading import Contents, Scan, Word
from plant.curing.models import CureLoad, CureRecord, CureSpecification, Hold, LoadWord
from plant.curing.record import Verdict
from plant.dock import queries as dock
from plant.inspection import tracing

State = CureLoad.State


def uid_of(plant: UUID, number: str) -> UUID:
    """The id of the load with this number: of its row, in the feed, and for its holds."""
    return ids.derived(plant, f"load:{number}")


def subject(load: UUID) -> str:
    """What a question about a load is about."""
    return f"load:{load}"


def refold(*, plant: UUID, number: str, at: datetime) -> CureLoad | None:
    """Bring a load's row, its place in the feed and the question about its short cure up to date.

    None where nothing has ever named it. One that a corrected number left behind stays, empty.
    """
    word = loading.last(_words(plant, number), number)
    held = contents(plant, number)
    here = CureLoad.objects.filter(plant=plant, number=number)
    if word is None and held.since is None and not here.exists():
        return None
    told = word.told if word else {}
    started, ended = _moment(told.get("started_at")), _moment(told.get("ended_at"))
    before = here.first()
    said, short_by = judge(plant, number, told.get("chamber", ""), started, ended, before)
    holds = _holds(plant, number)
    fresh = {
        "chamber": told.get("chamber", ""),
        "state": _state(short_by, holds, held, started, ended),
        "started_at": started,
        "ended_at": ended,
        "operator": told.get("operator", ""),
        "note": told.get("note", ""),
        "lots": told.get("lots", []),
        "set_in": held.set_in,
        "set_out": held.set_out,
        "missing": held.missing,
        "over": held.over,
        "held": sorted(label for label, decided in holds.items() if not decided),
        "verdict": said["verdict"],
        "record": said,
        "short_by": short_by,
        "since": started or held.since or _told_at(word) or at,
        "out_at": held.out_at,
    }
    load = _written(plant, number, fresh)
    _ask_short(load, at)
    for kind, odd in ((Kind.LOAD_MISSING, load.missing), (Kind.LOAD_OVER, load.over)):
        if not odd:
            how = "what went in came out"
            questions.settle(kinds=[kind], subjects=[subject(load.uid)], how=how, at=at)
    return load


def _written(plant: UUID, number: str, fresh: dict[str, Any]) -> CureLoad:
    load = CureLoad.objects.filter(plant=plant, number=number).first()
    if load is not None and all(getattr(load, name) == value for name, value in fresh.items()):
        return load
    if load is None:
        load = CureLoad(uid=uid_of(plant, number), plant_id=plant, number=number, version=0)
    for name, value in fresh.items():
        setattr(load, name, value)
    _publish(load, shown=True)
    return load


def hide(*, plant: UUID, number: str) -> None:
    """Devices are told of this load no more, until something is told of it again."""
    load = CureLoad.objects.filter(plant=plant, number=number, shown=True).first()
    if load is not None:
        _publish(load, shown=False)


def _publish(load: CureLoad, *, shown: bool) -> None:
    load.version, load.shown = load.version + 1, shown
    load.save()
    scope = f"site:{load.plant_id}"
    sync.put([Change(scope, "cure_load", load.uid, load.version, gone=not shown)])


def _ask_short(load: CureLoad, at: datetime) -> None:
    about = subject(load.uid)
    if load.state == State.HELD:
        facts = {"plant": str(load.plant_id), "number": load.number, "labels": load.held,
                 "grounds": load.record["grounds"]}  # fmt: skip
        questions.ask([Ask(Kind.LOAD_SHORT, about, facts)], at=at)
    else:
        questions.settle(kinds=[Kind.LOAD_SHORT], subjects=[about], how="decided", at=at)


def contents(plant: UUID, number: str) -> Contents:
    """What the stations say went into this load and came out."""
    route = dock.codes(plant)
    behind = loading.behind(route)
    named = tracing.of_load(plant, number)
    every = custody.names_of_each({s.label for s in named})
    wears = {label: names for names in every.values() for label in names.every}
    later = [s for s in tracing.of_labels(plant, wears) if s.station in behind] if wears else []
    seen = {s.event: s for s in (*named, *later)}
    return loading.contents(
        [Scan(wears[s.label].first, s.label, s.station, s.envelope, s.happened_at,
              s.load == number) for s in seen.values()],
        behind,
    )  # fmt: skip


def judge(
    plant: UUID,
    number: str,
    chamber: str,
    started: datetime | None,
    ended: datetime | None,
    before: CureLoad | None,
) -> tuple[dict[str, Any], int | None]:
    """The newest record held against what was entered when it came, as it is kept; and the first
    record that was judged short. A record of many readings is read again only where it, what was
    entered or the load's start and end are others than before."""
    records = CureRecord.objects.filter(plant=plant, number=number)
    newest = records.defer("raw").order_by("-id").first()
    entered = specification(plant, chamber, newest.recorded_at) if newest else None
    basis = [newest.id if newest else None, entered.id if entered else None,
             *(clock.rfc3339(at) if at else None for at in (started, ended))]  # fmt: skip
    short_by = before.short_by if before else None
    if before and before.record.get("basis") == basis:
        return before.record, short_by
    said = _judged(newest, entered, started, ended) | {"basis": basis}
    if newest and short_by is None and said["verdict"] == Verdict.SHORT:
        short_by = newest.id
    return said, short_by


def _judged(
    newest: CureRecord | None, entered: CureSpecification | None, started: datetime | None,
    ended: datetime | None,
) -> dict[str, Any]:  # fmt: skip
    readings = queries.readings(newest) if newest else None
    terms = queries.terms_of(entered)
    judged = record.judge(readings, terms, started_at=started, ended_at=ended)
    said: dict[str, Any] = {"verdict": judged.verdict.value,
                            "grounds": [g.value for g in judged.grounds]}  # fmt: skip
    if judged.figures is None or newest is None or readings is None:
        return said
    f = judged.figures
    said |= {
        "id": newest.id,
        "specification": entered.number if entered and entered.terms else None,
        "specification_id": entered.id if entered else None,
        "since": clock.rfc3339(f.since),
        "until": clock.rfc3339(f.until),
        "count": f.count,
        "lowest_c": _tenth(f.lowest_c),
        "highest_c": _tenth(f.highest_c),
        "lowest_kpa": _tenth(f.lowest_kpa),
        "highest_kpa": _tenth(f.highest_kpa),
        "in_range_s": _tenth(f.in_range_s) if terms else None,
        "unbroken_s": _tenth(f.unbroken_s) if terms else None,
        "gaps": [[clock.rfc3339(g.since), clock.rfc3339(g.until)] for g in f.gaps],
    }
    if terms and entered and entered.law:
        law = equivalent.Law(**entered.law)
        said["equivalent_s"] = _tenth(equivalent.seconds(readings, law, gap_s=terms.gap_s))
    return said


def specification(plant: UUID, chamber: str, at: datetime) -> CureSpecification | None:
    """What was in force for a chamber at a moment: its own, else the one for all of them."""
    rows = CureSpecification.objects.filter(plant=plant, entered_at__lte=at).order_by("-number")
    for code in (chamber, "") if chamber else ("",):
        entered = rows.filter(chamber=code).first()
        if entered is not None and entered.terms is not None:
            return entered
    return None


def _state(
    short_by: int | None, holds: dict[str, bool], held: Contents, started: datetime | None,
    ended: datetime | None,
) -> str:  # fmt: skip
    if not all(holds.values()) or (short_by is not None and not holds):
        return State.HELD
    if holds:
        return State.RELEASED
    if ended or held.out_at:
        return State.OUT
    return State.IN if started else State.SETTING


def _holds(plant: UUID, number: str) -> dict[str, bool]:
    """The labels that the load holds or held, and whether each was decided about."""
    rows = Hold.objects.filter(plant=plant, number=number)
    return {label: what is not None for label, what in rows.values_list("label", "decision__what")}


def _words(plant: UUID, number: str) -> Iterable[Word]:
    named = LoadWord.objects.filter(plant=plant, number=number).values("load")
    rows = LoadWord.objects.filter(plant=plant, load__in=named)
    # A clock that runs ahead moves no word behind the ones that are told after it came.
    return [Word(w.uid, w.load, w.number, min(w.stamp, clock.to_ms(w.recorded_at)), w.told)
            for w in rows]  # fmt: skip


def _moment(told: str | None) -> datetime | None:
    return datetime.fromisoformat(told) if told else None


def _told_at(word: Word | None) -> datetime | None:
    return clock.from_ms(word.stamp) if word else None


def _tenth(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
