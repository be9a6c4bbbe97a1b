"""The second ledger: sales, exchanges and settled mix-ups change a casing's owner, nothing else.

Each verb is the office's, opens a transaction, takes the lock keys of the labels and locks the work
orders as every write does, then appends one fact, folds the casings' owners from all their facts
and writes them down. A settled mix-up says from which yard a casing came, so its work order is
folded again: whose it is, at which store it is seen, and who is told of it all follow.
Raises Refused with a code, and nothing is written then; OperationalError where the casing is moved
to another label just then.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any
from uuid import UUID

from django.db import OperationalError, transaction

from pickups.casings import queries as casings_read
from pickups.casings import services as casings
from pickups.casings.models import WorkOrder
from pickups.casings.rules import Progress
from pickups.custody import owning, queries, services, visits
from pickups.custody.models import Acceptance, OwnerChange
from pickups.custody.owning import DEALER, Kind
from pickups.customers import queries as customers
from pickups.customers.services import scope
from pickups.journal import services as journal
from pickups.kernel import clock, ids, locks
from pickups.sync import services as sync
from pickups.sync.rules import Change


class No(StrEnum):
    """Why an owner is not changed; pages have words for each."""

    GONE = "gone"  # no such casing, or its pick_up was taken back
    CONTESTED = "contested"
    RETURNED = "returned"
    DEALERS = "dealers"
    NOT_EXCHANGE = "not_exchange"
    NOT_ENTITLED = "not_entitled"
    SAME = "same"
    UNDONE_BEFORE = "undone_before"


class Refused(Exception):
    """A change of owner that cannot be."""

    def __init__(self, why: No) -> None:
        super().__init__(why.value)
        self.why = why


@dataclass(frozen=True, slots=True)
class Agreed:
    """What a sale was agreed on. cents: of the price or of the credit. pays: "price", "credit"."""

    grade: str
    cents: int
    pays: str


def sell(*, work_order: UUID, agreed: Agreed, accepted_by: UUID, by: UUID) -> UUID:
    """The dealer buys a casing; accepted_by: a contact of the customer whose it is, who may
    sell. Returns the fact. The contact's name is kept apart, so that it can be erased."""
    with transaction.atomic():
        (order,) = _locked([work_order])
        _salable(order)
        contact = customers.contact_held(accepted_by)
        if contact is None or contact.customer_id != order.customer or not contact.may_sell:
            raise Refused(No.NOT_ENTITLED)
        said = {"grade": agreed.grade, "cents": agreed.cents, "pays": agreed.pays}
        change = _append(Kind.SOLD, {order.casing_id: DEALER}, said, by=by)
        Acceptance.objects.create(change=change.uid, contact=contact.uid, name=contact.name)
        _fold([order])
    return change.uid


def exchange(*, work_order: UUID, by: UUID, owed: bool = False) -> UUID:
    """The customer took one from the dealer's stock for it, as the work wanted says or because a
    plant ruined it and owes one (owed); returns the fact."""
    with transaction.atomic():
        (order,) = _locked([work_order])
        _salable(order)
        if not owed and order.told.get("basis") != "exchange":
            raise Refused(No.NOT_EXCHANGE)
        change = _append(Kind.EXCHANGED, {order.casing_id: DEALER}, {}, by=by)
        _fold([order])
    return change.uid


def settle(*, work_order: UUID, other: UUID, reason: str, by: UUID) -> UUID:
    """Two casings were taken for each other: each came from where the other was told to come from.
    Returns the fact."""
    with transaction.atomic():
        order, second = _locked([work_order, other])
        for one in (order, second):
            if one.withdrawn:
                raise Refused(No.GONE)
            if one.contested:
                raise Refused(No.CONTESTED)
            if one.casing.dealers:
                raise Refused(No.DEALERS)
        if order.casing_id == second.casing_id or order.yard == second.yard:
            raise Refused(No.SAME)
        owners = {order.casing_id: str(second.yard), second.casing_id: str(order.yard)}
        change = _append(Kind.SETTLED, owners, {"reason": reason}, by=by)
        _fold([order, second])
    return change.uid


