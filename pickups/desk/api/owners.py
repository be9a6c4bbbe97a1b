"""The page of a casing's owner: what changed it, and a sale, an exchange, a mix-up or an undoing.

Each change is filled in, read back once, and then written; what was typed is kept on every way.
"""

import re
from collections.abc import Callable, Mapping
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import ownership
from pickups.custody import queries as custody
from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import owners as queries
from pickups.desk.queries import typed
from pickups.desk.queries.names import Names
from pickups.desk.queries.owners import Owner
from pickups.kernel.languages import amount
from pickups.kernel.wire import shown
from pickups.runs import queries as runs

MOST_CENTS = 10_000_000
FIELDS = ("grade", "amount", "pays", "contact", "other", "said")


@office("GET")
def owner(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Whose it is, what made it so, and what can be written."""
    return _page(request, uid)


@office("POST", decides=True)
def sell(request: HttpRequest, uid: UUID) -> HttpResponse:
    """The dealer buys it."""
    found, typed = queries.owner(uid, language(request)), _typed(request)
    if found is None:
        return not_here(request)
    cents = _cents(typed["amount"])
    contact = next((c for c in found.contacts if str(c.uid) == typed["contact"]), None)
    faults = {}
    if not 1 <= len(typed["grade"]) <= 40 or not typed["grade"].isprintable():
        faults["grade"] = _say(request, "owner_bad_grade")
    if cents is None:
        most = amount(MOST_CENTS, settings.DEALER_CURRENCY)
        value = shown(typed["amount"], 20)
        faults["amount"] = _say(request, "owner_bad_amount", value=value, most=most)
    if typed["pays"] not in ("price", "credit"):
        faults["pays"] = _say(request, "owner_bad_pays")
    if contact is None:
        faults["contact"] = _say(request, "owner_no_not_entitled")
    if faults or cents is None or contact is None:
        return _page(request, uid, "sell", typed, faults)
    if not request.POST.get("sure"):
        key = "owner_sure_sold" + ("_credit" if typed["pays"] == "credit" else "")
        money = amount(cents, settings.DEALER_CURRENCY)
        said = {"amount": money, "grade": typed["grade"], "name": contact.name}
        return _sure(request, found, "sell", typed, _say(request, key, **_about(found), **said))
    agreed = ownership.Agreed(typed["grade"], cents, typed["pays"])
    return _written(
        request,
        found,
        lambda by: ownership.sell(work_order=uid, agreed=agreed, accepted_by=contact.uid, by=by),
    )


@office("POST", decides=True)
def exchange(request: HttpRequest, uid: UUID) -> HttpResponse:
    """The customer has taken one from stock for it."""
    found = queries.owner(uid, language(request))
    if found is None:
        return not_here(request)
    if not request.POST.get("sure"):
        said = _say(request, "owner_sure_exchanged", **_about(found))
        return _sure(request, found, "exchange", {}, said)
    return _written(request, found, lambda by: ownership.exchange(work_order=uid, by=by))


@office("POST", decides=True)
def settle(request: HttpRequest, uid: UUID) -> HttpResponse:
    """It was taken for another one, and that for it."""
    found, typed = queries.owner(uid, language(request)), _typed(request)
    order = casings.work_order(uid)
    if found is None or order is None:
        return not_here(request)
    other, faults = _wearing(typed["other"], language(request)), {}
    if other is None:
        value = shown(typed["other"], 40)
        faults["other"] = _say(request, "owner_bad_other", value=value)
    if not _reason(typed["said"]):
        faults["said"] = _say(request, "owner_bad_reason")
    if faults or other is None:
        return _page(request, uid, "settle", typed, faults)
    if not request.POST.get("sure"):
        names = Names(language(request), yards=[order.yard, other.yard])
        said = {"here": names.place(order.yard), "there": names.place(other.yard)}
        said |= {"label": found.grouped, "other": words.grouped(other.label)}
        return _sure(request, found, "settle", typed, _say(request, "owner_sure_settled", **said))
    return _written(
        request,
        found,
        lambda by: ownership.settle(work_order=uid, other=other.uid, reason=typed["said"], by=by),
        goes_home=False,
    )


@office("POST", decides=True)
def undo(request: HttpRequest, uid: UUID, change: UUID) -> HttpResponse:
    """One of the changes was a mistake."""
    found, typed = queries.owner(uid, language(request)), _typed(request)
    if found is None or change not in {event.undoable for event in found.events}:
        if found is not None:
            return _no(request, found, "owner_no_undone_before")
        return not_here(request)
    if not _reason(typed["said"]):
        faults = {"said": _say(request, "owner_bad_reason")}
        return _page(request, uid, str(change), typed, faults)
    return _written(
        request,
        found,
        lambda by: ownership.undo(change=change, reason=typed["said"], by=by),
        "owner_undo_told",
        goes_home=False,
    )


def _written(
    request: HttpRequest,
    found: Owner,
    write: Callable[[UUID], object],
    told: str = "owner_told",
    *,
    goes_home: bool = True,
) -> HttpResponse:
    """Write a change, or say why it cannot be; goes_home: a load sheet must not hold it."""
    if goes_home and runs.on_sheets([found.work_order]):
        return _no(request, found, "owner_no_on_sheet")
    try:
        write(request.user.uid)  # type: ignore[union-attr]
    except ownership.Refused as e:
        return _no(request, found, f"owner_no_{e.why}")
    except OperationalError:
        return _no(request, found, "busy")
    tell(request, told)
    return redirect("owner", uid=found.work_order)


def _no(request: HttpRequest, found: Owner, key: str) -> HttpResponse:
    tell(request, key, wrong=True, dealer=settings.DEALER_NAME)
    return redirect("owner", uid=found.work_order)


def _page(
    request: HttpRequest,
    uid: UUID,
    verb: str = "",
    typed: Mapping[str, str] | None = None,
    faults: Mapping[str, str] | None = None,
) -> HttpResponse:
    found = queries.owner(uid, language(request))
    if found is None:
        return not_here(request)
    sale = {**found.sale, **(typed or {})} if verb == "sell" else found.sale
    return page(
        request,
        "owner.html",
        status=400 if faults else 200,
        owner=found,
        verb=verb,
        sale=sale,
        typed=typed or {},
        faults=faults or {},
        says={
            key: _say(request, f"owner_{key}", **_about(found), currency=settings.DEALER_CURRENCY)
            for key in ("amount", "accepts", "no_contact", "exchange_say")
        },
    )


def _sure(
    request: HttpRequest, found: Owner, verb: str, typed: Mapping[str, str], said: str
) -> HttpResponse:
    """The change read back, with what was typed; nothing is written yet."""
    kept = {name: value for name, value in typed.items() if value}
    return page(request, "owner_sure.html", owner=found, to=f"owner-{verb}", typed=kept, said=said)


def _about(found: Owner) -> dict[str, Any]:
    return {
        "dealer": settings.DEALER_NAME,
        "label": found.grouped,
        "customer": found.customer,
    }


def _typed(request: HttpRequest) -> dict[str, str]:
    return {name: request.POST.get(name, "").strip() for name in FIELDS}


def _say(request: HttpRequest, key: str, **values: object) -> str:
    return words.say(language(request), key, **values)


def _cents(text: str) -> int | None:
    """A typed amount in hundredths: 45, 45.5, 45,50 or $45."""
    found = re.fullmatch(r"\$? ?([0-9]{1,6})(?:[.,]([0-9]{1,2}))?", text)
    if found is None:
        return None
    cents = int(found[1]) * 100 + int((found[2] or "0").ljust(2, "0"))
    return cents if cents <= MOST_CENTS else None


def _reason(text: str) -> bool:
    return 1 <= len(text) <= 500 and "\x00" not in text


def _wearing(text: str, spoken: str) -> WorkOrder | None:
    """The casing that wears a typed label, or wore it before it was replaced."""
    label, _ = typed.label_of(text, spoken)
    if not label:
        return None
    orders = [w for w in casings.under(custody.names_of(label).every) if not w.withdrawn]
    return orders[0] if len(orders) == 1 else None
