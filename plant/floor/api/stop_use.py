"""Stop-use notices: written from a trace in two steps, then followed until every owner has
confirmed. What is chosen is held against the trace once more before it is sent."""

from collections.abc import Mapping, Sequence
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.kernel import clock
from pickups.kernel.ids import uuid7
from pickups.notices.doors import stopping
from pickups.people.models import Site
from plant.curing import tracing
from plant.curing.tracing import Found, Traced
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, posted, tell
from plant.floor.api.trace import FIELDS, asked_for, sees_names
from plant.floor.queries import stop_use as read

MOST = 500
"""Casings of one notice; a longer trace is narrowed by a time. Our own figure."""
LONGEST = 500
"""Characters of a reason. Our own figure."""


@floor("GET")
def stop_uses(request: HttpRequest, plant: Site) -> HttpResponse:
    """Who has not confirmed, the oldest first; and every notice."""
    spoken, at = language(request), clock.now()
    return page(request, plant, "stop_uses.html", here="plant-trace",
                late=read.late(plant.uid, spoken, at=at),
                every=read.every(plant.uid, spoken))  # fmt: skip


@floor("GET", "POST", stops=True)
def new(request: HttpRequest, plant: Site) -> HttpResponse:
    """GET: what was traced, those with their owners chosen. POST: what would be sent to whom."""
    found = _found(request, plant)
    if found is None:
        return redirect(f"{reverse('plant-trace')}?{request.GET.urlencode()}")
    if request.method == "GET":
        back = (c for c in found.casings if c.with_owner and not c.corrected)
        chosen = {c.order.uid for c in back if c.order}
        return _form(request, plant, found, chosen, {})
    typed = posted(request, ("why_en", "why_es"))
    chosen = _uids(request.POST.getlist("order"))
    taken = _chosen(found, chosen)
    if (key := _fault(taken, typed)) is not None:
        return _form(request, plant, found, chosen, typed, key)
    return _look(request, plant, taken, typed, uuid7())


@floor("POST", stops=True)
def send(request: HttpRequest, plant: Site) -> HttpResponse:
    """Written and sent, once the number of its casings was typed."""
    found = _found(request, plant)
    if found is None:
        return redirect(f"{reverse('plant-trace')}?{request.GET.urlencode()}")
    typed = posted(request, ("why_en", "why_es", "count", "orders"))
    chosen, uid = _uids(typed["orders"].split()), _uids([request.POST.get("uid", "")])
    taken = _chosen(found, chosen)
    key = _fault(taken, typed)
    if key is not None or len(taken) != len(chosen) or not uid:
        return _form(request, plant, found, chosen, typed, key or "stop_changed")
    if typed["count"] != str(len(taken)):
        return _look(request, plant, taken, typed, min(uid), "stop_count_wrong")
    stopping.write(
        uid=min(uid),
        plant=plant.uid,
        casings=[_casing(c) for c in taken],
        why=_why(typed),
        traced={name: request.GET[name][:80] for name in FIELDS if request.GET.get(name)},
        by=_by(request),
    )
    tell(request, "stop_sent")
    return redirect("stop-use-one", uid=min(uid))


