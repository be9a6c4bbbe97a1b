"""Photos: named by the hash of what was sent, kept only as our own re-encoding of it.

The header and the number of pixels are looked at before anything is decoded (a small file can
unpack to gigabytes); what is kept is a JPEG without metadata, turned upright. Sent again, the
same photo is simply there. Read only through a record that the viewer may see.
"""

import hashlib
import io
import warnings
from datetime import datetime
from uuid import UUID

from django.core.files.base import ContentFile
from django.core.files.storage import storages
from PIL import Image, ImageOps, UnidentifiedImageError

from pickups.kernel.wire import Fault, Malformed
from pickups.sync.models import Photo

PIXELS = 16_000_000
FORMATS = ("JPEG", "PNG", "WEBP")


def keep(*, sha256: str, data: bytes, device: UUID, at: datetime) -> bool:
    """Keep a photo; returns False where it was here before.

    Raises Malformed where the hash is not that of the data, or the data are no picture of a kind
    and size that we take.
    """
    if hashlib.sha256(data).hexdigest() != sha256:
        raise Malformed(Fault("sha256", sha256, "the SHA-256 of the bytes that were sent"))
    if Photo.objects.filter(sha256=sha256).exists():
        return False
    picture = _open(data)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=85, optimize=True)
    name = f"{sha256[:2]}/{sha256}.jpg"
    storage = storages["photos"]
    if not storage.exists(name):
        name = storage.save(name, ContentFile(out.getvalue()))
    Photo.objects.bulk_create(
        [
            Photo(
                sha256=sha256,
                file=name,
                width=picture.width,
                height=picture.height,
                bytes=out.tell(),
                device=device,
                recorded_at=at,
            )
        ],
        ignore_conflicts=True,
    )
    return True


def _open(data: bytes) -> Image.Image:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            picture = Image.open(io.BytesIO(data), formats=FORMATS)
            if picture.width * picture.height > PIXELS:
                size = f"{picture.width} x {picture.height}"
                raise Malformed(Fault("photo", size, f"at most {PIXELS} pixels"))
            picture.load()
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as e:
        kinds = ", ".join(FORMATS)
        raise Malformed(Fault("photo", type(e).__name__, f"a whole {kinds} picture")) from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise Malformed(Fault("photo", "too many", f"at most {PIXELS} pixels")) from None
    upright = ImageOps.exif_transpose(picture).convert("RGB")
    upright.info.clear()  # a comment of the camera's would be written again
    return upright


def read(sha256: str) -> bytes | None:
    """The bytes that we keep, or None; callers decide who may see them."""
    photo = Photo.objects.filter(sha256=sha256).first()
    if photo is None:
        return None
    with storages["photos"].open(photo.file) as f:
        return bytes(f.read())
