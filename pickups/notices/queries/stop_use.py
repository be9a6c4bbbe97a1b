"""Reads of stop-use notices: who was told, who has confirmed and who not, what a mail says."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings

from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import clock
from pickups.kernel.languages import day_and_time, grouped, spoken
from pickups.notices.models import Notice, StopUse, StopUseCasing, StopUseStep
from pickups.notices.words.stop_use import Stopped, StopUseMail, named
from pickups.notices.words.stop_use import stop_use as in_words
from pickups.questions import queries as asked
from pickups.questions.rules import Kind

STEP = StopUseStep.Kind
_CONFIRMS = (STEP.CONFIRMED, STEP.HEARD)


@dataclass(frozen=True, slots=True)
class Reached:
    """One contact of an owner: when the last mail went out, and when they confirmed."""

    contact: Contact
    sent_at: datetime | None
    gave_up: bool
    confirmed_at: datetime | None


@dataclass(frozen=True, slots=True)
class Owner:
    """One owner of casings of a notice. answered: the first step that confirms it. to_call: they
    still have to be called, as no mail tells them that it was withdrawn."""

    customer: UUID
    name: str
    casings: Sequence[StopUseCasing]
    reached: Sequence[Reached]
    answered: StopUseStep | None
    to_call: bool


@dataclass(frozen=True, slots=True)
class Whole:
    """A notice as it stands: owners who are to be called first, then who have not confirmed."""

    stop: StopUse
    owners: Sequence[Owner]
    steps: Sequence[StopUseStep]
    withdrawn: StopUseStep | None


def cause(stop: UUID, step: int) -> str:
    """Under which cause its mails went: the first ones (step 0), or those of a later step."""
    return f"stop_use:{stop}:{step}" if step else f"stop_use:{stop}"


def subject(stop: UUID, customer: UUID) -> str:
    """What a question about one owner of a notice is about."""
    return f"stop_use:{stop.hex}:{customer.hex}"


def stop(uid: UUID) -> StopUse | None:
    """One notice, as it was written."""
    return StopUse.objects.filter(uid=uid).first()


def withdrawal(stop: UUID) -> StopUseStep | None:
    """What took it back, if anything did."""
    return StopUseStep.objects.filter(stop=stop, kind=STEP.WITHDRAWN).first()


def of_plant(plant: UUID) -> list[StopUse]:
    """Every notice of a plant, the newest first."""
    return list(StopUse.objects.filter(plant=plant).order_by("-told_at", "uid"))


def unconfirmed(
    stops: Collection[UUID] | None = None, *, told_before: datetime | None = None
) -> dict[UUID, list[UUID]]:
    """The owners who have not confirmed, by notice, the oldest notice first; of those that stand.
    Every one of `stops` has its entry."""
    rows = StopUse.objects.exclude(steps__kind=STEP.WITHDRAWN)
    if stops is not None:
        rows = rows.filter(uid__in=list(stops))
    if told_before is not None:
        rows = rows.filter(told_at__lt=told_before)
    found: dict[UUID, list[UUID]] = {uid: [] for uid in stops or ()}
    standing = list(rows.order_by("told_at", "uid").values_list("uid", flat=True))
    done = set(
        StopUseStep.objects.filter(stop__in=standing, kind__in=_CONFIRMS).values_list(
            "stop_id", "customer"
        )
    )
    pairs = StopUseCasing.objects.filter(stop__in=standing).values_list("stop_id", "customer")
    owners = set(pairs) - done
    for uid in standing:
        late = sorted(c for s, c in owners if s == uid)
        if late or stops is not None:
            found[uid] = late
    return found


def whole(uid: UUID, *, plant: UUID | None = None) -> Whole | None:
    """One notice with everybody whom it concerns; of this plant where one is asked for."""
    stop = StopUse.objects.filter(uid=uid).first()
    if stop is None or (plant is not None and stop.plant_id != plant):
        return None
    steps = list(stop.steps.order_by("at", "id"))
    held: dict[UUID, list[StopUseCasing]] = {}
    for one in stop.casings.order_by("label", "id"):
        held.setdefault(one.customer, []).append(one)
    names = customers.names(held)
    contacts: dict[UUID, list[Contact]] = {}
    for contact in customers.written_to(held):
        contacts.setdefault(contact.customer_id, []).append(contact)
    sent = _sent(stop, steps)
    confirmed = {s.contact: s.at for s in steps if s.kind == STEP.CONFIRMED}
    to_call = asked.open_of(Kind.STOP_USE_WITHDRAWN, [subject(uid, c) for c in held])
    owners = [
        Owner(
            customer,
            names.get(customer, ""),
            casings,
            [
                Reached(c, *sent.get(c.uid, (None, False)), confirmed.get(c.uid))
                for c in contacts.get(customer, [])
            ],
            next((s for s in steps if s.customer == customer and s.kind in _CONFIRMS), None),
            subject(uid, customer) in to_call,
        )
        for customer, casings in held.items()
    ]
    owners.sort(key=lambda o: (not o.to_call, o.answered is not None, o.name, o.customer))
    taken_back = next((s for s in steps if s.kind == STEP.WITHDRAWN), None)
    return Whole(stop, owners, steps, taken_back)


def _sent(
    stop: StopUse, steps: Sequence[StopUseStep]
) -> Mapping[UUID, tuple[datetime | None, bool]]:
    """By contact: when the last mail of it went out, and whether one was given up."""
    causes = [cause(stop.uid, 0), *(cause(stop.uid, s.pk) for s in steps if s.kind == STEP.AGAIN)]
    rows = Notice.objects.filter(kind=Notice.Kind.STOP_USE, cause__in=causes)
    found: dict[UUID, tuple[datetime | None, bool]] = {}
    for row in rows.order_by("made_at", "id"):
        before = found.get(row.contact, (None, False))
        found[row.contact] = (row.sent_at or before[0], row.gave_up_at is not None)
    return found


def told(stop: UUID) -> tuple[set[UUID], bool]:
    """The contacts to whom a mail of it has gone out; and whether one may be on its way."""
    again = StopUseStep.objects.filter(stop=stop, kind=STEP.AGAIN).values_list("pk", flat=True)
    causes = [cause(stop, 0), *(cause(stop, step) for step in again)]
    rows = Notice.objects.filter(kind=Notice.Kind.STOP_USE, cause__in=causes)
    had = set(rows.exclude(sent_at=None).values_list("contact", flat=True))
    return had, rows.filter(sent_at=None, claimed_until__gt=clock.now()).exists()


def of_customer(customer: UUID) -> list[StopUse]:
    """The notices about casings of a customer that stand, the newest first."""
    rows = StopUse.objects.filter(casings__customer=customer).exclude(steps__kind=STEP.WITHDRAWN)
    return list(rows.distinct().order_by("-told_at", "uid"))


def confirmed_by(contact: UUID) -> dict[UUID, datetime]:
    """The notices that this contact has confirmed, and when."""
    rows = StopUseStep.objects.filter(kind=STEP.CONFIRMED, contact=contact)
    return dict(rows.values_list("stop_id", "at"))


def of_casings(work_orders: Collection[UUID], customer: UUID) -> dict[UUID, UUID]:
    """The newest notice that stands about each of these casings of a customer's, where one does."""
    rows = StopUseCasing.objects.filter(work_order__in=list(work_orders), customer=customer)
    standing = rows.exclude(stop__steps__kind=STEP.WITHDRAWN).order_by("stop__told_at", "stop")
    return dict(standing.values_list("work_order", "stop_id"))


