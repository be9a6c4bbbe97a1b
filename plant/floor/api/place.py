"""Which plant the pages are about, and what stands nowhere."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.people.models import Site
from plant.floor.api.door import CHOSEN, floor, not_here


@floor("POST")
def choose(request: HttpRequest, plant: Site) -> HttpResponse:
    """Another plant from here on, in this session; a plant that is not there changes nothing."""
    request.session[CHOSEN] = request.POST.get("plant", "")[:36]
    return redirect("floor")


@floor("GET")
def nothing(request: HttpRequest, plant: Site, rest: str) -> HttpResponse:
    """No page of the plant stands at this address."""
    return not_here(request, plant)
