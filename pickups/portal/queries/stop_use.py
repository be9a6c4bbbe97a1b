"""Stop-use notices as an owner sees them: their own casings alone, and whether it is confirmed."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from pickups.customers.models import Contact
from pickups.notices.queries import stop_use as notices
from pickups.portal import words


@dataclass(frozen=True)
class StopUse:
    """One notice. confirmed: how it was, "" where it was not by this reader; back: that it was
    withdrawn, and why."""

    uid: UUID
    told: str
    why: str
    casings: Sequence[str]
    confirmed: str
    mine: bool
    back: str


def one(contact: Contact, uid: UUID, language: str) -> StopUse | None:
    """One notice about casings of the contact's customer; None where there is none."""
    found = notices.whole(uid)
    owner = next((o for o in found.owners if o.customer == contact.customer_id), None) if (
        found) else None  # fmt: skip
    if found is None or owner is None:
        return None
    mine = next((r.confirmed_at for r in owner.reached if r.contact.uid == contact.uid), None)
    confirmed = ""
    if mine:
        confirmed = words.say(language, "stop_confirmed", when=notices.when(language, mine))
    elif owner.answered:
        confirmed = words.say(language, "stop_confirmed_by", customer=owner.name,
                              when=notices.when(language, owner.answered.at))  # fmt: skip
    back = found.withdrawn
    return StopUse(
        uid=uid,
        told=words.say(language, "stop_told", when=notices.when(language, found.stop.told_at)),
        why=notices.in_language(found.stop.why, language),
        casings=[notices.said(row, language) for row in owner.casings],
        confirmed=confirmed,
        mine=mine is not None,
        back=words.say(language, "stop_back", when=notices.when(language, back.at),
                       why=notices.in_language(back.said, language)) if back else "",
    )  # fmt: skip


def first_open(customer: UUID) -> UUID | None:
    """The newest notice that nobody at this customer has confirmed."""
    return next((s.uid for s, done in notices.of_customer(customer) if not done), None)


def standing(customer: UUID) -> list[UUID]:
    """Every notice that stands about casings of this customer, the newest first."""
    return [s.uid for s, _ in notices.of_customer(customer)]


def about(work_order: UUID, customer: UUID) -> UUID | None:
    """The notice that stands about one casing of a customer."""
    found = notices.of_casing(work_order, customer)
    return found.uid if found else None
