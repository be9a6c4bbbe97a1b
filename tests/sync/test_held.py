"""What cannot be applied yet is kept whole, asked about, and applied by itself when it can be."""

import json
from collections.abc import Callable, Iterator, Sequence
from typing import Annotated
from uuid import uuid4

import msgspec
import pytest

from pickups.config import wiring
from pickups.custody.models import Fact, Pickup
from pickups.people import services as people
from pickups.questions.models import Question
from pickups.questions.queries import open_about
from pickups.sync import registry
from pickups.sync import tasks as sync_tasks
from pickups.sync.models import Operation
from pickups.sync.push import retry_held
from pickups.sync.rules import Command, Done, Entered
from tests.conftest import Enrol
from tests.sync.batches import dumped, kept, push, push_bytes, told
from tests.world import Phone, World
from tests.world.tables import nothing_written

Wire = Callable[[str, int, Command], None]


@pytest.fixture
def wire() -> Iterator[Wire]:
    """Wire one more command, as a later release would; the real table comes back afterwards."""
    commands = dict(wiring.COMMANDS)

    def add(kind: str, version: int, command: Command) -> None:
        commands[kind, version] = command
        registry.install(commands=commands, bodies=wiring.BODIES, scopes=wiring.SCOPES)

    yield add
    wiring.install()


