"""A load sheet is drawn up and changed: every step whole or not at all, and each can be undone."""

from dataclasses import replace
from datetime import time
from typing import Any
from uuid import UUID, uuid4

import pytest

from pickups.customers import services as customers
from pickups.customers.models import Yard as YardRow
from pickups.kernel import clock
from pickups.people import services as people
from pickups.people.models import User
from pickups.runs import queries
from pickups.runs import services as runs
from pickups.runs.models import Drop, Run, Stop
from pickups.runs.rules import Head, Refusal, Refused, Said, Why
from pickups.sync.models import Feed
from tests.pickups.runs.conftest import head
from tests.pickups.runs.yard import DAY, Yard
from tests.world import World

pytestmark = pytest.mark.django_db


def state() -> list[Any]:
    """All that is written of sheets."""
    tables = (Run, Stop, Drop)
    return [list(t._default_manager.order_by("pk").values()) for t in tables]


def stops(run: Run) -> list[str]:
    """The stops in order, by the name of their yard or site."""
    names = Stop.objects.filter(run=run).select_related("yard", "site").order_by("place")
    return [(s.yard or s.site).name for s in names]  # type: ignore[union-attr]


def drops(run: Run) -> dict[str, list[UUID]]:
    found: dict[str, list[UUID]] = {}
    for d in Drop.objects.filter(stop__run=run, active=True).select_related("stop__yard"):
        place = d.stop.yard or d.stop.site
        assert place is not None
        found.setdefault(place.name, []).append(d.work_order)
    return {name: sorted(uids) for name, uids in found.items()}


def refusal(**call: Any) -> Refused:
    """What a verb says that must not go through; nothing may be written."""
    verb, before = call.pop("verb"), state()
    with pytest.raises(Refused) as refused:
        verb(**call)
    assert state() == before
    return refused.value


@pytest.fixture
def second_yard(world: World) -> YardRow:
    return customers.open_yard(customer=world.customer, name="South yard")


def test_a_sheet_is_drawn_up_and_nobody_on_the_road_sees_it(world: World, run: Run) -> None:
    assert (run.state, run.version, run.driver) == ("written", 1, world.driver)
    assert not Feed.objects.filter(entity="run").exists()


def test_a_driver_of_another_store_drives_no_sheet_of_this_one(world: World, run: Run) -> None:
    other = world.other_driver.uid
    for who in (other, world.dispatcher.uid, uuid4()):
        told = head(world, driver=who)
        refused = refusal(verb=runs.draw_up, site=world.store.uid, head=told)
        assert (refused.code, refused.facts) == (Refusal.NO_DRIVER, {"driver": str(who)})
        assert refusal(verb=runs.amend, run=run.uid, head=told).code is Refusal.NO_DRIVER


def test_a_head_is_changed_and_the_one_before_is_told(world: World, run: Run) -> None:
    told = Head(start=world.plant.uid, on=DAY, kind="transfer", vehicle="truck 9", note="early")
    old = runs.amend(run=run.uid, head=told, seen=1)
    assert old == head(world)
    run.refresh_from_db()
    assert (run.start, run.kind, run.vehicle, run.driver) == (
        world.plant, "transfer", "truck 9", None,
    )  # fmt: skip
    assert run.version == 2
    runs.amend(run=run.uid, head=old)
    run.refresh_from_db()
    assert (run.kind, run.driver, run.note) == ("route", world.driver, "")


def test_who_has_left_stays_on_a_sheet_where_something_else_changes(world: World, run: Run) -> None:
    User.objects.filter(pk=world.driver.pk).update(is_active=False)
    runs.amend(run=run.uid, head=replace(head(world), note="gate code at the desk"))
    run.refresh_from_db()
    assert (run.driver, run.note) == (world.driver, "gate code at the desk")


def test_a_page_that_is_behind_is_told_and_changes_nothing(world: World, run: Run) -> None:
    runs.add_stop(run=run.uid, yard=world.yard.uid, seen=1)
    told = replace(head(world), vehicle="truck 2")
    assert refusal(verb=runs.amend, run=run.uid, head=told, seen=1).code is Refusal.STALE
    assert refusal(verb=runs.hand, run=run.uid, seen=1).code is Refusal.STALE
    assert refusal(verb=runs.throw_away, run=run.uid, seen=1).code is Refusal.STALE


def test_a_stop_is_a_yard_of_this_stores_customers_or_a_site(world: World, run: Run) -> None:
    runs.add_stop(run=run.uid, yard=world.yard.uid)
    runs.add_stop(run=run.uid, site=world.plant.uid)
    runs.add_stop(run=run.uid, site=world.other_store.uid, place=1)
    assert stops(run) == ["Saltmarsh store", "North yard", "Fernhollow plant"]
    for place in ({"yard": world.other_yard.uid}, {"yard": uuid4()}, {"site": uuid4()}, {}):
        assert refusal(verb=runs.add_stop, run=run.uid, **place).code is Refusal.PLACE


