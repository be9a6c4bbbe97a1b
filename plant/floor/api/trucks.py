"""Trucks' lists at the dock: looked at, and closed when a truck is empty or loaded."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.kernel import clock
from pickups.people.models import Site
from plant.dock import consignments
from plant.dock.comparing import KINDS
from plant.floor.api.door import floor, language, not_here, page, tell
from plant.floor.queries import trucks as read
from plant.inspection import closing


@floor("GET")
def trucks(request: HttpRequest, plant: Site) -> HttpResponse:
    """Lists that are open against what was scanned, and those that were closed last."""
    spoken = language(request)
    return page(
        request,
        plant,
        "trucks.html",
        here="trucks",
        trucks=read.open_lists(plant.uid, spoken),
        closed=read.closed_lists(plant.uid, spoken),
    )


@floor("POST", decides=True)
def close(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """A list is done with; what differs is asked about."""
    row = consignments.one(plant.uid, uid)
    if row is None:
        return not_here(request, plant)
    done = closing.close(row=row, at=clock.now(), by=request.user.uid)  # type: ignore[union-attr]
    row = consignments.one(plant.uid, uid)
    if row is None:  # its run was taken back meanwhile
        tell(request, "truck_gone", wrong=True)
        return redirect("trucks")
    odd = any(row.compared[kind] for kind in KINDS)
    odd = odd or row.compared["counted"] not in (None, row.compared["scanned"])
    tell(request, "truck_closed_before" if not done else f"truck_closed{'' if odd else '_fits'}")
    return redirect("trucks")
