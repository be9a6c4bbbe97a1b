"""Which lists there are and what stands in their columns. Pure; what they are called: `words`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from pickups.customers.rules import REJECTS, REPAIRS

Value = str | int | list[str] | None
Values = Mapping[str, Value]
"""A record's columns by key. A store, customer or yard stands as its id; a text that is not told
is empty, a number or a list that sets no bound is None."""

Reads = Literal["id", "text", "mail", "whole", "texts", "choice", "choices", "store", "customer",
                "yard"]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Column:
    """One column. least, most: bounds of a whole number, or the length of a text (of each text of
    several; `many` of them at most). choices: the codes allowed. initial: what a choice is where
    nothing is told."""

    key: str
    reads: Reads = "text"
    required: bool = False
    least: int = 0
    most: int = 0
    many: int = 0
    choices: tuple[str, ...] = ()
    initial: str = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """A list of one kind of record. The columns in `known_by` tell two records apart. one_of: a
    list without any of these is another."""

    name: str
    columns: tuple[Column, ...]
    known_by: tuple[str, ...]
    one_of: tuple[str, ...] = ()

    def column(self, key: str) -> Column:
        """The column of a key."""
        return next(c for c in self.columns if c.key == key)

    @property
    def required(self) -> tuple[str, ...]:
        """The columns without which no row can be read."""
        return tuple(c.key for c in self.columns if c.required)


ID = Column("id", "id", most=36)
CUSTOMER = Column("customer", "customer", required=True, most=120)

CUSTOMERS = Listing(
    "customers",
    (
        ID,
        Column("number", most=20),
        Column("name", required=True, most=120),
        Column("store", "store", required=True, most=120),
    ),
    ("number", "name"),
)
YARDS = Listing(
    "yards",
    (ID, CUSTOMER, Column("yard_name", required=True, most=80), Column("address", most=200)),
    ("customer", "yard_name"),
)
CONTACTS = Listing(
    "contacts",
    (
        ID,
        CUSTOMER,
        Column("contact", required=True, most=120),
        Column("email", "mail", most=254),
        Column("language", "choice", choices=("en", "es"), initial="en"),
    ),
    ("customer", "contact"),
)
TERMS = (
    Column("oldest_years", "whole", least=1, most=30),
    Column("most_caps", "whole", most=20),
    Column("most_nail_holes", "whole", most=20),
    Column("repairs", "choices", many=len(REPAIRS), choices=REPAIRS),
    Column("brands", "texts", most=40, many=40),
    Column("sizes", "texts", most=24, many=40),
    Column("steer", most=40),
    Column("drive", most=40),
    Column("trailer", most=40),
    Column("fleet_brand", most=40),
    Column("rejects", "choice", choices=REJECTS, initial="ask"),
    Column("pull_32nds", "whole", most=30),
)
"""Bounds and codes as `customers.rules.Terms` has them."""
SPECIFICATIONS = Listing(
    "specifications",
    (ID, CUSTOMER, Column("yard", "yard", most=80), *TERMS),
    ("customer", "yard"),
    one_of=tuple(c.key for c in TERMS),
)
LISTS: tuple[Listing, ...] = (CUSTOMERS, YARDS, CONTACTS, SPECIFICATIONS)
"""In the order in which they are written: what is named stands before what names it."""
BY_NAME = {one.name: one for one in LISTS}
