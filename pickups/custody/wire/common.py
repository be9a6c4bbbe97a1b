"""What the payloads have in common: labels, hashes, days, depths, holders. Pure."""

from datetime import date
from typing import Annotated
from uuid import UUID

import msgspec

from pickups.kernel.wire import Fault, Malformed, whole
from pickups.labels.rules import LENGTH, SYMBOLS

_LABEL = whole(
    f"[{SYMBOLS}]{{{LENGTH}}}",
    "a label: eight symbols, digits and capital letters, without G I O Q S Z",
)
Label = Annotated[str, msgspec.Meta(pattern=_LABEL, examples=["K7000Y02"])]
_HASH = whole("[0-9a-f]{64}", "64 hexadecimal digits, lower case")
Sha256 = Annotated[str, msgspec.Meta(pattern=_HASH)]
Photos = Annotated[list[Sha256], msgspec.Meta(max_length=12)]
Thirtyseconds = Annotated[int, msgspec.Meta(ge=0, le=40)]
Reason = Annotated[str, msgspec.Meta(min_length=1, max_length=500)]
Note = Annotated[str, msgspec.Meta(max_length=500)]
_DAY = whole(
    "[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])",
    "a day as 2026-04-21 (RFC 3339, full-date)",
)
Day = Annotated[str, msgspec.Meta(pattern=_DAY, examples=["2026-04-21"])]
Short = Annotated[str, msgspec.Meta(max_length=40)]
_HOLDER = whole(
    "(person|site|plant|customer):[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}",
    "person, site, plant or customer, a colon and a UUID (RFC 9562)",
)
Holder = Annotated[str, msgspec.Meta(pattern=_HOLDER)]


class Original(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The fact that a correction names, and the label that it was told under."""

    fact: UUID
    label: Label


def on_day(day: str, field: str) -> date:
    """A day in the shape of `Day` as a date; raises Malformed where no calendar has it."""
    try:
        return date.fromisoformat(day)
    except ValueError:
        raise Malformed(Fault(field, day, "a day that the calendar has")) from None
