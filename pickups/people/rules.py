"""Secrets of devices and plants: how they are made and kept; how long one closes; what kinds of
words are kept apart. Pure."""

import hashlib
import secrets
from datetime import datetime, timedelta
from enum import StrEnum

CODE_SYMBOLS = "0123456789ABCDEFHJKLMNPRTUVWXY"
"""The symbols of labels: none that hands and eyes confuse."""

ENROLMENT_MINUTES = 15


class KeyScope(StrEnum):
    """What a plant's key opens."""

    EVENTS = "events"
    LOADS = "loads"
    READ = "read"


def every_scope() -> list[str]:
    """What a key opens where nobody said less."""
    return [scope.value for scope in KeyScope]


class Words(StrEnum):
    """What was typed where: each kind is kept for as long as `KEPT_DAYS` says."""

    DISPUTE = "dispute"
    REMINDER = "reminder"
    ROAD = "road"


def closing_ends(closed_at: datetime, days: int) -> datetime:
    """When a device that is being taken out of use may no longer send."""
    return closed_at + timedelta(days=days)


def digest(secret: str) -> bytes:
    """What is kept of a secret. The secrets are random and long, so one SHA-256 is enough."""
    return hashlib.sha256(secret.encode()).digest()


def new_secret() -> str:
    """256 random bits as text."""
    return secrets.token_urlsafe(32)


def new_code() -> str:
    """An enrolment code: ten symbols, 49 bits, good for 15 minutes and one use."""
    return "".join(secrets.choice(CODE_SYMBOLS) for _ in range(10))


def new_prefix() -> str:
    """The open part of a plant key, by which people name it."""
    return "P" + "".join(secrets.choice(CODE_SYMBOLS) for _ in range(7))


def tidy_code(text: str) -> str:
    """An enrolment code as typed: capitals, without gaps and dashes."""
    return "".join(c for c in text.upper() if c.isalnum())
