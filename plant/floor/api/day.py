"""The plant's day: the page, the part of it that is asked for again and again, and one station."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from pickups.kernel import clock
from pickups.people.models import Site
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page
from plant.floor.queries import day as read


@floor("GET")
def day(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is inside now and what this day and week have brought."""
    found = read.day(plant.uid, language(request), at=clock.now())
    return page(request, plant, "day.html", here="floor", day=found)


@floor("GET")
def live(request: HttpRequest, plant: Site) -> HttpResponse:
    """The same without what stands around it; 204 where nothing differs from what was `seen`."""
    spoken = language(request)
    found = read.day(plant.uid, spoken, at=clock.now())
    if found.mark == request.GET.get("seen"):
        return HttpResponse(status=204)
    return render(request, "floor/day_now.html", {"w": words.of(spoken), "day": found})


@floor("GET")
def station(request: HttpRequest, plant: Site, code: str) -> HttpResponse:
    """What lies at one station and what comes there next."""
    found = read.queue(plant.uid, code, language(request), at=clock.now())
    if found is None:
        return not_here(request, plant)
    return page(request, plant, "station.html", here="floor", queue=found)
