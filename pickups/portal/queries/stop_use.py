"""Stop-use notices as an owner sees them: their own casings alone, and whether it is confirmed."""

from collections.abc import Collection, Sequence
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


@dataclass(frozen=True)
class Standing:
    """One notice that stands, as the list of casings names it. read: when this reader confirmed it,
    "" while they have not."""

    uid: UUID
    told: str
    read: str


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
    stops = [s.uid for s in notices.of_customer(customer)]
    late = notices.unconfirmed(stops)
    return next((uid for uid in stops if customer in late[uid]), None)


def standing(contact: Contact, language: str) -> tuple[list[Standing], list[Standing]]:
    """The notices that stand about casings of a contact's customer, the newest first: those that
    this contact has not confirmed, and those that they have."""
    done = notices.confirmed_by(contact.uid)
    known = [
        Standing(
            s.uid,
            words.say(language, "stop_told", when=notices.when(language, s.told_at)),
            words.say(language, "stop_confirmed", when=notices.when(language, done[s.uid]))
            if s.uid in done else "",
        )
        for s in notices.of_customer(contact.customer_id)
    ]  # fmt: skip
    return [s for s in known if not s.read], [s for s in known if s.read]


def about(work_orders: Collection[UUID], customer: UUID) -> dict[UUID, UUID]:
    """The notice that stands about each of these casings of a customer, where one does."""
    return notices.of_casings(work_orders, customer)


def has_read(contact: Contact, stop: UUID) -> bool:
    """Whether this contact has confirmed it."""
    return stop in notices.confirmed_by(contact.uid)
