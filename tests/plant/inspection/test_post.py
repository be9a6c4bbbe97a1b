"""The plant's door over HTTP: what it takes, how it says no, and that a no writes nothing."""

import json
from collections.abc import Callable
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import connection

from pickups.casings import reasons
from pickups.custody.models import Fact
from pickups.kernel.clock import rfc3339
from pickups.labels.rules import code
from pickups.people import services as people
from plant.dock import queries as dock
from plant.inspection.models import StationEvent
from plant.inspection.services import fact_uid
from tests.conftest import in_process
from tests.plant.inspection.refusals import refused
from tests.world import Phone, World
from tests.world.plant import Gateway
from tests.world.tables import nothing_written

pytestmark = pytest.mark.django_db

MIB = 1024 * 1024


# --- Taken --------------------------------------------------------------------------------------


def test_one_event_is_kept_as_posted_and_becomes_a_fact(world: World, gateway: Gateway) -> None:
    finding = {"zone": "crown", "kind": "nail-hole", "size_mm": 4.5, "photos": ["ab" * 32]}
    event = gateway.event(
        world.a_label(), "rejected", cause="road_or_dock", operator="op-7", findings=[finding]
    )
    reply = gateway.post(event)
    assert reply.status == 200
    assert reply.json == {"answers": [{"id": event["id"]}], "missing_photos": ["ab" * 32]}
    kept = StationEvent.objects.get()
    assert kept.body == event
    assert kept.fact == fact_uid(world.plant.uid, UUID(event["id"]))
    fact = Fact.objects.get(uid=kept.fact)
    assert (fact.kind, fact.label, fact.holder) == (
        "rejected",
        event["label"],
        f"plant:{world.plant.uid}",
    )
    told = {k: v for k, v in fact.told.items() if k != "at"}
    assert told == {
        "station": "buffing",
        "key": world.plant_key.partition(".")[0],
        "reason": "SW_CUT",
        "cause": "road_or_dock",
        "operator": "op-7",
        "zone": "crown",
        "photos": ["ab" * 32],
    }


def test_a_batch_is_answered_in_its_order(world: World, gateway: Gateway) -> None:
    events = [gateway.event(world.a_label(), "received") for _ in range(20)]
    reply = gateway.post({"events": events})
    assert reply.status == 200
    assert [a["id"] for a in reply.json["answers"]] == [e["id"] for e in events]
    assert StationEvent.objects.count() == Fact.objects.count() == 20


def test_a_batch_of_five_hundred_is_taken_and_one_more_is_not(
    world: World, gateway: Gateway
) -> None:
    label = world.a_label()
    events = [gateway.event(label, "passed") for _ in range(501)]
    with nothing_written():
        problem = refused(gateway.post({"events": events}), 400, "malformed")
    assert problem["faults"][0]["field"] == "events"
    assert "500" in problem["faults"][0]["allowed"]
    assert gateway.post({"events": events[:500]}).status == 200
    assert Fact.objects.count() == 500


def test_an_event_posted_again_is_the_same_event(world: World, gateway: Gateway) -> None:
    event = gateway.tell(world.a_label(), "received")
    with nothing_written():
        again = gateway.post(json.dumps(event, indent=3, sort_keys=True).encode())
    assert again.json == {"answers": [{"id": event["id"], "repeat": True}]}


def test_an_event_twice_in_one_batch_is_one_event(world: World, gateway: Gateway) -> None:
    event = gateway.event(world.a_label(), "received")
    reply = gateway.post({"events": [event, event]})
    assert [a.get("repeat", False) for a in reply.json["answers"]] == [False, True]
    assert Fact.objects.count() == 1


def test_an_id_with_another_body_is_refused_with_all_beside_it(
    world: World, gateway: Gateway
) -> None:
    event = gateway.tell(world.a_label(), "received")
    other = event | {"outcome": "finished"}
    with nothing_written():
        fresh = gateway.event(world.a_label(), "received")
        problem = refused(gateway.post({"events": [fresh, other]}), 409, "id_reused")
    assert problem["faults"][0]["value"] == event["id"]
    assert "received" not in json.dumps(problem)


def test_two_plants_may_use_one_id(world: World, gateway: Gateway) -> None:
    from pickups.people.models import Site
    from plant.dock import services as dock_services

    second = people.open_site(name="Ashgrove plant", kind=Site.Kind.PLANT)
    dock_services.lay_out(plant=second)
    _, key = people.issue_key(plant=second, name="gateway")
    event = gateway.tell(world.a_label(), "received")
    reply = Gateway(in_process, key).post(event | {"outcome": "finished"})
    assert reply.status == 200
    assert Fact.objects.count() == 2


