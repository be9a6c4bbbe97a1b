"""What was supposed of a plant and what came of it, in words."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any
from uuid import UUID

from pickups.casings import queries as casings
from pickups.customers import queries as customers
from pickups.kernel import clock
from plant.dock import queries as dock
from plant.floor import words
from plant.floor.queries.route import name
from plant.forecast import queries
from plant.forecast.doors import State, supposing, trying
from plant.forecast.models import Supposed

LATEST = 20
"""So many of what was asked are listed."""
MOST = 200
"""So many promises that move are listed."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One question as it is listed."""

    uid: UUID
    what: str
    by: str
    state: str


@dataclass(frozen=True, slots=True)
class Moved:
    """One promise that moves."""

    label: str
    customer: str
    promised: str
    before: str
    after: str
    kept: str


@dataclass(frozen=True, slots=True)
class Answer:
    """One question and what came of it. open: it is not at its end. mark: differs as soon as
    anything of it does."""

    uid: UUID
    what: str
    by: str
    state: str
    doing: str
    open: bool
    done: bool
    step: int
    mark: str
    said: list[str] = field(default_factory=list)
    moved: list[Moved] = field(default_factory=list)
    left_out: str = ""
    arrive: list[tuple[str, str, str]] = field(default_factory=list)
    waits: list[tuple[str, str, str]] = field(default_factory=list)


def latest(plant: UUID, language: str, *, at: datetime) -> list[Asked]:
    """What was asked last, the newest first."""
    chambers = _chambers(plant)
    return [
        Asked(
            row.uid, _what(row, chambers, language), _by(row, language), _state(row, language, at)
        )
        for row in trying.latest(plant, most=LATEST)
    ]


def answer(plant: UUID, uid: UUID, language: str, *, at: datetime) -> Answer | None:
    """One question; None where this plant has none such."""
    row = trying.one(plant, uid)
    if row is None:
        return None
    state = _state(row, language, at)
    runs = row.state in (State.WAITS, State.RUNS)
    open_ = runs and not trying.stuck(row, at=at)
    doing = words.of(language)[f"sup_step_{row.step}"] if open_ and row.state == "runs" else ""
    came = row.came if row.state == State.DONE else {}
    return Answer(
        uid=uid,
        what=_what(row, _chambers(plant), language),
        by=_by(row, language),
        state=state,
        doing=doing,
        open=open_,
        done=row.state == State.DONE,
        step=row.step,
        mark=f"{row.state}-{row.step}-{open_}",
        said=_said(came, plant, language) if came else [],
        moved=_moved(came["moved"][:MOST], language) if came else [],
        left_out=words.say(language, "sup_most", most=MOST)
        if came and len(came["moved"]) > MOST
        else "",
        arrive=_arrive(came, language) if came else [],
        waits=_waits(came, plant, language) if came else [],
    )


def _chambers(plant: UUID) -> dict[str, str]:
    return {one.code: one.name for one in dock.chambers(plant)}


def _what(row: Supposed, chambers: Mapping[str, str], language: str) -> str:
    what = trying.read(row.asked)
    said = []
    if what.more and what.on:
        day = words.day_in_words(language, what.on)
        said.append(words.say(language, "sup_said_more", n=what.more, day=day))
    if what.without:
        called = chambers.get(what.without, what.without)
        said.append(words.say(language, "sup_said_without", name=called))
    if what.shift:
        begins, ends = (f"{one:%H:%M}" for one in what.shift)
        said.append(words.say(language, "sup_said_shift", begins=begins, ends=ends))
    line = ", ".join(said)
    return line[:1].upper() + line[1:]


def _by(row: Supposed, language: str) -> str:
    return words.say(language, "sup_by", name=row.by, when=_when(row.asked_at, language))


def _state(row: Supposed, language: str, at: datetime) -> str:
    state = "stuck" if trying.stuck(row, at=at) else row.state
    return words.say(
        language,
        f"sup_state_{state}",
        step=row.step + 1,
        steps=trying.STEPS,
        when=_when(row.at, language) if row.at else "",
    )


def _when(at: datetime, language: str) -> str:
    return words.day_and_time(language, clock.local(at, queries.zone()))


def _said(came: Mapping[str, Any], plant: UUID, language: str) -> list[str]:
    """The answer in a few sentences."""
    moved, open_ = came["moved"], came["open"]
    later = sum((one["after"] or "9999") > (one["before"] or "9999") for one in moved)
    if not moved:
        said = [words.say(language, "sup_answer_none", open=open_)]
    else:
        said = [words.say(language, "sup_answer", n=len(moved), open=open_)]
        counts = (("sup_later", later), ("sup_sooner", len(moved) - later))
        said += [words.say(language, key, n=n) for key, n in counts if n]
    before, after = came["at_risk"]
    if open_:
        said.append(words.say(language, "sup_risk", before=before, after=after))
    names = _stations(plant, language)
    as_it_is, would = came["busiest"]
    if would:
        waits = came["waits"][would]
        said.append(
            words.say(language, "sup_busiest", name=names.get(would, would), before=waits[0],
                      after=waits[1])
        )  # fmt: skip
    if as_it_is and as_it_is != would:
        called = names.get(as_it_is, as_it_is)
        said.append(words.say(language, "sup_busiest_as_it_is", name=called))
    return said


def _stations(plant: UUID, language: str) -> dict[str, str]:
    return {one.code: name(one, language) for one in dock.stations(plant)}


def _moved(rows: list[dict[str, Any]], language: str) -> list[Moved]:
    orders = casings.work_orders([UUID(one["uid"]) for one in rows])
    called = customers.names({w.customer for w in orders.values() if w.customer})
    found = []
    for one in rows:
        order = orders.get(UUID(one["uid"]))
        if order is None:
            continue
        before, after = ("-" if share is None else round(100 * share) for share in one["kept"])
        found.append(
            Moved(
                label=order.label,
                customer=called.get(order.customer, "") if order.customer else "",
                promised=_day(one["promised"], language),
                before=_day(one["before"], language),
                after=_day(one["after"], language),
                kept=words.say(language, "sup_kept_both", before=before, after=after),
            )
        )
    return found


def _day(told: str | None, language: str) -> str:
    if told is None:
        return words.of(language)["sup_no_day"]
    return words.day_in_words(language, date.fromisoformat(told))


def _arrive(came: Mapping[str, Any], language: str) -> list[tuple[str, str, str]]:
    def when(by: str | None) -> str:
        return _when(datetime.fromisoformat(by), language) if by else words.of(language)["fc_never"]

    return [
        (_day(one["on"], language), when(one["by"][0]), when(one["by"][1]))
        for one in came["arrive"]
    ]


def _waits(came: Mapping[str, Any], plant: UUID, language: str) -> list[tuple[str, str, str]]:
    names = _stations(plant, language)
    return [
        (names.get(code, code), f"{before:g}", f"{after:g}")
        for code, (before, after) in sorted(came["waits"].items(), key=lambda one: -one[1][1])
        if before >= supposing.WORTH or after >= supposing.WORTH
    ]
