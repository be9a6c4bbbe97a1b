"""Photos: named by the hash of what was sent, kept only as our own re-encoding of it.

The header and the number of pixels are looked at before anything is decoded (a small file can
unpack to gigabytes); what is kept is a JPEG without metadata, turned upright. "Here" is only said
of a file that is whole on the disk: it takes its name after it was written out, the row comes
last, and a photo sent again is written again unless the file has the size that its row says.
Read only through a record that the viewer may see.
"""

import hashlib
import io
import logging
import os
import re
import secrets
import warnings
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, Storage, storages
from PIL import Image, ImageOps, UnidentifiedImageError

from pickups.kernel.wire import Fault, Malformed
from pickups.sync.models import Photo

log = logging.getLogger(__name__)

PIXELS = 16_000_000
SIDE = 10_000
"""Pixels along one side; a JPEG holds no more than 65,535."""
UNFINISHED = ".new"
"""How the name of a file ends that is still being written."""
NOBODY = UUID(int=0)
"""The device of a photo of which only the file is left."""
FORMATS = ("JPEG", "PNG", "WEBP")


def keep(*, sha256: str, data: bytes, device: UUID, at: datetime) -> bool:
    """Keep a photo; returns False where it was here before.

    Raises Malformed where the hash is not that of the data, or the data are no picture of a kind
    and size that we take.
    """
    if hashlib.sha256(data).hexdigest() != sha256:
        raise Malformed(Fault("sha256", sha256, "the SHA-256 of the bytes that were sent"))
    storage = storages["photos"]
    row = Photo.objects.filter(sha256=sha256).first()
    if row is not None and _size(storage, row.file) == row.bytes:
        return False
    size, ours = _reencoded(data)
    name = _write(storage, name_of(sha256), ours)
    Photo.objects.bulk_create(
        [
            Photo(
                sha256=sha256,
                file=name,
                width=size[0],
                height=size[1],
                bytes=len(ours),
                device=device,
                recorded_at=at,
            )
        ],
        update_conflicts=True,
        unique_fields=["sha256"],
        update_fields=["file", "width", "height", "bytes"],
    )
    return True


def read(sha256: str) -> bytes | None:
    """The bytes that we keep, or None; callers decide who may see them."""
    photo = Photo.objects.filter(sha256=sha256).first()
    if photo is None:
        return None
    try:
        with storages["photos"].open(photo.file) as f:
            return bytes(f.read())
    except FileNotFoundError:
        log.warning("the file of photo %s is gone", sha256)
        return None


def forget(hashes: Iterable[str]) -> None:
    """These photos are gone for good, the file first: what is cut off between is tried again."""
    for photo in Photo.objects.filter(sha256__in=list(hashes)).order_by("sha256"):
        storages["photos"].delete(photo.file)
        photo.delete()


def register(folder: Path) -> int:
    """Give each whole photo that lies in the storage's folder without a row its row again.

    After a restore: photos that came in after the backup are still there, and the operations that
    name them come again. Returns how many; a file that is no whole picture stays as it is.
    """
    known = set(Photo.objects.values_list("sha256", flat=True))
    found = [photo for sha256, file in _files(folder) if sha256 not in known
             if (photo := _from_file(sha256, file, folder)) is not None]  # fmt: skip
    Photo.objects.bulk_create(found, ignore_conflicts=True, batch_size=1000)
    return len(found)


def name_of(sha256: str) -> str:
    """Where in the storage a photo lies."""
    return f"{sha256[:2]}/{sha256}.jpg"


def _files(folder: Path) -> Iterator[tuple[str, Path]]:
    for file in sorted(folder.glob("*/*.jpg")):
        if re.fullmatch("[0-9a-f]{64}", file.stem) and file == folder / name_of(file.stem):
            yield file.stem, file


def _from_file(sha256: str, file: Path, folder: Path) -> Photo | None:
    data = file.read_bytes()
    try:
        (width, height), _ = _reencoded(data)
    except Malformed:
        log.warning("the file of photo %s is no whole picture", sha256)
        return None
    return Photo(
        sha256=sha256,
        file=str(file.relative_to(folder)),
        width=width,
        height=height,
        bytes=len(data),
        device=NOBODY,
        recorded_at=datetime.fromtimestamp(file.stat().st_mtime, UTC),
    )


def _size(storage: Storage, name: str) -> int | None:
    """How many bytes there are; None where there is no file."""
    try:
        return int(storage.size(name)) if storage.exists(name) else None
    except FileNotFoundError:
        return None


def _write(storage: Storage, name: str, data: bytes) -> str:
    """Put a file in its place, whole or not at all; returns the name that it has got.

    A store of objects does that by itself, and may choose another name where one is taken.
    """
    if not isinstance(storage, FileSystemStorage):
        return str(storage.save(name, ContentFile(data)))
    unfinished = f"{name}.{secrets.token_hex(8)}{UNFINISHED}"
    there = Path(storage.path(storage.save(unfinished, ContentFile(data))))
    try:
        sync_to_disk(there)
        there.replace(storage.path(name))
    except OSError:
        there.unlink(missing_ok=True)
        raise
    sync_to_disk(there.parent)
    return name


def sync_to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, would survive a power cut."""
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def _reencoded(data: bytes) -> tuple[tuple[int, int], bytes]:
    """Our own picture of it: its size in pixels, and the JPEG. Raises Malformed."""
    out = io.BytesIO()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(io.BytesIO(data), formats=FORMATS)
            _bound(picture)
            picture.load()
            upright = _upright(picture).convert("RGB")
            upright.info.clear()  # a comment of the camera's would be written again
            upright.save(out, "JPEG", quality=85, optimize=True)
    except Malformed:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise Malformed(Fault("photo", "too many", f"at most {PIXELS} pixels")) from None
    except Exception as e:  # a decoder that is fed anything has many ways to fail
        if not isinstance(e, UnidentifiedImageError):
            log.info("a picture could not be read", exc_info=e)
        kinds = ", ".join(FORMATS)
        raise Malformed(Fault("photo", type(e).__name__, f"a whole {kinds} picture")) from None
    return upright.size, out.getvalue()


def _bound(picture: Image.Image) -> None:
    size = f"{picture.width} x {picture.height}"
    if picture.width * picture.height > PIXELS:
        raise Malformed(Fault("photo", size, f"at most {PIXELS} pixels"))
    if max(picture.size) > SIDE:
        raise Malformed(Fault("photo", size, f"at most {SIDE} pixels a side"))


def _upright(picture: Image.Image) -> Image.Image:
    """Turned as the camera says; what it notes may be broken, the picture is worth having."""
    try:
        return ImageOps.exif_transpose(picture)
    except Exception as e:
        log.info("the camera's notes could not be read", exc_info=e)
        return picture
