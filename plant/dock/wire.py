"""A plant's route as its systems and tablets are given it; a truck's list, counted. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec


class CountIn1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """dock.count_in: a truck's list was counted by hand, blind, before a single scan.

    consignment: its id in the feed. way: whether the truck brings it or takes it.
    """

    consignment: UUID
    way: Literal["in", "out"]
    counted: Annotated[int, msgspec.Meta(ge=0, le=2000)]


class StationRow(msgspec.Struct):
    """One station. place: its place in the order, first is 1. scans: labels are scanned here.
    machines: how many do this work side by side; cycle_min: minutes that one takes for `batch`
    casings, null where nobody entered it. caution: what to look out for here; local codes and
    licensed practice come first."""

    code: str
    name: str
    name_es: str
    place: int
    scans: bool
    optional: bool
    machines: int
    cycle_min: int | None
    batch: int
    caution: str
    caution_es: str


class ChamberRow(msgspec.Struct):
    """One curing chamber: how many casings it holds, minutes of its usual cycle."""

    code: str
    name: str
    holds: int
    cycle_min: int | None


class PlantRoute(msgspec.Struct):
    """The route of a plant in its order. rework_limit: how often a casing may be worked again,
    null where no limit was entered. version: grows with every change."""

    uid: UUID
    stations: list[StationRow]
    chambers: list[ChamberRow]
    rework_limit: int | None
    version: int
