"""A stop-use notice on its owner's own page: read, and confirmed by a button."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.notices.doors import stopping
from pickups.portal.api import pages
from pickups.portal.queries import stop_use as read
from pickups.portal.services import Guest


@pages.customer("GET", "HEAD", "POST")
def stop_use(request: HttpRequest, guest: Guest, uid: UUID) -> HttpResponse:
    """GET: what to do with which tires, and a button. POST: this contact has read it."""
    contact = guest.contact
    if request.method == "POST":
        stopping.confirm(stop=uid, customer=contact.customer_id, contact=contact.uid)
    found = read.one(contact, uid, guest.language)
    if found is None:
        return pages.not_here(request, guest)
    if request.method == "POST":
        return redirect("casings-stop-use", uid=uid)
    return pages.page(request, guest, "stop_use.html", stop=found)