@floor("GET")
def one(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """One notice: who has confirmed, who not, and what was done about it."""
    return _one(request, plant, uid)


@floor("POST", stops=True)
def again(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Sent once more, to one owner or, where the form names none, to all who have not confirmed."""
    found = read.one(plant.uid, uid, language(request), names=False)
    if found is None:
        return not_here(request, plant)
    named, form = request.POST.getlist("customer"), _uids([request.POST.get("uid", "")])
    owners = _uids(named) & {o.customer for o in found.owners}
    if not form or len(owners) != len(named):
        return _one(request, plant, uid, "stop_again_odd")
    done = stopping.again(stop=uid, customer=min(owners, default=None), by=_by(request),
                          form=min(form))  # fmt: skip
    tell(request, "stop_again_done" if done else "stop_again_none", wrong=not done)
    return redirect("stop-use-one", uid=uid)


@floor("POST", stops=True)
def heard(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """An owner said by phone or in person that they know."""
    if read.one(plant.uid, uid, language(request), names=False) is None:
        return not_here(request, plant)
    said = request.POST.get("heard", "").strip()
    owner = _uids([request.POST.get("customer", "")])
    if not said or len(said) > LONGEST or not owner:
        return _one(request, plant, uid, "stop_heard_none", {"heard": said[:LONGEST]})
    done = stopping.heard(stop=uid, customer=min(owner), said=said, by=_by(request))
    tell(request, "stop_heard_done" if done else "stop_gone", wrong=not done)
    return redirect("stop-use-one", uid=uid)


@floor("POST", stops=True)
def withdraw(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """It was a mistake: everybody who was told is told so."""
    if read.one(plant.uid, uid, language(request), names=False) is None:
        return not_here(request, plant)
    typed = posted(request, ("why_en", "why_es", "sure"))
    if not _said_well(typed) or typed["sure"] != "yes":
        return _one(request, plant, uid, "stop_back_none", typed)
    done = stopping.withdraw(stop=uid, why=_why(typed), by=_by(request))
    tell(request, "stop_back_done" if done else "stop_gone", wrong=not done)
    return redirect("stop-use-one", uid=uid)


def _by(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by


def _found(request: HttpRequest, plant: Site) -> Found | None:
    """What the trace in the address finds; None where it asks for nothing or for nonsense."""
    asked, faults = asked_for(request, language(request))
    return None if asked is None or faults else tracing.trace(plant.uid, asked, most=MOST)


def _uids(texts: Sequence[str]) -> set[UUID]:
    found = set()
    for text in texts:
        try:
            found.add(UUID(text))
        except ValueError:
            continue
    return found


def _chosen(found: Found, chosen: set[UUID]) -> list[Traced]:
    """Those of the chosen that have an owner now."""
    return [c for c in found.casings if c.owner and c.order and c.order.uid in chosen]


def _fault(taken: Sequence[Traced], typed: Mapping[str, str]) -> str | None:
    if not taken:
        return "stop_none_chosen"
    return None if _said_well(typed) else "stop_no_why"


def _said_well(typed: Mapping[str, str]) -> bool:
    said = (typed["why_en"], typed["why_es"])
    return any(said) and all(len(text) <= LONGEST for text in said)


def _why(typed: Mapping[str, str]) -> dict[str, str]:
    return {lang: typed[f"why_{lang}"] for lang in words.LANGUAGES if typed[f"why_{lang}"]}


def _casing(c: Traced) -> stopping.Casing:
    assert c.owner is not None
    assert c.order is not None
    told = c.order.told
    return stopping.Casing(c.owner, c.order.uid, c.label, size=str(told.get("size", "")),
                  tin=str(told.get("tin", "")), retread_tin=c.retread_tin)  # fmt: skip


def _form(
    request: HttpRequest,
    plant: Site,
    found: Found,
    chosen: set[UUID],
    typed: Mapping[str, str],
    fault: str = "",
) -> HttpResponse:
    spoken = language(request)
    return page(
        request, plant, "stop_use_new.html", status=400 if fault else 200, here="plant-trace",
        back=f"{reverse('plant-trace')}?{request.GET.urlencode()}",
        action=f"{reverse('stop-use-new')}?{request.GET.urlencode()}",
        owners=read.choices(plant.uid, found, chosen, spoken),
        more=words.say(spoken, "stop_more", n=MOST) if found.more else "",
        typed=typed, fault=words.of(spoken)[fault] if fault else "",
    )  # fmt: skip


def _look(
    request: HttpRequest,
    plant: Site,
    taken: Sequence[Traced],
    typed: Mapping[str, str],
    uid: UUID,
    fault: str = "",
) -> HttpResponse:
    spoken = language(request)
    casings = [_casing(c) for c in taken]
    return page(
        request, plant, "stop_use_look.html", status=400 if fault else 200, here="plant-trace",
        back=f"{reverse('stop-use-new')}?{request.GET.urlencode()}",
        action=f"{reverse('stop-use-send')}?{request.GET.urlencode()}",
        look=read.look(casings, _why(typed), spoken, at=clock.now()),
        orders=" ".join(str(c.work_order) for c in casings), uid=uid, typed=typed,
        fault=words.say(spoken, fault, n=len(taken)) if fault else "",
    )  # fmt: skip


def _one(
    request: HttpRequest,
    plant: Site,
    uid: UUID,
    fault: str = "",
    typed: Mapping[str, str] | None = None,
) -> HttpResponse:
    spoken = language(request)
    found = read.one(plant.uid, uid, spoken, names=sees_names(request))
    if found is None:
        return not_here(request, plant)
    return page(request, plant, "stop_use.html", status=400 if fault else 200, here="plant-trace",
                one=found, typed=typed or {}, owner=request.POST.get("customer", ""),
                fault=words.of(spoken)[fault] if fault else "")  # fmt: skip
