"""How far a work order can have come. Pure."""

from enum import StrEnum


class Progress(StrEnum):
    """The way of a casing, in the order in which it is gone; `rejected` ends the work only."""

    PICKED_UP = "picked_up"
    RECEIVED = "received"
    IN_WORK = "in_work"
    REJECTED = "rejected"
    FINISHED = "finished"
    SHIPPED = "shipped"
    RETURNED = "returned"

    @classmethod
    def choices(cls) -> list[tuple[str, str]]:
        """For a model's field."""
        return [(p.value, p.value.replace("_", " ")) for p in cls]


DONE = frozenset({Progress.FINISHED, Progress.SHIPPED, Progress.REJECTED})
"""How far a casing has come that goes home."""
