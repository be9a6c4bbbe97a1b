"""Repair limits: looked at, entered line by line from the supplier's chart, taken out again."""

import math
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.casings.condition import kind_in_words, zone_in_words
from pickups.kernel import clock
from pickups.people.models import Site
from plant.dock import queries as dock
from plant.dock import services
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import limits as read
from plant.inspection.limits import MOST_COUNT, MOST_MM

FIELDS = ("zone", "kind", "size_class", "most_mm", "most_count", "chart")


@dataclass(frozen=True, slots=True)
class Typed:
    """A line as it was read; fault: the field that is not allowed, with the key of why."""

    most_mm: float | None = None
    most_count: int | None = None
    field: str = ""
    key: str = ""
    most: float | int = 0


@floor("GET")
def limits(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is entered, what is published and does not count, what is never released."""
    return _page(request, plant, {"chart": read.last_chart(plant.uid)})


@floor("POST", decides=True)
def enter(request: HttpRequest, plant: Site) -> HttpResponse:
    """One line of the chart; a wrong one comes back as it was typed."""
    typed = posted(request, FIELDS)
    line, spoken = _read(typed), language(request)
    if line.key:
        value = typed.get(line.field, "")[:40]
        why = words.say(spoken, line.key, value=value, most=f"{line.most:g}")
        return _page(request, plant, typed, fault=why, at=line.field, status=400)
    services.enter_limit(
        plant=plant.uid,
        place=(typed["zone"], typed["kind"], typed["size_class"]),
        most_mm=line.most_mm,
        most_count=line.most_count,
        chart=typed["chart"],
        by=request.user,  # type: ignore[arg-type]  # the door let a signed-in person through
        at=clock.now(),
    )
    tell(
        request,
        "limits_done",
        zone=zone_in_words(typed["zone"], spoken),
        kind=kind_in_words(typed["kind"], spoken),
        most=read.most(line.most_mm, line.most_count, spoken),
    )
    return redirect("repair-limits")


@floor("POST", decides=True)
def take_back(request: HttpRequest, plant: Site, limit: int) -> HttpResponse:
    """A line counts no longer; its history stays."""
    known = {row.pk: row for row in dock.repair_limits([plant.uid])}
    if limit not in known or not services.take_limit_back(plant=plant.uid, limit=limit):
        return not_here(request, plant)
    row, spoken = known[limit], language(request)
    zone, kind = zone_in_words(row.zone, spoken), kind_in_words(row.kind, spoken)
    tell(request, "limits_gone", zone=zone, kind=kind)
    return redirect("repair-limits")


def _page(
    request: HttpRequest,
    plant: Site,
    typed: dict[str, str],
    *,
    fault: str = "",
    at: str = "",
    status: int = 200,
) -> HttpResponse:
    spoken = language(request)
    return page(
        request,
        plant,
        "limits.html",
        status=status,
        here="repair-limits",
        entered=read.entered(plant.uid, spoken),
        published=read.published(spoken),
        never=read.never(spoken),
        choices=read.choices(spoken),
        typed=typed,
        wrong=fault,
        wrong_at=at,
    )


def _read(typed: dict[str, str]) -> Typed:
    """The first field that is not allowed, in the order of the form, else the line's figures."""
    if typed["zone"] not in read.ZONES:
        return Typed(field="zone", key="fault_limits_zone")
    if typed["kind"] not in read.KINDS:
        return Typed(field="kind", key="fault_limits_kind")
    if len(typed["size_class"]) > 24 or not typed["size_class"].isprintable():
        return Typed(field="size_class", key="fault_limits_size_class")
    mm, count = _length(typed["most_mm"]), _count(typed["most_count"])
    if mm is None and typed["most_mm"]:
        return Typed(field="most_mm", key="fault_limits_most_mm", most=MOST_MM)
    if count is None and typed["most_count"]:
        return Typed(field="most_count", key="fault_limits_most_count", most=MOST_COUNT)
    if mm is None and count is None:
        return Typed(field="most_mm", key="fault_limits_neither")
    chart = typed["chart"]
    if not chart or len(chart) > 120 or not chart.isprintable():
        return Typed(field="chart", key="fault_limits_chart")
    return Typed(most_mm=mm, most_count=count)


def _length(text: str) -> float | None:
    """Millimetres, with a point or a comma; None where it is no length that can be entered."""
    plain = text.replace(",", ".")
    if not plain.isascii() or len(plain) > 8:
        return None
    try:
        mm = float(plain)
    except ValueError:
        return None
    return mm if math.isfinite(mm) and 0 <= mm <= MOST_MM else None


def _count(text: str) -> int | None:
    if not (text.isascii() and text.isdecimal() and len(text) < 4):
        return None
    return int(text) if int(text) <= MOST_COUNT else None
