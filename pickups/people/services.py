"""Enrol, close and revoke devices; issue and revoke plant keys; enter people and sites; keep words
that may be erased.

Secrets are said once, in the return value, and kept only as SHA-256. What phones should know of
people and sites goes through the journal, since the feed stands above this app.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.db import transaction
from django.db.models import F

from pickups.journal import services as journal
from pickups.kernel import clock
from pickups.kernel.problems import Code, Problem
from pickups.people import rules
from pickups.people.models import Device, EnrolmentCode, PlantKey, Site, User, Words
from pickups.people.rules import (
    ENROLMENT_MINUTES,
    digest,
    new_code,
    new_prefix,
    new_secret,
    tidy_code,
)


@dataclass(frozen=True)
class Credentials:
    """A device that was enrolled, and its two secrets, said once."""

    device: Device
    push_secret: str
    read_token: str


def show_code(*, site: Site, made_by: User) -> str:
    """A new enrolment code for a site: once, within 15 minutes."""
    code = new_code()
    expires = clock.now() + timedelta(minutes=ENROLMENT_MINUTES)
    EnrolmentCode.objects.create(
        code_hash=digest(code), site=site, made_by=made_by, expires_at=expires
    )
    return code


def enrol(*, code: str, device: UUID, name: str) -> Credentials:
    """Spend a code: the device is active with new secrets; one known by its uid keeps it.

    One that was in use at another site is moved to the code's, and the office is asked whether
    that was meant.
    Raises Problem(code_spent) for a code that is unknown, used or too old: all three alike.
    """
    at = clock.now()
    push_secret, read_token = new_secret(), new_secret()
    with transaction.atomic():
        spent = EnrolmentCode.objects.filter(
            code_hash=digest(tidy_code(code)), used_at=None, expires_at__gt=at
        )
        row = spent.select_for_update().select_related("site").first()
        if row is None:
            raise Problem(Code.CODE_SPENT)
        row.used_at = at
        row.save(update_fields=["used_at"])
        known = Device.objects.select_for_update(no_key=True).filter(uid=device).first()
        left = known.site_id if known and known.status == Device.Status.ACTIVE else row.site_id
        enrolled = known or Device(uid=device)
        enrolled.name, enrolled.site, enrolled.status = name, row.site, Device.Status.ACTIVE
        enrolled.push_hash, enrolled.read_hash = digest(push_secret), digest(read_token)
        enrolled.enrolled_at, enrolled.closed_at, enrolled.emptied_at = at, None, None
        enrolled.save(force_insert=known is None)
        _note("device.enrolled", f"device:{device}", {"site": str(row.site_id)})
        if left != row.site_id:
            sites = {"left": str(left), "site": str(row.site_id)}
            _note("device.moved", f"device:{device}", {**sites})
    return Credentials(enrolled, push_secret, read_token)


def lock_device(*, uid: UUID) -> Device:
    """A device's row, locked for the transaction: the first lock of every push."""
    return Device.objects.select_for_update(no_key=True).get(uid=uid)


def mark_seen(*, uid: UUID, at: datetime, skew_ms: int) -> None:
    """When a device last sent, and how far its clock was ahead of ours then."""
    Device.objects.filter(uid=uid).update(seen_at=at, skew_ms=skew_ms)


def renew_push(*, uid: UUID) -> str:
    """A new push secret for a device that still has its read token; the old one opens nothing.

    A browser writes its cookies down only every half minute: a phone that is killed soon after it
    was enrolled has the token (written at once) and not the cookie.
    """
    push_secret = new_secret()
    with transaction.atomic():
        device = lock_device(uid=uid)
        device.push_hash = digest(push_secret)
        device.save(update_fields=["push_hash"])
        _note("device.push_renewed", f"device:{uid}", {})
    return push_secret


def close_device(*, uid: UUID) -> None:
    """From now on the device may only send what it still holds, for DEVICE_CLOSING_DAYS."""
    _set_status(uid, Device.Status.CLOSING)


def hear_standing(*, uid: UUID, waits: int) -> Device:
    """What a device says of itself: how many entries and photos it still holds.

    One that closes and holds nothing more is emptied; should it find something after all, it is
    not.
    """
    with transaction.atomic():
        device = lock_device(uid=uid)
        empty = device.status == Device.Status.CLOSING and waits == 0
        if empty != (device.emptied_at is not None):
            device.emptied_at = clock.now() if empty else None
            device.save(update_fields=["emptied_at"])
            if empty:
                _note("device.emptied", f"device:{uid}", {})
    return device


def revoke_device(*, uid: UUID) -> None:
    """Lost, stolen or out of use: neither sends nor fetches, at once."""
    _set_status(uid, Device.Status.REVOKED)


def _set_status(uid: UUID, status: Device.Status) -> None:
    with transaction.atomic():
        device = Device.objects.select_for_update(no_key=True).get(uid=uid)
        if device.status == Device.Status.REVOKED:
            return  # closing would open the door again
        if status == Device.Status.CLOSING and device.closed_at is None:
            device.closed_at = clock.now()
        device.status = status
        device.save(update_fields=["status", "closed_at"])
        _note(f"device.{status}", f"device:{uid}", {})


