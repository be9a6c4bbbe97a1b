"""A supervisor's decision about casings that their owner has not fetched: a fact with its grounds.

It opens a transaction, takes the lock keys of all labels of the casings and is recorded as every
fact is; it comes later than any step known, whatever the clock says. It changes neither holder nor
owner: what was decided is done by the doors that are there for it. Safe to repeat: the last word
counts. The grounds stand apart, to be erased.
"""

from collections.abc import Sequence
from datetime import date
from uuid import UUID

from django.db import transaction

from pickups.casings import queries as casings
from pickups.custody import ledger, queries, services
from pickups.custody.fold import Fact, Kind
from pickups.custody.ledger import Told
from pickups.custody.reminding import Decision, Step
from pickups.kernel import clock, ids, locks
from pickups.kernel.locks import label_key
from pickups.people import services as people
from pickups.people.rules import Words


def decide(
    *,
    labels: Sequence[str],
    decision: Decision,
    grounds: str,
    until: date | None,
    by: UUID,
) -> int:
    """Note what was decided of the casings that wear these labels; returns of how many. A label
    that no casing wears any more, or two do, is left out."""
    at = clock.now()
    with transaction.atomic():
        locks.take([label_key(label) for label in queries.named_with(labels)])
        orders = [w for w in casings.under(labels) if not w.withdrawn and not w.contested]
        stamps = {w.label: _newest(w.label) for w in orders}
        said = {"step": Step.DECIDED.value, "decision": decision.value, "worded": bool(grounds)}
        said |= {"until": until.isoformat()} if until else {}
        told = [
            Told(
                Fact(
                    uid=ids.uuid7(),
                    kind=Kind.REMINDED,
                    label=label,
                    stamp=max(clock.to_ms(at), stamps[label] + 1),
                    told={"at": clock.rfc3339(at), "by": str(by), **said},
                ),
                happened_at=at,
                by=by,
                device=None,
                skew_ms=None,
            )
            for label in sorted(stamps)
        ]
        if told:
            services.record(told, site=orders[0].site, at=at)
            grounded = {t.fact.uid: grounds for t in told}
            people.keep_words(grounded, kind=Words.REMINDER, at=at)
    return len(told)


def _newest(label: str) -> int:
    """The greatest stamp of what is known of its casing, under whatever label it was told."""
    named = sorted(queries.named_with([label]))
    return max((kept.fact.stamp for kept in ledger.under(named, [])), default=0)
