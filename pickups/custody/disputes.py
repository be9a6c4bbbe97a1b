"""Disputes about a pickup after its signature: who says otherwise, who settles it, by when.

A case gathers what was told in steps that are only added (the database lets nothing of one change)
and changes no fact. The words themselves stand apart, to be erased. What it leads to are facts of
their own that it names. One case is open a visit at most: what is said meanwhile belongs to it. The
caller opens no transaction.
"""

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from enum import StrEnum
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction

from pickups.custody.models import Dispute, DisputeStep, Pickup
from pickups.journal import services as journal
from pickups.kernel import clock, ids
from pickups.people import queries as people_read
from pickups.people import services as people
from pickups.people.rules import Words
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.questions.services import Ask

SAID_MOST = 500
MOST_STEPS_OF_CUSTOMER = 20
"""What a customer may add to one case: enough to explain, too little to fill a disk."""


Case = Dispute
CaseStep = DisputeStep
"""The rows of a case, by the names that readers of other apps use."""


class Step(StrEnum):
    """What happened in a case."""

    OPENED = "opened"
    SAID = "said"
    ASSIGNED = "assigned"
    SETTLED = "settled"


class Outcome(StrEnum):
    """How a case is settled: the count stands; it was corrected, by the facts that the step names;
    or something was given though the count stands."""

    STANDS = "stands"
    CORRECTED = "corrected"
    GOODWILL = "goodwill"


def due_day(at: datetime) -> date:
    """The day by which a case that is opened now is to be settled: DISPUTE_DAYS working days
    (Monday to Friday) after today. Three is common practice; there is no published source."""
    day = clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)).date()
    left = settings.DISPUTE_DAYS
    while left > 0:
        day += timedelta(days=1)
        left -= day.weekday() < 5
    return day


def tell(
    *, visit: UUID, said: str, theirs: int | None, by: UUID | None, at: datetime | None = None
) -> Dispute | None:
    """Somebody says that a pickup was not as its receipt has it: a case is opened, or what they say
    belongs to the open one. by: none for the customer. theirs: what they count, if they say. at:
    when, here and below; now, if it is not given.

    None where there is no such pickup, or the customer has said enough.
    """
    with transaction.atomic():
        # The visit's row is the lock: of two who open a case at once, one adds to the other's.
        pickup = Pickup.objects.select_for_update(no_key=True).filter(uid=visit).first()
        if pickup is None:
            return None
        cases = Dispute.objects.select_for_update(no_key=True)
        known = cases.filter(visit=visit, settled_at=None).first()
        at = at or clock.now()
        if known is not None and by is None and _said_enough(known):
            return None
        told: dict[str, Any] = {} if theirs is None else {"theirs": theirs}
        if known is None:
            row = Dispute(
                uid=ids.uuid7(),
                visit=visit,
                customer=pickup.customer,
                site=pickup.site,
                opened_at=at,
                opened_by=by,
                theirs=theirs,
                due_on=due_day(at),
            )
            row.save(force_insert=True)
            _step(row, Step.OPENED, by, at, said, told)
            note = journal.Note("dispute.opened", f"dispute:{row.uid}", {})
            journal.record([note], at=at)
        else:
            row = known
            if theirs is not None:
                row.theirs = theirs
                row.save(update_fields=["theirs"])
            _step(row, Step.SAID, by, at, said, told)
        facts = {"dispute": str(row.uid), "theirs": row.theirs}
        questions.ask([Ask(Question.DISPUTED, f"pickup:{visit}", facts)], at=at)
    return row


def note(*, dispute: UUID, said: str, by: UUID, at: datetime | None = None) -> bool:
    """What somebody of ours found out; False where the case is settled."""
    with transaction.atomic():
        if (row := _open(dispute)) is None:
            return False
        _step(row, Step.SAID, by, at or clock.now(), said, {})
    return True