def issue_key(
    *,
    plant: Site,
    name: str,
    scopes: Iterable[rules.KeyScope] = tuple(rules.KeyScope),
    follows: PlantKey | None = None,
) -> tuple[PlantKey, str]:
    """A key for a plant's system: the row, and the whole key, said once."""
    prefix, secret = new_prefix(), new_secret()
    key = PlantKey.objects.create(
        prefix=prefix,
        secret_hash=digest(secret),
        plant=plant,
        name=name,
        scopes=sorted({scope.value for scope in scopes}),
        follows=follows,
        made_at=clock.now(),
    )
    return key, f"{prefix}.{secret}"


def renew_key(*, prefix: str) -> tuple[PlantKey, str] | None:
    """A key in the place of one in force, for the same plant and scopes; None where there is none.

    Both open the same doors until the old one is revoked: the plant changes over without a gap.
    """
    old = PlantKey.objects.select_related("plant").filter(prefix=prefix, revoked_at=None).first()
    if old is None:
        return None
    scopes = [rules.KeyScope(scope) for scope in old.scopes]
    return issue_key(plant=old.plant, name=old.name, scopes=scopes, follows=old)


def revoke_key(*, prefix: str) -> bool:
    """The key opens nothing from now on; False where none of that prefix was in force."""
    key = PlantKey.objects.filter(prefix=prefix, revoked_at=None).first()
    if key is None:
        return False
    key.revoked_at = clock.now()
    key.save(update_fields=["revoked_at"])
    return True


def open_site(*, name: str, kind: Site.Kind, phone: str = "", uid: UUID | None = None) -> Site:
    """A new store or plant; its phones hear of every site, and whatever reacts to a new one."""
    site = Site(name=name, kind=kind, phone=phone)
    if uid is not None:
        site.uid = uid
    with transaction.atomic():
        site.save(force_insert=True)
        _note("site.opened", f"site:{site.uid}", {"site": str(site.uid)})
        _tell_sites(site)
        for other in Site.objects.exclude(pk=site.pk):
            _tell_feed("site.changed", "site", other.uid, other.version, site.uid)
    return site


def publish_site(site: Site) -> None:
    """Tell all phones a site's name and number; call it after saving the site."""
    with transaction.atomic():
        Site.objects.filter(pk=site.pk).update(version=F("version") + 1)
        site.refresh_from_db(fields=["version"])
        _tell_sites(site)


def _tell_sites(site: Site) -> None:
    """Every site's phones know every site: casings ride from one to the other."""
    for place in Site.objects.values_list("uid", flat=True):
        _tell_feed("site.changed", "site", site.uid, site.version, place)


def publish_person(user: User, *, left: UUID | None = None) -> None:
    """Tell the phones of a person's site who they are; call it after saving the person.

    left: the site where the person was before, whose phones drop the name.
    """
    with transaction.atomic():
        User.objects.filter(pk=user.pk).update(version=F("version") + 1)
        user.refresh_from_db(fields=["version"])  # a later save must not put it back
        for site, gone in ((user.site_id, False), (left, True)):
            if site is not None and (not gone or site != user.site_id):
                _tell_feed("person.changed", "person", user.uid, user.version, site, gone=gone)


def _tell_feed(
    kind: str, entity: str, uid: UUID, version: int, site: UUID, *, gone: bool = False
) -> None:
    body = {"scope": f"site:{site}", "entity": entity, "uid": str(uid), "version": version}
    _note(kind, f"{entity}:{uid}", {**body, "gone": gone})


def _note(kind: str, subject: str, body: dict[str, object]) -> None:
    journal.record([journal.Note(kind, subject, body)], at=clock.now())


ERASED_AT_ONCE = 500
"""So many words are erased in one transaction."""


def keep_words(said: Mapping[UUID, str], *, kind: rules.Words, at: datetime) -> None:
    """Keep what was typed beside these facts apart from them; in the caller's transaction. Told
    again, nothing changes."""
    rows = [Words(uid=uid, kind=kind, text=text, said_at=at) for uid, text in said.items() if text]
    Words.objects.bulk_create(rows, ignore_conflicts=True)


def erase_words(uids: Iterable[UUID]) -> int:
    """These words are gone for good: of how many. What shows them hears of it."""
    wanted, erased = sorted(set(uids)), 0
    for first in range(0, len(wanted), ERASED_AT_ONCE):
        with transaction.atomic():
            rows = Words.objects.filter(uid__in=wanted[first : first + ERASED_AT_ONCE])
            gone = sorted(rows.select_for_update().values_list("uid", flat=True))
            if not gone:
                continue
            rows.delete()
            body = {"words": [str(uid) for uid in gone]}
            note = journal.Note("words.erased", f"words:{gone[0]}", body)
            journal.record([note], at=clock.now())
        erased += len(gone)
    return erased


def purge_words(*, kind: rules.Words, before: datetime) -> int:
    """Words of a kind that were typed before a moment are erased: how many."""
    old = Words.objects.filter(kind=kind, said_at__lt=before)
    return erase_words(old.values_list("uid", flat=True))


def purge(*, at: datetime) -> dict[str, int]:
    """Words that are older than KEPT_DAYS keeps them are erased: how many of each kind."""
    days = settings.KEPT_DAYS
    return {
        kind.value: purge_words(kind=kind, before=at - timedelta(days=days[kind]))
        for kind in rules.Words
    }
