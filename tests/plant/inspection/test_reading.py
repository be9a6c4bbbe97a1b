"""What a plant's system reads: what is inside, one casing, what changed; and with which key."""

import json
from functools import partial
from typing import Any
from uuid import uuid4

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command
from django.test import Client

from pickups.journal import services as journal
from pickups.people import services as people
from pickups.people.models import PlantKey, Site
from pickups.people.rules import KeyScope
from plant.dock import services as dock
from tests.conftest import in_process
from tests.plant.inspection.refusals import refused
from tests.world import Phone, World
from tests.world.phone import Reply
from tests.world.plant import Gateway, Refused
from tests.world.tables import nothing_written
from tests.world.threads import at_once

pytestmark = pytest.mark.django_db


# --- Lines --------------------------------------------------------------------------------------


def test_a_line_an_event_is_a_batch(world: World, gateway: Gateway) -> None:
    events = [gateway.event(world.a_label(), "received") for _ in range(3)]
    body = b"\r\n\n".join(json.dumps(e).encode() for e in events) + b"\n\n"
    reply = gateway.post(body, Content_Type="application/x-ndjson; charset=utf-8")
    assert [a["id"] for a in reply.json["answers"]] == [e["id"] for e in events]
    again = gateway.deliver(events)
    assert all(a["repeat"] for a in again)


@pytest.mark.parametrize(
    ("line", "field"),
    [
        (b"{", "line 3.body"),
        (b'{"label": 7}', "line 3.label"),
        (b"[]", "line 3.body"),
        (b"polishing", "line 3.station"),
    ],
    ids=["no json", "a field missing", "no object", "a station of no plant"],
)
def test_a_bad_line_is_named_by_its_number_and_nothing_is_recorded(
    world: World, gateway: Gateway, line: bytes, field: str
) -> None:
    good = json.dumps(gateway.event(world.a_label(), "received")).encode()
    if line == b"polishing":
        wrong = gateway.event(world.a_label(), "passed", station="polishing")
        line = json.dumps(wrong).encode()
    with nothing_written():
        reply = gateway.post(b"\n".join([good, b"", line, good]),
                             Content_Type="application/x-ndjson")  # fmt: skip
    (fault,) = refused(reply, 400, "malformed")["faults"]
    assert fault["field"] == field
    assert fault["allowed"]


def test_no_line_at_all_and_one_too_many_are_refused(world: World, gateway: Gateway) -> None:
    label = world.a_label()
    with nothing_written():
        refused(gateway.post(b" \n", Content_Type="application/x-ndjson"), 400, "malformed")
        many = [gateway.event(label, "passed") for _ in range(501)]
        (fault,) = refused(gateway.lines(many), 400, "malformed")["faults"]
    assert (fault["field"], fault["allowed"]) == ("line 501", "at most 500 events")


# --- What is inside -----------------------------------------------------------------------------


def test_what_is_inside_is_read_in_pages_and_by_station(world: World, gateway: Gateway) -> None:
    labels = [world.a_label() for _ in range(5)]
    for label in labels:
        gateway.tell(label, "received", station="receiving")
    gateway.tell(labels[0], "passed", station="buffing")
    gateway.tell(labels[1], "shipped", station="shipping")
    assert {w["label"] for w in gateway.work()} == set(labels) - {labels[1]}
    assert [w["label"] for w in gateway.work("buffing")] == [labels[0]]
    page = gateway.get("work", limit="3").json
    rest = gateway.get("work", limit="3", cursor=page["cursor"]).json
    assert (len(page["work"]), len(rest["work"]), rest["cursor"]) == (3, 1, None)


@pytest.mark.parametrize(
    ("asked", "field"),
    [({"station": "polishing"}, "station"), ({"cursor": "x"}, "cursor"), ({"limit": "0"}, "limit"),
     ({"limit": "201"}, "limit"), ({"limit": "٣"}, "limit")],
)  # fmt: skip
def test_what_is_asked_wrong_is_named(
    world: World, gateway: Gateway, asked: dict[str, str], field: str
) -> None:
    (fault,) = refused(gateway.get("work", **asked), 400, "malformed")["faults"]
    assert (fault["field"], fault["value"]) == (field, asked[field])


