"""Lines of a pickup that get no label: scrap that is counted, what is left there. Pure."""

from typing import Annotated
from uuid import UUID

import msgspec

from pickups.custody.wire.common import Note, Photos, Short
from pickups.custody.wire.seen import Check1, Findings, Tins


class CountScrap1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.count_scrap: worn-out tires taken to be scrapped; counted, never labelled.

    fee_cents: what the customer pays for each, in the dealer's currency; none: not told.
    manifest: the number of the paper that they travel under, as the state wants one. corrects: the
    count_scrap that this tells again; with a count of 0 it is taken back.
    """

    pickup: UUID
    yard: UUID
    count: Annotated[int, msgspec.Meta(ge=0, le=9999)]
    store: UUID | None = None
    fee_cents: Annotated[int, msgspec.Meta(ge=0, le=1_000_000)] | None = None
    manifest: Short = ""
    note: Note = ""
    photos: Photos = []
    corrects: UUID | None = None


class LeaveHere1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.leave_here: a casing that was looked at and not taken; the customer is told why.

    check: the spec check that spoke against it. corrects: the leave_here that this tells again;
    taken: it was taken after all, so this line is no more.
    """

    pickup: UUID
    yard: UUID
    store: UUID | None = None
    tins: Tins = []
    size: Annotated[str, msgspec.Meta(max_length=24)] = ""
    brand: Short = ""
    findings: Findings = []
    check: Check1 | None = None
    note: Note = ""
    photos: Photos = []
    corrects: UUID | None = None
    taken: bool = False
