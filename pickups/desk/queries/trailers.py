"""A trailer that was taken closed, as the office reads it: its numbers, its seal, its emptying."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from pickups.custody.queries import Pickup
from pickups.desk.queries.beside import Line
from pickups.desk.queries.names import Names


def said(pickup: Pickup, names: Names) -> list[Line]:
    """Terms and what was told; nothing where no trailer was taken."""
    trailer, emptied = pickup.trailer, pickup.emptied
    if not trailer:
        return []
    told = [("trailer", trailer["number"]), ("seal_told", trailer.get("seal", "")),
            ("trailer_left", trailer.get("left", ""))]  # fmt: skip
    lines = [Line(names.say(key), value) for key, value in told if value]
    if not emptied:
        return [*lines, Line(names.say("trailer_emptied"), names.say("trailer_shut"))]
    return [*lines, *_emptied(emptied, names)]


def own_count(pickup: Pickup, names: Names) -> list[Line]:
    """How many came out of it by who emptied it, before the customer's count was seen."""
    counted = (pickup.emptied or {}).get("counted")
    return [] if counted is None else [Line(names.say("count_emptied"), str(counted))]


def photos(pickup: Pickup) -> list[tuple[UUID, int]]:
    """Those told where it was emptied, by (fact, number)."""
    told = pickup.emptied or {}
    return [(UUID(told["fact"]), n) for n in range(1, len(told.get("photos", [])) + 1)]


def teller(pickup: Pickup) -> set[UUID]:
    """Who emptied it."""
    return {UUID(pickup.emptied["by"])} if pickup.emptied else set()


def _emptied(told: Mapping[str, Any], names: Names) -> list[Line]:
    where = names.site(UUID(told["store"])) if told.get("store") else ""
    when = names.when(datetime.fromisoformat(told["at"]))
    parts = [when, where, names.person(UUID(told["by"]))]
    lines = [Line(names.say("trailer_emptied"), ", ".join(p for p in parts if p))]
    if told.get("seal"):
        lines.append(Line(names.say("seal_found"), told["seal"]))
    if state := told.get("seal_state"):
        lines.append(Line(names.say("seal"), names.say(f"seal_{state}")))
    if told.get("note"):
        lines.append(Line(names.say("trailer_note"), told["note"]))
    return lines
