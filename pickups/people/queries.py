"""Who is it: devices by their secrets, plants by their keys; people and sites for the feed."""

import hmac
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.conf import settings

from pickups.people.models import Device, EnrolmentCode, PlantKey, Site, User, Words
from pickups.people.rules import digest, tidy_code


def device_by_push(secret: str) -> Device | None:
    """The device whose push secret this is, whatever its status."""
    return Device.objects.filter(push_hash=digest(secret)).first()


def device_by_read(token: str) -> Device | None:
    """The device whose read token this is, whatever its status."""
    return Device.objects.select_related("site").filter(read_hash=digest(token)).first()


_KEY = "SELECT * FROM people_plantkey WHERE prefix = %s AND revoked_at IS NULL"


def plant_key(text: str) -> PlantKey | None:
    """The key in force that this text is; unknown, wrong and revoked are alike None."""
    prefix, _, secret = text.partition(".")
    rows = PlantKey.objects.raw(_KEY, [prefix])  # asked with every post: nothing to be composed
    key = next(iter(rows), None)
    kept = bytes(key.secret_hash) if key else bytes(32)
    return key if hmac.compare_digest(kept, digest(secret)) and key else None


def unknown_people(uids: Iterable[UUID]) -> set[UUID]:
    """Which of these are nobody here."""
    wanted = set(uids)
    if not wanted:
        return wanted
    return wanted - set(User.objects.filter(uid__in=wanted).values_list("uid", flat=True))


def person_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """People as the feed gives them to a phone; who left is absent."""
    people = User.objects.filter(uid__in=list(uids), is_active=True)
    return {p.uid: {"name": str(p), "role": p.role} for p in people}


def told_with_sites() -> dict[str, Any]:
    """currency: the dealer's own, ISO 4217; time_zone: the one whose days count, by its IANA name;
    unclaimed: after how many days a step about a casing that waits is proposed, or how long it is
    held."""
    unclaimed = {
        "call": settings.UNCLAIMED_CALL_DAYS,
        "write": settings.UNCLAIMED_WRITE_DAYS,
        "hold": settings.UNCLAIMED_HOLD_DAYS,
    }
    return {
        "currency": settings.DEALER_CURRENCY,
        "time_zone": settings.DEALER_TIME_ZONE,
        "unclaimed": unclaimed,
    }


def site_bodies(uids: Sequence[UUID]) -> dict[UUID, dict[str, Any]]:
    """Sites as the feed gives them to a phone, with what the dealer has set."""
    told = told_with_sites()
    sites = Site.objects.filter(uid__in=list(uids))
    return {s.uid: {"name": s.name, "kind": s.kind, "phone": s.phone, **told} for s in sites}


def names(uids: Iterable[UUID]) -> dict[UUID, str]:
    """What people are called, also those who have left; who is nobody here is absent."""
    return {p.uid: str(p) for p in User.objects.filter(uid__in=list(uids))}


def roles(uids: Iterable[UUID]) -> dict[UUID, str]:
    """What these people are here, also those who have left; who is nobody here is absent."""
    return dict(User.objects.filter(uid__in=list(uids)).values_list("uid", "role"))


def person(uid: UUID) -> User | None:
    """Somebody who works for the dealer, if they are there."""
    return User.objects.filter(uid=uid).first()


def signing_in_as(username: str) -> User | None:
    """Who signs in under this name, if anybody does."""
    return User.objects.filter(username=username).first()


def sites() -> list[Site]:
    """Every store and plant, stores first."""
    return list(Site.objects.order_by("-kind", "name"))


def plants() -> list[UUID]:
    """Every plant."""
    rows = Site.objects.filter(kind=Site.Kind.PLANT).order_by("uid")
    return list(rows.values_list("uid", flat=True))


def site(uid: UUID) -> Site | None:
    """One store or plant, if it is there."""
    return Site.objects.filter(uid=uid).first()


def drivers(site: UUID) -> list[User]:
    """The drivers of a store who work here now, by name."""
    people = User.objects.filter(site=site, role=User.Role.DRIVER, is_active=True)
    return list(people.order_by("last_name", "first_name", "pk"))


def called(name: str) -> list[User]:
    """Whoever signs in under this name or is called so, also those who work here no longer."""
    bare = name.casefold()
    known = User.objects.order_by("pk")
    return [p for p in known if bare in (p.username.casefold(), str(p).casefold())]


def working(roles: Iterable[str]) -> list[User]:
    """Who works here now in one of these roles, by name."""
    return list(
        User.objects.filter(role__in=list(roles), is_active=True).order_by(
            "last_name", "first_name", "pk"
        )
    )


def devices() -> list[Device]:
    """Every device ever enrolled, with its site, those in use first."""
    return list(Device.objects.select_related("site").order_by("status", "site__name", "name"))


def device(uid: UUID) -> Device | None:
    """One device with its site, if it is there."""
    return Device.objects.select_related("site").filter(uid=uid).first()


def scopes(device: UUID) -> list[str]:
    """The scope keys of a device: its site's."""
    return [f"site:{s}" for s in Device.objects.filter(uid=device).values_list("site", flat=True)]


def plant_key_names(prefixes: Iterable[str]) -> dict[str, str]:
    """What the keys with these prefixes are for, by prefix; also of keys in force no longer."""
    rows = PlantKey.objects.filter(prefix__in=list(prefixes))
    return dict(rows.values_list("prefix", "name"))


def code_is_good(code: str, *, at: datetime) -> bool:
    """Whether an enrolment code can still be spent."""
    good = EnrolmentCode.objects.filter(used_at=None, expires_at__gt=at)
    return good.filter(code_hash=digest(tidy_code(code))).exists()


def words(uids: Iterable[UUID]) -> dict[UUID, str]:
    """What was typed beside these, as far as it was not erased."""
    rows = Words.objects.filter(uid__in=list(uids))
    return dict(rows.values_list("uid", "text"))
