"""Lines of a pickup that get no label: scrap that was counted, a casing that was left there. Pure.

A line is the fact that told it first, as the greatest (stamp, uid) of the facts that name it tells
it again; so neither order nor repetition of their arrival matters. It knows no table and no clock.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from pickups.custody.fold import Fact, Kind

KINDS = frozenset({Kind.SCRAP, Kind.LEFT})


@dataclass(frozen=True, slots=True)
class Line:
    """One line as it stands; `uid` is that of its first telling, which also says in which pickup
    and over which counter. withdrawn: nothing was scrap after all, or it was taken after all."""

    uid: UUID
    kind: Kind
    pickup: UUID
    yard: UUID
    store: UUID | None
    withdrawn: bool
    told: Mapping[str, Any]


def fits(original: Fact, correction: Fact) -> bool:
    """Whether one line may tell the other again: of one kind, in one pickup."""
    same = original.told.get("visit") == correction.told.get("visit")
    return original.kind is correction.kind and original.kind in KINDS and same


def standing(facts: Iterable[Fact]) -> dict[UUID, Line]:
    """Each line among the facts, by its uid. What names nothing here, or nothing that it fits, is
    left out."""
    facts = list(facts)
    found = {f.uid: f for f in facts if f.kind in KINDS and f.corrects is None}
    last = dict(found)
    for f in facts:
        if f.corrects in found and fits(found[f.corrects], f) and last[f.corrects].order < f.order:
            last[f.corrects] = f
    return {uid: _line(original, last[uid]) for uid, original in found.items()}


_ELSEWHERE = frozenset({"at", "visit", "yard", "store", "taken"})


def _line(original: Fact, last: Fact) -> Line:
    store = original.told.get("store")
    gone = last.told.get("taken", False) if last.kind is Kind.LEFT else not last.told.get("count")
    return Line(
        uid=original.uid,
        kind=original.kind,
        pickup=UUID(original.told["visit"]),
        yard=UUID(last.told["yard"]),
        store=UUID(store) if store else None,
        withdrawn=bool(gone),
        told={k: v for k, v in last.told.items() if k not in _ELSEWHERE},
    )
