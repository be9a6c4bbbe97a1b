"""A counter's step about a casing that waits for its owner. Pure."""

from typing import Literal

import msgspec

from pickups.custody.wire.common import Day, Label, Note, on_day
from pickups.kernel.wire import Fault, Malformed

LAST_YEAR = 2099
"""Of a day up to which something is held: what lies further ahead was mistyped."""


class Remind1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.remind: something was done so that the owner of a finished casing fetches it.

    step: called (said: with whom, and what they said), written (a notice goes out by mail), hold
    (nothing more is done for a while). until: the day up to which the casing is held for its owner,
    at the latest 2099-12-31; a hold has one. Neither who holds it nor whose it is changes by it.
    """

    label: Label
    step: Literal["called", "written", "hold"]
    said: Note = ""
    until: Day | None = None

    def __post_init__(self) -> None:
        """The pattern lets 30 February through, and a day that nobody lives to see."""
        if self.until is not None and on_day(self.until, "until").year > LAST_YEAR:
            raise Malformed(Fault("until", self.until, f"a day up to {LAST_YEAR}-12-31"))
        if self.step == "hold" and self.until is None:
            raise Malformed(Fault("until", "", "the day up to which it is held"))
