"""What config wired into the sync at start-up: commands, bodies of rows, a device's scope keys."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any
from uuid import UUID

from pickups.sync.rules import Bodies, Command, Commands

Scopes = Callable[[UUID], Sequence[str]]

_commands: dict[tuple[str, int], Command] = {}
_bodies: dict[str, Callable[[Sequence[UUID]], Mapping[UUID, dict[str, Any]]]] = {}
_scopes: list[Scopes] = []


def install(*, commands: Commands, bodies: Bodies, scopes: Scopes) -> None:
    """Called by config once, before the first request."""
    _commands.clear()
    _commands.update(commands)
    _bodies.clear()
    _bodies.update(bodies)
    _scopes[:] = [scopes]


def command(kind: str, version: int) -> Command | None:
    """How to read and apply this kind and version, if this release can."""
    return _commands.get((kind, version))


def knows_kind(kind: str) -> bool:
    """Whether any version of the kind is known."""
    return any(known == kind for known, _ in _commands)


def typed() -> dict[str, tuple[str, str]]:
    """By kind of operation, the field that holds a person's own words, and what words they are."""
    return {kind: known.typed for (kind, _), known in _commands.items() if known.typed}


def bodies(entity: str, uids: Sequence[UUID]) -> Mapping[UUID, dict[str, Any]]:
    """The bodies of rows of one entity, as they are now."""
    return _bodies[entity](uids)


def scopes(device: UUID) -> Sequence[str]:
    """The scope keys that a device may pull."""
    return _scopes[0](device)
