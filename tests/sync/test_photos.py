"""Photos go by content, before or after what names them, and are kept only as our own picture."""

import hashlib
import io
import os
import struct
import zlib
from pathlib import Path
from typing import Any, ClassVar
from uuid import uuid4

import pytest
from django.core.files import File
from django.core.files.base import ContentFile
from django.core.files.storage import Storage, storages
from PIL import Image, PngImagePlugin
from pytest_django import Settings

from pickups.people import services as people
from pickups.sync import photos
from pickups.sync.models import Photo
from pickups.sync.wire import PHOTO_BYTES
from tests.sync.test_bad_batches import problem
from tests.world import Phone, World
from tests.world.phone import COOKIE, Reply
from tests.world.tables import nothing_written

ORIENTATION, GPS_LATITUDE = 0x0112, 2


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, settings: Settings) -> Path:
    """Photos of a test lie in a folder of their own."""
    options = {**settings.STORAGES["photos"]["OPTIONS"], "location": tmp_path}
    settings.STORAGES = {
        **settings.STORAGES,
        "photos": {**settings.STORAGES["photos"], "OPTIONS": options},
    }
    assert Path(storages["photos"].path("x")).parent == tmp_path
    return tmp_path


def picture(kind: str = "JPEG", size: tuple[int, int] = (40, 20), **how: Any) -> bytes:
    """Its left half is red, its right half blue."""
    made = Image.new("RGB", size, "blue")
    made.paste("red", (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    made.save(out, kind, **how)
    return out.getvalue()


def name(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def put(phone: Phone, data: bytes, sha256: str | None = None, kind: str = "image/jpeg") -> Reply:
    headers = {"Content-Type": kind, "Cookie": f"{COOKIE}={phone.push_secret}"}
    return phone.door("PUT", f"/api/photos/{sha256 or name(data)}", data, headers)


def only_file(folder: Path) -> Path:
    (file,) = (f for f in folder.rglob("*") if f.is_file())
    return file


def kept(data: bytes) -> Image.Image:
    ours = photos.read(name(data))
    assert ours is not None
    return Image.open(io.BytesIO(ours))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_is_kept_and_its_answer_lets_the_phone_drop_it(
    phone: Phone, folder: Path, kind: str
) -> None:
    data = picture(kind)
    reply = put(phone, data, kind=f"image/{kind.lower()}")
    assert (reply.status, reply.json) == (200, {"sha256": name(data), "state": "here"})
    ours = kept(data)
    assert (ours.format, ours.size) == ("JPEG", (40, 20))
    row = Photo.objects.get()
    assert (row.device, row.width, row.height) == (phone.uid, 40, 20)
    (file,) = (f for f in folder.rglob("*") if f.is_file())
    assert file.stat().st_mode & 0o777 == 0o600
    assert row.bytes == file.stat().st_size


def test_sent_again_it_is_simply_there(phone: Phone, folder: Path) -> None:
    data = picture()
    first = put(phone, data)
    with nothing_written():
        assert put(phone, data).body == first.body
    assert len([f for f in folder.rglob("*") if f.is_file()]) == 1


def test_half_a_file_left_by_a_crash_before_its_row_is_written_again(
    phone: Phone, folder: Path
) -> None:
    data = picture()
    put(phone, data)
    whole = only_file(folder).read_bytes()
    Photo.objects.all().delete()
    only_file(folder).write_bytes(whole[:300])
    assert put(phone, data).json["state"] == "here"
    assert only_file(folder).read_bytes() == whole
    assert kept(data).size == (40, 20)


@pytest.mark.parametrize("damage", ["gone", "half"])
def test_a_photo_whose_file_was_lost_is_written_again_when_it_comes_again(
    phone: Phone, folder: Path, damage: str
) -> None:
    data = picture()
    put(phone, data)
    file = only_file(folder)
    whole = file.read_bytes()
    if damage == "gone":
        file.unlink()
        assert photos.read(name(data)) is None
    else:
        file.write_bytes(whole[:300])
    assert put(phone, data).json["state"] == "here"
    assert file.read_bytes() == whole
    assert Photo.objects.get().bytes == len(whole)


def test_a_photo_that_cannot_be_written_out_is_not_here_and_leaves_nothing(
    phone: Phone, folder: Path
) -> None:
    data = picture()
    blocked = folder / photos.name_of(name(data))
    blocked.mkdir(parents=True)  # the name is taken by what no file can replace
    with nothing_written():
        assert put(phone, data).status == 500
    assert [f for f in folder.rglob("*") if f.is_file()] == []
    blocked.rmdir()
    assert put(phone, data).status == 200


class WrittenOut:
    """Watches a folder from within the calls that write: what had its name, and when."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
        self.seen: list[tuple[str, list[str], int]] = []
        sync = os.fsync

        def fsync(opened: int) -> None:
            names = sorted(f.suffix for f in folder.rglob("*") if f.is_file())
            what = Path(f"/proc/self/fd/{opened}").resolve()
            self.seen.append((what.suffix or "folder", names, Photo.objects.count()))
            sync(opened)

        monkeypatch.setattr(os, "fsync", fsync)


def test_a_file_is_written_out_before_it_has_its_name_and_its_name_before_its_row(
    phone: Phone, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    watched = WrittenOut(monkeypatch, folder)
    put(phone, picture())
    assert watched.seen == [(".new", [".new"], 0), ("folder", [".jpg"], 0)]
    assert Photo.objects.count() == 1


class Apart(Storage):
    """A store of objects: it has no paths, and keeps what it has under a name."""

    kept: ClassVar[dict[str, bytes]] = {}

    def _save(self, name: str, content: File) -> str:  # type: ignore[type-arg]
        self.kept[name] = content.read()
        return name

    def _open(self, name: str, mode: str = "rb") -> File:  # type: ignore[type-arg]
        if name not in self.kept:
            raise FileNotFoundError(name)
        return ContentFile(self.kept[name])

    def exists(self, name: str) -> bool:
        return name in self.kept

    def size(self, name: str) -> int:
        return len(self.kept[name])


def test_photos_may_lie_in_a_store_of_objects(phone: Phone, settings: Settings) -> None:
    Apart.kept.clear()
    settings.STORAGES = {**settings.STORAGES, "photos": {"BACKEND": f"{__name__}.Apart"}}
    data = picture()
    assert put(phone, data).json["state"] == "here"
    assert kept(data).size == (40, 20)
    (stored,) = Apart.kept
    whole = Apart.kept[stored]
    Apart.kept[stored] = whole[:100]
    assert put(phone, data).json["state"] == "here"
    assert photos.read(name(data)) == whole
    Apart.kept.clear()
    assert photos.read(name(data)) is None
    assert put(phone, data).json["state"] == "here"
    assert photos.read(name(data)) == whole


def test_files_without_a_row_are_registered_by_the_hash_in_their_name(
    phone: Phone, folder: Path
) -> None:
    there, lost, broken = (picture(size=(n, 20)) for n in (30, 50, 70))
    for data in (there, lost, broken):
        put(phone, data)
    Photo.objects.exclude(sha256=name(there)).delete()
    file = folder / photos.name_of(name(broken))
    file.write_bytes(file.read_bytes()[:300])
    (folder / "00").mkdir(exist_ok=True)
    (folder / "00" / f"{'1' * 64}.jpg").write_bytes(picture())  # not where it would lie
    (folder / "00" / "holiday.jpg").write_bytes(picture())
    (folder / "00" / f"00{'1' * 62}.jpg.ab.new").write_bytes(picture())
    assert photos.register(folder) == 1
    row = Photo.objects.get(sha256=name(lost))
    assert (row.width, row.height, row.device) == (50, 20, photos.NOBODY)
    assert kept(lost).size == (50, 20)
    with nothing_written():
        assert photos.register(folder) == 0
        assert put(phone, lost).status == 200
    assert put(phone, broken).status == 200
    assert kept(broken).size == (70, 20)


def test_a_hash_that_is_not_that_of_the_bytes_is_refused(phone: Phone, folder: Path) -> None:
    data = picture()
    with nothing_written():
        fault = problem(put(phone, data, name(b"else")), 400, "malformed")
    assert (fault["field"], fault["value"]) == ("sha256", name(b"else"))
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("sha256", ["abc", "A" * 64, "g" * 64, "0" * 63, "0" * 65])
def test_a_name_that_is_no_hash_is_refused(phone: Phone, sha256: str) -> None:
    with nothing_written():
        assert problem(put(phone, picture(), sha256), 400, "malformed")["field"] == "sha256"


def a_bomb(side: int = 30_000) -> bytes:
    """A PNG of a few kilobytes that unpacks to hundreds of megabytes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        sum32 = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + sum32

    header = struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    row = b"\0" + bytes((side + 7) // 8)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        (chunk(b"IHDR", header), chunk(b"IDAT", zlib.compress(row * side, 9)), chunk(b"IEND", b""))
    )


def with_a_text_bomb() -> bytes:
    info = PngImagePlugin.PngInfo()
    info.add_text("note", "x" * 2_000_000, zip=True)
    return picture("PNG", pnginfo=info)


@pytest.mark.parametrize(
    "data",
    [
        b"no picture at all",
        b"",
        picture()[:-200],
        picture("PNG")[:40],
        picture("GIF"),
        picture("BMP"),
        b"\xff\xd8\xff\xe0" + b"\0" * 1000,
        b'<svg xmlns="http://www.w3.org/2000/svg"/>',
        a_bomb(),
        with_a_text_bomb(),
        picture("PNG", (70_000, 1)),
        picture("PNG", (1, 10_001)),
    ],
    ids=[
        "text",
        "nothing",
        "cut",
        "cut png",
        "gif",
        "bmp",
        "zeros",
        "svg",
        "bomb",
        "text bomb",
        "long",
        "high",
    ],
)
def test_what_is_no_whole_picture_of_a_sane_size_is_refused(
    phone: Phone, folder: Path, data: bytes
) -> None:
    assert len(data) < PHOTO_BYTES
    with nothing_written():
        reply = put(phone, data or b" ")
        assert problem(reply, 400, "malformed")["field"] == "photo"
    assert list(folder.iterdir()) == []


def test_a_mebibyte_is_taken_and_one_byte_more_is_not(phone: Phone) -> None:
    data = picture()
    exact = data + b"\0" * (PHOTO_BYTES - len(data))
    with nothing_written():
        fault = problem(put(phone, exact + b"\0"), 413, "too_large")
    assert (fault["field"], fault["allowed"]) == ("body", f"at most {PHOTO_BYTES} bytes")
    assert put(phone, exact).status == 200


@pytest.mark.parametrize("kind", ["application/json", "text/html", "image/svg+xml"])
def test_another_content_type_is_refused(phone: Phone, kind: str) -> None:
    with nothing_written():
        fault = problem(put(phone, picture(), kind=kind), 415, "media_type")
    assert fault["field"] == "Content-Type"


def test_place_and_all_else_that_a_camera_writes_is_removed_and_the_picture_upright(
    phone: Phone,
) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # turn by 90 degrees to the right to see it upright
    exif[0x010F] = "a camera"
    exif.get_ifd(0x8825)[GPS_LATITUDE] = (51.0, 4.0, 0.0)
    data = picture(exif=exif.tobytes(), comment=b"at the gate", icc_profile=b"a profile" * 20)
    there = Image.open(io.BytesIO(data))
    assert there.getexif().get_ifd(0x8825)
    assert there.info["comment"] == b"at the gate"
    put(phone, data)
    ours = kept(data)
    assert ours.size == (20, 40)
    red, _, blue = ours.getpixel((10, 5))  # type: ignore[misc]
    assert red > 200 > blue
    raw = photos.read(name(data)) or b""
    assert dict(ours.getexif()) == {}
    for trace in (b"a camera", b"at the gate", b"a profile", b"Exif"):
        assert trace not in raw


@pytest.mark.filterwarnings("ignore:Corrupt EXIF")
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize(
    "exif",
    [
        b"Exif\0\0II*\0\x08\0\0\0\xff\xff",
        b"Exif\0\0",
        b"Exif\0\0MM\0*\xff\xff\xff\xff",
        b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x02\0\x04\0\0\0six\0\0\0\0\0",
        b"\0" * 64,
        b"Exif\0\0II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\xff\xff\xff\xff",
        b"Exif\0\0no order of bytes",
    ],
    ids=["cut", "empty", "far away", "a word for a number", "zeros", "goes on far away", "text"],
)
def test_broken_notes_of_the_camera_do_not_matter(phone: Phone, exif: bytes, kind: str) -> None:
    data = picture(kind, exif=exif)
    assert put(phone, data).status == 200
    assert kept(data).size in ((40, 20), (20, 40))


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGBA", "I;16", "CMYK"])
def test_every_kind_of_pixel_is_kept(phone: Phone, mode: str) -> None:
    out = io.BytesIO()
    Image.new(mode, (8, 6)).save(out, "JPEG" if mode == "CMYK" else "PNG")
    data = out.getvalue()
    assert put(phone, data, kind="image/png").status == 200
    assert (kept(data).mode, kept(data).size) == ("RGB", (8, 6))


def test_an_answer_names_the_photos_that_are_missing_whichever_side_comes_first(
    world: World, phone: Phone
) -> None:
    early, late = picture(size=(30, 20)), picture(size=(50, 20))
    put(phone, early)
    hashes = [name(early), name(late)]
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4(), photos=hashes)
    assert phone.push([op]).json["missing_photos"] == [name(late)]
    put(phone, late)
    assert phone.push([op]).json["missing_photos"] == []


def test_photos_of_a_held_operation_are_asked_for_too(phone: Phone) -> None:
    op = phone.enter("custody.sing", {"photos": [name(picture()), 5, None]})
    assert phone.push([op]).json["missing_photos"] == [name(picture())]


def test_a_closing_device_may_still_send_its_photos(phone: Phone) -> None:
    people.close_device(uid=phone.uid)
    assert put(phone, picture()).status == 200
