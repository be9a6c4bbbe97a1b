"""Stop-use notices: written, confirmed, sent again, taken back. Rows are only added to.

A notice is about casings of several owners; each owner has confirmed once anybody there has, on
their page or by word to the office. The row of the notice is locked before any step of it. Mails
go out by the journal. Software advises: what a suspected defect obliges a dealer to is counsel's.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.db import transaction

from pickups.customers import queries as customers
from pickups.journal import services as journal
from pickups.journal.services import Note
from pickups.kernel import clock
from pickups.notices.models import StopUse, StopUseCasing, StopUseStep
from pickups.notices.queries import stop_use
from pickups.questions import queries as asked
from pickups.questions import services as questions
from pickups.questions.rules import Kind
from pickups.questions.services import Ask

STEP = StopUseStep.Kind


@dataclass(frozen=True, slots=True)
class Casing:
    """One that is to be taken out of service: its owner, and how it is found in a yard."""

    customer: UUID
    work_order: UUID
    label: str
    size: str = ""
    tin: str = ""
    retread_tin: str = ""


def write(
    *,
    uid: UUID,
    plant: UUID,
    casings: Sequence[Casing],
    why: Mapping[str, str],
    traced: Mapping[str, str],
    by: UUID,
) -> bool:
    """Tell the owners of these casings to take them out of service; False where this one was
    written before (safe to repeat). A person is asked at once about an owner who has no address.
    """
    at = clock.now()
    with transaction.atomic():
        row = StopUse(uid=uid, plant_id=plant, why=dict(why), traced=dict(traced), by=by,
                      told_at=at)  # fmt: skip
        StopUse.objects.bulk_create([row], ignore_conflicts=True)
        if StopUseCasing.objects.filter(stop=uid).exists():
            return False
        StopUseCasing.objects.bulk_create(
            StopUseCasing(stop_id=uid, customer=c.customer, work_order=c.work_order, label=c.label,
                          size=c.size[:40], tin=c.tin[:40], retread_tin=c.retread_tin[:40])
            for c in casings
        )  # fmt: skip
        owners = sorted({c.customer for c in casings})
        _send(uid, owners, 0, at)
        reached = {c.customer_id for c in customers.written_to(owners)}
        _ask_for_word(uid, (c for c in owners if c not in reached), at=at)
    return True


def again(*, stop: UUID, customer: UUID | None, by: UUID, form: UUID) -> bool:
    """Send it once more to an owner who has not confirmed, or to all of those; whether there is
    one. None of a notice that was taken back. form: what was pressed; a second tap on it sends
    nothing more."""
    at = clock.now()
    with transaction.atomic():
        if not _hold(stop):
            return False
        if StopUseStep.objects.filter(stop=stop, form=form).exists():
            return True
        late = [c for c in stop_use.unconfirmed([stop])[stop] if customer in (None, c)]
        if late:
            step = StopUseStep.objects.create(stop_id=stop, kind=STEP.AGAIN, customer=customer,
                                              by=by, form=form, at=at)  # fmt: skip
            _send(stop, late, step.pk, at)
    return bool(late)


def confirm(*, stop: UUID, customer: UUID, contact: UUID) -> bool:
    """A contact has read it; False where it is none of their customer's. Safe to repeat."""
    at = clock.now()
    with transaction.atomic():
        if not (_hold(stop) and _owns(stop, customer)):
            return False
        StopUseStep.objects.bulk_create(
            [StopUseStep(stop_id=stop, kind=STEP.CONFIRMED, customer=customer, contact=contact,
                         at=at)],
            ignore_conflicts=True,
        )  # fmt: skip
        _settle(stop, [customer], how="confirmed", at=at, by=None)
    return True


def heard(*, stop: UUID, customer: UUID, said: str, by: UUID) -> bool:
    """An owner told the office that they know: who, and how, in words."""
    at = clock.now()
    with transaction.atomic():
        if not (_hold(stop) and _owns(stop, customer)):
            return False
        StopUseStep.objects.create(stop_id=stop, kind=STEP.HEARD, customer=customer, by=by,
                                   said={"en": said}, at=at)  # fmt: skip
        _settle(stop, [customer], how=said, at=at, by=by)
    return True


