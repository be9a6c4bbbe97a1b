"""The page of one load sheet, and how a step on it is made: one that cannot be is said at the head
of the page, with the sheet as it stands now and what was typed or ticked still there.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, Protocol
from uuid import UUID

import msgspec
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from pickups.casings import queries as casings
from pickups.desk import words
from pickups.desk.api import undo as steps
from pickups.desk.api.door import language, not_here, office, page, tell
from pickups.desk.api.sheets import FIELDS, to_sheet
from pickups.desk.api.undo import Step
from pickups.desk.queries import sheet as queries
from pickups.desk.queries import sheets as lists
from pickups.desk.queries.loose import loose
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.runs import queries as runs_read
from pickups.runs.models import Run
from pickups.runs.rules import Refusal, Refused

GONE_ON = {Refusal.STALE, Refusal.STATE, Refusal.CASINGS, Refusal.NOT_HERE}
"""What was right when it was typed and is not any more: a conflict, not a wrong form."""


class Wrong(Exception):
    """A form that cannot be read: the key of the words that say what is allowed, and its fields."""

    def __init__(self, key: str, fields: Iterable[str] = ()) -> None:
        super().__init__(key)
        self.key, self.fields = key, list(fields)


FIELDS_OF = {
    Refusal.WINDOW: ["begins", "to"],
    Refusal.FETCH: ["fetch"],
    Refusal.NO_DRIVER: ["driver"],
    Refusal.PLACE: ["place", "start"],
    Refusal.DAY_OVER: ["on"],
}
"""Where on the page a refusal is put right."""


class Act(Protocol):
    """One step: does it, and returns what its inverse needs and the values of its words."""

    def __call__(self, run: Run, seen: int) -> tuple[Any, dict[str, str]]: ...


def sheet_of(request: HttpRequest, uid: UUID) -> Run | None:
    """A sheet of a store that the reader sees."""
    run = runs_read.sheet(uid)
    seen = {s.uid for s in lists.stores_of(request.user)}  # type: ignore[arg-type]  # the door lets users through only
    return run if run is not None and run.site_id in seen else None


@office("GET")
def sheet(request: HttpRequest, uid: UUID) -> HttpResponse:
    """The sheet, with the loose work beside it."""
    run = sheet_of(request, uid)
    return not_here(request) if run is None else show(request, run)


def show(
    request: HttpRequest,
    run: Run,
    *,
    wrong: str = "",
    at: str = "",
    fields: Sequence[str] = (),
    lines: Sequence[str] = (),
    status: int = 200,
) -> HttpResponse:
    """at: the part of the page in which something is wrong; its form keeps what was typed, and
    the fields that are wrong say so."""
    spoken, now, typed = language(request), clock.now(), request.POST
    shown = queries.shown(spoken, run, at=now)
    head = lists.typed_of(shown.head)
    if at == "head":
        head = {name: typed.get(name, "") for name in FIELDS}
    if at.startswith("stop-"):
        told: dict[str, Any] = {n: typed.get(n, "") for n in ("begins", "to", "fetch", "note")}
        told |= {"open": True, "bad": fields}
        stops = [replace(s, **told) if str(s.uid) == at[5:] else s for s in shown.stops]
        shown = replace(shown, stops=stops)
    waits = loose(spoken, run.site_id, at=now)
    last = steps.last(request, run.uid, run.version)
    return page(
        request,
        "sheet.html",
        status=status,
        here="sheets",
        sheet=shown,
        loose=waits,
        to_loose=words.say(spoken, "sheet_to_loose", n=waits.count),
        to_stops=words.say(spoken, "sheet_to_stops", n=len(shown.stops)),
        offered=lists.offered(spoken, run.site_id, also=run.driver),
        places=queries.places(run.site_id),
        head=head,
        ticked=typed.getlist("work_order") if at == "loose" else [],
        chosen=typed.get("stop" if at == "loose" else "place", ""),
        undo=_said(spoken, "sheet_undo", last) if last else "",
        wrong=wrong,
        wrong_at=at,
        wrong_lines=lines,
        bad=fields if at in ("", "head") else [],
    )


def _said(spoken: str, key: str, made: Step) -> str:
    said = words.say(spoken, f"sheet_step_{made.verb}", **made.values)
    return words.say(spoken, key, step=said)


def seen_in(text: str) -> int:
    """The version that a page showed; what is none is behind every sheet."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 18 else -1


def step(request: HttpRequest, uid: UUID, verb: str, act: Act, at: str) -> HttpResponse:
    """Do one step and show the sheet again, at the part of the page that it was made on."""
    run = sheet_of(request, uid)
    if run is None:
        return not_here(request)
    seen = seen_in(request.POST.get("seen", ""))
    try:
        inverse, values = act(run, seen)
    except Refused as refused:
        return refusal(request, uid, refused, at, verb)
    except Wrong as wrong:
        said = words.say(language(request), wrong.key)
        return show(request, run, wrong=said, at=at, fields=wrong.fields, status=400)
    except OperationalError:
        return busy(request, run, at)
    kept = msgspec.to_builtins(inverse, str_keys=True)
    if verb in steps.INVERSES:
        steps.remember(request, uid, Step(verb, kept, values, seen, seen + 1))
    else:
        steps.forget(request, uid)
    about: dict[str, Any] = {"store": run.site.name, "driver": str(run.driver or ""), **values}
    tell(request, f"sheet_did_{verb}", **about)
    return to_sheet(uid, at)


def busy(request: HttpRequest, run: Run, at: str = "") -> HttpResponse:
    """Somebody else holds the sheet just then; nothing was written."""
    said = words.say(language(request), "sheet_wrong_busy")
    return show(request, run, wrong=said, at=at, status=503)


def refusal(request: HttpRequest, uid: UUID, refused: Refused, at: str, verb: str) -> HttpResponse:
    """The sheet as it stands now, with what was refused, why, and what is allowed."""
    spoken, run = language(request), sheet_of(request, uid)
    if run is None:  # thrown away meanwhile
        tell(request, "sheet_wrong_not_here", wrong=True)
        return redirect("sheets")
    facts = dict(refused.facts)
    if "on" in facts:
        facts["on"] = facts["day"] = day_in_words(spoken, date.fromisoformat(facts["on"]))
    if "state" in facts:
        facts["state"] = words.say(spoken, f"sheet_short_{facts['state']}")
    key = f"sheet_wrong_{refused.code}"
    if refused.code is Refusal.CASINGS and verb in ("hand", "undo"):
        key = f"sheet_wrong_{verb}"
    status = 409 if refused.code in GONE_ON else 400
    lines, fields = _why(spoken, refused), FIELDS_OF.get(refused.code, [])
    said = words.say(spoken, key, **facts)
    return show(request, run, wrong=said, at=at, fields=fields, lines=lines, status=status)


def _why(spoken: str, refused: Refused) -> list[str]:
    """Each casing that cannot go, and why."""
    known = casings.work_orders(uid for uid, _ in refused.casings)
    said = []
    for uid, why in refused.casings:
        label = words.grouped(known[uid].label) if uid in known else str(uid)
        told = words.say(spoken, f"sheet_why_{why}")
        said.append(words.say(spoken, "sheet_casing_why", label=label, why=told))
    return said
