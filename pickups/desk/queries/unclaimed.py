"""Casings that wait to be fetched at a store's counter: since when, what was done, what is next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.custody import reminding
from pickups.custody.reminding import Days, Next, Step, Told
from pickups.desk import words
from pickups.desk.queries.names import Names
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.people import queries as people
from pickups.people.models import Site


@dataclass(frozen=True)
class Waiting:
    """One of them. told: what was done, in sentences; said: the last words of each; decided: what a
    supervisor has decided and is still to be done, or empty."""

    work_order: UUID
    label: str
    grouped: str
    size: str
    rejected: bool
    owner: str
    since: str
    age: str
    told: Sequence[tuple[str, str]]
    next: str
    due: bool
    decided: str


def days() -> Days:
    """After how many days a step is proposed here."""
    return Days(
        call=settings.UNCLAIMED_CALL_DAYS,
        write=settings.UNCLAIMED_WRITE_DAYS,
        hold=settings.UNCLAIMED_HOLD_DAYS,
    )


def waiting(language: str, store: Site, *, at: datetime) -> list[Waiting]:
    """What waits on a store's rack to be fetched at its counter, the longest there first."""
    orders = [w for w in casings.held_by(f"site:{store.uid}") if casings.is_fetched(w)]
    orders.sort(key=lambda w: (_since(w), w.label))
    tellers = {UUID(told["by"]) for w in orders for told in _reminders(w) if told.get("by")}
    names = Names(language, persons=tellers, yards={w.yard for w in orders})
    said = people.words(UUID(t["words"]) for w in orders for t in _reminders(w) if "words" in t)
    return [_waiting(w, names, said, at) for w in orders]


def _reminders(w: WorkOrder) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = w.told.get("reminders", [])
    return found


def _since(w: WorkOrder) -> datetime:
    told = w.told.get("here_since")
    return datetime.fromisoformat(told) if told else w.picked_up_at


def _day(at: str | datetime) -> date:
    instant = datetime.fromisoformat(at) if isinstance(at, str) else at
    return clock.local(instant, ZoneInfo(settings.DEALER_TIME_ZONE)).date()


def _waiting(w: WorkOrder, names: Names, words_said: Mapping[UUID, str], at: datetime) -> Waiting:
    told, since = _reminders(w), _since(w)
    steps = [
        Told(
            Step(one["step"]),
            _day(one["at"]),
            reminding.day_of(one.get("until")),
            one.get("decision", ""),
        )
        for one in told
    ]
    coming, until = reminding.next_step(steps, since=_day(since), today=_day(at), days=days())
    known = bool(w.told.get("here_since"))
    when = names.when(since)
    return Waiting(
        work_order=w.uid,
        label=w.label,
        grouped=words.grouped(w.label),
        size=w.told.get("size", ""),
        rejected=bool(w.reason),
        owner=names.place(w.yard),
        since=when if known else names.say("unclaimed_unknown", when=when),
        age=words.span(names.language, max(0, (at - since).total_seconds())),
        told=[(_said(one, names), _quoted(one, names, words_said)) for one in told],
        next=names.say(f"next_{coming}", day=day_in_words(names.language, until) if until else ""),
        due=coming is not Next.WAIT,
        decided=steps[-1].decision if coming is Next.DECIDED else "",
    )


def _quoted(one: dict[str, Any], names: Names, words_said: Mapping[UUID, str]) -> str:
    return names.quoted(UUID(one["words"]), words_said) if "words" in one else ""


def _said(one: dict[str, Any], names: Names) -> str:
    decision = one.get("decision", "")
    said = names.say(
        f"unclaimed_{one['step']}",
        when=names.when(datetime.fromisoformat(one["at"])),
        who=names.person(UUID(one["by"])) if one.get("by") else names.say("nobody"),
        decision=names.say(f"decision_{decision}") if decision else "",
    )
    until = reminding.day_of(one.get("until"))
    if until is not None:
        said += names.say("unclaimed_until", day=day_in_words(names.language, until))
    return said
