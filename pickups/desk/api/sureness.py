"""The page of how sure the days are that each customer is promised, and its setting."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.customers import queries as customers_read
from pickups.customers import services as customers
from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.kernel import clock
from pickups.kernel.wire import shown


@office("GET")
def sureness(request: HttpRequest) -> HttpResponse:
    """Every customer with its percentage."""
    return _page(request)


@office("POST", decides=True)
def set_sureness(request: HttpRequest, customer: UUID) -> HttpResponse:
    """Another percentage for one customer: what its store offers is computed for it."""
    known = customers_read.customer(customer)
    if known is None:
        return not_here(request)
    typed = request.POST.get("percent", "").strip()
    # Digits of any script read as a number; three of them are enough for a fault.
    percent = int(typed) if typed.isdecimal() and len(typed) <= 3 else 0
    if not customers.LEAST_SURE <= percent <= customers.MOST_SURE:
        bounds = {"least": customers.LEAST_SURE, "most": customers.MOST_SURE}
        said = words.say(language(request), "sure_fault", value=shown(typed, 20), **bounds)
        return _page(request, at=customer, typed=typed, fault=said)
    customers.promise_with(uid=customer, percent=percent, at=clock.now())
    tell(request, "sure_set", name=known.name, percent=percent)
    return redirect("sureness")


def _page(
    request: HttpRequest, *, at: UUID | None = None, typed: str = "", fault: str = ""
) -> HttpResponse:
    return page(
        request,
        "sureness.html",
        here="promises",
        status=400 if fault else 200,
        customers=customers_read.every_customer(),
        least=customers.LEAST_SURE,
        most=customers.MOST_SURE,
        at=at,
        typed=typed,
        fault=fault,
    )
