"""For when a casing was promised, and on what grounds: terms and sentences for the office."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from pickups.desk.queries.names import Names
from pickups.kernel.languages import day_in_words, of_how_many
from pickups.promises.doors import Basis
from pickups.promises.models import Promise

Lines = list[tuple[str, str]]


def promised(told: Mapping[str, Any], kept: Promise | None, names: Names) -> Lines:
    """The day that was told with a casing, or that is kept; with a forecast's day, how sure it is
    and why it was that one; and where our own differed, what it was."""
    on = kept.on if kept else told and date.fromisoformat(told["on"])
    if not on:
        return []
    basis = kept.basis if kept else told["basis"]
    sure = kept.confidence if kept else told.get("confidence")
    lines = [(names.say("promised"), _day(on, basis, sure, names))]
    if kept is None:
        return lines
    if kept.basis == Basis.FORECAST and kept.forecast_at:
        lines.append((names.say("promise_why"), _why(kept, names)))
    if kept.expected and kept.expected != kept.on and kept.expected_by:
        ours = day_in_words(names.language, kept.expected)
        said = names.say(f"promise_ours_{kept.expected_by}", day=ours)
        lines.append((names.say("promise_ours"), said))
    return lines


def before(told: Sequence[Promise], stands: Promise | None, names: Names) -> Lines:
    """What was promised for it before, where its owner was told a new day: each word with who told
    it and when, and who told the one that stands."""
    if stands is None or stands.revises is None:
        return []
    lines = [(names.say("promise_told"), _told(stands, names))]
    last, earlier = stands.on, [p for p in told if (p.stamp, p.uid) < (stands.stamp, stands.uid)]
    for one in reversed(earlier):
        if one.on != last:
            day = _day(one.on, one.basis, one.confidence, names)
            said = names.say("promise_told_so", day=day, told=_told(one, names))
            lines.append((names.say("promise_before"), said))
        last = one.on
    return lines


def _told(one: Promise, names: Names) -> str:
    when = names.when(one.told_at)
    if one.by is None:
        return names.say("promise_told_itself", when=when)
    return names.say("promise_told_by", when=when, who=names.person(one.by))


def _day(on: date, basis: str, sure: int | None, names: Names) -> str:
    day = day_in_words(names.language, on)
    if basis == Basis.FORECAST and not sure:
        return names.say("promise_forecast_open", day=day)
    return names.say(f"promise_{basis}", day=day, **of_how_many(sure or 0))


def _why(kept: Promise, names: Names) -> str:
    key = "name_es" if names.language == "es" else "name"
    ahead = "; ".join(
        names.say("promise_ahead", count=one["count"], name=one[key]) for one in kept.ahead
    )
    assert kept.forecast_at is not None
    return names.say("promise_grounds", when=names.when(kept.forecast_at), ahead=ahead).strip()
