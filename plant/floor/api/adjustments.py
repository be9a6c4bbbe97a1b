"""What the plant owes, and claims about retreads that failed."""

from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode

from pickups.custody import ownership
from pickups.kernel.wire import Malformed
from pickups.people.models import Site
from plant.adjustments import queries, services
from plant.adjustments.models import Claim
from plant.adjustments.prorata import Terms
from plant.curing import queries as cures
from plant.curing import services as curing
from plant.curing import tracing
from plant.floor import words
from plant.floor.api.door import floor, language, not_here, page, tell
from plant.floor.queries import adjustments as said

FIELDS = {
    "grounds": ("claim_grounds", "adjust_words"),
    "tread": ("claim_tread", "adjust_depths"),
    "complaint": ("claim_complaint", "adjust_words"),
    "price": ("claim_price", "adjust_money"),
    "original": ("claim_original", "adjust_whole"),
    "pull": ("claim_pull", "adjust_whole"),
    "amount": ("adjust_amount", "adjust_money"),
    "what": ("claim_decide", "adjust_words"),
    "how": ("adjust_how", "adjust_words"),
    "said": ("adjust_said", "adjust_words"),
}
"""Of a fault: the words of its field and of what is allowed there."""


@floor("GET")
def adjustments(request: HttpRequest, plant: Site) -> HttpResponse:
    """What is owed and which claims there are, the open first."""
    return _list(request, plant)


def _list(
    request: HttpRequest,
    plant: Site,
    fault: str = "",
    typed: dict[str, str] | None = None,
    status: int = 400,
) -> HttpResponse:
    spoken = language(request)
    settles = _office(request) or curing.qualified(plant=plant.uid, person=_person(request),
                                                   matter=cures.Matter.CLAIM)  # fmt: skip
    return page(
        request, plant, "adjustments.html", status=status if fault else 200,
        here="plant-adjustments", settles=settles,
        owed=said.owed(plant.uid, spoken), claims=said.claims(plant.uid, spoken), fault=fault,
        typed=typed or {}, amount=_in_currency(spoken, "adjust_amount"),
    )  # fmt: skip


