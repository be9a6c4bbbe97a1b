"""What the journal sets off here. Safe to run twice."""

from uuid import UUID

from pickups.custody import queries as custody
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.promises import keeping, queries, services


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
