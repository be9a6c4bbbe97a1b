"""Regular runs become the timetable that promises are made from, however they are changed."""

from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client

from pickups.customers import services as customers
from pickups.kernel import clock
from pickups.people.models import User
from pickups.promises.models import Timetable
from pickups.runs import services as runs
from pickups.runs.models import RegularRun
from tests.world import World
from tests.world.threads import at_once

ADD = "/admin/runs/regularrun/add/"


def timetable(site: UUID) -> dict[tuple[str, UUID], list[int]]:
    return {(t.way, t.place): t.weekdays for t in Timetable.objects.filter(site=site)}


def set_run(world: World, name: str, weekdays: list[int], **more: Any) -> RegularRun:
    told: dict[str, Any] = {"kind": "route", "yards": [world.yard.uid]} | more
    site = told.pop("site", world.store.uid)
    return runs.set_regular_run(site=site, name=name, weekdays=weekdays, at=clock.now(), **told)


@pytest.mark.django_db
def test_routes_and_transfers_are_published_by_their_weekdays(world: World) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    both = [world.yard.uid, south.uid]
    set_run(world, "north loop", [0, 3], yards=both)
    set_run(world, "late loop", [4, 3], yards=[south.uid])
    set_run(world, "shuttle", [1, 0], kind="transfer", yards=[], plant=world.plant.uid)
    assert timetable(world.store.uid) == {
        ("to_yard", world.yard.uid): [0, 3],
        ("to_yard", south.uid): [0, 3, 4],
        ("to_plant", world.plant.uid): [0, 1],
        ("from_plant", world.plant.uid): [0, 1],
    }
    assert timetable(world.other_store.uid) == {}


@pytest.mark.django_db
def test_a_run_that_is_changed_by_its_uid_replaces_what_was_published(world: World) -> None:
    made = set_run(world, "north loop", [0, 3])
    set_run(world, "north loop", [2], uid=made.uid)
    assert timetable(world.store.uid) == {("to_yard", world.yard.uid): [2]}
    assert RegularRun.objects.count() == 1
    args = {"uid": made.uid, "site": world.other_store.uid, "yards": [world.other_yard.uid]}
    set_run(world, "pit loop", [2], **args)
    assert timetable(world.store.uid) == {}
    assert timetable(world.other_store.uid) == {("to_yard", world.other_yard.uid): [2]}


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("weekdays", "more", "named"),
    [
        ([], {}, "0 (Monday) to 6 (Sunday)"),
        ([7], {}, "[7]"),
        ([0], {"yards": []}, "one yard or more"),
        ([0], {"kind": "transfer"}, "to a plant and to no yard"),
        ([0], {"kind": "swap"}, "neither route nor transfer"),
        ([0], {"yards": [uuid4()]}, "those of the store's customers"),
    ],
)
def test_what_no_regular_run_can_be_is_named(
    world: World, weekdays: list[int], more: dict[str, Any], named: str
) -> None:
    with pytest.raises(ValueError, match=r".*") as wrong:
        set_run(world, "odd", weekdays, **more)
    assert named in str(wrong.value)
    assert (RegularRun.objects.count(), Timetable.objects.count()) == (0, 0)


@pytest.mark.django_db(transaction=True)
def test_two_changes_at_once_do_not_miss_each_other(world: World) -> None:
    for day in range(5):
        south = customers.open_yard(customer=world.customer, name=f"South {day}")
        at_once(
            lambda day=day: set_run(world, f"a{day}", [day]),  # type: ignore[misc]
            lambda day=day, at=south.uid: set_run(world, f"b{day}", [day], yards=[at]),  # type: ignore[misc]
        )
    found = timetable(world.store.uid)
    assert found["to_yard", world.yard.uid] == [0, 1, 2, 3, 4]
    assert len(found) == 6


@pytest.fixture
def records(world: World) -> Client:
    root = User.objects.create_user("root", role="admin", is_staff=True, is_superuser=True)
    client = Client(raise_request_exception=True)
    client.force_login(root)
    return client


def form(world: World, **more: Any) -> dict[str, Any]:
    told = {"name": "north loop", "site": world.store.pk, "kind": "route", "weekdays": [0, 3]}
    return {**told, "yards": [world.yard.pk], **more}


@pytest.mark.django_db
def test_what_is_saved_or_deleted_in_the_records_is_published(
    records: Client, world: World
) -> None:
    assert records.post(ADD, form(world)).status_code == 302
    made = RegularRun.objects.get()
    assert (made.weekdays, timetable(world.store.uid)) == (
        [0, 3], {("to_yard", world.yard.uid): [0, 3]},
    )  # fmt: skip
    change = f"/admin/runs/regularrun/{made.uid}/change/"
    assert 'value="3" ' in records.get(change).content.decode()
    moved = form(world, site=world.other_store.pk, yards=[world.other_yard.pk], weekdays=[1])
    assert records.post(change, moved).status_code == 302
    assert timetable(world.store.uid) == {}
    assert timetable(world.other_store.uid) == {("to_yard", world.other_yard.uid): [1]}
    address = f"/admin/runs/regularrun/{made.uid}/delete/"
    assert records.post(address, {"post": "yes"}).status_code == 302
    assert timetable(world.other_store.uid) == {}


@pytest.mark.django_db
def test_several_deleted_at_once_are_published_too(records: Client, world: World) -> None:
    set_run(world, "a", [0])
    set_run(world, "b", [1])
    chosen = [str(r.pk) for r in RegularRun.objects.all()]
    asked = {"action": "delete_selected", "_selected_action": chosen, "post": "yes"}
    assert records.post("/admin/runs/regularrun/", asked).status_code == 302
    assert (RegularRun.objects.count(), timetable(world.store.uid)) == (0, {})


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"weekdays": []}, "This field is required"),
        ({"weekdays": [9]}, "not one of the available choices"),
        ({"yards": []}, "A route goes to one yard or more"),
        ({"kind": "transfer"}, "A transfer goes to a plant and to no yard"),
    ],
)
def test_a_wrong_form_of_the_records_is_answered_beside_its_field(
    records: Client, world: World, wrong: dict[str, Any], said: str
) -> None:
    answer = records.post(ADD, form(world, **wrong))
    assert answer.status_code == 200
    assert said in answer.content.decode()
    assert (RegularRun.objects.count(), Timetable.objects.count()) == (0, 0)


@pytest.mark.django_db
def test_places_of_the_wrong_kind_or_another_store_are_named_in_the_records(
    records: Client, world: World
) -> None:
    told = form(world, site=world.plant.pk, plant=world.store.pk, yards=[world.other_yard.pk])
    page = records.post(ADD, told).content.decode()
    assert "Fernhollow plant is no store" in page
    assert "Bramblewick store is no plant" in page
    assert "not: Reedbank Gravel, Pit gate" in page