def mail(
    contact: Contact, stop: StopUse, *, link: str, taken_back: StopUseStep | None
) -> StopUseMail:
    """What is written to one contact: of their own customer's casings alone."""
    language = spoken(contact.language)
    rows = stop.casings.filter(customer=contact.customer_id).order_by("label", "id")
    return StopUseMail(
        name=contact.name,
        customer=contact.customer.name,
        on=when(language, stop.told_at),
        why=in_language(taken_back.said if taken_back else stop.why, language),
        casings=[stopped(row) for row in rows],
        link=link,
        dealer=settings.DEALER_NAME,
        phone=contact.customer.home_site.phone or settings.DEALER_PHONE,
        withdrawn=taken_back is not None,
    )


def sample(
    casings: Sequence[Stopped],
    why: Mapping[str, str],
    language: str,
    *,
    customer: UUID,
    at: datetime,
) -> tuple[str, str]:
    """Subject and text as they would be written to somebody at an owner, without name and link."""
    owner = customers.customer(customer)
    assert owner is not None
    said = StopUseMail("\N{HORIZONTAL ELLIPSIS}", owner.name, when(language, at),
                       in_language(why, language), casings, "\N{HORIZONTAL ELLIPSIS}",
                       settings.DEALER_NAME, owner.home_site.phone or settings.DEALER_PHONE,
                       withdrawn=False)  # fmt: skip
    return in_words(said, language)


def stopped(row: StopUseCasing) -> Stopped:
    """One casing as mails and pages name it."""
    return Stopped(grouped(row.label), row.size, row.tin, row.retread_tin)


def said(row: StopUseCasing, language: str) -> str:
    """One casing in a line."""
    return named(stopped(row), language)


def in_language(said: Mapping[str, str], language: str) -> str:
    """The words in this language, or as they were written."""
    return said.get(language) or next(iter(said.values()), "")


def when(language: str, at: datetime) -> str:
    """A moment by the dealer's clock."""
    return day_and_time(language, clock.local(at, ZoneInfo(settings.DEALER_TIME_ZONE)))
