"""What the plant wants of tread designs: looked at, entered line by line, taken out again."""

import re
from dataclasses import dataclass, field

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.kernel import clock
from pickups.people.models import Site
from plant.dock import queries as dock
from plant.dock import specifying
from plant.dock.rules import FIGURES
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import targets as read

FIELDS = ("tread_design", "size", *FIGURES, "sheet")
LENGTHS = {"tread_design": 60, "size": 24, "sheet": 120}


@dataclass(frozen=True, slots=True)
class Typed:
    """A line as it was read; key: why it is not allowed, field: where."""

    figures: dict[str, float] = field(default_factory=dict)
    field: str = ""
    key: str = ""


@floor("GET")
def targets(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is entered, by design and size."""
    return _page(request, plant, {"sheet": read.last_sheet(plant.uid)})


@floor("POST", decides=True)
def enter(request: HttpRequest, plant: Site) -> HttpResponse:
    """One design, or one size of it; a wrong line comes back as it was typed."""
    typed, spoken = posted(request, FIELDS), language(request)
    line = _read(typed)
    if line.key:
        least, most = FIGURES.get(line.field, (0, 0))
        why = words.say(spoken, line.key, field=words.say(spoken, f"targets_{line.field}"),
                        value=typed.get(line.field, "")[:40], least=f"{least:g}", most=f"{most:g}",
                        long=LENGTHS.get(line.field, 0))  # fmt: skip
        return _page(request, plant, typed, fault=why, at=line.field)
    row = specifying.enter_target(
        plant=plant.uid,
        tread_design=typed["tread_design"],
        size=typed["size"],
        figures=line.figures,
        sheet=typed["sheet"],
        by=request.user,  # type: ignore[arg-type]  # the door let a signed-in person through
        at=clock.now(),
    )
    tell(request, "targets_done", which=row)
    return redirect("tread-targets")


@floor("POST", decides=True)
def take_back(request: HttpRequest, plant: Site, target: int) -> HttpResponse:
    """A line is wanted no longer; its history stays."""
    known = {row.pk: row for row in dock.tread_targets([plant.uid])}
    if target not in known or not specifying.take_target_back(plant=plant.uid, target=target):
        return not_here(request, plant)
    tell(request, "targets_gone", which=known[target])
    return redirect("tread-targets")


def _page(
    request: HttpRequest, plant: Site, typed: dict[str, str], *, fault: str = "", at: str = ""
) -> HttpResponse:
    spoken = language(request)
    fields = [(name, words.say(spoken, f"targets_{name}"), typed.get(name, ""), name == at)
              for name in FIGURES]  # fmt: skip
    return page(request, plant, "targets.html", status=400 if fault else 200, here="tread-targets",
                entered=read.entered(plant.uid, spoken), fields=fields, typed=typed, wrong=fault,
                wrong_at=at)  # fmt: skip


def _read(typed: dict[str, str]) -> Typed:
    """The first field that is not allowed, in the order of the form, else the line's figures."""
    for name, longest in LENGTHS.items():
        if len(typed[name]) > longest or not typed[name].isprintable():
            return Typed(field=name, key="fault_targets_text")
    if not typed["tread_design"]:
        return Typed(field="tread_design", key="fault_targets_text")
    figures: dict[str, float] = {}
    for name in FIGURES:
        value = _figure(typed[name], *FIGURES[name])
        if value is None and typed[name]:
            return Typed(field=name, key="fault_targets_figure")
        if value is not None:
            figures[name] = value
    if not figures:
        return Typed(field="pitch_mm", key="fault_targets_nothing")
    least, most = figures.get("texture_least"), figures.get("texture_most")
    if least is not None and most is not None and least > most:
        return Typed(field="texture_most", key="fault_targets_texture")
    if not typed["sheet"]:
        return Typed(field="sheet", key="fault_targets_text")
    return Typed(figures)


def _figure(text: str, least: float, most: float) -> float | None:
    """As tablets take one: at most two decimals, with a point or a comma."""
    if re.fullmatch(r"[0-9]{1,4}([.,][0-9]{1,2})?", text) is None:
        return None
    value = float(text.replace(",", "."))
    return value if least <= value <= most else None