def never_printed() -> str:
    """A sound code of a range that no roll was printed in."""
    return next(made for n in range(30) if (made := code("Y9", n, "00")) is not None)


def test_the_answer_never_tells_whether_a_label_is_known(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    known, contested, printed = (world.a_label() for _ in range(3))
    for label in (known, contested, contested):
        phone.pick_up(label, world.yard.uid, uuid4())
    assert phone.push().status == 200
    answers = []
    for label in (known, contested, printed, never_printed()):
        event = gateway.event(label, "received")
        reply = gateway.post(event)
        body = reply.body.replace(event["id"].encode(), b"ID")
        answers.append((reply.status, reply.headers, body))
    assert answers[0][0] == 200
    assert answers[1:] == answers[:1] * 3


@pytest.mark.xdist_group("feed")
@pytest.mark.usefixtures("apart")
@pytest.mark.django_db(transaction=True)
def test_what_a_station_did_is_seen_by_the_phone_with_its_next_pull(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    label = world.a_label()
    op = phone.pick_up(label, world.yard.uid, uuid4())
    phone.push()
    phone.pull_all()
    assert phone.seen("work_order")[op["id"]]["progress"] == "picked_up"
    gateway.tell(label, "received", station="receiving")
    rejection = gateway.tell(label, "rejected", reason="SW_CUT", station="shearography")
    phone.pull_all()
    seen = phone.seen("work_order")[op["id"]]
    assert (seen["progress"], seen["reason"], seen["station"]) == (
        "rejected",
        "SW_CUT",
        "shearography",
    )
    gateway.tell(label, "released", releases=rejection["id"])
    gateway.tell(label, "finished", station="final-inspection")
    phone.pull_all()
    assert phone.seen("work_order")[op["id"]]["progress"] == "finished"


def test_event_and_fact_are_written_together_or_not_at_all(world: World, gateway: Gateway) -> None:
    events = [gateway.event(world.a_label(), "received") for _ in range(3)]
    with connection.cursor() as c:  # the ledger's table will not take the last of them
        c.execute(
            "ALTER TABLE custody_fact ADD CONSTRAINT not_this_one CHECK (label <> %s)",
            [events[2]["label"]],
        )
    with nothing_written():
        assert gateway.post({"events": events}).status == 503
    with connection.cursor() as c:
        c.execute("ALTER TABLE custody_fact DROP CONSTRAINT not_this_one")
    assert gateway.post({"events": events}).status == 200
    assert (StationEvent.objects.count(), Fact.objects.count()) == (3, 3)


# --- Not taken ----------------------------------------------------------------------------------

WRONG: list[tuple[str, dict[str, Any]]] = [
    ("id", {"id": "7"}),
    ("id", {"id": None}),
    ("label", {"label": "K7AAAAA"}),
    ("label", {"label": "K7AAAAAO"}),
    ("label", {"label": "k7aaaaaa"}),
    ("label", {"label": "K7000Y02\n"}),
    ("label", {"label": "K7000Y0\n"}),
    ("station", {"station": "buffing\n"}),
    ("label", {"label": 7}),
    ("station", {"station": "Buffing!"}),
    ("station", {"station": "x" * 41}),
    ("outcome", {"outcome": "cured"}),
    ("outcome", {"outcome": "returned"}),
    ("outcome", {"outcome": "picked_up"}),
    ("happened_at", {"happened_at": "yesterday"}),
    ("happened_at", {"happened_at": "2026-05-04T10:00:00"}),
    ("happened_at", {"happened_at": 1_760_000_000}),
    ("happened_at", {"happened_at": "1969-12-31T23:59:59+00:00"}),
    ("happened_at", {"happened_at": "9999-12-31T00:00:00+00:00"}),
    ("operator", {"operator": "x" * 41}),
    ("reason", {"reason": "x" * 41}),
    ("cause", {"cause": "weather"}),
    ("releases", {"releases": "7"}),
    ("note", {"note": "x" * 501}),
    ("findings", {"findings": [{"zone": "crown", "kind": "cut"}] * 51}),
    ("findings[1].zone", {"findings": [{"zone": "crown", "kind": "x"}, {"zone": "rim"}]}),
    ("findings[0].kind", {"findings": [{"zone": "crown", "kind": ""}]}),
    ("findings[0].size_mm", {"findings": [{"zone": "crown", "kind": "x", "size_mm": -1}]}),
    ("findings[0].count", {"findings": [{"zone": "crown", "kind": "x", "count": 0}]}),
    ("findings[0].photos[0]", {"findings": [{"zone": "crown", "kind": "x", "photos": ["ab"]}]}),
    ("findings[0].colour", {"findings": [{"zone": "crown", "kind": "x", "colour": "red"}]}),
    ("colour", {"colour": "red"}),
]


@pytest.mark.parametrize(("field", "changed"), WRONG, ids=lambda v: str(v)[:40])
@pytest.mark.parametrize("batch", [False, True], ids=["single", "batch"])
def test_a_wrong_field_is_named_with_its_value_and_what_is_allowed(
    world: World, gateway: Gateway, field: str, changed: dict[str, Any], batch: bool
) -> None:
    event = gateway.event(world.a_label(), "rejected") | changed
    good = gateway.event(world.a_label(), "received")
    with nothing_written():
        reply = gateway.post({"events": [good, event]} if batch else event)
    (fault,) = refused(reply, 400, "malformed")["faults"]
    assert fault["field"] == (f"events[1].{field}" if batch else field)
    assert fault["allowed"]
    shown = str(next(iter(changed.values())))[:20].rstrip()
    assert (
        "[" in field or "findings" in field or shown in fault["value"] or fault["value"] == "null"
    )


@pytest.mark.parametrize("name", ["id", "label", "station", "outcome", "happened_at"])
def test_a_field_that_is_missing_is_named(world: World, gateway: Gateway, name: str) -> None:
    event = gateway.event(world.a_label(), "received")
    del event[name]
    with nothing_written():
        problem = refused(gateway.post(event), 400, "malformed")
    assert problem["faults"][0]["field"] == name
    assert "required" in problem["faults"][0]["allowed"]


def test_an_unknown_station_is_answered_with_those_of_the_plant(
    world: World, gateway: Gateway
) -> None:
    event = gateway.event(world.a_label(), "passed", station="polishing")
    with nothing_written():
        (fault,) = refused(gateway.post(event), 400, "malformed")["faults"]
    assert (fault["field"], fault["value"]) == ("station", "polishing")
    assert fault["allowed"].split(", ") == dock.codes(world.plant.uid)
    with nothing_written():
        reply = gateway.post({"events": [gateway.event(world.a_label(), "passed"), event]})
    assert refused(reply, 400, "malformed")["faults"][0]["field"] == "events[1].station"


@pytest.mark.parametrize(
    ("outcome", "more", "field"),
    [
        ("released", {}, "releases"),
        ("passed", {"releases": str(uuid4())}, "releases"),
        ("rejected", {"reason": ""}, "reason"),
        ("rejected", {"reason": "exposed_cord"}, "reason"),
        ("rejected", {"reason": "separation"}, "reason"),
        ("rejected", {"cause": None}, "cause"),
    ],
)
def test_a_release_names_what_it_releases_and_a_rejection_its_reason_and_cause(
    world: World, gateway: Gateway, outcome: str, more: dict[str, Any], field: str
) -> None:
    with nothing_written():
        reply = gateway.post(gateway.event(world.a_label(), outcome, **more))
    assert refused(reply, 400, "malformed")["faults"][0]["field"] == field


@pytest.mark.parametrize("batch", [False, True], ids=["single", "batch"])
def test_a_reason_that_nobody_could_be_told_is_answered_with_the_catalogue(
    world: World, gateway: Gateway, batch: bool
) -> None:
    event = gateway.event(world.a_label(), "rejected", reason="BAD")
    good = gateway.event(world.a_label(), "rejected", reason="ZIPPER", cause="plant")
    with nothing_written():
        reply = gateway.post({"events": [good, event]} if batch else event)
    (fault,) = refused(reply, 400, "malformed")["faults"]
    assert (fault["field"], fault["value"]) == ("events[1].reason" if batch else "reason", "BAD")
    assert set(reasons.CODES) <= set(fault["allowed"].replace(",", "").split())
    event = gateway.event(world.a_label(), "rejected")
    del event["cause"]
    with nothing_written():
        (fault,) = refused(gateway.post(event), 400, "malformed")["faults"]
    assert fault["field"] == "cause"
    assert "casing, plant, road_or_dock, customer" in fault["allowed"]


Body = Callable[[dict[str, Any]], bytes]


@pytest.mark.parametrize(
    "body",
    [b"{", b"[]", b"null", b'"events"', b'{"events": []}', b'{"events": {}}', b"[" * 100_000,
     b'{"events":' * 50_000],
    ids=lambda b: b[:12].decode(),
)  # fmt: skip
def test_what_is_no_event_is_refused(world: World, gateway: Gateway, body: bytes) -> None:
    with nothing_written():
        reply = gateway.post(body)
    assert refused(reply, 400, "malformed")["faults"][0]["allowed"]


@pytest.mark.parametrize(
    "body",
    [
        lambda e: json.dumps({"events": [e], "more": 1}).encode(),
        lambda e: json.dumps(e | {"note": "\ud800"}).encode(),
        lambda e: json.dumps(e | {"note": "a\x00b"}).encode(),
        lambda e: json.dumps(e).encode().replace(b"buffing", b"\xff\xfe"),
        lambda e: json.dumps(e).encode("utf-16"),
        lambda e: json.dumps(e)[:-1].encode() + b',"note":' + b"[" * 30 + b"]" * 30 + b"}",
        lambda e: json.dumps(e)[:-1].encode() + b',"findings":[{"zone":"crown","size_mm":NaN}]}',
        lambda e: json.dumps(e | {"findings": [{"count": 2**70}]}).encode(),
    ],
)
def test_a_body_that_cannot_be_read_is_refused_whole(
    world: World, gateway: Gateway, body: Body
) -> None:
    with nothing_written():
        reply = gateway.post(body(gateway.event(world.a_label(), "received")))
    assert refused(reply, 400, "malformed")["faults"][0]["allowed"]


@pytest.mark.parametrize("moment", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00"])
def test_a_moment_at_the_end_of_all_calendars_is_named(
    world: World, gateway: Gateway, moment: str
) -> None:
    event = gateway.event(world.a_label(), "received") | {"happened_at": moment}
    with nothing_written():
        (fault,) = refused(gateway.post(event), 400, "malformed")["faults"]
    assert (fault["field"], fault["value"]) == ("happened_at", moment)
    assert fault["allowed"] == "a moment from 1970-01-01 to 9999-12-30"


@pytest.mark.parametrize(
    ("moment", "kept"),
    [
        ("1970-01-01T00:00:00Z", "1970-01-01T00:00:00.000Z"),
        ("9999-12-30T23:59:59Z", "9999-12-30T23:59:59.000Z"),
        ("2026-05-04T10:00:00+23:59", "2026-05-03T10:01:00.000Z"),
        ("2026-05-04T10:00:00-16:00", "2026-05-05T02:00:00.000Z"),
    ],
)
def test_a_moment_is_kept_whatever_its_offset(
    world: World, gateway: Gateway, moment: str, kept: str
) -> None:
    gateway.tell(world.a_label(), "received", happened_at=datetime.fromisoformat(moment))
    event = gateway.event(world.a_label(), "received") | {"happened_at": moment}
    assert gateway.post(event).status == 200
    assert gateway.post(event).json["answers"][0]["repeat"] is True
    for fact in Fact.objects.all():
        assert rfc3339(fact.happened_at) == fact.told["at"] == kept


@pytest.mark.parametrize("batch", [False, True], ids=["single", "batch"])
@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda code: code[:5] + code[6] + code[5] + code[7], "check symbol does not fit"),
        (lambda code: "7" + code[1:], "first symbol is a letter"),
        (str.lower, "capital letters"),
        (lambda code: code[:7], "eight symbols"),
    ],
    ids=["swapped", "a digit first", "small letters", "short"],
)
def test_a_misread_label_is_answered_while_the_casing_is_there(
    world: World, gateway: Gateway, spoil: Callable[[str], str], says: str, batch: bool
) -> None:
    label = next(code for code in world.labels if code[5] != code[6])
    event = gateway.event(spoil(label), "received")
    good = gateway.event(label, "received")
    with nothing_written():
        reply = gateway.post({"events": [good, event]} if batch else event)
    (fault,) = refused(reply, 400, "malformed")["faults"]
    assert fault["field"] == ("events[1].label" if batch else "label")
    assert fault["value"] == event["label"]
    assert says in fault["allowed"]


def test_a_body_over_a_mebibyte_is_refused_and_one_of_just_that_is_read(
    world: World, gateway: Gateway
) -> None:
    event = gateway.event(world.a_label(), "received")
    whole = json.dumps(event).encode()
    with nothing_written():
        refused(gateway.post(whole + b" " * (MIB + 1 - len(whole))), 413, "too_large")
    assert gateway.post(whole + b" " * (MIB - len(whole))).status == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Content_Type": "text/plain"},
        {"Content_Type": "application/x-www-form-urlencoded"},
        {"Content_Type": ""},
        {"Content_Encoding": "gzip"},
    ],
)
def test_another_form_of_content_is_refused(
    world: World, gateway: Gateway, headers: dict[str, str]
) -> None:
    with nothing_written():
        refused(
            gateway.post(gateway.event(world.a_label(), "received"), **headers), 415, "media_type"
        )