class PickUp2(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A later pick_up: it also says who helped."""

    pickup: str
    label: str
    helper: Annotated[str, msgspec.Meta(max_length=40)]


def noted(seen: list[str]) -> Command:
    """A command that only notes whose payload it was given."""

    def apply(entered: Sequence[Entered]) -> list[Done]:
        seen.extend(e.payload.helper for e in entered)
        return [Done() for _ in entered]

    return Command(PickUp2, lambda _: (), apply)


def about(operation: dict[str, object]) -> list[str]:
    return open_about(f"operation:{operation['id']}")


@pytest.mark.parametrize(
    ("kind", "version", "code"),
    [
        ("custody.sing", 1, "kind_unknown"),
        ("nobody.sings", 1, "kind_unknown"),
        ("custody.pick_up", 9, "version_unknown"),
    ],
)
def test_an_unknown_kind_or_version_is_held_whole_and_asked_about(
    world: World, phone: Phone, kind: str, version: int, code: str
) -> None:
    op = phone.enter(kind, {"helper": "Uma", "list": [1, 2.5, None]}, version=version)
    raw = json.dumps(op, indent=2, ensure_ascii=False).encode()
    (answer,) = push_bytes(phone, [raw])
    assert told(answer) == f"held {code}"
    assert phone.outbox == []
    assert bytes(kept(op).raw or b"") == raw
    assert about(op) == [code]


def test_a_later_release_frees_what_waited_for_it(world: World, phone: Phone, wire: Wire) -> None:
    payload = {"pickup": str(uuid4()), "label": world.a_label(), "helper": "Uma"}
    op = phone.enter("custody.pick_up", payload, version=9)
    assert push(phone) == ["held version_unknown"]
    assert retry_held(everything=True) == 0
    seen: list[str] = []
    wire("custody.pick_up", 9, noted(seen))
    assert retry_held() == 0, "the sweep leaves alone what waits for a release"
    assert retry_held(everything=True) == 1
    assert seen == ["Uma"]
    assert (kept(op).outcome, kept(op).raw) == ("accepted", None)
    assert about(op) == []
    assert push(phone, op) == ["accepted"]
    assert seen == ["Uma"]


def test_trying_again_raises_no_other_question(world: World, phone: Phone, wire: Wire) -> None:
    op = phone.enter("custody.pick_up", {"pickup": "", "label": "", "helper": ""}, version=9)
    assert push(phone) == ["held version_unknown"]
    retry_held(everything=True)
    wire("custody.pick_up", 9, noted([]))
    retry_held(everything=True)
    assert open_about(f"device:{phone.uid}") == []
    assert kept(op).sequence == op["sequence"]


def test_a_release_that_knows_the_version_but_not_the_payload_says_so(
    world: World, phone: Phone, wire: Wire
) -> None:
    op = phone.enter("custody.pick_up", {"what": "else"}, version=9)
    assert push(phone) == ["held version_unknown"]
    wire("custody.pick_up", 9, noted([]))
    assert retry_held(everything=True) == 0
    assert (kept(op).outcome, kept(op).code) == ("held", "payload_not_understood")
    assert "payload_not_understood" in about(op)


@pytest.mark.parametrize(
    "spoilt",
    [
        {"colour": "red"},
        {"tread_32nds": "six"},
        {"tread_32nds": [41]},
        {"label": "O0000000"},
        {"yard": "north"},
        {"note": "x" * 501},
        {"photos": ["d4e2"]},
        {"label": None},
    ],
    ids=lambda s: next(iter(s)),
)
def test_a_payload_that_is_not_understood_is_held_byte_for_byte(
    world: World, phone: Phone, spoilt: dict[str, object]
) -> None:
    op = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    op["payload"] |= spoilt
    good = phone.pick_up(world.a_label(), world.yard.uid, uuid4())
    raw = b" " + json.dumps(op, separators=(" , ", ":  ")).encode()
    answers = push_bytes(phone, [raw, dumped(good)])
    assert [told(a) for a in answers] == ["held payload_not_understood", "accepted"]
    assert bytes(kept(op).raw or b"") == raw.strip()
    assert about(op) == ["payload_not_understood"]
    assert Fact.objects.count() == 1


def test_the_end_of_a_pickup_waits_for_its_casings_of_another_batch(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    casings = [phone.pick_up(world.a_label(), world.yard.uid, pickup) for _ in range(3)]
    end = phone.finish(pickup, world.yard.uid, [c["id"] for c in casings])
    assert push(phone, end) == ["held reference_unseen"]
    assert (about(end), str(kept(end).awaits)) == (["reference_unseen"], casings[0]["id"])
    assert push(phone, casings[2]) == ["accepted"]
    assert push(phone, casings[0]) == ["accepted"]
    assert str(kept(end).awaits) == casings[1]["id"]
    assert Pickup.objects.count() == 0
    assert push(phone, casings[1]) == ["accepted"]
    assert Pickup.objects.get().casings == [c["id"] for c in casings]
    assert (kept(end).outcome, about(end)) == ("accepted", [])
    (answer,) = phone.push([end]).json["answers"]
    assert (told(answer), answer["repeat"]) == ("accepted", True)
    assert open_about(f"device:{phone.uid}") == []


def test_the_end_of_a_pickup_before_its_casings_in_one_batch_is_applied(
    world: World, phone: Phone
) -> None:
    pickup = uuid4()
    casing = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    end = phone.finish(pickup, world.yard.uid, [casing["id"]])
    assert push(phone, end, casing) == ["accepted", "accepted"]
    assert Pickup.objects.count() == 1
    assert about(end) == []


def test_what_waits_for_another_device_is_freed_by_it_and_stays_its_senders(
    world: World, phone: Phone, enrol: Enrol
) -> None:
    other = enrol()
    pickup = uuid4()
    casing = other.pick_up(world.a_label(), world.yard.uid, pickup)
    end = phone.finish(pickup, world.yard.uid, [casing["id"]])
    assert push(phone, end) == ["held reference_unseen"]
    assert push(other) == ["accepted"]
    assert Pickup.objects.get().by == phone.person
    assert kept(end).device_id == phone.uid


def test_what_is_freed_frees_what_waits_for_it(world: World, phone: Phone, wire: Wire) -> None:
    """A chain: the end waits for a pick_up that itself waits for a release."""
    pickup = uuid4()
    later = phone.pick_up(world.a_label(), world.yard.uid, pickup) | {"version": 9}
    end = phone.finish(pickup, world.yard.uid, [later["id"]])
    assert push(phone, end) == ["held reference_unseen"]
    assert push(phone, later) == ["held version_unknown"]
    sync_tasks.retry_held()
    assert kept(end).outcome == "held"
    wire("custody.pick_up", 9, wiring.COMMANDS["custody.pick_up", 1])
    retry_held(everything=True)
    assert (kept(later).outcome, kept(end).outcome) == ("accepted", "accepted")
    assert Pickup.objects.count() == 1
    assert not Question.objects.filter(settled_at=None).exists()


def test_held_operations_of_a_revoked_device_are_applied_and_bar_no_others(
    world: World, phone: Phone, enrol: Enrol, wire: Wire
) -> None:
    """They came while the device was in use; only what comes later is turned away."""
    other = enrol()
    for sender in (phone, other):
        sender.enter("custody.drop", {"text": str(sender.uid)})
        assert push(sender) == ["held kind_unknown"]
    people.revoke_device(uid=phone.uid)
    applied: list[str] = []
    wire("custody.drop", 1, fragile(applied, "never"))
    assert retry_held(everything=True) == 2
    assert set(applied) == {str(phone.uid), str(other.uid)}


class Fragile(msgspec.Struct, frozen=True):
    """A payload for a command that breaks on one of its values."""

    text: str


def fragile(applied: list[str], breaks_on: str) -> Command:
    def apply(entered: Sequence[Entered]) -> list[Done]:
        for e in entered:
            if e.payload.text == breaks_on:
                raise ZeroDivisionError
            applied.append(e.payload.text)
        return [Done() for _ in entered]

    return Command(Fragile, lambda _: (), apply)


@pytest.mark.parametrize("place", [0, 3, 6])
def test_an_operation_that_breaks_our_code_is_held_alone(
    world: World, phone: Phone, wire: Wire, place: int
) -> None:
    applied: list[str] = []
    wire("custody.drop", 1, fragile(applied, str(place)))
    ops = [phone.enter("custody.drop", {"text": str(n)}) for n in range(7)]
    ops.insert(3, phone.pick_up(world.a_label(), world.yard.uid, uuid4()))
    answers = {a["id"]: told(a) for a in phone.push(ops).json["answers"]}
    poison = next(op for op in ops if op["payload"].get("text") == str(place))
    assert answers.pop(poison["id"]) == "held could_not_apply"
    assert set(answers.values()) == {"accepted"}
    assert Fact.objects.count() == 1
    assert set(applied) == {str(n) for n in range(7)} - {str(place)}
    assert json.loads(bytes(kept(poison).raw or b"")) == poison
    assert about(poison) == ["could_not_apply"]
    assert kept(poison).sequence == poison["sequence"]
    with nothing_written():
        assert push(phone, poison) == ["held could_not_apply"]
    wire("custody.drop", 1, fragile(applied, "never"))
    assert retry_held(everything=True) == 1
    assert about(poison) == []


def test_a_whole_batch_of_poison_is_kept_whole(world: World, phone: Phone, wire: Wire) -> None:
    wire("custody.drop", 1, fragile([], "bad"))
    for _ in range(5):
        phone.enter("custody.drop", {"text": "bad"})
    assert push(phone) == ["held could_not_apply"] * 5
    assert Operation.objects.exclude(raw=None).count() == 5


def test_a_waiting_operation_that_breaks_our_code_does_not_spoil_the_one_that_freed_it(
    world: World, phone: Phone, wire: Wire
) -> None:
    pickup = uuid4()
    casing = phone.pick_up(world.a_label(), world.yard.uid, pickup)
    end = phone.finish(pickup, world.yard.uid, [casing["id"]])
    assert push(phone, end) == ["held reference_unseen"]
    whole = wiring.COMMANDS["custody.finish_pickup", 1]

    def broken(entered: Sequence[Entered]) -> list[Done]:
        raise ZeroDivisionError

    wire("custody.finish_pickup", 1, Command(whole.payload, whole.keys, broken))
    assert push(phone, casing) == ["accepted"]
    assert Fact.objects.count() == 1
    assert kept(end).outcome == "held"
    sync_tasks.retry_held()
    assert (kept(end).outcome, kept(end).code) == ("held", "could_not_apply")
    assert "could_not_apply" in about(end)
    wire("custody.finish_pickup", 1, whole)
    assert retry_held(everything=True) == 1
    assert (Pickup.objects.count(), about(end)) == (1, [])


def test_held_operations_beyond_one_round_are_all_tried(
    world: World, phone: Phone, wire: Wire
) -> None:
    """Some that stay held, before those that can be freed, do not bar them for ever."""
    for _ in range(6):
        phone.enter("custody.sing", {})
    phone.enter("custody.drop", {"text": "late"})
    assert push(phone) == ["held kind_unknown"] * 7
    applied: list[str] = []
    wire("custody.drop", 1, fragile(applied, "never"))
    assert retry_held(everything=True, limit=3) == 1
    assert applied == ["late"]