def undo(*, change: UUID, reason: str, by: UUID) -> UUID:
    """A change was a mistake: each casing is whose it was without it. Returns the new fact."""
    told = queries.owner_change(change)
    if told is None or told.kind == Kind.UNDONE:
        raise Refused(No.GONE)
    concerned = [told.casing, *([told.other] if told.other else [])]
    with transaction.atomic():
        orders = _locked([w.uid for w in casings_read.of_casings(concerned)])
        if any(c.undoes == change for c in queries.owner_changes(concerned)):
            raise Refused(No.UNDONE_BEFORE)
        undone = _append(Kind.UNDONE, {}, {"reason": reason}, by=by, undoes=told)
        _fold(orders)
    return undone.uid


def erase_acceptances(*, contact: UUID) -> None:
    """Nobody is named any more as who accepted what this contact did; the sales stand."""
    Acceptance.objects.filter(contact=contact).delete()


def _locked(work_orders: Sequence[UUID]) -> list[WorkOrder]:
    """These work orders as asked for, under the lock keys of their labels and locked by id."""
    known = casings_read.work_orders(work_orders)
    if len(known) != len(set(work_orders)):
        raise Refused(No.GONE)
    keys = {key for w in known.values() for key in _keys(w)}
    locks.take(keys)
    rows = {w.uid: w for w in casings_read.locked(labels=[], uids=work_orders)}
    if any(not keys.issuperset(_keys(row)) for row in rows.values()):
        raise OperationalError("the casing was moved meanwhile")
    return [rows[uid] for uid in work_orders]


def _keys(order: WorkOrder) -> tuple[int, int]:
    """Its label, and its visit: whose casings were taken in that changes with their owners."""
    return locks.label_key(order.label), locks.pickup_key(order.pickup)


def _salable(order: WorkOrder) -> None:
    if order.withdrawn:
        raise Refused(No.GONE)
    if order.contested:
        raise Refused(No.CONTESTED)
    if order.casing.dealers:
        raise Refused(No.DEALERS)
    if order.progress == Progress.RETURNED:
        raise Refused(No.RETURNED)


def _append(
    kind: Kind,
    owners: Mapping[UUID, str],
    said: Mapping[str, Any],
    *,
    by: UUID,
    undoes: OwnerChange | None = None,
) -> OwnerChange:
    """One fact more, later than any told of these casings, whatever the clock says."""
    at = clock.now()
    concerned = [undoes.casing, undoes.other] if undoes else list(owners)
    concerned = [casing for casing in concerned if casing is not None]
    before = [c.stamp + 1 for c in queries.owner_changes(concerned)]
    return OwnerChange.objects.create(
        uid=ids.uuid7(),
        kind=kind.value,
        casing=concerned[0],
        other=concerned[1] if len(concerned) > 1 else None,
        stamp=max([clock.to_ms(at), *before]),
        undoes=undoes.uid if undoes else None,
        told={"at": clock.rfc3339(at), "owners": {str(c): o for c, o in owners.items()}, **said},
        happened_at=at,
        recorded_at=at,
        by=by,
    )


def _fold(orders: Sequence[WorkOrder]) -> None:
    """Write down whose these casings are now, and let reactions hear of it."""
    at = clock.now()
    concerned = {w.casing_id for w in orders}
    facts = [queries.as_change(c) for c in queries.owner_changes(concerned)]
    for casing in sorted(concerned):
        now = owning.owned(casing, facts)
        seen = casings.own(casing=casing, yard=now.yard, dealers=now.dealers, since=now.since)
        sync.put([Change(scope(site), "work_order", uid, n) for uid, site, n in seen])
    services.record((), site=orders[0].site, at=at, anew=[w.label for w in orders])
    visits.review({w.pickup for w in orders}, at=at)
    named = [{"fact": str(w.uid), "label": w.label, "work_order": str(w.uid)} for w in orders]
    note = journal.Note("casing.owned", f"casing:{orders[0].casing_id}", {"facts": named})
    journal.record([note], at=at)
