"""The pages of promises: those at risk, and the account of those kept."""

from django.http import HttpRequest, HttpResponse

from pickups.desk import words
from pickups.desk.api.door import language, office, page
from pickups.desk.queries import kept as account
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock

RULE = 5
"""How many paragraphs say what counts."""


@office("GET")
def kept(request: HttpRequest) -> HttpResponse:
    """What came of the promises whose day is over."""
    spoken, asked = language(request), request.GET.get("months", "")
    months = next((n for n in account.SPANS if str(n) == asked), account.USUAL)
    return page(
        request,
        "kept.html",
        here="promises",
        months=months,
        spans=[(n, words.say(spoken, "kept_months", n=n)) for n in account.SPANS],
        account=account.account(spoken, today=today_of(clock.now()), months=months),
        rule=[words.say(spoken, f"kept_rule_{i}") for i in range(1, RULE + 1)],
    )
