"""The sync protocol: what a phone and the server say to each other. Pure.

Push: POST /api/sync/push with the push cookie. An ordered batch of at most 500 operations or
1 MiB; one operation at most 64 KiB. The answers stand in the order of the operations. One
transaction a batch: either every answer of it is true or none was given.

An operation is made once on the device and never changes; an edit is a new operation.
`id` UUIDv7 made on the device. `incarnation` names the outbox database that it came from,
`sequence` counts from 1 in it without gaps. `kind` and `version` say how to read `payload`.
`by` is the person who was unlocked when it was entered, not who pushes. `happened_at` is the
device's clock. `stamp` (whole ms) is made once: the greater of the device's last stamp + 1 and
its clock plus the offset known then; the server never recomputes it. Hashes of photos stand in
the payload's list `photos`.

Answers, one vocabulary: **accepted**; **contested** (recorded as told, a question is open);
**held** (stored raw, cannot be applied yet, tried again by itself); **refused** (no operation at
all, text that cannot be stored, id reused with another body). The first three end the outbox
entry. `repeat` marks the same answer given again. "Try again" belongs to transport (429, 503)
and is no answer. The server keeps SHA-256 of the RFC 8785 form of the whole operation.

Receipt before visibility: `position` is the feed position at which the effect will be seen; the
phone keeps its overlay until a pull reports a `horizon` greater than it with nothing more to come.

Pull: POST /api/sync/pull with the read token. Rows in feed order for the device's scope keys
after `cursor` (opaque). The phone keeps the greater version of an (entity, id) in a scope; `gone`
rows are drops. `forget` names scopes that are no longer the device's. 410 `epoch_changed` or
`past_horizon`: drop the replica, pull from an empty cursor, push the last 30 days again.

Photos: PUT /api/photos/{sha256}, whole, at most 1 MiB; the hash is of what is sent. A phone drops
a photo only on the answer `here`.
"""

from datetime import datetime
from enum import StrEnum
from typing import Annotated, Any
from uuid import UUID

import msgspec

from pickups.kernel.wire import instant, whole

BATCH = 500
BODY_BYTES = 1024 * 1024
OPERATION_BYTES = 64 * 1024
PHOTO_BYTES = 1024 * 1024
PAGE = 500
RESEND_DAYS = 30
PROTOCOL = 1

Instant = Annotated[datetime, msgspec.Meta(tz=True)]
Count = Annotated[int, msgspec.Meta(ge=1, le=2**53 - 1)]
_HASH = whole("[0-9a-f]{64}", "64 hexadecimal digits, lower case")
Sha256 = Annotated[str, msgspec.Meta(pattern=_HASH)]
_KIND = whole(r"[a-z]+\.[a-z_]+", "an area, a point and a verb, in small letters")


class Outcome(StrEnum):
    """What became of an operation; no other words for it anywhere."""

    ACCEPTED = "accepted"
    CONTESTED = "contested"
    HELD = "held"
    REFUSED = "refused"


class Envelope(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One operation as the device made it."""

    id: UUID
    incarnation: UUID
    sequence: Count
    kind: Annotated[str, msgspec.Meta(pattern=_KIND, max_length=60)]
    version: Annotated[int, msgspec.Meta(ge=1, le=9999)]
    by: UUID
    happened_at: Instant
    stamp: Count
    payload: dict[str, Any]

    def __post_init__(self) -> None:
        """The moment in UTC: one off the calendar nobody could read again."""
        at = instant(self.happened_at, "happened_at")
        msgspec.structs.force_setattr(self, "happened_at", at)


RawOperation = Annotated[
    msgspec.Raw, msgspec.Meta(extra_json_schema={"$ref": "#/components/schemas/Envelope"})
]
"""An operation still as it came: each is read by itself, so that one cannot spoil the others."""


class PushRequest(msgspec.Struct, forbid_unknown_fields=True):
    """An ordered batch; `sent_at` is the device's clock when it was sent, to measure its skew."""

    protocol: Annotated[int, msgspec.Meta(ge=1, le=1)]
    sent_at: Instant
    operations: list[RawOperation]


class Answer(msgspec.Struct, omit_defaults=True):
    """What became of one operation. `id` is absent only where none could be read.

    `code` says why in one word where the outcome is not accepted; a refusal also names the
    `field`, the `value` that stood there and what is `allowed`.
    """

    outcome: Outcome
    id: str | None = None
    repeat: bool = False
    position: str | None = None
    code: str | None = None
    field: str | None = None
    value: str | None = None
    allowed: str | None = None


class PushAnswer(msgspec.Struct):
    """Answers in the order of the operations; hashes of photos the server does not have yet."""

    server_time: Instant
    epoch: UUID
    answers: list[Answer]
    missing_photos: list[str]


class PullRequest(msgspec.Struct, forbid_unknown_fields=True):
    """What a phone asks: everything after its cursor (null at first)."""

    cursor: Annotated[str, msgspec.Meta(max_length=16384)] | None = None
    limit: Annotated[int, msgspec.Meta(ge=1, le=PAGE)] = PAGE


class Row(msgspec.Struct, omit_defaults=True):
    """One entity in one scope; `body` is absent where it is gone from that scope."""

    scope: str
    entity: str
    id: str
    version: int
    gone: bool = False
    body: dict[str, Any] | None = None


class PullPage(msgspec.Struct):
    """A page of the feed, the cursor after it, and how far the feed could be seen."""

    server_time: Instant
    epoch: UUID
    cursor: str
    horizon: str
    more: bool
    rows: list[Row]
    forget: list[str]


class PhotoAnswer(msgspec.Struct):
    """The server has the photo: the phone may drop it."""

    sha256: str
    state: str = "here"


class SavedPhoto(msgspec.Struct):
    """A photo of a saved file: its hash, and how many of the bytes behind the head are its."""

    sha256: Sha256
    bytes: Annotated[int, msgspec.Meta(ge=1, le=PHOTO_BYTES)]


class Saved(msgspec.Struct):
    """The head of what a phone saved to a file, one line of JSON; its photos' bytes follow.

    The whole is sealed to the server's key. saved: the number of this form. saved_at: the
    device's clock; offset_ms: how far the server's was ahead of it when they last spoke.
    """

    saved: Annotated[int, msgspec.Meta(ge=1, le=1)]
    device: UUID
    saved_at: Instant
    offset_ms: Annotated[int, msgspec.Meta(ge=-(2**53) + 1, le=2**53 - 1)]
    operations: list[RawOperation]
    photos: list[SavedPhoto]
