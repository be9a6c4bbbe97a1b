"""The phones of the dealer: in use or not, when seen, how their clocks stand, what is missing."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.conf import settings

from pickups.desk import rules, words
from pickups.desk.queries import qr
from pickups.desk.queries.names import Names
from pickups.kernel import clock
from pickups.people import queries as people
from pickups.people.models import Device, Site
from pickups.people.rules import ENROLMENT_MINUTES
from pickups.questions import queries as questions
from pickups.questions.rules import Kind
from pickups.sync import queries as sync


@dataclass(frozen=True)
class Phone:
    """A device as the office reads it."""

    uid: UUID
    name: str
    site: str
    status: str
    status_said: str
    seen: str
    clock: str
    missing: Sequence[str]


@dataclass(frozen=True)
class Code:
    """An enrolment code on the screen; the QR is a path of unit squares, `side` wide.

    address: what is typed by hand; link: the same with the code.
    """

    grouped: str
    plain: str
    path: str
    side: int
    address: str
    link: str


def phones(language: str) -> list[Phone]:
    """Every device, those in use first."""
    at, names = clock.now(), Names(language)
    return [_phone(device, names, at) for device in people.devices()]


def sites() -> list[Site]:
    """Where a phone can belong."""
    return people.sites()


def _phone(device: Device, names: Names, at: datetime) -> Phone:
    return Phone(
        device.uid,
        device.name,
        device.site.name,
        "revoked" if device.is_revoked else device.status,
        _status(device, names),
        _seen(device, names, at),
        _clock(device.skew_ms, names),
        _missing(device, names),
    )


def _status(device: Device, names: Names) -> str:
    if device.is_revoked:
        return names.say("status_revoked")
    if device.emptied_at is not None:
        return names.say("status_emptied")
    said = names.say(f"status_{device.status}")
    until = device.closing_until
    if not device.is_closing or until is None:
        return said
    return said + names.say("closing_until", when=names.when(until))


def _seen(device: Device, names: Names, at: datetime) -> str:
    if device.seen_at is None:
        return names.say("seen_never")
    age = words.span(names.language, (at - device.seen_at).total_seconds())
    return names.say("seen_ago", age=age)


def _clock(skew_ms: int | None, names: Names) -> str:
    if skew_ms is None:
        return names.say("clock_unknown")
    if abs(skew_ms) < rules.CLOCK_RIGHT_MS:
        return names.say("clock_right")
    off = words.span(names.language, abs(skew_ms) / 1000)
    return names.say("clock_ahead" if skew_ms > 0 else "clock_behind", age=off)


def _missing(device: Device, names: Names) -> list[str]:
    said = []
    missing = sum(count for _, count in sync.gaps(device.uid))
    if missing:
        said.append(names.say("missing_one" if missing == 1 else "missing_n", n=missing))
    kinds = questions.open_about(f"device:{device.uid}")
    if Kind.NEW_INCARNATION in kinds:
        said.append(names.say("new_store"))
    if Kind.SEQUENCE_TAKEN in kinds:
        said.append(names.say("number_taken"))
    return said


def code(plain: str) -> Code:
    """A code as it is shown: in groups, and as a QR and a link that open the app with it."""
    address = f"{settings.PUBLIC_BASE_URL}/app/"
    link = f"{address}#enrol={plain}"
    return Code(words.grouped(plain, 5), plain, *qr.drawn(link), address, link)


def enrolment(plain: str, site: str, language: str, *, at: datetime) -> dict[str, Any]:
    """What the page of a code that is shown now says."""
    drawn, names = code(plain), Names(language)
    until = names.when(at + timedelta(minutes=ENROLMENT_MINUTES))
    before, _, after = names.say("enrol_how", address="\n").partition("\n")
    return {
        "code": drawn,
        "enrolled_for": names.say("enrol_code", site=site),
        "before": before,
        "after": after,
        "until": names.say("enrol_until", when=until),
    }


def ending(device: Device, verb: str, language: str) -> dict[str, Any]:
    """What is asked before a phone is closed or shut out, and what would follow."""
    return {
        "title": words.say(language, f"{verb}_title", name=device.name),
        "says": words.say(language, f"{verb}_say"),
        "go": words.say(language, f"{verb}_go"),
    }
