"""What a customer accepts of a casing: the fields of a specification and their bounds. Pure.

An empty field says nothing: `None` is "any", and no rule speaks from it. None of the bounds is a
law; no regulation of the United States sets an age for casings. They only keep out slips of the
hand. How a casing is held against a specification is `casings.eligibility`.
"""

from typing import Annotated, Any, Literal, get_args

import msgspec

from pickups.kernel.wire import Fault, Malformed, read, storable, whole

WHOLE: dict[str, tuple[int, int]] = {
    "oldest_years": (1, 30),
    "most_caps": (0, 20),
    "most_nail_holes": (0, 20),
    "pull_32nds": (0, 30),
}
"""The fields that are whole numbers: the least and the most that each can be."""
LONGEST = {"name": 40, "size": 24}
"""Characters of a brand, a tread design or a fleet's brand, and of a size."""
MOST_LINES = 40

_LINE = whole(r"\S(?:[^\t\r\n]*\S)?", "text of one line, not empty")
Name = Annotated[str, msgspec.Meta(pattern=_LINE, min_length=1, max_length=LONGEST["name"])]
Size = Annotated[str, msgspec.Meta(pattern=_LINE, min_length=1, max_length=LONGEST["size"])]
Short = Annotated[str, msgspec.Meta(max_length=LONGEST["name"])]


def _between(field: str) -> msgspec.Meta:
    least, most = WHOLE[field]
    return msgspec.Meta(ge=least, le=most)


Repair = Literal["old_nail_repair", "old_spot_repair", "old_section_repair", "old_bead_repair"]
REPAIRS: tuple[str, ...] = get_args(Repair)
Rejects = Literal["ask", "return", "scrap", "buy"]
"""What is done with what the plant rejects: asked each time, brought back, scrapped under the
state's rules, offered for sale to the dealer."""
REJECTS: tuple[str, ...] = get_args(Rejects)
PLACES = ("steer", "drive", "trailer")


class Designs(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """The tread design wanted by wheel position; empty where none was named."""

    steer: Short = ""
    drive: Short = ""
    trailer: Short = ""


class Terms(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What a customer accepts, for all of its yards or for one.

    oldest_years: so many years may have passed since the last day of the week of its birth, and
    not a day more. most_caps: retreads that it may already have had. most_nail_holes: nail holes
    that it may have. repairs: old repairs that are accepted; none in the list: none is. brands,
    sizes: only these. fleet_brand: to be branded on. pull_32nds: the depth at which this customer
    pulls, in 1/32 inch.
    """

    oldest_years: Annotated[int, _between("oldest_years")] | None = None
    most_caps: Annotated[int, _between("most_caps")] | None = None
    most_nail_holes: Annotated[int, _between("most_nail_holes")] | None = None
    repairs: Annotated[list[Repair], msgspec.Meta(max_length=len(REPAIRS))] | None = None
    brands: Annotated[list[Name], msgspec.Meta(min_length=1, max_length=MOST_LINES)] | None = None
    sizes: Annotated[list[Size], msgspec.Meta(min_length=1, max_length=MOST_LINES)] | None = None
    designs: Designs = Designs()
    fleet_brand: Short = ""
    rejects: Rejects = "ask"
    pull_32nds: Annotated[int, _between("pull_32nds")] | None = None


def terms(told: Any, field: str = "") -> Terms:
    """Plain values as terms; raises Malformed naming the field, the value and what is allowed."""
    storable(told, field)
    try:
        found = read(told, Terms, field)
    except Malformed as e:
        raise Malformed(_with_choices(e.fault)) from None
    for name in ("repairs", "brands", "sizes"):
        if (twice := _twice(getattr(found, name) or [])) is not None:
            where = f"{field}.{name}" if field else name
            raise Malformed(Fault(where, twice, "each of them once"))
    return found


def _with_choices(fault: Fault) -> Fault:
    """A fault in a closed list says what stands in it."""
    choices = {"repairs": REPAIRS, "rejects": REJECTS}
    for name, allowed in choices.items():
        if name in fault.field and "enum" in fault.allowed:
            return Fault(fault.field, fault.value, "one of " + ", ".join(allowed))
    return fault


def _twice(listed: list[str]) -> str | None:
    seen: set[str] = set()
    for one in listed:
        if (folded := " ".join(one.upper().split())) in seen:
            return one
        seen.add(folded)
    return None
