"""Disputes about signed pickups as the office works on them: whose turn, by when, what was said."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from pickups.casings import queries as casings
from pickups.custody import disputes
from pickups.custody import queries as custody
from pickups.custody.disputes import Case, CaseStep, Outcome, Step
from pickups.custody.fold import Kind
from pickups.desk import rules, words
from pickups.desk.queries.loose import today_of
from pickups.desk.queries.names import Names
from pickups.desk.queries.visits import Visit
from pickups.desk.queries.visits import visit as read_visit
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.people import queries as people

_CORRECTS = frozenset({Kind.PICKED_UP, Kind.WITHDRAWN, Kind.RELABELLED, Kind.SCRAP, Kind.LEFT})


@dataclass(frozen=True)
class Row:
    """A case in the list: where, since when, what the customer counts, whose it is, by when; for
    one that is over how it ended."""

    uid: UUID
    place: str
    age: str
    theirs: str
    who: str
    due: str
    late: bool
    outcome: str


@dataclass(frozen=True)
class Told:
    """A step: what happened, by whom and when, and what was said with it."""

    what: str
    said: str


@dataclass(frozen=True)
class Opened:
    """A case with the visit that it is about; corrections: how many facts have changed the visit's
    list since the case was opened."""

    row: Row
    visit: Visit
    steps: Sequence[Told]
    settled: bool
    assigned: str
    due_on: str
    people: Sequence[tuple[str, str]]
    corrections: int


def listed(language: str) -> tuple[list[Row], list[Row]]:
    """Open cases, the one due first before the others, so that overdue ones stand first; and those
    that were settled last."""
    open_ones, over = disputes.open_ones(), disputes.settled_lately(rules.SETTLED_SHOWN)
    names = _names([*open_ones, *over], language)
    return [_row(c, names) for c in open_ones], [_row(c, names) for c in over]


def case(uid: UUID, language: str) -> Opened | None:
    """One case with all that speaks for or against it."""
    known = disputes.dispute(uid)
    visit = read_visit(known.visit, language) if known else None
    if known is None or visit is None:
        return None
    steps = disputes.steps(uid)
    told_by = {s.by for s in steps if s.by} | {
        UUID(s.told["to"]) for s in steps if s.told.get("to")
    }
    names = _names([known], language, told_by)
    said = people.words(s.words for s in steps if s.words)
    staff = people.working(rules.DECIDES)
    return Opened(
        row=_row(known, names),
        visit=visit,
        steps=[_told(s, names, said) for s in steps],
        settled=known.settled_at is not None,
        assigned=str(known.assigned or ""),
        due_on=known.due_on.isoformat(),
        people=[(str(user.uid), str(user)) for user in staff],
        corrections=len(corrections(known)),
    )


def corrections(known: Case) -> list[UUID]:
    """Facts recorded since a case was opened that changed what was taken, counted or left in its
    visit."""
    orders = [w.uid for w in casings.of_pickup(known.visit)]
    since = custody.changed_since(known.visit, orders, known.opened_at)
    return sorted(f.uid for f in since if f.kind in _CORRECTS)


def of_visit(visit: UUID, language: str) -> list[Row]:
    """The cases about a pickup, the latest first."""
    known = disputes.of_visit(visit)
    names = _names(known, language)
    return [_row(c, names) for c in known]


class _Placed(Names):
    """Names that know of each visit where it was."""

    def __init__(self, language: str, persons: set[UUID], visits: dict[UUID, UUID]) -> None:
        super().__init__(language, persons=persons, yards=set(visits.values()))
        self.visits = visits


def _names(cases: Sequence[Case], language: str, persons: Iterable[UUID] = ()) -> _Placed:
    visits = {p.uid: p.yard for p in custody.pickups({c.visit for c in cases}).values()}
    who = {*persons, *(c.assigned for c in cases if c.assigned)}
    return _Placed(language, who, visits)


def _row(known: Case, names: _Placed) -> Row:
    at = clock.now()
    late = known.settled_at is None and known.due_on < today_of(at)
    due = day_in_words(names.language, known.due_on)
    yard = names.visits.get(known.visit)
    return Row(
        uid=known.uid,
        place=names.place(yard) if yard else "",
        age=words.span(names.language, (at - known.opened_at).total_seconds()),
        theirs=names.say("not_told") if known.theirs is None else str(known.theirs),
        who=names.person(known.assigned) if known.assigned else names.say("case_nobody"),
        due=names.say("case_late", on=due) if late else due,
        late=late,
        outcome=names.say(f"case_{known.outcome}") if known.outcome else "",
    )


def _told(s: CaseStep, names: Names, words_said: Mapping[UUID, str]) -> Told:
    who = names.person(s.by) if s.by else names.say("case_customer")
    values = {"who": who, "when": names.when(s.at)}
    if s.kind == Step.ASSIGNED:
        to = UUID(s.told["to"]) if s.told["to"] else None
        on = day_in_words(names.language, date.fromisoformat(s.told["due_on"]))
        values |= {"to": names.person(to) if to else names.say("case_nobody"), "on": on}
    elif s.kind == Step.SETTLED:
        values["how"] = names.say(f"case_{Outcome(s.told['outcome'])}")
    said = [names.quoted(s.words, words_said)] if s.words else []
    if s.told.get("theirs") is not None:
        said.append(names.say("case_counts", n=s.told["theirs"]))
    return Told(names.say(f"step_{s.kind}", **values), " ".join(said))