def withdraw(*, stop: UUID, why: Mapping[str, str], by: UUID) -> bool:
    """It was a mistake: everybody who was told is told so, by mail, and by a person who is asked
    to call where no mail tells all of it. False where it was taken back before."""
    at = clock.now()
    with transaction.atomic():
        if not _hold(stop):
            return False
        StopUseStep.objects.create(stop_id=stop, kind=STEP.WITHDRAWN, by=by, said=dict(why), at=at)
        owners = set(StopUseCasing.objects.filter(stop=stop).values_list("customer", flat=True))
        _settle(stop, owners, how="withdrawn", at=at, by=by)
        _ask(Kind.STOP_USE_WITHDRAWN, stop, _by_phone(stop, owners), since=at, at=at)
        journal.record([Note("plant.stop_use_withdrawn", f"stop_use:{stop}", {})], at=at)
    return True


def ask_unconfirmed(*, at: datetime) -> int:
    """Ask about owners who have not confirmed for too long; each once. Returns how many."""
    before = at - timedelta(hours=settings.STOP_USE_CONFIRM_HOURS)
    found = 0
    for stop, late in stop_use.unconfirmed(told_before=before).items():
        about = {c: stop_use.subject(stop, c) for c in late}
        known = asked.asked_about(Kind.STOP_USE_UNCONFIRMED, about.values())
        new = {c for c in late if about[c] not in known}
        with transaction.atomic():
            if new and _hold(stop):
                _ask_for_word(stop, new & set(stop_use.unconfirmed([stop])[stop]), at=at)
        found += len(new)
    return found


def _send(stop: UUID, owners: Sequence[UUID], step: int, at: datetime) -> None:
    body = {"to": [str(c) for c in owners], "step": step}
    journal.record([Note("plant.stop_use", f"stop_use:{stop}", body)], at=at)


def _hold(stop: UUID) -> bool:
    """Lock it; whether it is there and stands."""
    rows = StopUse.objects.select_for_update(no_key=True).filter(uid=stop)
    there = rows.first() is not None
    return there and not StopUseStep.objects.filter(stop=stop, kind=STEP.WITHDRAWN).exists()


def _owns(stop: UUID, customer: UUID) -> bool:
    return StopUseCasing.objects.filter(stop=stop, customer=customer).exists()


def _by_phone(stop: UUID, owners: Iterable[UUID]) -> set[UUID]:
    """Those of the owners whom a mail does not tell that it was withdrawn, as to nobody there one
    of it went out, or who may have heard of it from somebody else there than who reads ours."""
    had, _ = stop_use.told(stop)
    mailed = {c.customer_id for c in customers.written_to(owners) if c.uid in had}
    spoken_to = StopUseStep.objects.filter(stop=stop, kind=STEP.HEARD).values_list("customer")
    return {c for c in owners if c not in mailed} | {c for (c,) in spoken_to if c is not None}


def _ask_for_word(stop: UUID, owners: Iterable[UUID], *, at: datetime) -> None:
    """Of an owner who has not confirmed."""
    told_at = StopUse.objects.values_list("told_at", flat=True).get(uid=stop)
    _ask(Kind.STOP_USE_UNCONFIRMED, stop, owners, since=told_at, at=at)


def _ask(kind: Kind, stop: UUID, owners: Iterable[UUID], *, since: datetime, at: datetime) -> None:
    questions.ask(
        [
            Ask(kind, stop_use.subject(stop, c),
                {"stop": str(stop), "customer": str(c), "since": clock.rfc3339(since)})
            for c in sorted(owners)
        ],
        at=at,
    )  # fmt: skip


def _settle(stop: UUID, owners: Iterable[UUID], *, how: str, at: datetime, by: UUID | None) -> None:
    subjects = [stop_use.subject(stop, c) for c in owners]
    questions.settle(kinds=[Kind.STOP_USE_UNCONFIRMED], subjects=subjects, how=how, at=at, by=by)
