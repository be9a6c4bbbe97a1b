"""What stands of casings, whom it concerns, and what each of those was told last."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from uuid import UUID

from django.db import OperationalError

from pickups.casings import queries as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import queries as custody
from pickups.custody.queries import Outcome
from pickups.customers import queries as customers
from pickups.customers.models import Contact
from pickups.kernel import locks
from pickups.notices import rules
from pickups.notices.models import Line


@dataclass(frozen=True)
class Standing:
    """Casings with what the plant has made of them, and what contacts were told of them last."""

    orders: Mapping[UUID, WorkOrder]
    outcomes: Mapping[UUID, Outcome]
    told: Mapping[tuple[UUID, UUID], Line]


@dataclass(frozen=True)
class Due:
    """One casing that a contact has to be told of; before: the line told last, if any."""

    order: WorkOrder
    outcome: Outcome | None
    news: str
    before: Line | None


def standing(labels: Iterable[str]) -> Standing:
    """What stands of every casing that wears one of these labels or the one in its place, or was
    told of under one of them.

    Takes the labels' lock keys, so that no fact comes between two reads: call it in a transaction
    that holds no other locks. What was relabelled while they were waited for is reached by trying
    its further keys; raises OperationalError where one is busy: look again later.
    """
    labels = custody.named_with(labels)
    locks.take(locks.label_key(label) for label in labels)
    while further := custody.named_with(labels) - labels:
        if not locks.try_take(locks.label_key(label) for label in further):
            raise OperationalError("a label that a relabelling names is busy")
        labels |= further
    spoken_of = Line.objects.filter(label__in=labels, notice__sent_at__isnull=False)
    others = spoken_of.values_list("work_order", flat=True)
    orders = casings.wearing(labels) | casings.work_orders(others)
    told = Line.objects.filter(work_order__in=orders, notice__sent_at__isnull=False)
    return Standing(
        orders=orders,
        outcomes=custody.outcomes(orders),
        told={(line.contact, line.work_order): line for line in told.order_by("place")},
    )


def concerned(found: Standing) -> list[Contact]:
    """Whose casings these are, and who was told that they were theirs; who wants to hear of it."""
    owners = {w.customer for w in found.orders.values() if w.customer}
    contacts = {c.uid: c for c in customers.progress_contacts(owners)}
    for uid in {contact for contact, _ in found.told} - set(contacts):
        contact = customers.contact(uid)
        if contact is not None and contact.wants_progress and contact.email:
            contacts[uid] = contact
    return [contacts[uid] for uid in sorted(contacts)]


def due(contact: Contact, found: Standing) -> list[Due]:
    """What this contact has to be told of them now, in the order in which they were picked up."""
    made = []
    for w in sorted(found.orders.values(), key=lambda w: (w.picked_up_at, w.uid)):
        outcome, before = found.outcomes.get(w.uid), found.told.get((contact.uid, w.uid))
        news = rules.news(_known(w, outcome, contact))
        if rules.is_news(news, before.news if before else ""):
            made.append(Due(w, outcome, news, before))
    return made


def _known(w: WorkOrder, outcome: Outcome | None, contact: Contact) -> rules.Known:
    rejection = outcome.rejection if outcome else None
    told = rejection.told if rejection else {}
    return rules.Known(
        contested=w.contested,
        on_hold=w.on_hold,
        yours=w.customer == contact.customer_id and not w.withdrawn,
        dealers=bool(w.casing.dealers),
        back=w.progress == Progress.RETURNED,
        finished=outcome is not None and outcome.finished,
        rejected=rejection is not None,
        reason=told.get("reason", ""),
        cause=told.get("cause", ""),
        again=outcome.again if outcome else 0,
        at=rules.at_start(w.holder, site=w.site, told=w.told),
    )
