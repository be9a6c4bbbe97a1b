"""What a phone and the server say to each other when a device is enrolled. Pure."""

from typing import Annotated, Literal
from uuid import UUID

import msgspec


class EnrolRequest(msgspec.Struct, forbid_unknown_fields=True):
    """`code` is what the office showed (QR or typed), once and for 15 minutes.

    device: the uid that this phone already has, or a new one; enrolling again keeps it.
    """

    code: Annotated[str, msgspec.Meta(min_length=1, max_length=40)]
    device: UUID
    name: Annotated[str, msgspec.Meta(min_length=1, max_length=60)]


class SiteBrief(msgspec.Struct):
    """The store or plant that the device belongs to."""

    id: UUID
    name: str


class SealingKey(msgspec.Struct):
    """The server's public key, an RSA key as a JWK (RFC 7517); `kid` is its RFC 7638 thumbprint."""

    kty: str
    n: str
    e: str
    kid: str


class Enrolled(msgspec.Struct):
    """The read token, said once. The push credential comes beside it as an HttpOnly cookie.

    export_key: to this key a phone seals what it saves to a file.
    """

    device: UUID
    name: str
    site: SiteBrief
    read_token: str
    export_key: SealingKey


class StandingRequest(msgspec.Struct, forbid_unknown_fields=True):
    """waits: how many entries and photos the device still holds."""

    waits: Annotated[int, msgspec.Meta(ge=0, le=10_000_000)]


class Standing(msgspec.Struct):
    """Where the device stands with the office: closing is a device that may only send."""

    device: UUID
    status: Literal["active", "closing"]


class Renewed(msgspec.Struct):
    """The push cookie was set anew for this device."""

    device: UUID
