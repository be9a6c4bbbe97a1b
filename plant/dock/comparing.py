"""A truck's list against what was scanned: what is short, what is over, and what each label that
does not fit is. Pure; the same for every order of the scans.

Nothing here stops a scan: what has happened is recorded, and a person looks at what differs.
"""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from typing import Literal

Way = Literal["in", "out"]
DONE = ("finished", "rejected", "shipped")
KINDS = ("short", "over", "unknown", "elsewhere", "not_finished", "on_hold", "contested")


@dataclass(frozen=True, slots=True)
class Seen:
    """What is known of a label: who holds its casing (`plant:<uid>`, `person:<uid>`, ...), how far
    its work has come, whether it is on hold or on two casings."""

    holder: str
    progress: str
    on_hold: bool = False
    contested: bool = False


@dataclass(frozen=True, slots=True)
class Compared:
    """Labels by what differs, each in one place; sorted.

    short: on the list, not scanned. over: scanned, not on the list, else in order. unknown: nobody
    has picked it up. elsewhere: in another plant's work. not_finished, on_hold: on its way out too
    early. contested: on two casings.
    """

    short: list[str] = field(default_factory=list)
    over: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)
    not_finished: list[str] = field(default_factory=list)
    on_hold: list[str] = field(default_factory=list)
    contested: list[str] = field(default_factory=list)

    @property
    def differs(self) -> bool:
        """Whether a person has to look."""
        return any(asdict(self).values())


def compare(
    way: Way,
    *,
    plant: str,
    listed: Iterable[str],
    scanned: Iterable[str],
    known: Mapping[str, Seen],
) -> Compared:
    """Labels of a list against labels scanned for it. plant: the uid of the plant that scanned."""
    on_list, here = set(listed), set(scanned)
    found: dict[str, list[str]] = {"short": sorted(on_list - here)}
    for label in sorted(here):
        what = _is(way, plant, label in on_list, known.get(label))
        if what:
            found.setdefault(what, []).append(label)
    return Compared(**found)


def _is(way: Way, plant: str, on_list: bool, seen: Seen | None) -> str:
    """What is wrong with one scanned label, the gravest first; empty where nothing is."""
    if seen is None:
        return "unknown"
    if seen.contested:
        return "contested"
    if seen.holder.startswith("plant:") and seen.holder != f"plant:{plant}":
        return "elsewhere"
    if way == "out" and seen.on_hold:
        return "on_hold"
    if way == "out" and seen.progress not in DONE:
        return "not_finished"
    return "" if on_list else "over"
