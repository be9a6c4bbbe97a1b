"""Trace, both ways: a casing to all that touched it, a lot or load to every casing and owner."""

from datetime import datetime
from typing import get_args

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.people.models import Site
from plant.curing import tracing
from plant.floor import words
from plant.floor.api.door import floor, language, page
from plant.floor.queries import loads
from plant.floor.queries import trace as said
from plant.inspection.tracing import Asked
from plant.inspection.wire.parts import Material

FIELDS = ("load", "lot", "lot_kind", "operator", "machine", "station", "since", "until")
MATERIALS = get_args(Material)
SHOWN = 500
"""Casings on one page; the list as a file has up to tracing.MOST. Our own figure."""


@floor("GET")
def trace(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is asked for, and what was found."""
    spoken = language(request)
    text = request.GET.get("q", "").strip()[:40]
    asked, faults = asked_for(request, spoken)
    context: dict[str, object] = {
        "typed": {"q": text} | {name: request.GET.get(name, "").strip() for name in FIELDS},
        "kinds": [(kind, words.say(spoken, f"material_{kind}")) for kind in MATERIALS],
        "stations": loads.stations(plant.uid, spoken), "faults": faults,
    }  # fmt: skip
    if text and text.isprintable():
        context |= _casing(plant, text, spoken)
    elif asked is not None and not faults:
        found = tracing.trace(plant.uid, asked, most=SHOWN)
        context |= {
            "found": found, "count": _count(found, spoken),
            "earlier": words.say(spoken, "trace_earlier", loads=", ".join(found.earlier))
            if found.earlier else "",
            "more": words.say(spoken, "trace_more", n=SHOWN),
            "owners": said.owners(plant.uid, found, spoken, names=sees_names(request)),
            "csv": f"{reverse('plant-trace-csv')}?{request.GET.urlencode()}",
            "stop": f"{reverse('stop-use-new')}?{request.GET.urlencode()}",
        }  # fmt: skip
    return page(request, plant, "trace.html", here="plant-trace",
                status=400 if faults else 200, **context)  # fmt: skip


@floor("GET")
def table(request: HttpRequest, plant: Site) -> HttpResponse:
    """All that was found, as a file."""
    spoken = language(request)
    asked, faults = asked_for(request, spoken)
    if asked is None or faults:
        return redirect(f"{reverse('plant-trace')}?{request.GET.urlencode()}")
    found = tracing.trace(plant.uid, asked)
    body = said.table(plant.uid, found, spoken, names=sees_names(request))
    answer = HttpResponse("\ufeff" + body, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="trace.csv"'
    return answer


def _casing(plant: Site, text: str, spoken: str) -> dict[str, object]:
    labels = tracing.named(plant.uid, text)
    if len(labels) != 1:
        key = "trace_not_found"
        several = [(label, words.grouped(label)) for label in labels]
        return {"several": several} if labels else {
            "faults": [words.say(spoken, key, value=text)]}  # fmt: skip
    life = tracing.life(plant.uid, labels[0])
    if life is None:
        return {"faults": [words.say(spoken, "trace_not_found", value=text)]}
    now = tracing.Found([life.casing], more=False)
    return {
        "life": life, "owner": said.owners(plant.uid, now, spoken, names=False)[0],
        "every": [words.grouped(label) for label in life.casing.every],
        "title": words.say(spoken, "trace_of", label=words.grouped(life.casing.label)),
        "gathered": said.gathered(plant.uid, life, spoken),
        "steps": said.steps(plant.uid, life, spoken),
        "mates": [(number, words.say(spoken, "trace_mates", number=number),
                   [(label, words.grouped(label)) for label in labels])
                  for number, labels in life.mates.items()],
    }  # fmt: skip


def asked_for(request: HttpRequest, spoken: str) -> tuple[Asked | None, list[str]]:
    """What is asked for; None where nothing is yet."""
    typed = {name: request.GET.get(name, "").strip()[:80] for name in FIELDS}
    if not any(typed.values()) or not all(v.isprintable() for v in typed.values()):
        return None, []
    faults, moments = [], dict[str, datetime | None]()
    for name in ("since", "until"):
        try:
            at = datetime.fromisoformat(typed[name]) if typed[name] else None
        except ValueError:
            faults.append(words.say(spoken, "trace_no_time", value=typed[name],
                                    field=words.say(spoken, f"trace_{name}")))  # fmt: skip
            continue
        moments[name] = at.replace(tzinfo=loads.zone()) if at and at.tzinfo is None else at
    kind = typed["lot_kind"] if typed["lot_kind"] in MATERIALS else ""
    asked = Asked(load=typed["load"], lot=typed["lot"], lot_kind=kind, operator=typed["operator"],
                  machine=typed["machine"], station=typed["station"], since=moments.get("since"),
                  until=moments.get("until"))  # fmt: skip
    if not faults and not asked.asks:
        faults.append(words.say(spoken, "trace_ask"))
    return asked, faults


def _count(found: tracing.Found, spoken: str) -> str:
    if len(found.casings) == 1:
        return words.say(spoken, "trace_found_one")
    owners = {(c.owner, c.dealers) for c in found.casings}
    return words.say(spoken, "trace_found", casings=len(found.casings), owners=len(owners))


def sees_names(request: HttpRequest) -> bool:
    """Names and addresses of customers' people are for the office."""
    return getattr(request.user, "role", "") in {"admin", "dispatcher", "sales"}
