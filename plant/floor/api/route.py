"""The plant's route: looked at, begun from the usual one, put into another order."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.people.models import Site
from plant.dock import queries as dock
from plant.dock import services
from plant.floor.api.door import floor, language, not_here, page, tell
from plant.floor.queries import route as read


@floor("GET")
def route(request: HttpRequest, plant: Site) -> HttpResponse:
    """The stations in their order, chambers, hours, and how often a casing may be worked again."""
    spoken = language(request)
    return page(
        request,
        plant,
        "route.html",
        here="plant-route",
        lines=read.lines(plant.uid, spoken),
        chambers=read.chambers(plant.uid, spoken),
        hours=read.hours(plant.uid, spoken),
        rework_limit=read.rework_limit(plant.uid, spoken),
    )


@floor("POST", decides=True)
def start(request: HttpRequest, plant: Site) -> HttpResponse:
    """The usual route for a plant that has none."""
    given = services.lay_out(plant=plant)
    tell(request, "route_started" if given else "route_there", wrong=not given)
    return redirect("plant-route")


@floor("POST", decides=True)
def move(request: HttpRequest, plant: Site, station: int) -> HttpResponse:
    """A station to another place in the order; sent twice it is moved once."""
    known = dock.stations(plant.uid)
    moved = next((one for one in known if one.pk == station), None)
    if moved is None:
        return not_here(request, plant)
    name = read.name(moved, language(request))
    asked = request.POST.get("to", "")
    to = int(asked) if asked.isascii() and asked.isdecimal() and len(asked) < 6 else 0
    if not 1 <= to <= len(known):
        tell(request, "route_no_place", wrong=True, value=asked[:40], most=len(known))
    elif services.move(plant=plant.uid, station=station, to=to):
        tell(request, "route_moved", name=name, place=to)
    else:
        tell(request, "route_same", name=name)
    return redirect(f"{reverse('plant-route')}#station-{station}")
