"""What a customer is to be told of a casing, and when that is news. Pure.

What stands now is compared with what the contact was told last: so it does not matter in which
order or how often facts arrive, and a fact that changes nothing tells nobody anything.
"""

from dataclasses import dataclass

FINISHED = "finished"
REJECTED = "rejected"
OPEN = "open"
"""Told to be finished or rejected before, and that no longer holds."""
NOT_YOURS = "not_yours"
"""Told of before, and it was a mistake: withdrawn, or another customer's casing."""
NOTHING = ""


@dataclass(frozen=True, slots=True)
class Known:
    """What the facts say of a casing, as far as a customer is concerned.

    again: how many rejections were released before the one that stands.
    """

    contested: bool
    on_hold: bool
    yours: bool
    back: bool
    finished: bool
    rejected: bool
    reason: str = ""
    cause: str = ""
    again: int = 0


def news(known: Known) -> str:
    """What stands now, as a word that is compared with the last one told; NOTHING to be told now.

    Nothing while the label is contested or the casing is on hold. A casing with a rejection that
    stands is rejected, whatever else was told of it and in whatever order.
    """
    if known.contested:
        return NOTHING
    if not known.yours:
        return NOT_YOURS
    if known.on_hold:
        return NOTHING
    if known.rejected:
        return f"{REJECTED} {known.reason} {known.cause} {known.again}"
    if known.finished:
        return NOTHING if known.back else FINISHED
    return OPEN


def is_news(now: str, before: str) -> bool:
    """Whether `now` is worth a line after `before`, which is empty where nothing was told."""
    if now in (NOTHING, before):
        return False
    if now == OPEN:
        return sort(before) in (FINISHED, REJECTED)
    if now == NOT_YOURS:
        return before != ""
    return True


def sort(news: str) -> str:
    """FINISHED, REJECTED, OPEN or NOT_YOURS."""
    return news.partition(" ")[0]
