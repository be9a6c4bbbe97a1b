"""What a phone saved to a file because it could not send it: looked at, and taken as if it had.

The file acts as its device: the same push, so what was sent after all answers `repeat`, and every
number stays what it was. Its head is one line of JSON (wire.Saved), its photos' bytes follow;
pickups.kernel.sealed opens it. A sealed file lies beside the photos for a day, so that somebody
can agree to it. Never shows what is inside to anybody but by taking it.
"""

import hashlib
import re
from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID

import msgspec
from django.core.files.base import ContentFile
from django.core.files.storage import storages
from django.db import transaction

from pickups.journal import services as journal
from pickups.kernel import clock, sealed
from pickups.kernel.wire import Fault, Malformed, instant
from pickups.kernel.wire import parse as parsed
from pickups.people import queries as people
from pickups.people.models import Device
from pickups.sync import batch, photos
from pickups.sync.models import Operation, Photo
from pickups.sync.push import push
from pickups.sync.wire import BATCH, PROTOCOL, Outcome, PushRequest, Saved

FOLDER = "unsent"


class Unusable(Exception):
    """Nothing of the file was taken; `why`: damaged, other_server, newer, device_unknown or
    device_revoked."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Inside:
    """A file that was opened: whose it is, and what it holds."""

    device: Device
    saved: Saved
    photos: list[bytes]


@dataclass(frozen=True)
class Look:
    """What taking a file would do. first, last: when its entries were made, by their clock."""

    device: Device
    saved_at: datetime
    operations: int
    here: int
    photos: int
    photos_here: int
    first: datetime | None
    last: datetime | None


@dataclass
class Taken:
    """What came of it: outcomes by name, how many were here before, photos kept and left out."""

    device: Device
    outcomes: Counter[str] = field(default_factory=Counter)
    repeats: int = 0
    photos: int = 0
    photos_refused: int = 0


def opened(data: bytes) -> Inside:
    """Open a file; raises Unusable."""
    try:
        inside = sealed.opened(data)
        head, _, rest = inside.partition(b"\n")
        saved = _head(head)
        instant(saved.saved_at, "saved_at")
    except sealed.NotOurs:
        raise Unusable("other_server") from None
    except (sealed.Damaged, Malformed):
        raise Unusable("damaged") from None
    if sum(photo.bytes for photo in saved.photos) != len(rest):
        raise Unusable("damaged")
    device = people.device(saved.device)
    if device is None:
        raise Unusable("device_unknown")
    pieces, at = [], 0
    for photo in saved.photos:
        pieces.append(rest[at : at + photo.bytes])
        at += photo.bytes
    return Inside(device, saved, pieces)


def _head(head: bytes) -> Saved:
    try:
        return msgspec.json.decode(head, type=Saved)
    except (msgspec.DecodeError, RecursionError) as why:
        value = parsed(head)
        form = value.get("saved") if isinstance(value, dict) else None
        if isinstance(form, int) and form > 1:
            raise Unusable("newer") from None
        raise Malformed(Fault("head", str(why), "what a phone has saved")) from None


def look(inside: Inside) -> Look:
    """What a file would bring; nothing is written."""
    envelopes = []
    for raw in inside.saved.operations:
        try:
            envelopes.append(batch.open_operation(bytes(raw))[0])
        except Malformed:
            continue  # the push will refuse it and say so
    hashes = [photo.sha256 for photo in inside.saved.photos]
    told = sorted(envelope.happened_at for envelope in envelopes)
    return Look(
        device=inside.device,
        saved_at=inside.saved.saved_at,
        operations=len(inside.saved.operations),
        here=Operation.objects.filter(id__in=[e.id for e in envelopes]).count(),
        photos=len(hashes),
        photos_here=Photo.objects.filter(sha256__in=hashes).count(),
        first=told[0] if told else None,
        last=told[-1] if told else None,
    )


def take(inside: Inside, *, by: UUID | None, although_revoked: bool = False) -> Taken:
    """Enter what a file holds as its device would have sent it; safe to repeat.

    by: who brought it, None where the server's own hand did. Raises Unusable for the file of a
    device that is shut out, unless somebody says that it is to be taken all the same;
    OperationalError where the database is busy: some of it may be in, and the rest comes when it
    is taken again.
    """
    device, saved, at = inside.device, inside.saved, clock.now()
    if device.is_revoked and not although_revoked:
        raise Unusable("device_revoked")
    taken = Taken(device)
    # The device's clock is off by what it knew of that, not by how long the file lay about.
    sent_at = clock.set_right(at, saved.offset_ms)
    for start in range(0, len(saved.operations), BATCH):
        request = PushRequest(PROTOCOL, sent_at, saved.operations[start : start + BATCH])
        for answer in push(device=device.uid, request=request, by_office=True).answers:
            taken.outcomes[Outcome(answer.outcome).value] += 1
            taken.repeats += answer.repeat
    for photo, data in zip(saved.photos, inside.photos, strict=True):
        try:
            photos.keep(sha256=photo.sha256, data=data, device=device.uid, at=at)
            taken.photos += 1
        except Malformed:
            taken.photos_refused += 1
    body = {
        "by": str(by) if by else None,
        "revoked": device.is_revoked,
        "operations": dict(taken.outcomes),
        "repeats": taken.repeats,
        "photos": taken.photos,
    }
    with transaction.atomic():
        journal.record([journal.Note("device.unsent_taken", f"device:{device.uid}", body)], at=at)
    return taken


def put_by(data: bytes) -> str:
    """Keep a sealed file until somebody agrees to it; returns the name to ask for it by."""
    name = hashlib.sha256(data).hexdigest()
    storage = storages["photos"]
    if not storage.exists(_place(name)):
        storage.save(_place(name), ContentFile(data))
    return name


def kept(name: str) -> bytes | None:
    """A sealed file that was put by, or None where there is none."""
    if re.fullmatch("[0-9a-f]{64}", name) is None:
        return None
    try:
        with storages["photos"].open(_place(name)) as f:
            return bytes(f.read())
    except FileNotFoundError:
        return None


def forget(*, older_than: datetime) -> int:
    """Drop sealed files that were put by long ago; returns how many."""
    storage = storages["photos"]
    try:
        _, names = storage.listdir(FOLDER)
    except FileNotFoundError:
        return 0
    old = [n for n in names if storage.get_modified_time(f"{FOLDER}/{n}") < older_than]
    for name in old:
        storage.delete(f"{FOLDER}/{name}")
    return len(old)


def _place(name: str) -> str:
    return f"{FOLDER}/{name}.jwe"
