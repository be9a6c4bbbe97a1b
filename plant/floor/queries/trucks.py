"""Trucks' lists as their page shows them: what is on each, what was scanned, what differs."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.kernel import clock
from pickups.people import queries as people
from plant.dock import consignments
from plant.dock.comparing import KINDS
from plant.dock.models import Consignment
from plant.floor import words
from plant.inspection import closing

CLOSED_SHOWN = 10


@dataclass(frozen=True, slots=True)
class Listed:
    """One casing of a list, in words."""

    label: str
    code: str
    size: str
    owner: str
    state: str


@dataclass(frozen=True, slots=True)
class Differs:
    """What differs in one way: which labels."""

    said: str
    labels: list[str]


@dataclass(frozen=True, slots=True)
class Truck:
    """One list. closed: when, in words; empty while it is open."""

    uid: UUID
    title: str
    driver: str
    sums: str
    differs: list[Differs]
    listed: list[Listed]
    scanned: int
    close_said: str
    closed: str = ""


def open_lists(plant: UUID, language: str) -> list[Truck]:
    """Lists that are open; what is brought first."""
    rows = sorted(consignments.open_at(plant), key=lambda row: row.way)
    made = []
    bodies, names = _around(rows)
    scanned = closing.scanned_of(rows)
    for row in rows:
        here = scanned[row.uid]
        if row.way == "out" and not row.listed and not here:
            continue
        found = asdict(consignments.compared(row, here)) | {"scanned": len(here)}
        if row.way == "in" or not here:  # short is known at the end; on the way it is the list
            found["short"] = []
        made.append(_truck(row, found, bodies[row.uid], names, language))
    return made


def closed_lists(plant: UUID, language: str) -> list[Truck]:
    """Lists that were closed last, with what differed then."""
    rows = consignments.closed_at(plant, most=CLOSED_SHOWN)
    bodies, names = _around(rows)
    return [_truck(row, row.compared, bodies[row.uid], names, language) for row in rows]


def _around(
    rows: Sequence[Consignment],
) -> tuple[Mapping[UUID, dict[str, Any]], Mapping[UUID, str]]:
    bodies = consignments.bodies([row.uid for row in rows])
    return bodies, people.names([row.driver for row in rows if row.driver])


def _truck(
    row: Consignment,
    found: Mapping[str, Any],
    body: Mapping[str, Any],
    names: Mapping[UUID, str],
    language: str,
) -> Truck:
    w = words.of(language)
    title = words.say(language, f"truck_{row.way}", place=row.other)
    driver = names.get(row.driver, "") if row.driver else ""
    counted = body["counted"] if body["counted"] is not None else w["truck_not_counted"]
    zone = ZoneInfo(settings.DEALER_TIME_ZONE)
    at = clock.local(row.closed_at, zone) if row.closed_at else None
    return Truck(
        uid=row.uid,
        title=title,
        driver=words.say(language, "truck_driver", name=driver) if driver else w["truck_no_driver"],
        sums=words.say(language, "truck_sums", listed=len(body["labels"]),
                       scanned=found["scanned"], counted=counted),
        differs=[
            Differs(w[f"differs_{kind}"], [words.grouped(label) for label in found[kind]])
            for kind in KINDS
            if found[kind]
        ],
        listed=[
            Listed(words.grouped(one["label"]), one["label"], one["size"], one["owner"],
                   w[f"listed_{one['state']}"])
            for one in body["labels"]
        ],
        scanned=found["scanned"],
        close_said=words.say(language, "truck_close_of", title=title),
        closed=words.say(language, "truck_when", when=words.day_and_time(language, at))
        if at
        else "",
    )  # fmt: skip
