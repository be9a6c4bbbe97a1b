"""What the journal sets off here. Safe to run twice."""

from uuid import UUID

from django.db import transaction

from pickups.casings import services as casings
from pickups.custody import queries as custody
from pickups.customers.services import scope
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.promises import keeping, queries, services, watching
from pickups.sync import services as sync
from pickups.sync.rules import Change


def promise(entry: Entry) -> None:
    """Casings were picked up, told again or withdrawn: keep what was promised for them.

    Contested labels too: nothing leaves the house by a promise that is kept.
    """
    facts = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    orders = {fact.corrects or fact.uid for fact in facts.values()}
    keeping.keep(work_orders=sorted(orders), at=clock.now())


def tables(entry: Entry) -> None:
    """A plant or a store has published: compute anew what the devices concerned may promise."""
    body = entry.body
    sites = [UUID(body["site"])] if "site" in body else queries.stores_on(UUID(body["plant"]))
    services.compute_for(sites=sites, at=clock.now())


def watch(entry: Entry) -> None:
    """A plant has forecast anew: look at the open promises whose casings it knows of."""
    watching.watch(plant=UUID(entry.body["plant"]), at=clock.now())


def revised(entry: Entry) -> None:
    """New days were told: phones and counters see them beside the promised ones."""
    with transaction.atomic():
        seen = casings.seen_anew(UUID(uid) for uid in entry.body["work_orders"])
        sync.put([Change(scope(site), "work_order", uid, n) for uid, site, n in seen])


def sent_back(entry: Entry) -> None:
    """A plant marked casings; those that go back to be worked again may not be done in time."""
    facts = custody.facts(UUID(fact["fact"]) for fact in entry.body["facts"])
    back = {f.work_order for f in facts.values() if f.work_order and f.told.get("again_at")}
    watching.sent_back(work_orders=sorted(back), at=clock.now())
