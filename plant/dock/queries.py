"""Reads of the plant's stations and calendar."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec
from django.db import connection

from plant.dock.models import Calendar, Chamber, RepairLimit, Route, Shift, Station, TreadTarget
from plant.dock.rules import FIGURES
from plant.dock.rules import Shift as Worked
from plant.dock.wire import ChamberRow, PlantRoute, StationRow


def codes(plant: UUID) -> list[str]:
    """The codes of a plant's stations, in the order of its route."""
    return [station.code for station in stations(plant)]


def first(plant: UUID) -> str:
    """The station with which a plant's route begins; without a route the one where casings come
    in."""
    return next(iter(codes(plant)), "receiving")


def stations(plant: UUID) -> list[Station]:
    """A plant's stations, in the order of its route."""
    return list(Station.objects.filter(plant=plant).order_by("place", "id"))


def steps(plant: UUID) -> list[tuple[str, bool, bool]]:
    """Code, optional, scans of each of a plant's stations, in their order; read with every post."""
    with connection.cursor() as c:
        c.execute(_STEPS, [plant])
        return list(c.fetchall())


_STEPS = "SELECT code, optional, scans FROM dock_station WHERE plant_id = %s ORDER BY place, id"


def route(plant: UUID) -> PlantRoute:
    """All of a plant's route, as its systems and tablets are given it."""
    return _routes([plant])[plant]


def route_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Routes as the feed gives them to the devices of their plants, by the plant's uid."""
    return {uid: msgspec.to_builtins(made) for uid, made in _routes(uids).items()}


def _routes(uids: Sequence[UUID]) -> dict[UUID, PlantRoute]:
    limits = {row.plant_id: row for row in Route.objects.filter(plant__in=uids)}
    made = {
        uid: PlantRoute(
            uid,
            [],
            [],
            rework_limit=limits[uid].rework_limit if uid in limits else None,
            version=limits[uid].version if uid in limits else 0,
        )
        for uid in uids
    }
    for one in Station.objects.filter(plant__in=uids).order_by("place", "id"):
        at = made[one.plant_id].stations
        told = {field: getattr(one, field) for field in StationRow.__struct_fields__}
        at.append(StationRow(**{**told, "place": len(at) + 1}))
    for chamber in Chamber.objects.filter(plant__in=uids).order_by("name", "id"):
        told = {field: getattr(chamber, field) for field in ChamberRow.__struct_fields__}
        made[chamber.plant_id].chambers.append(ChamberRow(**told))
    return made


def chambers(plant: UUID) -> list[Chamber]:
    """A plant's chambers with all that was entered of them, by name."""
    return list(Chamber.objects.filter(plant=plant).order_by("name", "id"))


def rework_limit(plant: UUID) -> int | None:
    """How often a casing may be worked again there; None where no limit was entered."""
    return Route.objects.filter(plant=plant).values_list("rework_limit", flat=True).first()


def route_version(plant: UUID) -> int | None:
    """The number of the last change of a plant's route; None where it has none."""
    return Route.objects.filter(plant=plant).values_list("version", flat=True).first()


def shifts_told(plant: UUID) -> list[tuple[datetime, int, Worked | None]]:
    """Every change of a plant's shifts, the oldest first: when, of which one, and how it was from
    then on; None where it was taken out."""
    rows = Shift.history.filter(calendar_id=plant).order_by("history_date", "history_id")
    return [
        (
            row.history_date,
            row.id,
            None if row.history_type == "-" else Worked(row.weekday, row.begins, row.ends),
        )
        for row in rows
    ]


def plant_code(plant: UUID) -> str:
    """The code in the retread TINs that a plant brands; empty where none was entered."""
    code = Route.objects.filter(plant=plant).values_list("plant_code", flat=True).first()
    return code or ""


def repair_limits(plants: Sequence[UUID]) -> list[RepairLimit]:
    """The repair limits that these plants have entered, with who did."""
    rows = RepairLimit.objects.filter(plant__in=plants).select_related("entered_by")
    return list(rows.order_by("zone", "kind", "size_class"))


def limits_versions(plants: Sequence[UUID]) -> dict[UUID, int]:
    """The number of the last change of each plant's repair limits."""
    rows = Route.objects.filter(plant__in=plants)
    return dict(rows.values_list("plant_id", "limits_version"))


def tread_targets(plants: Sequence[UUID]) -> list[TreadTarget]:
    """What these plants want of tread designs, with who entered it."""
    rows = TreadTarget.objects.filter(plant__in=plants).select_related("entered_by")
    return list(rows.order_by("tread_design", "size"))


def target_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """The same as the feed gives it to the devices of their plants, by the plant's uid."""
    rows = tread_targets(uids)
    versions = Route.objects.filter(plant__in=uids).values_list("plant_id", "targets_version")
    version = dict(versions)
    return {
        uid: {
            "uid": str(uid),
            "targets": [
                {
                    "tread_design": row.tread_design,
                    "size": row.size,
                    **{figure: getattr(row, figure) for figure in FIGURES},
                    "sheet": row.sheet,
                }
                for row in rows
                if row.plant_id == uid
            ],
            "version": version.get(uid, 0),
        }
        for uid in uids
    }


def calendar(plant: UUID) -> Calendar | None:
    """A plant's calendar with its holidays, shifts and standard times, if it has entered one."""
    rows = Calendar.objects.prefetch_related("holidays", "shifts", "times")
    return rows.filter(plant=plant).first()
