"""What the journal sets off here. Safe to run twice."""

from uuid import UUID

from django.db import transaction

from pickups.casings import services as casings
from pickups.custody import accepting, ownership, visits
from pickups.custody import queries as custody
from pickups.customers.services import scope
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.sync import services as sync
from pickups.sync.rules import Change


def customer_moved(entry: Entry) -> None:
    """A customer has another home store: its work and its visits go to that store's phones."""
    customer, site = UUID(entry.body["customer"]), UUID(entry.body["site"])
    with transaction.atomic():
        moved = [
            ("work_order", *row) for row in casings.move_customer(customer=customer, site=site)
        ]
        moved += visits.move_customer(customer=customer, site=site)
        changes = []
        for entity, uid, old, version in moved:
            changes.append(Change(scope(site), entity, uid, version))
            changes.append(Change(scope(old), entity, uid, version, gone=True))
        sync.put(changes)


def accepted(entry: Entry) -> None:
    """Casings were picked up, told again or withdrawn: are they such as their customer accepts?"""
    facts = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    orders = {fact.corrects or fact.uid for fact in facts.values()}
    accepting.review(work_orders=orders, at=clock.now())


def contact_erased(entry: Entry) -> None:
    """Somebody at a customer was erased: so is their name beside the sales that they accepted."""
    ownership.erase_acceptances(contact=UUID(entry.subject.removeprefix("contact:")))


def words_erased(entry: Entry) -> None:
    """What was said with a step about what waits is gone: the phones' rows lose it too."""
    facts = custody.facts(UUID(uid) for uid in entry.body["words"])
    owners = {row.work_order for row in facts.values() if row.work_order}
    with transaction.atomic():
        seen = casings.seen_anew(owners)
        sync.put([Change(scope(site), "work_order", uid, n) for uid, site, n in seen])
