"""A question that is the plant's to answer: looked at, and settled in words."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.kernel import clock
from pickups.kernel.wire import Malformed
from pickups.people.models import Site
from plant.adjustments import services as adjustments
from plant.curing import services as curing
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import asked as read

FIELDS = ("said", "what")


@floor("GET")
def one(request: HttpRequest, plant: Site, question: int) -> HttpResponse:
    """What is asked, what is known of it, and where it is decided."""
    found = read.one(plant.uid, question, language(request), at=clock.now())
    return not_here(request, plant) if found is None else _page(request, plant, found, {})


@floor("POST", decides=True)
def settle(request: HttpRequest, plant: Site, question: int) -> HttpResponse:
    """Somebody has found the answer."""
    spoken, typed = language(request), posted(request, FIELDS)
    found = read.one(plant.uid, question, spoken, at=clock.now())
    if found is None:
        tell(request, "asked_before", wrong=True)
        return redirect("floor")
    if found.at_load:
        return redirect(found.load)
    by: UUID = request.user.uid  # type: ignore[union-attr]
    if found.label and typed["what"] not in ("goes_on", "stays"):
        return _page(request, plant, found, typed, words.say(spoken, "asked_choose"))
    try:
        done = (
            adjustments.worked_again(plant=plant.uid, label=found.label, said=typed["said"], by=by,
                                     goes_on=typed["what"] == "goes_on")
            if found.label
            else curing.answered(question=question, said=typed["said"], by=by)
        )  # fmt: skip
    except Malformed:
        return _page(request, plant, found, typed, words.say(spoken, "asked_no_words"))
    tell(request, "asked_settled" if done else "asked_before", wrong=not done)
    return redirect("floor")


def _page(
    request: HttpRequest, plant: Site, found: read.Asked, typed: dict[str, str], fault: str = ""
) -> HttpResponse:
    return page(request, plant, "asked.html", status=400 if fault else 200, here="floor",
                one=found, typed=typed, fault=fault)  # fmt: skip