def assign(
    *, dispute: UUID, to: UUID | None, due_on: date, by: UUID, at: datetime | None = None
) -> bool:
    """Who settles it, and by when; False where the case is settled."""
    with transaction.atomic():
        if (row := _open(dispute)) is None:
            return False
        if (row.assigned, row.due_on) != (to, due_on):
            row.assigned, row.due_on = to, due_on
            row.save(update_fields=["assigned", "due_on"])
            told = {"to": str(to) if to else "", "due_on": due_on.isoformat()}
            _step(row, Step.ASSIGNED, by, at or clock.now(), "", told)
    return True


def settle(
    *,
    dispute: UUID,
    outcome: Outcome,
    said: str,
    facts: Iterable[UUID],
    by: UUID,
    at: datetime | None = None,
) -> bool:
    """The case is over; the customer is told what `said` says. facts: what corrected the count.
    False where it was settled before."""
    with transaction.atomic():
        if (row := _open(dispute)) is None:
            return False
        at = at or clock.now()  # nothing that was said while this waited for the row is later
        row.settled_at, row.outcome = at, outcome.value
        row.save(update_fields=["settled_at", "outcome"])
        named = [str(fact) for fact in facts]
        _step(row, Step.SETTLED, by, at, said, {"outcome": outcome.value, "facts": named})
        subject = [f"pickup:{row.visit}"]
        questions.settle(kinds=[Question.DISPUTED], subjects=subject, how="", at=at, by=by)
        journal.record([journal.Note("dispute.settled", f"dispute:{row.uid}", {})], at=at)
    return True


def moved(case: Dispute) -> bool:
    """Whether its pickup has turned out to be another customer's than who the case was opened for:
    an end of the visit that was told earlier has come since."""
    pickup = Pickup.objects.filter(uid=case.visit).first()
    return pickup is not None and pickup.customer != case.customer


def ask_whose(case: Dispute) -> None:
    """Such a case is answered by no mail: a person has to find out whom to tell."""
    facts = {"dispute": str(case.uid)}
    questions.ask([Ask(Question.DISPUTE_MOVED, f"pickup:{case.visit}", facts)], at=clock.now())


def _open(dispute: UUID) -> Dispute | None:
    rows = Dispute.objects.select_for_update(no_key=True)
    return rows.filter(uid=dispute, settled_at=None).first()


def _said_enough(row: Dispute) -> bool:
    theirs = DisputeStep.objects.filter(dispute=row, by=None)
    return theirs.count() >= MOST_STEPS_OF_CUSTOMER


def _step(
    row: Dispute, kind: Step, by: UUID | None, at: datetime, said: str, told: dict[str, Any]
) -> None:
    words = ids.uuid7() if said else None
    if words:
        people.keep_words({words: said[:SAID_MOST]}, kind=Words.DISPUTE, at=at)
    DisputeStep.objects.create(dispute=row, kind=kind.value, at=at, by=by, words=words, told=told)


def open_ones() -> list[Dispute]:
    """Open cases, the one that is due first before the others."""
    return list(Dispute.objects.filter(settled_at=None).order_by("due_on", "opened_at", "uid"))


def settled_lately(count: int) -> list[Dispute]:
    """The cases that were settled last, the latest first."""
    rows = Dispute.objects.exclude(settled_at=None)
    return list(rows.order_by("-settled_at", "uid")[:count])


def of_visit(visit: UUID) -> list[Dispute]:
    """Every case about a pickup, the latest first."""
    return list(Dispute.objects.filter(visit=visit).order_by("-opened_at", "uid"))


def dispute(uid: UUID) -> Dispute | None:
    """One case."""
    return Dispute.objects.filter(uid=uid).first()


def steps(uid: UUID) -> list[DisputeStep]:
    """What happened in a case, in the order written: each step is made under the case's lock."""
    return list(DisputeStep.objects.filter(dispute=uid).order_by("id"))


def said_at_end(uid: UUID) -> str:
    """What the customer is told with the end of a case; empty while it is open, and where it was
    erased. Notes are ours."""
    end = DisputeStep.objects.filter(dispute=uid, kind=Step.SETTLED.value).first()
    if end is None or end.words is None:
        return ""
    return people_read.words([end.words]).get(end.words, "")
