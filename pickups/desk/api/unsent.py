"""The page where the office brings in what a phone saved to a file: looked at first, then taken."""

from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import unsent as queries
from pickups.kernel import uploads
from pickups.sync import unsent


@office("GET", "POST", decides=True)
def bring(request: HttpRequest) -> HttpResponse:
    """Choose a file; it is kept sealed, and what is in it is shown on a page of its own."""
    if request.method == "GET":
        return page(request, "unsent.html", here="devices")
    file = request.FILES.get("file")
    wrong = ""
    if uploads.too_big(request):
        wrong = "unsent_too_big"
    elif file is None:
        wrong = "unsent_no_file"
    else:
        data = file.read()
        try:
            unsent.opened(data)
        except unsent.Unusable as why:
            wrong = f"unsent_{why.why}"
        else:
            return redirect("unsent-file", sealed=unsent.put_by(data))
    name = file.name if file is not None else ""
    said = queries.fault(wrong, name or "", language(request))
    return page(request, "unsent.html", status=400, here="devices", wrong=said)


@office("GET", "POST", decides=True)
def one(request: HttpRequest, sealed: str) -> HttpResponse:
    """What a file holds and, agreed to, what came of it; taking it again enters nothing twice."""
    data = unsent.kept(sealed)
    if data is None:
        return not_here(request)
    try:
        inside = unsent.opened(data)
    except unsent.Unusable:  # of another key than when it was put by
        return not_here(request)
    if request.method == "GET":
        return _looked_at(request, inside)
    although = request.POST.get("although") == "yes"
    try:
        by = request.user.uid  # type: ignore[union-attr]
        taken = unsent.take(inside, by=by, although_revoked=although)
    except unsent.Unusable:
        return _looked_at(request, inside, "unsent_say_although", 400)
    except OperationalError:
        return _looked_at(request, inside, "unsent_busy", 503)
    tell(request, "unsent_came", **queries.came(taken, language(request)))
    return redirect("devices")


def _looked_at(
    request: HttpRequest, inside: unsent.Inside, wrong: str = "", status: int = 200
) -> HttpResponse:
    shown = queries.looked_at(unsent.look(inside), language(request))
    return page(request, "unsent_look.html", status=status, here="devices", wrong=wrong, **shown)
