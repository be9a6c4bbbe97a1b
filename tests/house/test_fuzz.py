"""Every published door under bodies that nobody thought of: none breaks it, none is answered as it
is not published. Half of the bodies name what is there, so that the far side of a door is reached.
"""

import hashlib
import io
import json
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache as once
from typing import Any
from uuid import uuid4

import pytest
import schemathesis
from django.core.cache import cache
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from schemathesis import GenerationMode
from schemathesis.checks import CHECKS, load_all_checks
from schemathesis.openapi import from_dict, from_wsgi

from pickups.config.wiring import COMMANDS
from pickups.config.wsgi import application
from pickups.kernel import clock
from pickups.people import services as people
from plant.curing import services as curing
from plant.curing.wire import LoadPosted
from plant.dock.rules import DEFAULT_ROUTE
from tests.conftest import in_process
from tests.world import Phone, World
from tests.world.phone import COOKIE
from tests.world.plant import Gateway

load_all_checks()


@schemathesis.serializer("application/x-ndjson")
def lines(ctx: Any, value: Any) -> bytes:
    """A line an event; a document that is not one is a line too."""
    return value if isinstance(value, bytes) else json.dumps(value).encode() + b"\n"


KEPT = ("not_a_server_error", "status_code_conformance", "content_type_conformance",
        "response_schema_conformance")  # fmt: skip
LEAST = 0.3
"""The share of good answers below which a door is only knocked at."""

SIGNALS = (request_started, request_finished)


@contextmanager
def connection_kept() -> Iterator[None]:
    """At a request's end Django closes a connection with a transaction open: the test's own."""
    for signal in SIGNALS:
        signal.disconnect(close_old_connections)
    yield
    for signal in SIGNALS:
        signal.connect(close_old_connections)


Case = schemathesis.Case[Any]
Draw = Callable[[st.SearchStrategy[Any]], Any]


@once
def published() -> Any:
    with connection_kept():
        return from_wsgi("/api/schema", application)


@once
def payloads(kind: str) -> Any:
    """Payloads of an operation as its struct is published; no door names them by themselves."""
    shape = COMMANDS[kind, 1].payload.__name__
    body = {"application/json": {"schema": {"$ref": f"#/components/schemas/{shape}"}}}
    door = {"requestBody": {"content": body, "required": True}, "responses": {}}
    raw = published().raw_schema
    schema = from_dict({**raw, "paths": {"/payload": {"post": door}}})
    return schema["/payload"]["POST"].as_strategy().map(lambda case: case.body)


