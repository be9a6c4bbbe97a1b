"""The pages of promises: those at risk with the telling of new days, and the account of those
kept."""

from collections.abc import Collection, Iterable, Sequence
from datetime import date
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from pickups.casings import queries as casings
from pickups.desk import words
from pickups.desk.api.door import language, office, page, tell
from pickups.desk.api.sheets import chosen
from pickups.desk.queries import at_risk
from pickups.desk.queries import kept as account
from pickups.desk.queries.at_risk import Row
from pickups.desk.queries.loose import today_of
from pickups.kernel import clock
from pickups.kernel.wire import shown
from pickups.promises.doors import Basis, watching
from pickups.promises.rules import FURTHEST

RULE = 5
"""How many paragraphs say what counts."""


@office("GET")
def promises(request: HttpRequest) -> HttpResponse:
    """What will not be back on its day, the nearest first."""
    return _page(request)


@office("POST", decides=True)
def tell_new_days(request: HttpRequest) -> HttpResponse:
    """Tell the owners of what was ticked the new day beside each, or the one that was typed."""
    store, _ = chosen(request)
    typed, ticked = request.POST.get("on", "").strip(), request.POST.getlist("seen")
    on = _day(typed)
    if typed and on is None:
        said = _say(request, "risk_bad_day", value=shown(typed, 20), most=FURTHEST.days)
        return _page(request, typed=typed, ticked=ticked, on_fault=said)
    rows = at_risk.listed(language(request), store.uid, at=clock.now()).rows if store else []
    standing = {tuple(one.seen.split(" ")[:2]): one for one in rows}
    looked_at = [(seen, standing.get(tuple(seen.split(" ")[:2]))) for seen in ticked]
    new: dict[UUID, watching.NewDay] = {}
    moved: list[str] = []
    faults: list[str] = [] if ticked else [_say(request, "risk_nothing_ticked")]
    for seen, row in looked_at:
        if row is None:  # back, told anew, or never there
            moved.append(seen)
            continue
        uid, promise = (UUID(text) for text in row.seen.split(" ")[:2])
        if on is not None:
            new[uid] = watching.NewDay(promise, on, Basis.BY_HAND)
        elif row.due is None:
            faults.append(_say(request, "risk_none_known", label=row.grouped))
        elif seen != row.seen:
            faults.append(_say(request, "risk_moved", label=row.grouped, day=row.new))
        else:
            new[uid] = row.due
    if faults:
        return _page(request, typed=typed, ticked=ticked, faults=faults)
    by: UUID = request.user.uid  # type: ignore[union-attr]
    told = watching.revise(new_days=new, by=by, at=clock.now())
    _say_told(request, [row for _, row in looked_at if row], told, moved=moved)
    query = f"?store={store.uid}" if store else ""
    return redirect(reverse("promises") + query)


def _say_told(
    request: HttpRequest, rows: Sequence[Row], told: Collection[UUID], *, moved: Iterable[str]
) -> None:
    """What came of the ticks: who is written to, whom to call, and what nothing was told of."""
    if not told:
        tell(request, "risk_gone", wrong=True)
        return
    here = [row for row in rows if _uid(row.seen) in told]
    calls: dict[tuple[str, str], list[str]] = {}
    for row in here:
        if not row.address:
            calls.setdefault(row.call, []).append(row.grouped)
    written = len(here) - sum(map(len, calls.values()))
    tell(request, "risk_told", n=len(told), written=written)
    for (name, phone), labels in calls.items():
        whom = f"{name}, {phone}" if phone else _say(request, "risk_call_nobody")
        tell(request, "risk_call_them", wrong=True, labels="; ".join(labels), whom=whom)
    left = [row.grouped for row in rows if _uid(row.seen) not in told]
    orders = casings.work_orders(uid for seen in moved if (uid := _uid(seen)))
    left += [words.grouped(w.label) for w in orders.values()]
    if left:
        tell(request, "risk_left", wrong=True, labels="; ".join(left))


def _uid(seen: str) -> UUID | None:
    """The work order that a tick names; None where it names none."""
    try:
        return UUID(seen.split(" ", maxsplit=1)[0])
    except ValueError:
        return None


def _day(typed: str) -> date | None:
    """A day that may be promised; None for what is none."""
    try:
        day = date.fromisoformat(typed)
    except ValueError:
        return None
    today = today_of(clock.now())
    return day if today <= day <= today + FURTHEST else None


def _say(request: HttpRequest, key: str, **values: object) -> str:
    return words.say(language(request), key, **values)


def _page(
    request: HttpRequest,
    *,
    typed: str = "",
    ticked: Iterable[str] = (),
    faults: Iterable[str] = (),
    on_fault: str = "",
) -> HttpResponse:
    store, stores = chosen(request)
    at, spoken = clock.now(), language(request)
    today, wrong = today_of(at), {"seen": list(faults), "on": on_fault}
    telling = "risk_by_itself" if settings.PROMISE_TELL_NEW_DAYS else "risk_by_hand"
    rows = at_risk.listed(spoken, store.uid, at=at) if store else None
    held = {seen.split(" ")[0] for seen in ticked}
    return page(
        request,
        "at_risk.html",
        status=400 if any(wrong.values()) else 200,
        here="promises",
        store=store,
        stores=stores,
        title=words.say(spoken, "risk_title", store=store.name) if store else "",
        list=rows,
        say=words.say(spoken, "risk_say", bound=settings.PROMISE_AT_RISK_PERCENT),
        telling=words.say(
            spoken,
            telling,
            **(
                {"begins": settings.TELLING_BEGINS_HOUR, "ends": settings.TELLING_ENDS_HOUR}
                if settings.PROMISE_TELL_NEW_DAYS
                else {}
            ),
        ),
        ticked=[one.label for one in rows.rows if one.seen.split(" ")[0] in held] if rows else [],
        typed=typed,
        faults=wrong,
        today=today.isoformat(),
        last=(today + FURTHEST).isoformat(),
        hint=words.say(spoken, "risk_on_hint", most=FURTHEST.days),
    )


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
