"""What a driver tells of a run on the way, through the push: kept, shown, and never refused."""

from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import DatabaseError, connection, transaction

from pickups.kernel import clock
from pickups.questions.models import Question
from pickups.runs import queries
from pickups.runs import services as runs
from pickups.runs.models import Happening, Run, Stop
from pickups.runs.rules import Refused, Said
from pickups.sync.models import Feed
from tests.conftest import Enrol
from tests.pickups.custody.test_record import push
from tests.world import Phone, World

pytestmark = pytest.mark.django_db


@pytest.fixture
def out(run: Run, world: World) -> tuple[Run, UUID, UUID]:
    """A sheet that is handed: a yard, then the plant."""
    yard = runs.add_stop(run=run.uid, yard=world.yard.uid)
    plant = runs.add_stop(run=run.uid, site=world.plant.uid)
    runs.hand(run=run.uid)
    return run, yard, plant


Out = tuple[Run, UUID, UUID]


def tell(phone: Phone, kind: str, run: UUID, stop: UUID | None = None, **told: Any) -> str:
    payload = {"run": str(run), **({"stop": str(stop)} if stop else {}), **told}
    return str(phone.enter(f"runs.{kind}", payload)["id"])


def stops(run: Run) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = queries.bodies([run.uid])[run.uid]["stops"]
    return found


def at_stop(run: Run, stop: UUID) -> dict[str, Any]:
    return next(s for s in stops(run) if s["uid"] == str(stop))


def test_an_arrival_and_a_skip_reach_every_device_and_leave_the_dispatchers_page_as_it_was(
    out: Out, phone: Phone
) -> None:
    run, yard, plant = out
    before = Run.objects.get(uid=run.uid).version
    seen = Feed.objects.get(entity="run", uid=run.uid).version
    tell(phone, "arrive", run.uid, yard)
    tell(phone, "skip", run.uid, plant, why="closed", note="chain on the gate")
    assert push(phone) == ["accepted", "accepted"]
    assert at_stop(run, yard)["arrived_at"] is not None
    skipped = at_stop(run, plant)["skipped"]
    assert (skipped["why"], skipped["note"]) == ("closed", "chain on the gate")
    assert Feed.objects.get(entity="run", uid=run.uid).version == seen + 2
    assert Run.objects.get(uid=run.uid).version == before
    runs.set_stop(run=run.uid, stop=yard, said=Said(note="ring"), seen=before)
    assert Feed.objects.get(entity="run", uid=run.uid).version == seen + 3
    tell(phone, "resume", run.uid, plant)
    assert push(phone) == ["accepted"]
    assert at_stop(run, plant)["skipped"] is None


def test_what_arrives_late_and_out_of_order_stands_as_it_was_meant(out: Out, phone: Phone) -> None:
    run, yard, _ = out
    tell(phone, "skip", run.uid, yard, why="no_time")
    tell(phone, "arrive", run.uid, yard)
    first, second = phone.outbox
    for op in (second, first):
        assert phone.push([op]).status == 200
    assert at_stop(run, yard)["skipped"] is None
    assert at_stop(run, yard)["arrived_at"] == second["happened_at"]


def test_a_run_that_nobody_handed_out_is_held(phone: Phone, run: Run) -> None:
    tell(phone, "arrive", uuid4(), uuid4())
    assert push(phone) == ["held"]
    assert not Happening.objects.exists()


def test_a_sheet_that_was_taken_back_or_is_over_or_gone_keeps_what_was_told_and_asks_nothing(
    out: Out, phone: Phone
) -> None:
    run, yard, plant = out
    runs.take_back(run=run.uid)
    tell(phone, "arrive", run.uid, yard)
    assert push(phone) == ["accepted"]
    runs.hand(run=run.uid)
    assert at_stop(run, yard)["arrived_at"] is not None
    runs.come_back(run=run.uid)
    tell(phone, "skip", run.uid, plant, why="no_time")
    assert push(phone) == ["accepted"]
    assert at_stop(run, plant)["skipped"]["why"] == "no_time"
    assert Feed.objects.get(entity="run", uid=run.uid).gone, "it went to no phone again"
    runs.not_back(run=run.uid)
    runs.take_back(run=run.uid)
    runs.throw_away(run=run.uid)
    tell(phone, "skip", run.uid, yard, why="other", note="gone")
    assert push(phone) == ["accepted"]
    assert Happening.objects.filter(run=run.uid).count() == 3
    assert not Question.objects.exists()


def test_what_is_told_of_a_stop_that_is_gone_or_not_here_yet_is_kept_at_once(
    out: Out, phone: Phone, world: World
) -> None:
    run, yard, _ = out
    runs.remove_stop(run=run.uid, stop=yard)
    tell(phone, "arrive", run.uid, yard)
    assert push(phone) == ["accepted"]
    added = tell(phone, "add_stop", run.uid, yard=str(world.yard.uid), why="waved in")
    tell(phone, "arrive", run.uid, UUID(added))
    first, second = phone.outbox
    assert phone.push([second]).status == 200
    assert phone.answers[second["id"]]["outcome"] == "accepted"
    assert phone.push([first]).status == 200
    assert at_stop(run, UUID(added))["arrived_at"] == second["happened_at"]