@dataclass
class Knock:
    """Who knocks at a door, and what is put into a body so that it names what is there."""

    world: World
    phone: Phone
    draw: Draw

    def one(self, known: list[Any]) -> Any:
        return self.draw(st.sampled_from(known))

    def enrol(self, case: Case) -> None:
        body: Any = case.body
        body["code"] = people.show_code(site=self.world.store, made_by=self.world.dispatcher)

    def renew_push(self, case: Case) -> None:
        """Nothing to say but who one is."""

    def standing(self, case: Case) -> None:
        """Any number that is published."""

    def pull(self, case: Case) -> None:
        body: Any = case.body
        body["cursor"] = None

    def photo(self, case: Case) -> None:
        out = io.BytesIO()
        size = self.draw(st.tuples(st.integers(1, 40), st.integers(1, 40)))
        Image.new(self.one(["L", "RGB"]), size).save(out, self.one(["JPEG", "PNG", "WEBP"]))
        case.body = out.getvalue()
        case.path_parameters["sha256"] = hashlib.sha256(case.body).hexdigest()

    def push(self, case: Case) -> None:
        body: Any = case.body
        body["sent_at"] = "2026-05-04T15:00:00Z"
        for envelope in body["operations"]:
            kind = self.one(sorted(kind for kind, version in COMMANDS if version == 1))
            payload = self.draw(payloads(kind))
            for name, known in (("label", self.world.labels[:3]), ("yard", [self.world.yard.uid])):
                if name in payload:
                    payload[name] = str(self.one(known))
            envelope |= {"kind": kind, "version": 1, "payload": payload}
            envelope |= {"id": str(uuid4()), "by": str(self.world.driver.uid)}
            envelope["happened_at"] = "2026-05-04T10:00:00-05:00"

    def print_roll(self, case: Case) -> None:
        """Any id, any count that is published."""

    def print_labels(self, case: Case) -> None:
        body: Any = case.body
        body["labels"] = [self.one(self.world.labels[:3]) for _ in body["labels"]]

    def print_ticket(self, case: Case) -> None:
        """A drop-off at this device's store that is over."""
        visit, store = uuid4(), str(self.world.store.uid)
        yard = self.world.yard.uid
        at = {"pickup": str(visit), "yard": str(yard), "store": store}
        label = self.world.a_label()
        op = self.phone.enter("custody.pick_up", {**at, "label": label}, version=2)
        told = {**at, "casings": [op["id"]], "signer": "R. Amsel"}
        self.phone.enter("custody.finish_pickup", told, version=2)
        assert self.phone.push().status == 200
        case.path_parameters["visit"] = str(visit)

    def post_station_events(self, case: Case) -> None:
        body: Any = case.body
        for event in body.get("events", [body]):  # a batch, or one line
            event["id"] = str(uuid4())
            event["label"] = self.one(self.world.labels[:3])
            event["station"] = self.one(list(DEFAULT_ROUTE))
            event["happened_at"] = "2026-05-04T10:00:00-05:00"
            if (event["outcome"] == "released") != bool(event.get("releases")):
                event["outcome"] = self.one(["received", "passed", "finished"])
                event.pop("releases", None)
            if event["outcome"] == "withdrawn":
                event["outcome"] = "passed"
            event.pop("withdraws", None)
            event.pop("again_at", None)
            event.pop("tag", None)
            if event["outcome"] == "rejected":
                event |= {"reason": "SEPARATION", "cause": "plant"}

    plant_photo = photo

    def plant_work(self, case: Case) -> None:
        case.query = {"station": self.one(list(DEFAULT_ROUTE)), "limit": self.one([1, 7, 200])}

    def plant_casing(self, case: Case) -> None:
        label = self.one(self.world.labels[:3])
        case.path_parameters["label"] = label
        Gateway(in_process, self.world.plant_key).tell(label, "passed")

    def plant_reasons(self, case: Case) -> None:
        """Nothing to say but who asks."""

    plant_route = plant_reasons

    def plant_changes(self, case: Case) -> None:
        case.query = {"limit": self.one([1, 7, 200])}

    def post_cure_load(self, case: Case) -> None:
        body: Any = case.body
        body |= {"id": str(uuid4()), "number": "14-2", "told_at": "2026-05-04T10:00:00-05:00"}
        body |= {"started_at": None, "ended_at": None}

    def cure_load(self, case: Case) -> None:
        self.told_of(case)

    def post_cure_record(self, case: Case) -> None:
        self.told_of(case)
        case.media_type = "application/json"
        readings: Any = [
            {"at": f"2026-05-04T10:{m:02}:00-05:00", "temperature": 99} for m in range(3)
        ]
        case.body = {"temperature_unit": self.one(["c", "f"]), "readings": readings}

    def trace(self, case: Case) -> None:
        case.query = self.one([{"lot": "CG-0417"}, {"load": "14-2"}, {"q": self.world.labels[0]}])

    def told_of(self, case: Case) -> None:
        """A load that is here."""
        told = LoadPosted(uuid4(), "14-2", clock.now())
        curing.tell(plant=self.world.plant.uid, posted=told)
        case.path_parameters["number"] = "14-2"


