"""A phone becomes a device: once a code, within its time; secrets are said once, kept as hash."""

import json
import logging
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from pytest_django import Settings

from pickups.journal import services as journal
from pickups.journal.models import Entry
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import Device, EnrolmentCode
from pickups.people.rules import CODE_SYMBOLS, digest
from pickups.questions.models import Question
from tests.conftest import Enrol, in_process
from tests.sync.test_bad_batches import problem
from tests.world import Phone, World
from tests.world.phone import Reply
from tests.world.tables import contents, nothing_written
from tests.world.threads import at_once


def ask(**changed: Any) -> Reply:
    body = {"code": "NOPE", "device": str(uuid4()), "name": "phone"} | changed
    data = json.dumps(body).encode()
    return in_process("POST", "/api/devices/enrol", data, {"Content-Type": "application/json"})


@pytest.fixture
def code(world: World) -> str:
    return people.show_code(site=world.store, made_by=world.dispatcher)


def drain() -> None:
    """What the journal owes is done to stillness."""
    while journal.drain():
        pass


def spoken(code: str) -> str:
    """As a person types it from the office's screen."""
    return f" {code[:5].lower()}-{code[5:]} "


def test_a_code_enrols_one_device_at_the_codes_site(world: World, code: str) -> None:
    uid = uuid4()
    reply = ask(code=spoken(code), device=str(uid), name="Truck 4")
    assert reply.status == 200
    assert reply.json["site"] == {"id": str(world.store.uid), "name": "Bramblewick store"}
    device = Device.objects.get()
    assert (device.uid, device.name, device.status) == (uid, "Truck 4", "active")
    assert bytes(device.read_hash or b"") == digest(reply.json["read_token"])
    assert Entry.objects.filter(kind="device.enrolled", subject=f"device:{uid}").count() == 1


def test_the_push_secret_comes_as_a_cookie_that_no_script_and_no_other_site_can_use(
    code: str,
) -> None:
    """RFC 6265bis: __Host- wants Secure, Path=/ and no Domain."""
    reply = ask(code=code)
    cookie = reply.headers["Set-Cookie"]
    name, _, rest = cookie.partition("=")
    secret, *attributes = rest.split("; ")
    assert name == "__Host-yardloop_push"
    assert {"HttpOnly", "Secure", "SameSite=Strict", "Path=/"} <= set(attributes)
    assert not any(a.startswith("Domain") for a in attributes)
    assert f"Max-Age={400 * 86400}" in attributes
    assert bytes(Device.objects.get().push_hash or b"") == digest(secret)
    assert secret not in reply.body.decode()
    assert reply.headers["Cache-Control"] == "no-store"


def test_no_secret_stands_in_any_table(world: World, code: str) -> None:
    from django.db import connection

    reply = ask(code=code)
    secret = reply.headers["Set-Cookie"].split("=", 1)[1].split(";")[0]
    with connection.cursor() as c:
        for table in contents():
            c.execute(f"SELECT t::text FROM {table} t")
            for (row,) in c.fetchall():
                for hidden in (secret, reply.json["read_token"], code):
                    assert hidden not in row


def spend(code: str) -> None:
    assert ask(code=code).status == 200


def run_out(code: str) -> None:
    past = clock.now() - timedelta(seconds=1)
    EnrolmentCode.objects.update(expires_at=past)


def invent(code: str) -> None:
    EnrolmentCode.objects.all().delete()


@pytest.mark.parametrize("spoil", [spend, run_out, invent])
def test_a_code_that_is_used_too_old_or_unknown_is_answered_alike(code: str, spoil: Any) -> None:
    spoil(code)
    with nothing_written():
        reply = ask(code=code)
    problem(reply, 410, "code_spent")
    assert reply.body == ask(code="ANYTHING").body
    assert "Set-Cookie" not in reply.headers


def test_a_code_lasts_fifteen_minutes_and_is_hard_to_guess(code: str) -> None:
    row = EnrolmentCode.objects.get()
    left = row.expires_at - clock.now()
    assert timedelta(minutes=14) < left <= timedelta(minutes=15)
    assert len(code) == 10
    assert set(code) <= set(CODE_SYMBOLS)
    assert len(CODE_SYMBOLS) ** 10 > 2**49


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"code": ""}, "code"),
        ({"code": "x" * 41}, "code"),
        ({"code": 5}, "code"),
        ({"device": "mine"}, "device"),
        ({"name": ""}, "name"),
        ({"name": "x" * 61}, "name"),
        ({"name": "a\0b"}, "name"),
        ({"name": None}, "name"),
        ({"role": "admin"}, "role"),
    ],
)
def test_a_wrong_field_is_named_and_the_code_not_spent(
    code: str, changed: dict[str, Any], field: str
) -> None:
    with nothing_written():
        assert problem(ask(**{"code": code, **changed}), 400, "malformed")["field"] == field
    assert ask(code=code).status == 200


