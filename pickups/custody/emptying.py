"""Trailers that were taken closed and are opened later: the list of their pickup comes then.

An emptying is a fact as the end of a visit is (see `visits`): every one is kept, the first by
(stamp, uid) gives the list, whichever of it, the end and the casings came first. The caller holds
the lock key of the pickup.
"""

from datetime import datetime
from uuid import UUID

from pickups.custody import doubts, ledger, trailers, visits
from pickups.custody.ledger import Told
from pickups.journal import services as journal
from pickups.questions import services as questions


def tell(emptying: Told, *, at: datetime) -> str:
    """A trailer was emptied. Returns the kind of the question raised, or "".

    emptying: a fact of kind emptied; told holds `visit`, `yard`, `store`, `casings`, `scrap`,
    `left`, `seal`, `seal_state`, `counted`, `note` and `photos` as they were told. The itemised
    receipt is owed from then on. Where the end of the pickup has not come it waits for it.
    """
    visit = UUID(emptying.fact.told["visit"])
    ledger.append([emptying], at=at, work_orders={})
    trailers.lay_open(visit)
    asks = list(doubts.about_teller(emptying, at))
    questions.ask(asks, at=at)
    odd = trailers.ask_about(visit, emptying.fact.uid, at=at)
    found = visits.review({visit}, at=at)
    journal.record([journal.Note("pickup.emptied", f"pickup:{visit}", {})], at=at)
    return asks[0].kind.value if asks else odd or found.get(visit, "")
