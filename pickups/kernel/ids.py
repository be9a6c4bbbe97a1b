"""Ids that can be made anywhere without asking: UUIDv7 (RFC 9562, section 5.7).

The time in an id is a convenience for indexes; nothing may order facts by it.
"""

import secrets
import time
import uuid


def uuid7(unix_ms: int | None = None) -> uuid.UUID:
    """A new UUIDv7: 48 bits of Unix milliseconds, version, 12 random bits, variant, 62 random."""
    ms = time.time_ns() // 1_000_000 if unix_ms is None else unix_ms
    value = (ms & ((1 << 48) - 1)) << 80 | secrets.randbits(80)
    value = value & ~(0xF << 76) | 0x7 << 76
    value = value & ~(0x3 << 62) | 0x2 << 62
    return uuid.UUID(int=value)


def derived(namespace: uuid.UUID, name: str) -> uuid.UUID:
    """The same id for the same name (UUIDv5, RFC 9562, section 5.5): safe to make again."""
    return uuid.uuid5(namespace, name)
