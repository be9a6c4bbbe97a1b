"""A label that is lost or spoiled gives way to another on the same work order. Pure."""

from typing import Literal

import msgspec

from pickups.custody.wire.common import Label, Note, Photos


class Relabel1(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """custody.relabel: the casing under `label` wears `now` instead; the old code is void.

    why: lost, or spoiled (torn, burned, painted over). known_by: how the casing was identified.
    """

    label: Label
    now: Label
    why: Literal["lost", "spoiled"]
    known_by: Note = ""
    photos: Photos = []
