"""What an app must give so that its operations can be pushed and its rows pulled. Pure."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

import msgspec

from pickups.sync.wire import Envelope, Outcome


@dataclass(frozen=True, slots=True)
class Sender:
    """Who sends a batch and when: read once, the same for every operation in it."""

    device: UUID
    site: UUID
    skew_ms: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Entered:
    """One operation with its payload read as the struct of its kind and version."""

    envelope: Envelope
    payload: Any
    sender: Sender


@dataclass(frozen=True, slots=True)
class Done:
    """What became of it. `awaits`: the id of the operation that a held one waits for."""

    outcome: Outcome = Outcome.ACCEPTED
    code: str = ""
    awaits: UUID | None = None


@dataclass(frozen=True, slots=True)
class Command:
    """How one kind and version of operation is read, locked and applied.

    keys: the lock keys, from the payload alone. apply: takes the operations of a batch that
    follow each other, in order, and answers in order; it may not open a transaction or talk to
    the world, and a contradiction is an answer, never an exception. typed: the field of the payload
    that holds a person's own words and their kind in KEPT_DAYS: they are erased while it is held.
    """

    payload: type[msgspec.Struct]
    keys: Callable[[Any], Iterable[int]]
    apply: Callable[[Sequence[Entered]], list[Done]]
    typed: tuple[str, str] | None = None


Commands = Mapping[tuple[str, int], Command]
Bodies = Mapping[str, Callable[[Sequence[UUID]], Mapping[UUID, dict[str, Any]]]]


@dataclass(frozen=True, slots=True)
class Change:
    """A row that is new or changed in a scope, or gone from it."""

    scope: str
    entity: str
    uid: UUID
    version: int
    gone: bool = False
