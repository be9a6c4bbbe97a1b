"""Casings without a label: written down, searched for, then recognised by a person or racked."""

from typing import Any
from uuid import UUID

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.casings import queries as casings
from pickups.casings import tin
from pickups.custody import queries as custody
from pickups.kernel import clock, ids
from pickups.kernel.languages import grouped
from pickups.kernel.wire import shown
from pickups.labels import rules as labels
from pickups.people.models import Site
from pickups.sync import photos
from plant.dock import queries as dock
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import unlabelled as queries
from plant.unlabelled import queries as read
from plant.unlabelled import services
from plant.unlabelled.models import Unlabelled
from plant.unlabelled.rules import Seen

FIELDS = ("size", "brand", "date_code", "tread", "station", "note")
LONGEST = {"size": 24, "brand": 40, "note": 500, "rack": 40, "told_by": 500}
DEEPEST_32NDS = 40


@floor("GET")
def unlabelled(request: HttpRequest, plant: Site) -> HttpResponse:
    """What waits to be recognised, and the form for one more."""
    return _list(request, plant, {}, {})


@floor("POST", decides=True)
def find(request: HttpRequest, plant: Site) -> HttpResponse:
    """One more was found: written down, then held against what is missing."""
    typed = posted(request, FIELDS)
    faults = _faults(request, plant, typed)
    if faults:
        return _list(request, plant, typed, faults)
    depth = int(typed["tread"]) if typed["tread"] else None
    seen = Seen(typed["size"], typed["brand"], typed["date_code"], depth, typed["station"])
    found = services.find(
        plant=plant.uid,
        seen=seen,
        note=typed["note"],
        rack="",
        by=_by(request),
        uid=ids.uuid7(),
        at=clock.now(),
    )
    return redirect("unlabelled-one", uid=found.uid)


@floor("GET")
def one(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """One of them beside the casings that it may be."""
    found = read.one(plant.uid, uid)
    return _one(request, plant, found, {}, {}) if found else not_here(request, plant)


@floor("GET")
def photo(
    request: HttpRequest, plant: Site, uid: UUID, work_order: UUID, number: int
) -> HttpResponse:
    """A picture of a casing that it may be, from its pickup; of no other casing's."""
    found = read.one(plant.uid, uid)
    alike = read.alike(found, on=clock.now().date()) if found else ()
    known = any(c.missing.work_order == work_order for c in alike)
    told = custody.fact(work_order) if known else None
    hashes = told.told.get("photos", []) if told else []
    data = photos.read(hashes[number - 1]) if 0 < number <= len(hashes) else None
    if data is None:
        return not_here(request, plant)
    return HttpResponse(data, content_type="image/jpeg")


@floor("POST", decides=True)
def rack(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Nobody recognises it: where on the rack it lies."""
    found = read.one(plant.uid, uid)
    if found is None:
        return not_here(request, plant)
    place = request.POST.get("rack", "").strip()
    if not 1 <= len(place) <= LONGEST["rack"]:
        faults = {"rack": _say(request, "fault_unlabelled_rack", value=shown(place, 40))}
        return _one(request, plant, found, {"rack": place}, faults)
    services.put_on_rack(found=found, rack=place, at=clock.now())
    tell(request, "unlabelled_racked", rack=place)
    return redirect("unlabelled")


@floor("POST", decides=True)
def recognise(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Somebody says which casing it is and how it was told; the new label is on it."""
    found = read.one(plant.uid, uid)
    if found is None:
        return not_here(request, plant)
    typed = posted(request, ("which", "new", "told_by"))
    new = labels.tidy(typed["new"])
    chosen = next((c for c in read.alike(found, on=clock.now().date())
                   if str(c.missing.work_order) == typed["which"]), None)  # fmt: skip
    faults = {}
    if found.settled_at is None and chosen is None:
        faults["which"] = _say(request, "fault_unlabelled_which")
    if labels.fault(new) is not None:
        faults["new"] = _say(request, "fault_unlabelled_new", value=shown(typed["new"], 20))
    elif casings.worn([new]):
        faults["new"] = _say(request, "fault_unlabelled_worn", value=grouped(new))
    if not 1 <= len(typed["told_by"]) <= LONGEST["told_by"]:
        faults["told_by"] = _say(request, "fault_unlabelled_told_by")
    if faults and found.settled_at is None:
        return _one(request, plant, found, typed, faults)
    if chosen is None:
        tell(request, "unlabelled_known_already", wrong=True)
        return redirect("unlabelled-one", uid=found.uid)
    try:
        done = services.recognise(
            found=found,
            work_order=chosen.missing.work_order,
            old=chosen.missing.label,
            new=new,
            station=found.station or chosen.missing.station or dock.first(plant.uid),
            told_by=typed["told_by"],
            by=_by(request),
            at=clock.now(),
        )
    except services.Worn:
        faults = {"new": _say(request, "fault_unlabelled_worn", value=grouped(new))}
        return _one(request, plant, found, typed, faults)
    except OperationalError:
        return _one(request, plant, found, typed, {"new": _say(request, "unlabelled_busy")}, 503)
    if not done:
        tell(request, "unlabelled_known_already", wrong=True)
        return redirect("unlabelled-one", uid=found.uid)
    tell(request, "unlabelled_known", old=grouped(chosen.missing.label), new=grouped(new))
    return redirect("unlabelled")


def _faults(request: HttpRequest, plant: Site, typed: dict[str, str]) -> dict[str, str]:
    wrong = {name for name, most in LONGEST.items() if len(typed.get(name, "")) > most}
    if typed["date_code"] and (
        len(typed["date_code"]) != len("wwyy") or not tin.weeks_meant(typed["date_code"])
    ):
        wrong.add("date_code")
    depth = typed["tread"]
    if depth and not (
        depth.isascii() and depth.isdigit() and len(depth) < 6 and int(depth) <= DEEPEST_32NDS
    ):
        wrong.add("tread")
    if typed["station"] and typed["station"] not in dock.codes(plant.uid):
        wrong.add("station")
    faults = {
        name: _say(request, f"fault_unlabelled_{name}", value=shown(typed[name], 40))
        for name in wrong
    }
    if not faults and not any(typed[name] for name in ("size", "brand", "date_code", "tread")):
        faults["size"] = _say(request, "fault_unlabelled_nothing")
    return faults


def _by(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


def _say(request: HttpRequest, key: str, **values: object) -> str:
    return words.say(language(request), key, **values)


def _list(
    request: HttpRequest, plant: Site, typed: dict[str, str], faults: dict[str, str]
) -> HttpResponse:
    return page(
        request,
        plant,
        "unlabelled.html",
        status=400 if faults else 200,
        here="unlabelled",
        waiting=queries.waiting(language(request), plant.uid, at=clock.now()),
        stations=queries.stations(language(request), plant.uid),
        typed=typed,
        faults=faults,
    )


def _one(
    request: HttpRequest,
    plant: Site,
    found: Unlabelled,
    typed: dict[str, Any],
    faults: dict[str, str],
    status: int = 400,
) -> HttpResponse:
    return page(
        request,
        plant,
        "unlabelled_one.html",
        status=status if faults else 200,
        here="unlabelled",
        one=queries.one(language(request), found, at=clock.now()),
        typed=typed,
        faults=faults,
    )
