"""Write what a customer accepts of a casing: a new number each time, nothing overwritten.

The feed carries what stands to the phones of the customer's store, in the same transaction. Lock
order: `records_key`, so that none changes under a list that is being written, then the customer's
row, so that two people who write at once come one after the other.
"""

from datetime import datetime
from uuid import UUID

import msgspec
from django.db import transaction

from pickups.customers.models import Customer, Specification, SpecificationVersion, Yard
from pickups.customers.rules import Terms
from pickups.customers.services import scope
from pickups.kernel import locks
from pickups.kernel.wire import Fault, Malformed
from pickups.sync import services as sync
from pickups.sync.rules import Change


class Outdated(Exception):
    """Somebody else has written in the meantime; carries the number that stands now."""

    def __init__(self, number: int) -> None:
        super().__init__(f"number {number} stands")
        self.number = number


def specify(
    *,
    customer: UUID,
    yard: UUID | None = None,
    terms: Terms,
    by: UUID | None,
    at: datetime,
    knowing: int | None = None,
) -> SpecificationVersion:
    """What a customer accepts from now on, at all yards or at one of its own.

    knowing: the number that the writer saw, 0 where there was none; another one stands: Outdated.
    The same terms again are no new number. Raises Malformed where the yard is not the customer's.
    """
    with transaction.atomic():
        row = _locked(customer, yard, knowing)
        told = msgspec.to_builtins(terms)
        last = row.versions.order_by("number").last() if row else None
        if last is not None and last.terms == told:
            return last
        if row is None:
            row = Specification(customer_id=customer, yard_id=yard, number=0, version=0)
        return _write(row, told, by=by, at=at)


def withdraw_specification(
    *,
    customer: UUID,
    yard: UUID | None = None,
    by: UUID | None,
    at: datetime,
    knowing: int | None = None,
) -> SpecificationVersion | None:
    """From now on there is none: at a yard the customer's holds again. None where none was."""
    with transaction.atomic():
        row = _locked(customer, yard, knowing)
        last = row.versions.order_by("number").last() if row else None
        if row is None or last is None or last.terms is None:
            return last
        return _write(row, None, by=by, at=at)


def _locked(customer: UUID, yard: UUID | None, knowing: int | None) -> Specification | None:
    locks.take([locks.records_key()])
    Customer.objects.select_for_update(no_key=True).get(uid=customer)
    if yard is not None and not Yard.objects.filter(uid=yard, customer=customer).exists():
        raise Malformed(Fault("yard", str(yard), "a yard of this customer"))
    rows = Specification.objects.select_for_update(no_key=True, of=("self",))
    row = rows.filter(customer=customer, yard=yard).first()
    number = row.number if row else 0
    if knowing is not None and knowing != number:
        raise Outdated(number)
    return row


def _write(
    row: Specification, terms: dict[str, object] | None, *, by: UUID | None, at: datetime
) -> SpecificationVersion:
    row.number, row.version = row.number + 1, row.version + 1
    row.save()
    said = SpecificationVersion.objects.create(
        specification=row, number=row.number, terms=terms, by=by, at=at
    )
    store = scope(row.customer.home_site_id)
    sync.put([Change(store, "specification", row.uid, row.version, gone=terms is None)])
    return said