def test_a_stop_moves_up_and_down_and_tells_where_it_was(
    world: World, run: Run, second_yard: YardRow
) -> None:
    places: list[Any] = [{"yard": world.yard.uid}, {"yard": second_yard.uid}]
    first, second, third = (
        runs.add_stop(run=run.uid, **p) for p in [*places, {"site": world.plant.uid}]
    )
    assert runs.move_stop(run=run.uid, stop=third, to=1) == 3
    assert stops(run) == ["Fernhollow plant", "North yard", "South yard"]
    assert runs.move_stop(run=run.uid, stop=third, to=99) == 1
    assert stops(run) == ["North yard", "South yard", "Fernhollow plant"]
    assert runs.move_stop(run=run.uid, stop=first, to=2) == 1
    assert list(run.stops.values_list("uid", "place")) == [(second, 1), (first, 2), (third, 3)]
    assert refusal(verb=runs.move_stop, run=run.uid, stop=uuid4(), to=1).code is Refusal.NOT_HERE


def test_what_is_said_of_a_stop_is_kept_and_what_cannot_be_is_named(world: World, run: Run) -> None:
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    told = Said(time(8), time(10, 30), 14, "ring at gate 2")
    assert runs.set_stop(run=run.uid, stop=stop, said=told) == Said()
    assert runs.set_stop(run=run.uid, stop=stop, said=Said(to=time(9))) == told
    for begins, to in ((time(10), time(9)), (time(9), time(9))):
        refused = refusal(verb=runs.set_stop, run=run.uid, stop=stop, said=Said(begins, to))
        assert (refused.code, refused.facts["to"]) == (Refusal.WINDOW, "09:00")
    for fetch in (-1, 1000):
        refused = refusal(verb=runs.set_stop, run=run.uid, stop=stop, said=Said(fetch=fetch))
        assert (refused.code, refused.facts) == (Refusal.FETCH, {"fetch": str(fetch)})


def test_casings_go_to_their_own_yards_stop_which_is_made_where_there_is_none(
    run: Run, yard: Yard, second_yard: YardRow
) -> None:
    one, two, three = yard.home(), yard.rejected(yard=str(second_yard.uid)), yard.home()
    placed = runs.put(run=run.uid, work_orders=[one, two])
    assert drops(run) == {"North yard": [one], "South yard": [two]}
    assert (placed.before, len(placed.made)) == ({one: None, two: None}, 2)
    assert list(runs.put(run=run.uid, work_orders=[three]).made) == []
    assert drops(run) == {"North yard": sorted([one, three]), "South yard": [two]}
    runs.put_back(run=run.uid, placed=placed)
    assert drops(run) == {"North yard": [three]}
    assert stops(run) == ["North yard"], "something else is dropped there by now"


def test_without_a_stop_each_casing_goes_where_it_belongs(
    world: World, run: Run, yard: Yard
) -> None:
    raw, called, home = yard.waiting(), yard.finished(back_to="store"), yard.home()
    placed = runs.put(run=run.uid, work_orders=[raw, called, home])
    assert drops(run) == {
        "Fernhollow plant": [raw],
        "Bramblewick store": [called],
        "North yard": [home],
    }
    assert len(placed.made) == 3
    more = yard.waiting()
    assert list(runs.put(run=run.uid, work_orders=[more]).made) == []
    assert drops(run)["Fernhollow plant"] == sorted([raw, more])


def test_of_several_plants_the_regular_one_is_meant_else_one_on_the_sheet(
    world: World, run: Run, yard: Yard
) -> None:
    far = people.open_site(name="Ashby plant", kind=world.plant.Kind.PLANT)
    raw = yard.waiting()
    refused = refusal(verb=runs.put, run=run.uid, work_orders=[raw])
    assert refused.casings == [(raw, Why.NOT_DONE)]
    runs.add_stop(run=run.uid, site=far.uid)
    runs.put(run=run.uid, work_orders=[raw])
    assert drops(run) == {"Ashby plant": [raw]}
    told = {"kind": "transfer", "weekdays": [0], "plant": world.plant.uid}
    runs.set_regular_run(site=world.store.uid, name="shuttle", at=clock.now(), **told)  # type: ignore[arg-type]
    runs.put(run=run.uid, work_orders=[yard.waiting()])
    assert stops(run) == ["Ashby plant", "Fernhollow plant"]


def test_a_stop_of_which_something_was_said_is_not_undone_with_its_casings(
    run: Run, yard: Yard
) -> None:
    placed = runs.put(run=run.uid, work_orders=[yard.home()])
    runs.set_stop(run=run.uid, stop=placed.made[0], said=Said(fetch=3))
    runs.put_back(run=run.uid, placed=placed)
    assert (drops(run), stops(run)) == ({}, ["North yard"])


