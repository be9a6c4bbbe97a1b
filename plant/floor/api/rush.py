"""Rush work: asked for, held against the promises it moves, decided by another person."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.kernel import clock, ids
from pickups.labels import rules as labels
from pickups.people.models import Site
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.queries import rush as read
from plant.floor.queries import suppose
from plant.forecast.doors import State, supposing, trying
from plant.inspection.doors import rushing

LONGEST = 300


@floor("GET", "POST")
def rush(request: HttpRequest, plant: Site) -> HttpResponse:
    """The form and what was asked for before; whose promises it moves is computed at once."""
    if request.method != "POST":
        return _page(request, plant, {})
    typed = posted(request, ("label", "grounds"))
    if not 1 <= len(typed["grounds"]) <= LONGEST or not typed["grounds"].isprintable():
        return _page(request, plant, typed, at="grounds", why="grounds")
    uid, at = ids.uuid7(), clock.now()
    try:
        made = rushing.ask(
            uid=uid,
            plant=plant.uid,
            label=labels.tidy(typed["label"]),
            grounds=typed["grounds"],
            by=request.user,  # type: ignore[arg-type]  # the door let a signed-in person through
            at=at,
        )
    except rushing.Refused as e:
        return _page(request, plant, typed, at="label", why=e.code)
    _suppose(request, plant, made.uid, made.work_order)
    tell(request, "rush_done_asked")
    return redirect("rush-one", uid=uid)


@floor("GET")
def one(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """One rush, what it moves, and the keys to decide it."""
    return _one(request, plant, uid)


@floor("POST", decides=True)
def decide(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Approved, declined or ended, in the words of a person; or computed again."""
    typed = posted(request, ("kind", "grounds"))
    found = rushing.one(plant.uid, uid)
    if found is None:
        return not_here(request, plant)
    if len(typed["grounds"]) > LONGEST or not typed["grounds"].isprintable():
        return _one(request, plant, uid, typed=typed, why="note")
    computed = trying.one(plant.uid, uid)
    done = computed is not None and computed.state == State.DONE
    if typed["kind"] == "again":
        if computed is None or trying.again(uid=uid, plant=plant.uid, at=clock.now()):
            _suppose(request, plant, uid, found.work_order)
        return redirect("rush-one", uid=uid)
    if typed["kind"] == rushing.Kind.APPROVED and not done:
        return _one(request, plant, uid, typed=typed, why="not_yet")
    try:
        rushing.decide(
            uid=uid,
            plant=plant.uid,
            kind=typed["kind"],
            grounds=typed["grounds"],
            by=request.user,  # type: ignore[arg-type]  # as above
            at=clock.now(),
            moved=computed.came["moved"] if computed is not None and done else (),
        )
    except rushing.Refused as e:
        return _one(request, plant, uid, typed=typed, why=e.code)
    tell(request, f"rush_done_{typed['kind']}")
    return redirect("rush-one", uid=uid)


def _suppose(request: HttpRequest, plant: Site, uid: UUID, order: UUID) -> None:
    """What it moves is asked under the rush's own id."""
    who = request.user
    what = supposing.Supposed(first=order)
    trying.ask(plant=plant.uid, what=what, by=who, at=clock.now(), uid=uid)  # type: ignore[arg-type]  # as above


def _page(
    request: HttpRequest, plant: Site, typed: dict[str, str], *, at: str = "", why: str = ""
) -> HttpResponse:
    spoken = language(request)
    wrong = words.say(spoken, f"fault_rush_{why}", value=typed[at][:40]) if why else ""
    asked = read.latest(plant.uid, spoken)
    return page(request, plant, "rush.html", status=400 if why else 200, here="rush", asked=asked,
                typed=typed, wrong=wrong, wrong_at=at)  # fmt: skip


def _one(
    request: HttpRequest,
    plant: Site,
    uid: UUID,
    *,
    typed: dict[str, str] | None = None,
    why: str = "",
) -> HttpResponse:
    spoken = language(request)
    found = read.one(plant.uid, uid, spoken)
    if found is None:
        return not_here(request, plant)
    row, asked = found
    moves = suppose.answer(plant.uid, uid, spoken, at=clock.now())
    value = (typed or {}).get("grounds", "")
    return page(
        request,
        plant,
        "rush_one.html",
        status=400 if why else 200,
        here="rush",
        asked=asked,
        own=row.by_id == request.user.pk,
        one=moves,
        done=moves is not None and moves.done,
        typed=typed or {},
        wrong=words.say(spoken, f"fault_rush_{why}", value=value[:40]) if why else "",
    )