def test_a_plant_reads_what_it_told_and_nothing_else(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    second = people.open_site(name="Ashgrove plant", kind=Site.Kind.PLANT)
    dock.lay_out(plant=second)
    other = Gateway(in_process, people.issue_key(plant=second, name="gateway")[1])
    told, known, printed = (world.a_label() for _ in range(3))
    for label in (told, known):
        phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    gateway.tell(told, "rejected", reason="ZIPPER")
    casing = gateway.casing(told)
    assert casing["work"]["rejections"][0]["releasable"] is False
    assert [e["outcome"] for e in casing["events"]] == ["rejected"]
    # A label of which a plant has told nothing: known, printed, or another plant's, all alike.
    silent = [other.casing(told), gateway.casing(known), gateway.casing(printed)]
    assert [s | {"label": "", "labels": []} for s in silent] == [
        {"label": "", "labels": [], "work": None, "events": []}
    ] * 3
    assert list(other.work()) == []
    refused(gateway.get("casings/K7000Y03"), 400, "malformed")


# --- What changed -------------------------------------------------------------------------------


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
def test_changes_are_read_on_from_where_one_was(world: World, gateway: Gateway) -> None:
    labels = [world.a_label() for _ in range(3)]
    for label in labels:
        gateway.tell(label, "received", station="receiving")
    first, cursor = gateway.changes()
    assert {c["work"]["label"] for c in first} == set(labels)
    assert gateway.changes(cursor)[0] == []
    gateway.tell(labels[0], "passed", station="buffing")
    gateway.tell(labels[1], "shipped", station="shipping")
    with nothing_written():
        gateway.post(gateway.event(labels[2], "passed", station="polishing"))
    second, cursor = gateway.changes(cursor)
    stages = {c["work"]["label"]: c["work"]["stage"] for c in second}
    assert stages == {labels[0]: "in_work", labels[1]: "shipped"}
    journal.drain()
    (fault,) = refused(gateway.get("changes", cursor="zzz"), 400, "malformed")["faults"]
    assert fault["field"] == "cursor"


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
def test_no_change_is_lost_under_writers_at_the_same_time(world: World, gateway: Gateway) -> None:
    labels = [world.a_label() for _ in range(4)]
    seen: dict[str, int] = {}

    def write(n: int) -> None:
        for station in ("receiving", "buffing", "building", "curing"):
            gateway.tell(labels[n], "passed", station=station)

    def follow() -> None:
        cursor = ""
        while len([v for v in seen.values() if v >= 4]) < len(labels):
            found, cursor = gateway.changes(cursor)
            seen.update({c["work"]["label"]: c["work"]["version"] for c in found})

    at_once(*(partial(write, n) for n in range(4)), follow)
    assert seen == dict.fromkeys(labels, 4)


# --- Keys ---------------------------------------------------------------------------------------


def test_a_key_opens_what_it_is_for(world: World, gateway: Gateway) -> None:
    event = gateway.event(world.a_label(), "received")
    posts = Gateway(in_process, people.issue_key(
        plant=world.plant, name="line", scopes=[KeyScope.EVENTS])[1])  # fmt: skip
    reads = Gateway(in_process, people.issue_key(
        plant=world.plant, name="screen", scopes=[KeyScope.READ])[1])  # fmt: skip
    assert posts.post(event).status == 200
    (fault,) = refused(posts.get("work"), 403, "not_allowed")["faults"]
    assert fault["allowed"] == "a key for read"
    with nothing_written():
        refused(reads.post(gateway.event(world.a_label(), "received")), 403, "not_allowed")
    assert [w["label"] for w in reads.work()] == [event["label"]]


def test_a_key_is_renewed_without_a_gap_and_the_old_one_ends_at_once(
    world: World, gateway: Gateway, capsys: pytest.CaptureFixture[str]
) -> None:
    old = world.plant_key.partition(".")[0]
    call_command("plant_key", renew=old)
    new = Gateway(in_process, capsys.readouterr().out.strip())
    for system in (gateway, new):
        assert system.post(system.event(world.a_label(), "received")).status == 200
    assert PlantKey.objects.get(follows=old).scopes == PlantKey.objects.get(pk=old).scopes
    call_command("plant_key", revoke=old)
    refused(gateway.get("work"), 401, "key_unknown")
    assert new.get("work").status == 200
    with pytest.raises(CommandError, match="no key in force"):
        call_command("plant_key", renew=old)


def test_an_administrator_makes_renews_and_revokes_keys_and_sees_each_once(world: World) -> None:
    admin = get_user_model().objects.create_superuser("root", password=None)
    client = Client()
    client.force_login(admin)
    form = {"plant": str(world.plant.uid), "name": "screen", "scopes": ["read"]}
    client.post("/admin/people/plantkey/add/", form | {"plant": str(world.store.uid)})
    assert not PlantKey.objects.filter(name="screen").exists()  # a store has no stations
    page = client.post("/admin/people/plantkey/add/", form, follow=True)
    made = PlantKey.objects.get(name="screen")
    assert made.scopes == ["read"]
    said = page.content.decode()
    secret = said.split(f"{made.prefix}.")[1].split("<")[0].split("&")[0].strip()
    assert Gateway(in_process, f"{made.prefix}.{secret}").get("work").status == 200
    listed = "/admin/people/plantkey/"
    assert secret not in client.get(listed).content.decode()
    chosen = {"_selected_action": [made.prefix]}
    page = client.post(listed, {"action": "renew", **chosen}, follow=True)
    newer = PlantKey.objects.get(follows=made)
    assert f"{newer.prefix}." in page.content.decode()
    client.post(listed, {"action": "revoke", **chosen}, follow=True)
    made.refresh_from_db()
    assert (made.revoked_at is None, newer.revoked_at) == (False, None)


# --- The client ---------------------------------------------------------------------------------


def test_the_client_sends_again_what_nobody_answered_and_waits_as_it_is_told(
    world: World, gateway: Gateway
) -> None:
    waited: list[float] = []
    answers: list[Any] = [OSError("away"), 503, 429, None]

    def door(method: str, path: str, body: bytes, headers: dict[str, str]) -> Reply:
        said = answers.pop(0)
        if isinstance(said, Exception):
            in_process(method, path, body, headers)  # taken, and the answer was lost
            raise said
        if said is not None:
            return Reply(said, {"Retry-After": "7"}, b"{}")
        return in_process(method, path, body, headers)

    client = Gateway(door, world.plant_key, wait=waited.append)
    events = [client.event(world.a_label(), "received") for _ in range(2)]
    assert [a.get("repeat") for a in client.deliver(events)] == [True, True]
    assert waited == [1.0, 7.0, 7.0]
    with pytest.raises(Refused, match="polishing"):
        gateway.deliver([gateway.event(world.a_label(), "passed", station="polishing")])
