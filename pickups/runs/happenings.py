"""What a driver has told of a run, read as it stands: the same whatever the order of arrival.

The greatest (stamp, uid) is the last word. `frontend/src/domain/happening.ts` is its twin; both are
held to fixtures/vectors/happenings.json. Pure.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any
from uuid import UUID


class Kind(StrEnum):
    """What can happen to a run, or to one of its stops."""

    ARRIVED = "arrived"
    SKIPPED = "skipped"
    RESUMED = "resumed"
    ADDED = "added"
    COUNTED = "counted"


@dataclass(frozen=True, slots=True)
class Happened:
    """One of them. at: the device's time (RFC 3339). told: what the payload said beside it."""

    uid: UUID
    kind: Kind
    stop: UUID | None
    stamp: int
    at: str
    told: Mapping[str, Any] = field(default_factory=dict)


@dataclass(slots=True)
class AtStop:
    """How a stop stands, or (under no stop) the start of the run.

    skip: the word that it is not made, while that stands. loaded_at: when the truck had taken on
    there what it takes on. counts: the last count of each way, "on" and "off". added: of a stop
    that no sheet named.
    """

    arrived_at: str | None = None
    skip: Happened | None = None
    loaded_at: str | None = None
    added: Happened | None = None
    counts: dict[str, Happened] = field(default_factory=dict)

    @property
    def why_added(self) -> str | None:
        """Why a stop was made that no sheet named; empty where nobody said."""
        return None if self.added is None else self.added.told.get("why", "")

    @property
    def skipped(self) -> dict[str, str] | None:
        """Why, note and at."""
        if self.skip is None:
            return None
        told = self.skip.told
        return {"why": told["why"], "note": told.get("note", ""), "at": self.skip.at}


def fold(happened: Iterable[Happened]) -> dict[UUID | None, AtStop]:
    """How each stop stands of which anything was told; under None the start of the run."""
    stands: dict[UUID | None, AtStop] = {}
    for one in sorted(happened, key=lambda h: (h.stamp, h.uid)):
        at = stands.setdefault(one.uid if one.kind is Kind.ADDED else one.stop, AtStop())
        if one.kind is Kind.ARRIVED:  # who comes after all has not skipped it
            at.arrived_at, at.skip = one.at, None
        elif one.kind is Kind.SKIPPED:
            at.skip = one
        elif one.kind is Kind.RESUMED:
            at.arrived_at = at.arrived_at if at.skip else None
            at.skip = None
        elif one.kind is Kind.ADDED:
            at.added = one
        else:
            at.counts[one.told["way"]] = one
            at.loaded_at = one.at if one.told["way"] == "on" else at.loaded_at
    return stands
