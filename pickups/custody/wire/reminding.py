"""A counter's step about a casing that waits for its owner. Pure."""

from typing import Literal

import msgspec

from pickups.custody.wire.common import Day, Label, Note


class Remind1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.remind: something was done so that the owner of a finished casing fetches it.

    step: called (said: with whom, and what they said), written (a notice goes out by mail), hold
    (nothing more is done for a while). until: the day up to which the casing is held for its owner.
    Neither who holds it nor whose it is changes by it.
    """

    label: Label
    step: Literal["called", "written", "hold"]
    said: Note = ""
    until: Day | None = None
