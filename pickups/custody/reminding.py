"""Casings that wait for their owners: what was done so that they are fetched, and what comes next.

The steps are called, a written notice, a day until which the casing is held, and then a person's
decision with grounds. None of them, and no silence, makes a casing the dealer's or scrap: a fact of
this kind says nothing of holder, progress or owner. After how many days a step is proposed is data
(common practice, no published source); what state law asks of unclaimed goods is for the dealer to
check. Pure; `nextStep` of frontend/src/domain/reminding.ts is its twin.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from typing import Any

from pickups.custody.fold import Fact, Kind


class Step(StrEnum):
    """What was done."""

    CALLED = "called"
    WRITTEN = "written"
    HOLD = "hold"
    DECIDED = "decided"


class Decision(StrEnum):
    """What a supervisor may decide, with grounds. Scrap is none of them."""

    KEEP = "keep"
    DELIVER = "deliver"
    BUY = "buy"
    OTHER = "other"


class Next(StrEnum):
    """What is proposed next. WAIT: nothing, until a day. DECIDED: to do what was decided."""

    WAIT = "wait"
    CALL = "call"
    WRITE = "write"
    DECIDE = "decide"
    DECIDED = "decided"


@dataclass(frozen=True, slots=True)
class Days:
    """After how many days a step is proposed, and how long a notice says that a casing is held."""

    call: int
    write: int
    hold: int


@dataclass(frozen=True, slots=True)
class Told:
    """One step: on which day, until when it holds the casing, what was decided."""

    step: Step
    on: date
    until: date | None = None
    decision: str = ""


def next_step(
    told: Sequence[Told], *, since: date, today: date, days: Days
) -> tuple[Next, date | None]:
    """What is proposed today, and for WAIT until when; told in the order of the facts.

    A day until which the casing is held comes before all: the last that was named counts. Nobody is
    written to who was not called, nothing is decided of what nobody was written about. What a clock
    that is ahead has told counts as of today.
    """
    held = next((t.until for t in reversed(told) if t.until is not None), None)
    if held is not None and held >= today:
        return Next.WAIT, held
    if told and told[-1].step is Step.DECIDED and told[-1].decision != Decision.KEEP:
        return Next.DECIDED, None
    calls = [t.on for t in told if t.step is Step.CALLED]
    if not calls:
        due = min(since, today) + timedelta(days=days.call)
        return (Next.CALL, None) if due <= today else (Next.WAIT, due)
    if not any(t.step is Step.WRITTEN for t in told):
        due = min(calls[-1], today) + timedelta(days=days.write)
        return (Next.WRITE, None) if due <= today else (Next.WAIT, due)
    return Next.DECIDE, None


def day_of(text: object) -> date | None:
    """A day as a fact keeps it; None where it says none, or one that no calendar has."""
    try:
        return date.fromisoformat(str(text)) if text else None
    except ValueError:
        return None


_SAID = ("step", "at", "by", "until", "decision")


def reminders(facts: Iterable[Fact]) -> list[dict[str, Any]]:
    """The steps among a casing's sorted facts, as the projection keeps them. words: under which id
    what was said is kept, where something was."""
    return [
        {key: f.told[key] for key in _SAID if key in f.told}
        | ({"words": str(f.uid)} if f.told.get("worded") else {})
        for f in facts
        if f.kind is Kind.REMINDED
    ]


def here_since(facts: Iterable[Fact], holder: str) -> str:
    """When a casing came, on its way home, to the rack that it lies on: the instant as told, of the
    last scan to it; empty where it lies on none."""
    told = [f for f in facts if f.kind is Kind.HANDED_OUT and f.holder == holder]
    return str(told[-1].told.get("at", "")) if told and holder.startswith("site:") else ""
