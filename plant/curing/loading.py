"""What is told of a load, folded: the same whatever the order of arrival. Pure.

Of the words under one id the greatest (stamp, uid) is the last; of several ids with one number the
last word among them says the load, and what it leaves out is as the newest before it said. What
went in and came out is read off the stations: a scan that names the load up to the chamber's own
station is in, one behind it is out, and so is any later scan behind it that names no load at all:
a missed scan at stripping is no missing casing.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from uuid import UUID

CHAMBER = "curing"
"""The station of the default route where chambers stand; a plant that renames it, see `behind`."""
STRIPPING = "stripping"
SHOWN_DAYS = 3
"""How long devices are told of a load that nothing is open about."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word about a load; told: its fields as they were told, without what it did not say."""

    uid: UUID
    load: UUID
    number: str
    stamp: int
    told: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Scan:
    """One scan of a casing. casing: the same for all labels that name it."""

    casing: str
    label: str
    station: str
    envelope: str
    at: datetime
    names_load: bool


@dataclass(slots=True)
class Contents:
    """What went in (label and envelope as scanned), what came out, and what did not.

    by_scan: labels that were scanned out under the load's number; out_at: the last of them.
    over: came out under this number and was never seen to go in.
    """

    set_in: list[dict[str, str]] = field(default_factory=list)
    set_out: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    over: list[str] = field(default_factory=list)
    since: datetime | None = None
    out_at: datetime | None = None


def last(words: Iterable[Word], number: str) -> Word | None:
    """What stands of a load with this number, of all words under the ids that ever named it: the
    newest of them, each field by the newest that says it."""
    in_order = sorted(words, key=_order)
    named = {word.load: word.number for word in in_order}
    told: dict[str, Any] = {}
    newest: Word | None = None
    for word in in_order:
        if named[word.load] == number:
            newest, told = word, told | dict(word.told)
    return replace(newest, told=told) if newest else None


def _order(word: Word) -> tuple[int, UUID]:
    return word.stamp, word.uid


def behind(route: Sequence[str]) -> frozenset[str]:
    """The stations behind the chamber; where the route has neither the chamber's code nor
    stripping's nothing is known to be."""
    if CHAMBER in route:
        return frozenset(route[route.index(CHAMBER) + 1 :])
    return frozenset(route[route.index(STRIPPING) :]) if STRIPPING in route else frozenset()


def contents(scans: Iterable[Scan], behind: Collection[str]) -> Contents:
    """What went in and came out. Nothing is missing before the first was scanned out under the
    load's number: until then it is in the chamber, or the plant does not scan there."""
    went: dict[str, Scan] = {}
    came: dict[str, Scan] = {}
    envelopes: dict[str, str] = {}
    found = Contents()
    in_order = sorted(scans, key=lambda s: (s.at, s.label))
    for scan in in_order:
        if scan.names_load and scan.station not in behind:
            went.setdefault(scan.casing, scan)
            envelopes[scan.casing] = scan.envelope or envelopes.get(scan.casing, "")
    for scan in in_order:
        if scan.station not in behind:
            continue
        entered = went.get(scan.casing)
        if scan.names_load or (entered and scan.at >= entered.at):
            came.setdefault(scan.casing, scan)
        if scan.names_load:
            found.out_at = scan.at
    found.set_in = [{"label": s.label, "envelope": envelopes[s.casing]} for s in went.values()]
    found.set_out = [s.label for s in came.values()]
    found.over = [s.label for casing, s in came.items() if casing not in went]
    if found.out_at is not None:
        found.missing = [s.label for casing, s in went.items() if casing not in came]
    found.since = min((s.at for s in (*went.values(), *came.values())), default=None)
    return found
