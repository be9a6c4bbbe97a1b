"""The plant's day."""

from django.http import HttpRequest, HttpResponse

from pickups.people.models import Site
from plant.floor.api.door import floor, page


@floor("GET")
def day(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is inside now and what this day and week have brought."""
    return page(request, plant, "day.html", here="floor")
