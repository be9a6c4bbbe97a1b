"""The page of the rolls of labels: print one for a store or driver, draw it again, give it away."""

import re
from typing import Any, cast
from uuid import UUID, uuid4

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode

from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import rolls as queries
from pickups.kernel import clock
from pickups.kernel.wire import shown
from pickups.labels import printing, services
from pickups.labels import queries as labels
from pickups.people.models import User

MOST = 1000
"""The most labels of one roll: its PDF is drawn while somebody waits."""
STOCKS = {"roll": printing.ROLL, "sheet": printing.LETTER}


@office("GET")
def rolls(request: HttpRequest) -> HttpResponse:
    """Every roll printed lately, a form to print another, and the PDF of one that was just made."""
    stock = request.GET.get("stock", "")
    typed = {
        "count": "100",
        "stock": stock if stock in STOCKS else "roll",
        "each": "2",
        "uid": str(uuid4()),
    }
    return _page(request, typed)


def _page(
    request: HttpRequest, typed: dict[str, str], faults: dict[str, str] | None = None
) -> HttpResponse:
    spoken = language(request)
    own, rolls = getattr(request.user, "site_id", None), queries.rolls(spoken)
    return page(
        request,
        "rolls.html",
        status=400 if faults else 200,
        here="rolls",
        rolls=rolls,
        made=next((r for r in rolls if str(r.id) == request.GET.get("made")), None),
        stores=queries.stores(),
        drivers=queries.drivers(),
        materials=queries.materials(spoken),
        chosen=typed.get("store") or str(own),
        typed=typed,
        faults=faults or {},
        how_many=_say(request, "roll_count", most=MOST),
    )


def _say(request: HttpRequest, key: str, **values: object) -> str:
    return words.say(language(request), key, **values)


@office("POST", decides=True)
def print_roll(request: HttpRequest) -> HttpResponse:
    """New labels for a store or a driver of it. The form carries the roll's uid: sent twice it
    prints once."""
    names = ("store", "count", "stock", "material", "each", "holder", "uid")
    typed = {name: request.POST.get(name, "") for name in names}
    typed["each"] = typed["each"] or "2"
    material = next((m for m in labels.stocks() if str(m.pk) == typed["material"]), None)
    store = next((s for s in queries.stores() if str(s.uid) == typed["store"]), None)
    count = int(typed["count"]) if re.fullmatch(r"[0-9]{1,6}", typed["count"]) else 0
    faults: dict[str, str] = {}
    if store is None:
        faults["store"] = _say(request, "roll_no_store", value=shown(typed["store"]))
    if not 1 <= count <= MOST:
        value = shown(typed["count"], 20)
        faults["count"] = _say(request, "roll_no_count", value=value, most=MOST)
    if typed["stock"] not in STOCKS:
        faults["stock"] = _say(request, "roll_no_stock", value=shown(typed["stock"], 20))
    if typed["material"] and material is None:
        faults["material"] = _say(request, "roll_no_material", value=shown(typed["material"], 20))
    if typed["each"] not in ("1", "2"):
        faults["each"] = _say(request, "roll_no_each", value=shown(typed["each"], 20))
    holder = next((d for d in queries.drivers() if str(d.uid) == typed["holder"]), None)
    if typed["holder"] and (holder is None or (store and holder.site_id != store.uid)):
        value = str(holder or shown(typed["holder"]))
        faults["holder"] = _say(request, "roll_no_holder", value=value)
    if faults or store is None:
        return _page(request, typed, faults)
    try:
        roll = services.print_for(
            site=store,
            count=count,
            at=clock.now(),
            uid=_uid(typed["uid"]),
            stock=material,
            twins=typed["each"] == "2",
            holder=holder,
            by=cast("User", request.user),
        )
    except services.OtherRoll:
        tell(request, "roll_other", wrong=True)
        return redirect("rolls")
    except services.RangeFull:
        tell(request, "roll_full", wrong=True)
        return redirect("rolls")
    key = "roll_made" if count > 1 else "roll_made_one"
    tell(request, key, n=count, store=holder or store.name)
    query = urlencode([("made", str(roll.pk)), ("stock", typed["stock"])])
    return redirect(f"{reverse('rolls')}?{query}")


def _uid(text: str) -> UUID:
    """The uid that the form came with; one that somebody changed is as good as a new one."""
    try:
        return UUID(text)
    except ValueError:
        return uuid4()


@office("POST", decides=True)
def allocate(request: HttpRequest, roll: int) -> HttpResponse:
    """A roll goes to a driver of its store, to another, or back to the store."""
    found, wanted = labels.roll(roll), request.POST.get("holder", "")
    if found is None:
        return not_here(request)
    seen = request.POST.get("seen", "")
    holder = next((d for d in queries.drivers() if str(d.uid) == wanted), None)
    try:
        if wanted and holder is None:
            raise services.NoDriverThere(wanted)
        given = services.allocate(
            roll=found,
            holder=holder,
            by=cast("User", request.user),
            at=clock.now(),
            seen=int(seen) if re.fullmatch(r"[0-9]{1,18}", seen) else None,
        )
    except services.NoDriverThere:
        tell(request, "roll_no_holder", wrong=True, value=str(holder or shown(wanted)))
    except services.GivenMeanwhile:
        tell(request, "roll_meanwhile", wrong=True, span=queries.span(found, language(request)))
    else:
        key = "roll_given" if given else "roll_given_before"
        span = queries.span(found, language(request))
        tell(request, key, span=span, who=holder or found.site.name)
    return redirect(f"{reverse('rolls')}#roll-{found.pk}")


@office("GET", decides=True)
def roll_pdf(request: HttpRequest, roll: int, stock: str) -> HttpResponse:
    """A roll drawn, again where it was drawn before: the same codes."""
    found = labels.roll(roll)
    if found is None or stock not in STOCKS:
        return not_here(request)
    options: dict[str, Any] = {
        "base_url": settings.PUBLIC_BASE_URL,
        "dealer": settings.DEALER_NAME,
        "phone": settings.DEALER_PHONE,
        "twins": found.twins,
        "kind": labels.called(found),
    }
    try:
        drawn = printing.roll_pdf(labels.codes_of(found), stock=STOCKS[stock], **options)
    except ValueError as too_long:
        tell(request, "roll_too_long", wrong=True, why=str(too_long))
        return redirect("rolls")
    name = f"labels-{found.range}{found.first:05}-{stock}.pdf"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(drawn, content_type="application/pdf", headers=headers)