def test_a_casing_moves_between_stops_and_off_and_back(
    world: World, run: Run, yard: Yard, second_yard: YardRow
) -> None:
    uid = yard.home()
    first = runs.put(run=run.uid, work_orders=[uid]).made[0]
    other = runs.add_stop(run=run.uid, yard=second_yard.uid)
    assert runs.put(run=run.uid, work_orders=[uid], stop=other).before == {uid: first}
    assert drops(run) == {"South yard": [uid]}
    taken = runs.take_off(run=run.uid, work_orders=[uid, uuid4()])
    assert drops(run) == {}
    runs.put_back(run=run.uid, placed=taken)
    assert drops(run) == {"South yard": [uid]}


def test_a_removed_stop_leaves_its_casings_loose_and_can_be_put_back(
    world: World, run: Run, yard: Yard, second_yard: YardRow
) -> None:
    uid = yard.home()
    first = runs.put(run=run.uid, work_orders=[uid]).made[0]
    runs.add_stop(run=run.uid, yard=second_yard.uid)
    runs.set_stop(run=run.uid, stop=first, said=Said(time(8), None, 4, "bell"))
    before = queries.bodies([run.uid])
    taken = runs.remove_stop(run=run.uid, stop=first)
    assert (stops(run), drops(run)) == (["South yard"], {})
    runs.put_stop_back(run=run.uid, stop=taken)
    assert queries.bodies([run.uid]) == before


def test_a_casing_is_on_one_sheet_only(world: World, run: Run, yard: Yard) -> None:
    mine, theirs = yard.home(), yard.home()
    other = runs.draw_up(site=world.store.uid, head=head(world))
    runs.put(run=other.uid, work_orders=[theirs])
    refused = refusal(verb=runs.put, run=run.uid, work_orders=[mine, theirs])
    assert (refused.code, refused.casings) == (Refusal.CASINGS, [(theirs, Why.OTHER_SHEET)])
    runs.throw_away(run=other.uid)
    runs.put(run=run.uid, work_orders=[mine, theirs])


def test_what_cannot_be_dropped_there_is_named_each_with_why(
    world: World, run: Run, yard: Yard, second_yard: YardRow
) -> None:
    stop = runs.add_stop(run=run.uid, yard=world.yard.uid)
    done, working, gone, back = yard.home(), yard.waiting(), yard.home(), yard.home()
    held, lost = yard.finished(), uuid4()
    yard.at_the_plant(held, "hold")
    yard.withdraw(gone)
    yard.deliver(back)
    wanted = [done, working, gone, back, held, lost]
    refused = refusal(verb=runs.put, run=run.uid, work_orders=wanted, stop=stop)
    assert refused.casings == [
        (working, Why.NOT_DONE),
        (gone, Why.WITHDRAWN),
        (back, Why.BACK),
        (held, Why.ON_HOLD),
        (lost, Why.UNKNOWN),
    ]


def test_a_casing_of_another_customer_or_store_is_not_dropped_in_a_yard(
    world: World, run: Run, yard: Yard
) -> None:
    new = customers.enter(name="Ashgrove Freight", home_site=world.store)
    gate = customers.open_yard(customer=new, name="Ash gate")
    stop = runs.add_stop(run=run.uid, yard=gate.uid)
    mine, far = yard.home(), yard.home(yard=str(world.other_yard.uid))
    refused = refusal(verb=runs.put, run=run.uid, work_orders=[mine, far], stop=stop)
    assert refused.casings == [(mine, Why.OTHER_CUSTOMER), (far, Why.OTHER_STORE)]
    assert refusal(verb=runs.put, run=run.uid, work_orders=[far]).code is Refusal.PLACE


def test_what_waits_goes_to_the_plant_and_what_is_done_comes_to_the_store(
    world: World, run: Run, yard: Yard
) -> None:
    plant = runs.add_stop(run=run.uid, site=world.plant.uid)
    store = runs.add_stop(run=run.uid, site=world.store.uid)
    raw, done, here = yard.waiting(), yard.finished(), yard.home()
    runs.put(run=run.uid, work_orders=[raw], stop=plant)
    runs.put(run=run.uid, work_orders=[done], stop=store)
    refused = refusal(verb=runs.put, run=run.uid, work_orders=[done, here], stop=plant)
    assert refused.casings == [(done, Why.SENT), (here, Why.SENT)]
    refused = refusal(verb=runs.put, run=run.uid, work_orders=[raw, here], stop=store)
    assert refused.casings == [(raw, Why.NOT_DONE), (here, Why.THERE)]


def test_a_sheet_that_is_gone_says_so(run: Run) -> None:
    runs.throw_away(run=run.uid, seen=1)
    assert refusal(verb=runs.take_off, run=run.uid, work_orders=[]).code is Refusal.NOT_HERE


def test_a_sheet_takes_no_endless_list_of_stops(world: World, run: Run) -> None:
    for _ in range(60):
        runs.add_stop(run=run.uid, yard=world.yard.uid)
    refused = refusal(verb=runs.add_stop, run=run.uid, yard=world.yard.uid)
    assert refused.code is Refusal.STOPS
