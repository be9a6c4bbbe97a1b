"""Pickups that are over. A second end of the same pickup changes nothing but is kept as told.

The caller holds the lock key of the pickup, so lines and end never pass each other unseen.
"""

from collections.abc import Sequence
from datetime import datetime
from uuid import UUID

from pickups.custody.models import Fact, Pickup
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.rules import Kind as Question
from pickups.sync import services as sync
from pickups.sync.rules import Change


def first_unseen(casings: Sequence[UUID]) -> UUID | None:
    """The first pick_up named that has not arrived."""
    here = set(Fact.objects.filter(uid__in=casings).values_list("uid", flat=True))
    return next((uid for uid in casings if uid not in here), None)


def finish(
    *,
    uid: UUID,
    yard: UUID,
    casings: Sequence[UUID],
    customer_count: int | None,
    note: str,
    finished_at: datetime,
    by: UUID,
    site: UUID,
    at: datetime,
) -> str:
    """The visit is over: its receipt is owed. Returns the kind of the question raised, or "".

    A count of the customer's that differs from ours opens a question; so does a second, different
    end of one pickup.
    """
    known = Pickup.objects.filter(uid=uid).first()
    if known is not None:
        if known.casings == [str(c) for c in casings] and known.customer_count == customer_count:
            return ""
        facts: dict[str, object] = {"casings": [str(c) for c in casings], "count": customer_count}
        questions.ask([questions.Ask(Question.COUNT_DIFFERS, f"pickup:{uid}", facts)], at=at)
        return Question.COUNT_DIFFERS.value
    customer, home = customers.owners([yard]).get(yard, (None, site))
    row = Pickup.objects.create(
        uid=uid,
        yard=yard,
        customer=customer,
        site=home,
        casings=[str(c) for c in casings],
        customer_count=customer_count,
        note=note,
        finished_at=finished_at,
        recorded_at=at,
        by=by,
    )
    sync.put([Change(scope(home), "pickup", uid, row.version)])
    journal.record([journal.Note("pickup.finished", f"pickup:{uid}", {})], at=at)
    if customer_count is not None and customer_count != len(casings):
        facts = {"ours": len(casings), "theirs": customer_count}
        questions.ask([questions.Ask(Question.COUNT_DIFFERS, f"pickup:{uid}", facts)], at=at)
        return Question.COUNT_DIFFERS.value
    return ""


def move_customer(*, customer: UUID, site: UUID) -> list[tuple[UUID, UUID, int]]:
    """A customer's pickups are seen at another store: (uid, old store, new version) of each."""
    rows = Pickup.objects.filter(customer=customer).exclude(site=site).order_by("uid")
    moved = []
    for row in rows.select_for_update(no_key=True):
        moved.append((row.uid, row.site, row.version + 1))
        row.site, row.version = site, row.version + 1
        row.save(update_fields=["site", "version"])
    return moved


def bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, object]]:
    """Pickups as the feed gives them to a phone."""
    return {
        p.uid: {
            "yard": str(p.yard),
            "count": len(p.casings),
            "customer_count": p.customer_count,
            "finished_at": clock.rfc3339(p.finished_at),
        }
        for p in Pickup.objects.filter(uid__in=list(uids))
    }
