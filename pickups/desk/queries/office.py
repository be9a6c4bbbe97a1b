"""The office's first page: what needs a person, what is still to be told, what waits."""

from collections.abc import Sequence
from dataclasses import dataclass

from pickups.customers import queries as customers
from pickups.desk import words
from pickups.desk.queries.asked import Asked, Settled, asked
from pickups.desk.queries.names import Names
from pickups.journal import queries as journal
from pickups.kernel import clock
from pickups.notices import queries as notices
from pickups.sync import queries as sync
from pickups.sync.models import Operation


@dataclass(frozen=True)
class Owed:
    """What was to be told and is not: counts of the server's own work, and mails by name."""

    waiting: str
    given_up: str
    mails: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Office:
    """The whole page."""

    questions: Sequence[Asked]
    headline: str
    owed: Owed
    held: Sequence[tuple[str, str]]
    settled: Sequence[Settled]
    settled_said: str


def office(language: str, role: str) -> Office:
    """Everything on the first page, in the reader's language and for the reader's role."""
    at = clock.now()
    held = sync.held()
    questions, settled = asked(language, role, held=held, at=at)
    count = len(questions)
    headline = words.say(language, "one" if count == 1 else "many", n=count)
    names = Names(language)
    return Office(
        questions,
        headline,
        _owed(names),
        [_held(o, names) for o in held],
        settled,
        names.say("settled_lately", n=len(settled)),
    )


def _owed(names: Names) -> Owed:
    waiting, given_up = journal.owed(), journal.given_up()
    mails = []
    for notice in notices.not_out():
        contact = customers.contact(notice.contact)
        name = contact.name if contact else names.say("erased")
        kind = names.say(f"notice_{notice.kind}")
        tried = "notice_gave_up" if notice.gave_up_at else "notice_tries"
        said = names.say(tried, n=notice.tries, error=notice.last_error)
        when = names.when(notice.made_at)
        mails.append((names.say("notice_to", kind=kind, name=name, when=when), said))
    return Owed(
        names.say("owed_n", n=waiting) if waiting else "",
        names.say("given_up_n", n=given_up) if given_up else "",
        mails,
    )


def _held(operation: Operation, names: Names) -> tuple[str, str]:
    kind = words.entry_kind(names.language, operation.kind)
    device, when = names.device(operation.device_id), names.when(operation.recorded_at)
    line = names.say("held_line", kind=kind, device=device, when=when)
    return line, names.say(f"code_{operation.code}")
