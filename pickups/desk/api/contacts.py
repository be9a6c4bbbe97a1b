"""The page of the customers' contacts: show one a link to their page, or revoke what they have."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.customers import queries as customers_read
from pickups.customers import services as customers
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import contacts as queries
from pickups.kernel import clock


@office("GET")
def contacts(request: HttpRequest) -> HttpResponse:
    """Every contact, and what links they have."""
    people = queries.people(language(request))
    return page(request, "contacts.html", here="contacts", people=people)


@office("POST", decides=True)
def show_link(request: HttpRequest, uid: UUID) -> HttpResponse:
    """A new link, shown once, to hand over; loading the page again would make another."""
    contact = customers_read.contact(uid)
    if contact is None:
        return not_here(request)
    at = clock.now()
    by: UUID = request.user.uid  # type: ignore[union-attr]
    path = customers.new_link(contact=uid, at=at, by=by)
    shown = queries.shown(contact, path, language(request), at=at)
    return page(request, "link.html", here="contacts", **shown)


@office("GET", "POST", decides=True)
def revoke_links(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Asked first, then done: links and open pages end at once."""
    contact = customers_read.contact(uid)
    if contact is None:
        return not_here(request)
    if request.method == "GET":
        asked = queries.revoking(contact, language(request))
        return page(request, "end.html", here="contacts", **asked)
    customers.revoke_links(contact=uid, at=clock.now())
    tell(request, "unlinked", name=contact.name)
    return redirect("contacts")
