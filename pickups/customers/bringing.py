"""Write many customers, yards, contacts and specifications at once, as a list of them came in.

All in the open transaction: rows are locked, versions rise, history says who and why, the feed is
told in one statement a kind. Whoever calls has looked at what stands under `records_key`, so what
is new is new; a row that was written before is an IntegrityError.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from simple_history.utils import bulk_create_with_history, bulk_update_with_history

from pickups.customers import services
from pickups.customers.models import Contact, Customer, Yard
from pickups.customers.rules import PLACES, terms
from pickups.customers.specifying import specify
from pickups.kernel import clock
from pickups.people import queries as people
from pickups.people.models import User
from pickups.sync import services as sync
from pickups.sync.rules import Change

WHY = 100
"""What the history keeps of a reason."""


@dataclass(frozen=True, slots=True)
class Told:
    """One record: its id, whether it is new, and the fields that are written."""

    uid: UUID
    new: bool
    fields: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Bringer:
    """Who brings a list in (none: an operator by command), and from where."""

    person: User | None
    why: str

    @property
    def noted(self) -> dict[str, Any]:
        """What history keeps of it."""
        return {"default_user": self.person, "default_change_reason": self.why[:WHY]}


def customers(rows: Sequence[Told], bringer: Bringer) -> None:
    """Fields: number, name, home_site (a store's id). A name goes to phones with the yards, another
    store moves them."""
    made = [
        Customer(uid=r.uid, number=r.fields["number"], name=r.fields["name"],
                 home_site_id=r.fields["home_site"])
        for r in rows if r.new
    ]  # fmt: skip
    if made:
        bulk_create_with_history(made, Customer, **bringer.noted)
    told = {r.uid: r.fields for r in rows if not r.new}
    changed = _locked(Customer, told)
    for one in changed:
        fields = told[one.uid]
        one.number = fields.get("number", one.number)
        one.name = fields.get("name", one.name)
        one.version += 1
    if changed:
        bulk_update_with_history(changed, Customer, ["number", "name", "version"], **bringer.noted)
    _publish(Yard.objects.filter(customer__in=[u for u in told if "name" in told[u]]))
    stores = {s.uid: s for s in people.sites()}
    for uid, fields in told.items():
        if "home_site" in fields:
            services.move_customer(uid=uid, home_site=stores[fields["home_site"]])


def yards(rows: Sequence[Told], bringer: Bringer) -> None:
    """Fields: customer (its id, of a new yard), name, address. The home stores' phones hear."""
    made = [
        Yard(uid=r.uid, customer_id=r.fields["customer"], name=r.fields["name"],
             address=r.fields["address"])
        for r in rows if r.new
    ]  # fmt: skip
    if made:
        bulk_create_with_history(made, Yard, **bringer.noted)
    told = {r.uid: r.fields for r in rows if not r.new}
    changed = _locked(Yard, told)
    for one in changed:
        one.name = told[one.uid].get("name", one.name)
        one.address = told[one.uid].get("address", one.address)
        one.version += 1
    if changed:
        bulk_update_with_history(changed, Yard, ["name", "address", "version"], **bringer.noted)
    _tell([*made, *changed])


def contacts(rows: Sequence[Told], bringer: Bringer) -> None:
    """Fields: customer (its id, of a new one), name, email, language. No history is kept of a
    person; with another address the links in mails to the old one open nothing."""
    Contact.objects.bulk_create(
        Contact(uid=r.uid, customer_id=r.fields["customer"], name=r.fields["name"],
                email=r.fields["email"], language=r.fields["language"])
        for r in rows if r.new
    )  # fmt: skip
    told = {r.uid: r.fields for r in rows if not r.new}
    changed = _locked(Contact, told)
    for one in changed:
        for field in ("name", "email", "language"):
            setattr(one, field, told[one.uid].get(field, getattr(one, field)))
    Contact.objects.bulk_update(changed, ["name", "email", "language"])
    for one in changed:
        if "email" in told[one.uid]:
            services.revoke_links(contact=one.uid, at=clock.now())
    # Whom drivers call is on the phones by name.
    called = {c.customer_id for c in changed if c.phone and "name" in told[c.uid]}
    _publish(Yard.objects.filter(customer__in=called))


def specifications(rows: Sequence[Told], bringer: Bringer) -> None:
    """Fields: customer, yard (ids; none: all yards) and every term. Each is a number of its own;
    the same terms again are none."""
    at, by = clock.now(), bringer.person.uid if bringer.person else None
    for r in rows:
        told = {k: v for k, v in r.fields.items() if k not in ("customer", "yard", *PLACES)}
        designs = {place: r.fields[place] for place in PLACES}
        specify(
            customer=r.fields["customer"],
            yard=r.fields["yard"],
            terms=terms({**told, "designs": designs}),
            by=by,
            at=at,
        )


def _locked(model: Any, uids: Iterable[UUID]) -> list[Any]:
    rows = model.objects.select_for_update(no_key=True).filter(uid__in=list(uids))
    return list(rows.order_by("uid"))


def _publish(rows: Any) -> None:
    """What is said of these yards has changed, though nothing of their own."""
    found = list(rows.select_for_update(no_key=True, of=("self",)).order_by("uid"))
    for yard in found:
        yard.version += 1
    Yard.objects.bulk_update(found, ["version"])
    _tell(found)


def _tell(found: Sequence[Yard]) -> None:
    sites = dict(
        Customer.objects.filter(uid__in={y.customer_id for y in found}).values_list(
            "uid", "home_site"
        )
    )
    sync.put(Change(services.scope(sites[y.customer_id]), "yard", y.uid, y.version) for y in found)
