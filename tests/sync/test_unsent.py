"""What a phone saved to a file is entered as the phone would have sent it, once, by nobody's guess.

The file is sealed by a library of its own (RFC 7516) with the key that the enrolment answer named.
"""

import base64
import io
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from joserfc import jwe
from joserfc.jwk import RSAKey
from pytest_django import Settings

from pickups.custody.models import Fact
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Device
from pickups.questions.models import Question
from pickups.sync import photos, unsent
from pickups.sync.models import Incarnation, Operation, Photo
from tests.sync.batches import push
from tests.sync.test_photos import folder, name, picture, put
from tests.world import Phone, World
from tests.world.tables import nothing_written

__all__ = ["folder"]  # a fixture: photos of a test lie in a folder of their own


class Roomy(jwe.JWERegistry):
    max_ciphertext_length = 2**26


def key_of(phone: Phone) -> dict[str, str]:
    return dict(phone.enrolled["export_key"])


def seal(inside: bytes, key: dict[str, str]) -> bytes:
    head = {"alg": "RSA-OAEP-256", "enc": "A256GCM", "kid": key["kid"]}
    text = jwe.encrypt_compact(
        head, inside, RSAKey.import_key({**key}), registry=Roomy(algorithms=list(head.values())[:2])
    )
    return text.encode()


def plain(phone: Phone, *pictures: bytes, **changed: Any) -> bytes:
    """What the phone would seal: everything in its outbox, and these photos."""
    head = {
        "saved": 1,
        "device": str(phone.uid),
        "saved_at": clock.rfc3339(phone.clock()),
        "offset_ms": -round(phone.ahead.total_seconds() * 1000),
        "operations": phone.outbox,
        "photos": [{"sha256": name(data), "bytes": len(data)} for data in pictures],
        **changed,
    }
    return json.dumps(head).encode() + b"\n" + b"".join(pictures)


@pytest.fixture
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("brought") / "unsent.jwe"


def one(world: World, phone: Phone, **more: Any) -> dict[str, Any]:
    """A casing entered on the phone."""
    return phone.pick_up(world.a_label(), world.yard.uid, uuid4(), **more)


def bring(file: Path, *options: str) -> str:
    out = io.StringIO()
    call_command("import_unsent", str(file), *options, stdout=out)
    return out.getvalue()


def test_a_file_is_entered_with_its_photos_as_its_phone_would_have_sent_it(
    world: World, phone: Phone, file: Path
) -> None:
    photo = picture()
    one(world, phone, photos=[name(photo)])
    one(world, phone)
    file.write_bytes(seal(plain(phone, photo), key_of(phone)))
    assert "2 entries, 0 of them here before; 1 photos" in bring(file, "--look")
    assert Operation.objects.count() == 0
    assert "2 accepted; 0 were here before; 1 photos" in bring(file)
    assert [f.device for f in Fact.objects.order_by("stamp")] == [phone.uid, phone.uid]
    assert photos.read(name(photo)) is not None
    assert Photo.objects.get().device == phone.uid
    assert Incarnation.objects.get().received == 2
    assert not Question.objects.exists()


def test_brought_again_or_sent_after_all_it_is_entered_once(
    world: World, phone: Phone, file: Path
) -> None:
    photo = picture()
    first = one(world, phone, photos=[name(photo)])
    file.write_bytes(seal(plain(phone, photo), key_of(phone)))
    bring(file)
    assert "1 accepted; 1 were here before" in bring(file)
    (answer,) = phone.push().json["answers"]
    assert (answer["id"], answer["outcome"], answer["repeat"]) == (first["id"], "accepted", True)
    assert Fact.objects.count() == 1


def test_what_was_sent_before_answers_repeat_and_the_rest_is_new(
    world: World, phone: Phone, file: Path
) -> None:
    one(world, phone)
    sent = list(phone.outbox)
    assert push(phone) == ["accepted"]
    one(world, phone)
    phone.outbox[:0] = sent
    file.write_bytes(seal(plain(phone), key_of(phone)))
    assert "2 accepted; 1 were here before" in bring(file)
    assert (Incarnation.objects.get().received, Fact.objects.count()) == (2, 2)


def test_a_phone_that_was_shut_out_is_taken_only_when_somebody_says_so(
    world: World, phone: Phone, file: Path
) -> None:
    one(world, phone)
    file.write_bytes(seal(plain(phone), key_of(phone)))
    people.revoke_device(uid=phone.uid)
    with nothing_written(), pytest.raises(CommandError, match="is shut out"):
        bring(file)
    bring(file, "--although-shut-out", "--by", world.dispatcher.username)
    assert Fact.objects.count() == 1
    assert Device.objects.get(uid=phone.uid).is_revoked
    assert phone.push().json["code"] == "device_revoked"
    (entry,) = Entry.objects.filter(kind="device.unsent_taken")
    assert entry.subject == f"device:{phone.uid}"
    assert entry.body == {
        "by": str(world.dispatcher.uid),
        "revoked": True,
        "operations": {"accepted": 1},
        "repeats": 0,
        "photos": 0,
    }


def test_a_closing_phone_needs_nobodys_word(world: World, phone: Phone, file: Path) -> None:
    one(world, phone)
    file.write_bytes(seal(plain(phone), key_of(phone)))
    people.close_device(uid=phone.uid)
    assert "1 accepted" in bring(file)


def test_a_clock_days_off_is_the_clock_not_the_time_that_the_file_lay_about(
    world: World, phone: Phone, file: Path
) -> None:
    phone.ahead = timedelta(days=-3)
    one(world, phone)
    file.write_bytes(seal(plain(phone), key_of(phone)))
    bring(file)
    skew = Operation.objects.get().skew_ms / 86_400_000
    assert skew == pytest.approx(-3, abs=0.01)


