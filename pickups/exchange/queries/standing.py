"""What stands, as lists have it: the world that a list is held against, and lists to hand out."""

from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from uuid import UUID

import msgspec

from pickups.customers import queries as customers
from pickups.exchange import words
from pickups.exchange.rules.cells import same_name
from pickups.exchange.rules.lists import BY_NAME, Listing, Values
from pickups.exchange.rules.planning import World
from pickups.exchange.rules.values import cell_of
from pickups.people import queries as people


def stores() -> dict[UUID, str]:
    """Every store by its id."""
    return {s.uid: s.name for s in people.sites() if s.kind == "store"}


def records(names: Collection[str] = tuple(BY_NAME)) -> dict[str, dict[UUID, Values]]:
    """Every record of these lists."""
    return {name: _RECORDS[name]() if name in names else {} for name in BY_NAME}


def world(names: Collection[str] = tuple(BY_NAME)) -> World:
    """What stands now, as far as rows of these lists are held against it."""
    needed = {"customers", *names, *(["yards"] if "specifications" in names else [])}
    return World(stores(), records(needed))


def _customers() -> dict[UUID, Values]:
    return {
        c.uid: {"number": c.number, "name": c.name, "store": str(c.home_site_id)}
        for c in customers.every_customer()
    }


def _yards() -> dict[UUID, Values]:
    return {
        y.uid: {"customer": str(y.customer_id), "yard_name": y.name, "address": y.address}
        for y in customers.every_yard()
    }


def _contacts() -> dict[UUID, Values]:
    return {
        c.uid: {
            "customer": str(c.customer_id),
            "contact": c.name,
            "email": c.email,
            "language": c.language,
        }
        for c in customers.every_contact()
    }


def _specifications() -> dict[UUID, Values]:
    return {
        s.uid: {
            "customer": str(s.customer),
            "yard": str(s.yard) if s.yard else None,
            **{k: v for k, v in msgspec.structs.asdict(s.terms).items() if k != "designs"},
            **msgspec.structs.asdict(s.terms.designs),
        }
        for s in customers.specifications_standing()
    }


_RECORDS: Mapping[str, Callable[[], dict[UUID, Values]]] = {
    "customers": _customers,
    "yards": _yards,
    "contacts": _contacts,
    "specifications": _specifications,
}


class Referred:
    """How a list names a store, a customer or a yard: by what finds it again."""

    def __init__(self, records: Mapping[str, Mapping[UUID, Values]]) -> None:
        self._stores, self._records = stores(), records
        known = records["customers"].values()
        self._names = Counter(same_name(str(v["name"])) for v in known)
        self._names.update(str(v["number"]).casefold() for v in known if v["number"])

    def said(self, key: str, uid: str) -> str:
        """The words for an id that stands in a column."""
        if key == "store":
            return self._stores.get(UUID(uid), "")
        if key == "yard":
            return str(self._records["yards"][UUID(uid)]["yard_name"])
        customer = self._records["customers"][UUID(uid)]
        name, number = str(customer["name"]), str(customer["number"])
        return number if number and self._names[same_name(name)] > 1 else name


def rows(listing: Listing, language: str) -> Iterator[list[str]]:
    """A list as it is handed out: every record, in the form that comes in."""
    found = records()
    referred, spoken = Referred(found), words.spoken(language)
    for uid, values in found[listing.name].items():
        yield [
            str(uid)
            if column.reads == "id"
            else referred.said(column.key, str(values[column.key]))
            if column.reads in ("store", "customer", "yard") and values[column.key]
            else cell_of(column, values[column.key], spoken)
            for column in listing.columns
        ]