def test_a_stop_that_no_sheet_named_comes_behind_the_one_that_was_made(
    out: Out, phone: Phone, world: World
) -> None:
    run, yard, plant = out
    before = Run.objects.get(uid=run.uid).version
    added = tell(
        phone, "add_stop", run.uid, yard=str(world.yard.uid), after=str(yard), why="waved in"
    )
    assert push(phone) == ["accepted"]
    assert [s["uid"] for s in stops(run)] == [str(yard), added, str(plant)]
    assert at_stop(run, UUID(added))["why_added"] == "waved in"
    assert at_stop(run, yard)["why_added"] is None
    with pytest.raises(Refused, match="stale"):
        runs.move_stop(run=run.uid, stop=plant, to=1, seen=before)
    # The office removes it and takes that back: it is still one that a driver has added.
    taken = runs.remove_stop(run=run.uid, stop=UUID(added))
    runs.put_stop_back(run=run.uid, stop=taken)
    assert at_stop(run, UUID(added))["why_added"] == "waved in"
    first = tell(phone, "add_stop", run.uid, yard=str(world.yard.uid), why="")
    assert push(phone) == ["accepted"]
    assert stops(run)[0]["uid"] == first


def test_a_yard_that_nobody_knows_makes_no_stop_and_loses_no_word(out: Out, phone: Phone) -> None:
    run, _, _ = out
    added = tell(phone, "add_stop", run.uid, yard=str(uuid4()), why="a yard far off")
    tell(phone, "arrive", run.uid, UUID(added))
    assert push(phone) == ["accepted", "accepted"]
    assert Stop.objects.filter(run=run).count() == 2
    assert Happening.objects.count() == 2


def test_a_stop_of_a_drivers_behind_one_that_never_came_stands_at_the_end(
    out: Out, phone: Phone, world: World
) -> None:
    run, yard, plant = out
    added = tell(phone, "add_stop", run.uid, yard=str(world.yard.uid), after=str(uuid4()), why="")
    assert push(phone) == ["accepted"]
    assert [s["uid"] for s in stops(run)] == [str(yard), str(plant), added]


def test_a_sheet_that_is_not_out_or_another_stores_gets_no_stop_and_the_word_is_kept(
    out: Out, phone: Phone, enrol: Enrol, world: World
) -> None:
    run, _, _ = out
    before = Run.objects.get(uid=run.uid).version
    other = enrol(world.other_driver)
    tell(other, "add_stop", run.uid, yard=str(world.yard.uid), why="theirs")
    assert push(other) == ["contested"]
    assert Run.objects.get(uid=run.uid).version == before
    runs.take_back(run=run.uid)
    tell(phone, "add_stop", run.uid, yard=str(world.yard.uid), why="late")
    runs.hand(run=run.uid)
    runs.come_back(run=run.uid)
    before = Run.objects.get(uid=run.uid).version
    assert push(phone) == ["accepted"]
    assert Run.objects.get(uid=run.uid).version == before
    assert Stop.objects.filter(run=run).count() == 2
    assert Happening.objects.filter(kind="added").count() == 2


def test_a_count_that_agrees_is_quiet_and_one_that_does_not_is_asked_about(
    out: Out, phone: Phone, world: World
) -> None:
    run, _, plant = out
    labels = [world.a_label() for _ in range(3)]
    count: dict[str, Any] = {
        "site": str(world.store.uid),
        "way": "on",
        "counted": 3,
        "scanned": labels,
    }
    tell(phone, "count_load", run.uid, **count)
    assert push(phone) == ["accepted"]
    assert queries.bodies([run.uid])[run.uid]["loaded_at"] is not None
    short = {**count, "site": str(world.plant.uid), "way": "off", "scanned": labels[:2]}
    uid = tell(phone, "count_load", run.uid, plant, **short, short=labels[2:])
    assert push(phone) == ["contested"]
    asked = Question.objects.get(kind="load_differs")
    assert asked.subject == f"count:{uid}"
    assert (asked.facts["counted"], asked.facts["scanned"]) == (3, 2)
    assert asked.facts["short"] == labels[2:]
    assert at_stop(run, plant)["loaded_at"] is None


def test_a_count_without_a_sheet_is_kept_too(phone: Phone, world: World) -> None:
    payload = {"site": str(world.store.uid), "way": "off", "counted": 2, "scanned": []}
    phone.enter("runs.count_load", payload)
    assert push(phone) == ["contested"]
    kept = Happening.objects.get()
    assert (kept.run, kept.stop, kept.told["counted"]) == (None, None, 2)


def test_another_stores_word_is_kept_and_asked_about(out: Out, enrol: Enrol, world: World) -> None:
    run, yard, _ = out
    phone = enrol(world.other_driver)
    tell(phone, "arrive", run.uid, yard)
    assert push(phone) == ["contested"]
    assert at_stop(run, yard)["arrived_at"] is not None
    assert Question.objects.get().kind == "other_store"


def test_what_was_told_cannot_be_changed_or_deleted(out: Out, phone: Phone) -> None:
    run, yard, _ = out
    tell(phone, "arrive", run.uid, yard)
    assert push(phone) == ["accepted"]
    for statement in ("UPDATE runs_happening SET stamp = 1", "DELETE FROM runs_happening"):
        with pytest.raises(DatabaseError, match="never changed"), transaction.atomic():
            connection.cursor().execute(statement)


def test_a_repeat_is_one_word(out: Out, phone: Phone) -> None:
    run, yard, _ = out
    tell(phone, "arrive", run.uid, yard)
    (op,) = phone.outbox
    for _ in range(2):
        assert phone.push([op]).status == 200
    assert Happening.objects.count() == 1
    assert Happening.objects.get().happened_at <= clock.now() + timedelta(minutes=1)