def test_a_batch_is_no_bound_to_a_file(world: World, phone: Phone, file: Path) -> None:
    for _ in range(501):
        phone.enter("custody.unheard_of", {})
    file.write_bytes(seal(plain(phone), key_of(phone)))
    assert "501 held" in bring(file)
    assert Operation.objects.count() == 501


def test_one_entry_that_cannot_be_read_and_one_photo_that_is_none_keep_nothing_else_out(
    world: World, phone: Phone, file: Path
) -> None:
    one(world, phone)
    phone.outbox.append({"id": "no id"})
    bad = b"no picture"
    file.write_bytes(seal(plain(phone, bad, picture()), key_of(phone)))
    assert "1 accepted, 1 refused" in bring(file)
    assert Photo.objects.count() == 1


@pytest.mark.parametrize("cut", [0, 1, 40, 700, -1])
def test_a_damaged_file_is_called_so_and_nothing_of_it_is_entered(
    world: World, phone: Phone, file: Path, cut: int
) -> None:
    one(world, phone)
    whole = seal(plain(phone), key_of(phone))
    file.write_bytes(whole[:cut] if cut != 700 else whole[:700] + b"A" + whole[701:])
    with nothing_written(), pytest.raises(CommandError, match="is damaged"):
        bring(file)


@pytest.mark.parametrize(
    "inside",
    [b"", b"{}", b"[]", b"{}\n", b"\xff\n", b"[" * 100_000, b'{"saved": true}\n'],
    ids=["empty", "no line", "a list", "no fields", "no text", "brackets", "no number"],
)
def test_what_is_sealed_and_no_saved_file_is_called_damaged(
    phone: Phone, file: Path, inside: bytes
) -> None:
    file.write_bytes(seal(inside, key_of(phone)))
    with nothing_written(), pytest.raises(CommandError, match="is damaged"):
        bring(file)


def test_a_head_that_counts_other_bytes_than_follow_is_damaged(
    world: World, phone: Phone, file: Path
) -> None:
    one(world, phone)
    file.write_bytes(seal(plain(phone, picture()) + b"x", key_of(phone)))
    with nothing_written(), pytest.raises(CommandError, match="is damaged"):
        bring(file)


def test_a_file_of_another_server_of_a_newer_app_or_of_a_strange_phone_is_told_apart(
    world: World, phone: Phone, file: Path, settings: Settings
) -> None:
    one(world, phone)
    theirs = RSAKey.generate_key(2048, private=True, auto_kid=True)
    key = {k: str(v) for k, v in theirs.as_dict(private=False).items()}
    file.write_bytes(seal(plain(phone), key))
    with pytest.raises(CommandError, match="another server"):
        bring(file)
    file.write_bytes(seal(plain(phone, saved=2), key_of(phone)))
    with pytest.raises(CommandError, match="newer app"):
        bring(file)
    strange = "01960000-0000-7000-8000-0000000000aa"
    file.write_bytes(seal(plain(phone, device=strange), key_of(phone)))
    with pytest.raises(CommandError, match="never enrolled"):
        bring(file)
    assert Operation.objects.count() == 0


def test_the_key_of_an_own_deployment_is_the_one_that_phones_are_told(
    world: World, phone: Phone, file: Path, settings: Settings
) -> None:
    own = RSAKey.generate_key(2048, private=True)
    settings.EXPORT_KEY = json.dumps(own.as_dict(private=True))
    phone.enrol(people.show_code(site=world.store, made_by=world.dispatcher))
    told = key_of(phone)
    assert (told["n"], told["kid"]) == (own.as_dict(private=False)["n"], own.thumbprint())
    assert "d" not in told
    one(world, phone)
    file.write_bytes(seal(plain(phone), told))
    assert "1 accepted" in bring(file)


def test_what_was_put_by_and_not_agreed_to_is_forgotten_after_a_day(
    phone: Phone, folder: Path
) -> None:
    sealed = seal(plain(phone), key_of(phone))
    put(phone, picture())
    put_by = unsent.put_by(sealed)
    assert unsent.put_by(sealed) == put_by
    assert unsent.kept(put_by) == sealed
    assert unsent.forget(older_than=clock.now() - timedelta(days=1)) == 0
    assert unsent.forget(older_than=datetime.now(UTC) + timedelta(days=1)) == 1
    assert unsent.kept(put_by) is None
    assert unsent.kept("../../secret_key") is None
    assert Photo.objects.count() == 1
    assert photos.read(name(picture())) is not None


@pytest.mark.parametrize("offset_ms", [2**53 - 1, 1 - 2**53], ids=["far ahead", "far behind"])
def test_a_clock_off_the_calendar_keeps_nothing_from_being_taken(
    world: World, phone: Phone, file: Path, offset_ms: int
) -> None:
    one(world, phone)
    file.write_bytes(seal(plain(phone, offset_ms=offset_ms), key_of(phone)))
    assert "1 accepted" in bring(file)


def test_a_moment_off_the_calendar_or_a_head_of_brackets_is_damage(
    world: World, phone: Phone, file: Path
) -> None:
    one(world, phone)
    brackets = base64.urlsafe_b64encode(b"[" * 1500)
    moment = plain(phone, saved_at="0001-01-01T00:00:00+14:00")
    for data in (seal(moment, key_of(phone)), brackets + b".x.x.x.x"):
        with pytest.raises(unsent.Unusable, match="damaged"):
            unsent.opened(data)
