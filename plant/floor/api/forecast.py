"""When casings will be finished, and what that rests on."""

from django.http import HttpRequest, HttpResponse

from pickups.kernel import clock
from pickups.people.models import Site
from plant.floor import words
from plant.floor.api.door import floor, language, page
from plant.floor.queries import forecast as read
from plant.forecast.doors import COURSES


@floor("GET")
def forecast(request: HttpRequest, plant: Site) -> HttpResponse:
    """The plant's forecast as it stands, or what is missing for one."""
    spoken = language(request)
    return page(
        request,
        plant,
        "forecast.html",
        here="plant-forecast",
        say=words.say(spoken, "fc_say", n=COURSES),
        f=read.page(plant.uid, spoken, at=clock.now()),
    )
