"""What the office decides. Each becomes a fact or a settlement; nothing here changes a fact.

Safe to repeat: what was decided before is said to be so.
"""

from uuid import UUID

from django.db import transaction

from pickups.custody import queries as custody_read
from pickups.custody import services as custody
from pickups.desk import rules
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.questions import queries as questions_read
from pickups.questions import services as questions
from pickups.questions.rules import Kind


def withdraw(*, question: int, work_order: UUID, reason: str, by: UUID) -> str:
    """One of the casings on a contested label was a mistake: a `withdrawn` fact says so.

    Returns the key of the words that say what came of it. Raises OperationalError where the
    label is busy.
    """
    asked = questions_read.question(question)
    if asked is None or asked.kind != Kind.LABEL_CONTESTED or asked.settled_at is not None:
        return "settled_before"
    if str(work_order) not in asked.facts["work_orders"]:
        return "withdrawn_before"
    if not custody.withdraw(work_order=work_order, reason=reason, by=by):
        return "withdrawn_before"
    still = Kind.LABEL_CONTESTED in questions_read.open_about(asked.subject)
    return "withdrawn_still" if still else "withdrawn"


def take_label_back(*, question: int, fact: UUID, reason: str, by: UUID) -> str:
    """A relabelling was a mistake: a `withdrawn` fact says so. Returns the key of the words that
    say what came of it. Raises OperationalError where a label is busy."""
    asked = questions_read.question(question)
    kinds = (Kind.LABEL_CONTESTED, Kind.LABEL_REPLACED)
    if asked is None or asked.kind not in kinds or asked.settled_at is not None:
        return "settled_before"
    label = asked.subject.partition(":")[2]
    if fact not in {f.uid for f in custody_read.swaps_of([label])[label]}:
        return "swap_taken_before"
    custody.take_label_back(fact=fact, reason=reason, by=by)
    return "swap_taken"


def settle(*, question: int, note: str, by: UUID, role: str) -> str:
    """A person has found the answer and says it; returns the key of the words for what came of it.

    A contested label is settled by withdrawing a casing, a dispute on its own page, neither by a
    note here. `not_yours` where the
    question belongs to another role.
    """
    asked = questions_read.question(question)
    elsewhere = (Kind.LABEL_CONTESTED, Kind.DISPUTED)
    if asked is None or asked.kind in elsewhere or asked.settled_at is not None:
        return "settled_before"
    if not rules.may_decide(role, asked.owner):
        return "not_yours"
    kinds, subjects, at = [Kind(asked.kind)], [asked.subject], clock.now()
    with transaction.atomic():
        closed = questions.settle(kinds=kinds, subjects=subjects, how=note, at=at, by=by)
        if closed and asked.kind == Kind.PICKUP_DIFFERS:  # its receipt has waited for this
            journal.record([journal.Note("pickup.cleared", asked.subject, {})], at=at)
        if closed and asked.kind == Kind.REWORK_LIMIT and "hold" in asked.facts:
            told = {name: asked.facts[name] for name in ("plant", "hold")}
            body = told | {"by": str(by), "note": note[:500]}
            journal.record([journal.Note("rework.decided", asked.subject, body)], at=at)
    return "settled" if closed else "settled_before"
