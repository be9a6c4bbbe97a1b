"""What a customer is to be told of a casing, and when that is news. Pure.

What stands now is compared with what the contact was told last: so it does not matter in which
order or how often facts arrive, and a fact that changes nothing tells nobody anything.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

FINISHED = "finished"
READY = "ready"
"""Finished, and where its last way starts from or where its owner fetches it."""
REJECTED = "rejected"
OPEN = "open"
"""Told to be finished, ready or rejected before, and that no longer holds."""
NOT_YOURS = "not_yours"
"""Told of before, and it was a mistake: withdrawn, or another customer's casing."""
NOTHING = ""
STANDS = frozenset({FINISHED, READY, REJECTED})
"""What a customer may rely on; where it no longer holds it is taken back."""


@dataclass(frozen=True, slots=True)
class Known:
    """What the facts say of a casing, as far as a customer is concerned.

    dealers: they sold it or gave it in exchange. again: how many rejections were released before
    the one that stands. at: see `at_start`.
    """

    contested: bool
    on_hold: bool
    yours: bool
    dealers: bool
    back: bool
    finished: bool
    rejected: bool
    reason: str = ""
    cause: str = ""
    again: int = 0
    at: str = ""


def back_to(told: Mapping[str, Any]) -> str:
    """Where a casing is to come back to, "yard" or "store"; the yard where nobody was asked."""
    return str(told.get("back_to") or "yard")


def fetched_at(told: Mapping[str, Any], *, site: UUID) -> UUID:
    """The store where its owner fetches it: the counter that took it in, else its home store."""
    return UUID(str(told.get("store") or site))


def at_start(holder: str, *, site: UUID, told: Mapping[str, Any]) -> str:
    """Whether a casing lies where its last way starts from, or where its owner fetches it: "yard"
    or "store <id>" for where it goes from there, "" where it is elsewhere.

    site: its home store, or the plant that is one. The counter that took it in is a place to
    fetch it at too. On a truck it is at no such place.
    """
    kind, _, place = holder.partition(":")
    fetched = back_to(told) == "store"
    starts = {str(site), str(fetched_at(told, site=site))} if fetched else {str(site)}
    if kind not in ("site", "plant") or place not in starts:
        return ""
    return f"store {place}" if fetched else "yard"


def news(known: Known) -> str:
    """What stands now, as a word that is compared with the last one told; NOTHING to be told now.

    Nothing while the label is contested or the casing is on hold, nor of what is the dealer's. A
    casing with a rejection that stands is rejected, whatever else was told of it and in whatever
    order.
    """
    if known.contested:
        return NOTHING
    if not known.yours:
        return NOT_YOURS
    if known.on_hold or known.dealers:
        return NOTHING
    if known.rejected:
        return f"{REJECTED} {known.reason} {known.cause} {known.again}"
    if known.finished:
        ready = f"{READY} {known.at}" if known.at else FINISHED
        return NOTHING if known.back else ready
    return OPEN


def is_news(now: str, before: str) -> bool:
    """Whether `now` is worth a line after `before`, which is empty where nothing was told."""
    if now in (NOTHING, before):
        return False
    if now == OPEN:
        return sort(before) in STANDS
    if now == FINISHED:
        return sort(before) != READY  # a driver has it: that it was ready has been said
    if now == NOT_YOURS:
        return before != ""
    return True


def sort(news: str) -> str:
    """FINISHED, READY, REJECTED, OPEN or NOT_YOURS."""
    return news.partition(" ")[0]