def plain(value: Any) -> Any:
    """Without what a JSON schema cannot rule out: text that cannot be stored, 5.0 for 5."""
    if isinstance(value, dict):
        return {plain(key): plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, str):
        return "".join(c for c in value if c != "\0" and not "\ud800" <= c <= "\udfff")
    return int(value) if isinstance(value, float) and value.is_integer() else value


def call(case: Case, world: World, phone: Phone) -> schemathesis.Response:
    cache.clear()  # how often a door may be used is another matter
    plant = "plant" in case.path
    secret = f"Key {world.plant_key}" if plant else f"Bearer {phone.read_token}"
    headers = {"Authorization": secret}
    with connection_kept():
        response = case.call(headers=headers, cookies={COOKIE: phone.push_secret})
    checks: list[Any] = CHECKS.get_by_names(KEPT)
    case.validate_response(response, checks=checks)
    if case.operation.label.endswith("/renew") and response.status_code == 200:
        phone.push_secret = response.headers["set-cookie"][0].split("=", 1)[1].split(";")[0]
    return response


DOORS = {
    "enrol": "/api/devices/enrol",
    "renew_push": "/api/devices/renew",
    "standing": "/api/devices/standing",
    "push": "/api/sync/push",
    "pull": "/api/sync/pull",
    "photo": "/api/photos/{sha256}",
    "print_roll": "/api/labels/rolls",
    "print_labels": "/api/labels/print",
    "print_ticket": "/api/tickets/{visit}",
    "post_station_events": "/api/plant/events",
    "plant_photo": "/api/plant/photos/{sha256}",
    "plant_work": "/api/plant/work",
    "plant_casing": "/api/plant/casings/{label}",
    "plant_changes": "/api/plant/changes",
    "plant_reasons": "/api/plant/reasons",
    "plant_route": "/api/plant/route",
    "post_cure_load": "/api/plant/loads",
    "cure_load": "/api/plant/loads/{number}",
    "trace": "/api/plant/trace",
    "post_cure_record": "/api/plant/loads/{number}/record",
}


ASKS_NOTHING = ("renew_push", "plant_reasons", "plant_route")
"""Doors that take nothing that could be wrong."""


def operation(name: str) -> Any:
    (method,) = published().raw_schema["paths"][DOORS[name]]
    found = published()[DOORS[name]][method.upper()]
    assert found.definition.raw["operationId"] == name
    return found


def often(examples: int) -> settings:
    return settings(max_examples=examples, deadline=None, suppress_health_check=list(HealthCheck))


def test_every_published_door_is_knocked_at() -> None:
    assert set(published().raw_schema["paths"]) == set(DOORS.values())


@pytest.mark.parametrize("name", DOORS)
def test_a_body_as_it_is_published_is_answered_as_it_is_published(
    world: World, phone: Phone, name: str
) -> None:
    answered: Counter[int] = Counter()
    became: Counter[str] = Counter()

    def knock(case: Case, data: st.DataObject, known: bool) -> None:
        if known:
            getattr(Knock(world, phone, data.draw), name)(case)
            case.body = plain(case.body)
        response = call(case, world, phone)
        answered[response.status_code] += 1
        if name == "push" and response.status_code == 200:
            for answer in response.json()["answers"]:
                became.update([answer["outcome"], answer.get("code", "")])

    for known in (True, False):
        cases = operation(name).as_strategy()
        often(25)(given(case=cases, data=st.data(), known=st.just(known))(knock))()
    good = sum(n for status, n in answered.items() if status < 300)
    assert good / answered.total() >= LEAST, answered
    assert "could_not_apply" not in became
    assert name != "push" or became["accepted"] + became["contested"] > 0, became


@pytest.mark.parametrize("name", [name for name in DOORS if name not in ASKS_NOTHING])
def test_a_body_that_is_not_as_published_breaks_nothing(
    world: World, phone: Phone, name: str
) -> None:
    @often(40)
    @given(case=operation(name).as_strategy(GenerationMode.NEGATIVE))
    def knock(case: Case) -> None:
        call(case, world, phone)

    knock()