@floor("POST", decides=True)
def settle(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Make good what is owed: by a casing from stock or by a credit."""
    spoken = language(request)
    cents = _cents(request.POST.get("amount", ""))
    try:
        services.settle(plant=plant.uid, owed=uid, how=request.POST.get("how", ""), cents=cents,
                        said=request.POST.get("said", ""), by=_person(request),
                        office=_office(request))  # fmt: skip
    except services.Gone:
        tell(request, "adjust_gone", wrong=True)
        return redirect("plant-adjustments")
    except curing.NotQualified:
        return _list(request, plant, words.say(spoken, "adjust_you_not"), status=403)
    except ownership.Refused:
        return _list(request, plant, words.say(spoken, "adjust_cannot"))
    except Malformed as e:
        return _list(request, plant, _fault(e, request, spoken))
    tell(request, "adjust_settled")
    return redirect("plant-adjustments")


@floor("POST", decides=True)
def open_claim(request: HttpRequest, plant: Site) -> HttpResponse:
    """Keep a failed retread as evidence, found by its tag or retread TIN."""
    spoken = language(request)
    typed = {k: request.POST.get(k, "").strip()[:500] for k in ("q", "complaint", "tread")}
    labels = tracing.named(plant.uid, typed["q"]) if typed["q"].isprintable() else []
    if len(labels) != 1:
        return _list(request, plant, words.say(spoken, "claim_not_found", value=typed["q"]), typed)
    label = tracing.standing(plant.uid, labels)[0].label
    depths = typed["tread"].replace(",", " ").split()
    whole = all(d.isascii() and d.isdecimal() and len(d) < 4 for d in depths)
    try:
        uid = services.claim(plant=plant.uid, found_by=typed["q"], label=label,
                             complaint=typed["complaint"], by=_person(request),
                             readings=[int(d) for d in depths] if whole else [])  # fmt: skip
    except Malformed as e:
        if e.fault.field == "label":
            claim = queries.open_claim(plant.uid, label)
            return redirect("plant-claim", uid=claim.uid) if claim else not_here(request, plant)
        return _list(request, plant, _fault(e, request, spoken), typed)
    tell(request, "claim_opened")
    return redirect("plant-claim", uid=uid)


@floor("GET")
def claim(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """One claim: what was found and measured, and what was decided."""
    one = queries.claim(plant.uid, uid)
    return not_here(request, plant) if one is None else _one(request, plant, one)


def _one(
    request: HttpRequest, plant: Site, one: Claim, fault: str = "", status: int = 200
) -> HttpResponse:
    spoken = language(request)
    may = curing.qualified(plant=plant.uid, person=_person(request),
                           matter=cures.Matter.CLAIM)  # fmt: skip
    return page(
        request, plant, "claim.html", status=status, here="plant-adjustments",
        one=said.claim(one, spoken), fault=fault, may=may, typed=request.POST,
        title=words.say(spoken, "claim_of", label=words.grouped(one.label)),
        whats=[(w, words.say(spoken, f"claim_{w}")) for w in queries.What.values],
        price=_in_currency(spoken, "claim_price"),
        trace=f"{reverse('plant-trace')}?{urlencode({'q': one.label})}",
    )  # fmt: skip


@floor("POST", decides=True)
def decide(request: HttpRequest, plant: Site, uid: UUID) -> HttpResponse:
    """Decide a claim, once."""
    one = queries.claim(plant.uid, uid)
    if one is None:
        return not_here(request, plant)
    spoken, what = language(request), request.POST.get("what", "")
    try:
        terms = _terms(request) if what == queries.What.HONOURED else None
        services.decide(plant=plant.uid, uid=uid, what=what, terms=terms, by=_person(request),
                        grounds=request.POST.get("grounds", ""))  # fmt: skip
    except curing.NotQualified:
        return _one(request, plant, one, words.say(spoken, "claim_you_not"), status=403)
    except services.Gone:
        tell(request, "adjust_gone", wrong=True)
        return redirect("plant-claim", uid=uid)
    except Malformed as e:
        return _one(request, plant, one, _fault(e, request, spoken), status=400)
    tell(request, "claim_decided")
    return redirect("plant-claim", uid=uid)


def _terms(request: HttpRequest) -> Terms:
    price = _cents(request.POST.get("price", ""))
    whole = []
    for name in ("original", "pull"):
        text = request.POST.get(name, "").strip()
        whole.append(int(text) if text.isascii() and text.isdecimal() and len(text) < 4 else -1)
    return Terms(-1 if price is None else price, *whole)


def _cents(text: str) -> int | None:
    """An amount with at most two places after its point."""
    units, point, rest = text.strip().replace(",", ".").partition(".")
    plain = units.isascii() and units.isdecimal() and len(units) < 7
    if not plain or (point and not (rest.isascii() and rest.isdecimal() and len(rest) < 3)):
        return None
    return int(units) * 100 + int(rest.ljust(2, "0") or 0)


def _fault(e: Malformed, request: HttpRequest, spoken: str) -> str:
    field, allowed = FIELDS[e.fault.field]
    value = request.POST.get(e.fault.field, "")[:80]
    return words.say(spoken, "adjust_no", value=value, field=_in_currency(spoken, field),
                     allowed=words.say(spoken, allowed))  # fmt: skip


def _in_currency(spoken: str, key: str) -> str:
    return words.say(spoken, key, currency=settings.DEALER_CURRENCY)


def _office(request: HttpRequest) -> bool:
    return getattr(request.user, "role", "plant") != "plant"


def _person(request: HttpRequest) -> UUID:
    by: UUID = request.user.uid  # type: ignore[union-attr]
    return by