def test_enrolled_again_it_keeps_its_uid_and_may_send_again_after_a_revocation(
    world: World, phone: Phone
) -> None:
    people.revoke_device(uid=phone.uid)
    again = people.show_code(site=world.store, made_by=world.dispatcher)
    assert phone.enrol(again).status == 200
    assert Device.objects.get().status == "active"
    assert phone.push([]).status == 200


@pytest.mark.parametrize("status", ["active", "revoked"])
def test_a_device_in_use_that_is_enrolled_at_another_site_is_moved_and_asked_about(
    world: World, phone: Phone, status: str
) -> None:
    if status == "revoked":
        people.revoke_device(uid=phone.uid)
    old = phone.push_secret
    assert (
        phone.enrol(people.show_code(site=world.other_store, made_by=world.dispatcher)).status
        == 200
    )
    device = Device.objects.get()
    assert (device.uid, device.site_id) == (phone.uid, world.other_store.uid)
    drain()
    asked = Question.objects.filter(kind="device_moved").values_list("subject", "owner", "facts")
    told = {"left": str(world.store.uid), "site": str(world.other_store.uid)}
    moved = [(f"device:{phone.uid}", "admin", told)] if status == "active" else []
    assert list(asked) == moved
    assert phone.push([]).status == 200
    phone.push_secret = old
    problem(phone.push([]), 401, "device_unknown")


def test_a_device_enrolled_again_at_its_own_site_raises_no_question(
    world: World, phone: Phone
) -> None:
    assert phone.enrol(people.show_code(site=world.store, made_by=world.dispatcher)).status == 200
    drain()
    assert not Question.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_two_phones_with_one_code_at_once_are_one_device(world: World, code: str) -> None:
    replies = at_once(*[lambda: ask(code=code)] * 4)
    assert sorted(reply.status for reply in replies) == [200, 410, 410, 410]
    assert Device.objects.count() == 1


def test_closing_and_revoking_are_written_to_the_journal(phone: Phone) -> None:
    people.close_device(uid=phone.uid)
    people.revoke_device(uid=phone.uid)
    kinds = Entry.objects.filter(subject=f"device:{phone.uid}").order_by("id")
    assert list(kinds.values_list("kind", flat=True)) == [
        "device.enrolled",
        "device.closing",
        "device.revoked",
    ]


def test_after_ten_tries_a_minute_an_address_has_to_wait(world: World, code: str) -> None:
    assert [ask().status for _ in range(10)] == [410] * 10
    with nothing_written():
        reply = ask(code=code)
    problem(reply, 429, "too_many")
    assert 0 < int(reply.headers["Retry-After"]) <= 60


def test_a_claimed_address_of_another_does_not_give_more_tries(world: World) -> None:
    statuses = [
        Client()
        .post(
            "/api/devices/enrol",
            {"code": "NOPE", "device": str(uuid4()), "name": "phone"},
            content_type="application/json",
            headers={"X-Forwarded-For": f"203.0.113.{n}"},
        )
        .status_code
        for n in range(12)
    ]
    assert statuses == [410] * 10 + [429] * 2


def test_behind_a_proxy_of_our_own_each_address_is_counted_apart(
    world: World, settings: Settings
) -> None:
    """The last address is the one that our proxy saw; those before it are anybody's word."""
    settings.REST_FRAMEWORK = {**settings.REST_FRAMEWORK, "NUM_PROXIES": 1}

    def tried(claimed: str) -> int:
        body = {"code": "NOPE", "device": str(uuid4()), "name": "phone"}
        headers = {"X-Forwarded-For": claimed}
        kind = "application/json"
        answer = Client().post("/api/devices/enrol", body, content_type=kind, headers=headers)
        return answer.status_code

    assert [tried(f"198.51.100.{n}, 203.0.113.1") for n in range(11)] == [410] * 10 + [429]
    assert tried("198.51.100.1, 203.0.113.2") == 410


def test_without_a_cache_everybody_passes_and_the_log_says_so(
    world: World,
    code: str,
    enrol: Enrol,
    settings: Settings,
    tmp_path: Path,
    caplog: pytest.LogCaptureFixture,
) -> None:
    dead = {**settings.CACHES["default"], "LOCATION": f"unix://{tmp_path}/nobody.sock?db=0"}
    kept = settings.CACHES
    settings.CACHES = {"default": dead}
    with caplog.at_level(logging.WARNING, logger="pickups.kernel.throttles"):
        assert [ask().status for _ in range(12)] == [410] * 12
        assert ask(code=code).status == 200
    settings.CACHES = kept
    assert any("no limit on guess" in r.getMessage() for r in caplog.records)
    assert str(tmp_path) not in caplog.text.split("no limit")[1]
