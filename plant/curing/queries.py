"""Reads of loads: as devices are told them, for pages and doors."""

from collections.abc import Collection, Sequence
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import msgspec
from django.conf import settings
from django.db.models import Q

from pickups.kernel import clock
from plant.curing import record, series
from plant.curing.loading import SHOWN_DAYS
from plant.curing.models import (
    CureLoad,
    CureRecord,
    CureSpecification,
    Decision,
    Hold,
    LoadWord,
    Qualified,
)
from plant.curing.wire import LoadSaid, RecordPosted, RecordSaid, SetIn
from plant.inspection.wire import Lot

State = CureLoad.State
Form = CureRecord.Form
What = Decision.What
Matter = Qualified.Matter
OPEN = (State.SETTING, State.IN, State.HELD)


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Loads as the feed gives them to the devices of their plant."""
    return {load.uid: _body(load) for load in CureLoad.objects.filter(uid__in=list(uids))}


def _body(load: CureLoad) -> dict[str, Any]:
    return {
        "uid": str(load.uid),
        "number": load.number,
        "chamber": load.chamber,
        "state": load.state,
        "started_at": _said_at(load.started_at),
        "ended_at": _said_at(load.ended_at),
        "set_in": load.set_in,
        "set_out": load.set_out,
        "missing": load.missing,
        "lots": load.lots,
        "short_why": " ".join(load.record.get("grounds", [])),
        "version": load.version,
    }


def load(plant: UUID, number: str) -> CureLoad | None:
    """One load by the plant's own number."""
    return CureLoad.objects.filter(plant=plant, number=number).first()


def is_told(plant: UUID, number: str) -> bool:
    """Whether anybody has said anything of a load with this number, besides scanning into it."""
    return LoadWord.objects.filter(plant=plant, number=number).exists()


def loads(plant: UUID, numbers: Collection[str]) -> dict[str, CureLoad]:
    """These loads, by number."""
    return {x.number: x for x in CureLoad.objects.filter(plant=plant, number__in=list(numbers))}


def shown(plant: UUID, *, at: datetime, days: int = SHOWN_DAYS) -> list[CureLoad]:
    """What is open, and what began in the last days; the newest first."""
    recent = Q(since__gte=at - timedelta(days=days)) | Q(state__in=OPEN)
    return list(CureLoad.objects.filter(recent, plant=plant).order_by("-since", "number"))


def running(plant: UUID) -> list[CureLoad]:
    """Those that are being set in or in the chamber, by number."""
    rows = CureLoad.objects.filter(plant=plant, state__in=(State.SETTING, State.IN))
    return list(rows.order_by("number"))


def begun_since(plant: UUID, at: datetime) -> list[CureLoad]:
    """Those that began at that moment or later and told when, the earliest first."""
    rows = CureLoad.objects.filter(plant=plant, since__gte=at).exclude(started_at=None)
    return list(rows.order_by("since", "number"))


def with_lot(plant: UUID, number: str, kind: str = "") -> list[str]:
    """The numbers of the loads that say this lot of themselves."""
    lot = {"number": number} | ({"kind": kind} if kind else {})
    rows = CureLoad.objects.filter(plant=plant, lots__contains=[lot])
    return list(rows.order_by("number").values_list("number", flat=True))


def once_with_lot(plant: UUID, number: str, kind: str = "") -> list[str]:
    """The numbers that loads have now of which this lot was told once; those that still say it of
    themselves are among them."""
    lot = {"number": number} | ({"kind": kind} if kind else {})
    told = LoadWord.objects.filter(plant=plant, told__lots__contains=[lot])
    words = LoadWord.objects.filter(plant=plant, load__in=told.values("load"))
    last = dict(words.order_by("stamp", "uid").values_list("load", "number"))
    return sorted(set(last.values()))


def loads_by(plant: UUID, operator: str) -> list[str]:
    """The numbers of the loads that this operator ran."""
    rows = CureLoad.objects.filter(plant=plant, operator=operator)
    return list(rows.order_by("number").values_list("number", flat=True))


def said(load: CureLoad) -> LoadSaid:
    """A load as the plant's own systems are told it."""
    told = load.record
    return LoadSaid(
        number=load.number,
        state=load.state,  # type: ignore[arg-type]
        chamber=load.chamber,
        started_at=_said_at(load.started_at),
        ended_at=_said_at(load.ended_at),
        operator=load.operator,
        lots=[Lot(**lot) for lot in load.lots],
        set_in=[SetIn(**row) for row in load.set_in],
        set_out=load.set_out,
        missing=load.missing,
        record=RecordSaid(
            verdict=load.verdict,  # type: ignore[arg-type]
            grounds=told.get("grounds", []),
            specification=told.get("specification"),
            lowest_c=told.get("lowest_c"),
            highest_c=told.get("highest_c"),
            lowest_kpa=told.get("lowest_kpa"),
            highest_kpa=told.get("highest_kpa"),
            minutes_in_range=_minutes(told.get("in_range_s")),
            gaps=len(told.get("gaps", [])),
            equivalent_minutes=_minutes(told.get("equivalent_s")),
        ),
    )


def newest_record(plant: UUID, number: str) -> CureRecord | None:
    """The record that is read, if one was taken in."""
    return CureRecord.objects.filter(plant=plant, number=number).order_by("-id").first()


def readings(kept: CureRecord) -> tuple[series.Reading, ...]:
    """The readings of a record that was taken in; raises series.Unreadable for one that was not."""
    raw = bytes(kept.raw)
    if kept.form == Form.TABLE:
        zone = ZoneInfo(settings.DEALER_TIME_ZONE)
        return series.parse(raw, zone=zone, start=kept.start).readings
    posted = msgspec.json.decode(raw, type=RecordPosted)
    return series.of_values(
        [(r.at, r.temperature, r.pressure) for r in posted.readings],
        temperature_unit=posted.temperature_unit,
        pressure_unit=posted.pressure_unit,
    ).readings


def terms_of(entered: CureSpecification | None) -> record.Terms | None:
    """What a specification asks, if there is one."""
    return record.Terms(**entered.terms) if entered and entered.terms else None


def specification(id_: int | None) -> CureSpecification | None:
    """One that was entered, whether it holds or not."""
    return CureSpecification.objects.filter(id=id_).first() if id_ else None


def specifications(plant: UUID) -> dict[str, list[CureSpecification]]:
    """All that was entered, by chamber, the newest first."""
    found: dict[str, list[CureSpecification]] = {}
    for row in CureSpecification.objects.filter(plant=plant).order_by("chamber", "-number"):
        found.setdefault(row.chamber, []).append(row)
    return found


def holds(plant: UUID, number: str) -> list[Hold]:
    """What a load holds or held, each with its decision where there is one."""
    rows = Hold.objects.filter(plant=plant, number=number).select_related("decision")
    return list(rows.order_by("label"))


def decision(hold: Hold) -> Decision | None:
    """What was decided about it."""
    return getattr(hold, "decision", None)


def qualified(plant: UUID) -> list[Qualified]:
    """Everybody whom the plant has named, those who still decide first."""
    rows = Qualified.objects.filter(plant=plant)
    return sorted(rows, key=lambda q: (q.until is not None, q.matter, q.since))


def _said_at(at: datetime | None) -> str | None:
    return clock.rfc3339(at) if at else None


def _minutes(seconds: float | None) -> float | None:
    return None if seconds is None else round(seconds / 60, 1)
