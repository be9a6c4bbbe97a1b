"""The pages on which lists come in and go out."""

import tempfile
from collections.abc import Iterable
from uuid import UUID

from django.http import FileResponse, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect

from pickups.desk import words
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.queries import lists as queries
from pickups.desk.queries import work as work_queries
from pickups.exchange import services
from pickups.exchange import words as exchange_words
from pickups.exchange.queries import files
from pickups.exchange.queries.taken import taken as find
from pickups.exchange.rules import csv_text
from pickups.exchange.rules.cells import guarded
from pickups.exchange.rules.lists import BY_NAME
from pickups.exchange.rules.reading import Unreadable
from pickups.kernel import clock, uploads

BOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
TEXT = "text/csv; charset=utf-8"


@office("GET")
def lists(request: HttpRequest) -> HttpResponse:
    """Bring a list in, take one out, start from a template."""
    return _first(request)


@office("POST", decides=True)
def read(request: HttpRequest) -> HttpResponse:
    """Read a file and show what it would do; nothing is written."""
    wanted = request.POST.get("wanted", "")
    file = request.FILES.get("file")
    try:
        if uploads.too_big(request):
            raise services.too_big()
        if file is None or not file.name:
            raise Unreadable("no_file")
        taken = services.take_in(
            raw=file.read(),
            name=file.name,
            wanted=wanted if wanted in BY_NAME else "",
            by=request.user.uid,  # type: ignore[union-attr]
            at=clock.now(),
        )
    except Unreadable as why:
        said = exchange_words.unreadable(language(request), why)
        name = file.name if file else ""
        return _first(request, wanted=wanted, wrong=f"{name}: {said}" if name else said)
    return redirect("list", uid=taken.uid)


@office("GET", decides=True)
def one(request: HttpRequest, uid: UUID) -> HttpResponse:
    """What a file would do, how far it is written, what came of it."""
    taken = find(uid)
    if taken is None:
        return not_here(request)
    shown = queries.of_import(taken, language(request))
    return page(request, "list.html", here="lists", **shown, **queries.first(language(request)))


@office("POST", decides=True)
def agree(request: HttpRequest, uid: UUID) -> HttpResponse:
    """Write what was shown, and nothing else."""
    came = services.agree(uid=uid, mark=request.POST.get("mark", ""), at=clock.now())
    good = came in ("agreed", "agreed_before")
    tell(request, f"list_came_{came}", wrong=not good)
    return redirect("lists") if came == "gone" else redirect("list", uid=uid)


@office("GET", decides=True)
def faults(request: HttpRequest, uid: UUID) -> HttpResponseBase:
    """Every fault of a file, as a file."""
    taken = find(uid)
    if taken is None or taken.agreed_at is not None:
        return not_here(request)
    w = words.of(language(request))
    plan, _ = services.look(taken)
    rows = ([guarded(c) for c in row] for row in queries.faults(plan, taken, language(request)))
    heads = [w["list_where"], w["list_value"], w["list_why"]]
    return _text("faults.csv", csv_text.write(heads, rows))


@office("GET")
def standing(request: HttpRequest, name: str, form: str) -> HttpResponseBase:
    """A list as it stands, in the form that comes in."""
    return _listed(request, "standing", name, form)


@office("GET")
def template(request: HttpRequest, name: str, form: str) -> HttpResponseBase:
    """A template to start from."""
    return _listed(request, "template", name, form)


def _listed(request: HttpRequest, what: files.What, name: str, form: str) -> HttpResponseBase:
    listings, spoken = files.BY_TITLE.get(name, ()), language(request)
    if form == "csv" and len(listings) == 1:
        return _text(f"{name}.csv", files.as_csv(files.table(what, listings[0], spoken)))
    if form == "xlsx" and listings:
        to = tempfile.TemporaryFile()  # noqa: SIM115 - the answer closes it
        files.write_book(to, what, listings, spoken)
        to.seek(0)
        return FileResponse(to, as_attachment=True, filename=f"{name}.xlsx", content_type=BOOK)
    return not_here(request)


@office("GET")
def work(request: HttpRequest, name: str, form: str) -> HttpResponseBase:
    """Casings and work orders, or the scrap that was counted, as chosen."""
    asked = work_queries.asked(request.GET, language(request))
    if asked.faults:
        return _first(request, work=asked)
    tables = asked.tables()
    if form == "csv" and name in tables:
        return _text(f"{name}.csv", files.as_csv(tables[name]()))
    if form == "xlsx" and name == "work":
        to = tempfile.TemporaryFile()  # noqa: SIM115 - the answer closes it
        files.write_tables(to, [make() for make in tables.values()])
        to.seek(0)
        return FileResponse(to, as_attachment=True, filename="work.xlsx", content_type=BOOK)
    return not_here(request)


def _text(name: str, lines: Iterable[str]) -> StreamingHttpResponse:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return StreamingHttpResponse(lines, content_type=TEXT, headers=headers)


def _first(
    request: HttpRequest,
    *,
    wanted: str = "",
    wrong: str = "",
    work: work_queries.Asked | None = None,
) -> HttpResponse:
    spoken = language(request)
    return page(
        request,
        "lists.html",
        status=400 if wrong or work else 200,
        here="lists",
        wanted=wanted,
        wrong=wrong,
        work=work or work_queries.asked({}, spoken),
        **queries.first(spoken),
    )
