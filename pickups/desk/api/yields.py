"""The pages of fleet yield: every customer's share, and the casings behind one."""

from datetime import timedelta
from uuid import UUID

from django.http import HttpRequest, HttpResponse

from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page
from pickups.desk.queries import yields as read
from pickups.kernel import clock

SPANS = (3, 12, 24)
"""For how many months it can be asked; a month is 30 days here."""
USUAL = 12
DAYS = 30


@office("GET")
def yields(request: HttpRequest) -> HttpResponse:
    """Every customer about whose casings something was decided."""
    months, spoken, until = _months(request), language(request), clock.now()
    since = until - timedelta(days=DAYS * months)
    return page(request, "yields.html", here="promises", months=months, spans=_spans(spoken),
                rows=read.listed(spoken, since=since, until=until))  # fmt: skip


@office("GET")
def one(request: HttpRequest, customer: UUID) -> HttpResponse:
    """The list behind one customer's number."""
    months, spoken, until = _months(request), language(request), clock.now()
    since = until - timedelta(days=DAYS * months)
    found = read.of_customer(spoken, customer, since=since, until=until)
    if found is None:
        return not_here(request)
    return page(request, "yield.html", here="promises", months=months, spans=_spans(spoken),
                one=found)  # fmt: skip


def _months(request: HttpRequest) -> int:
    asked = request.GET.get("months", "")
    return next((n for n in SPANS if str(n) == asked), USUAL)


def _spans(spoken: str) -> list[tuple[int, str]]:
    return [(n, words.say(spoken, "yield_months", n=n)) for n in SPANS]
