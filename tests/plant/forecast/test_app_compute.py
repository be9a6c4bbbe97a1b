"""From what stations told and a plant entered to what promises are made from."""

from datetime import time, timedelta
from typing import Any
from uuid import UUID

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.kernel import clock, locks
from pickups.promises import queries as promises
from pickups.promises.models import Arrival, Finish
from pickups.promises.models import Forecast as Published
from plant.dock import services as dock
from plant.dock.models import Calendar, Station
from plant.dock.models import Shift as Entered
from plant.dock.rules import Shift
from plant.forecast import services
from plant.forecast.models import Forecast, Learned, Prediction
from tests.conftest import Enrol
from tests.pickups.promises.promising import drained, promise, sent, table, taken, today
from tests.pickups.promises.trucks import publish
from tests.plant.dock.test_consignments import handed, on_truck
from tests.plant.forecast.plants import another_holds, computed, enter, passed, picked_up
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


def order(label: str) -> UUID:
    return WorkOrder.objects.get(label=label).uid


def median(label: str) -> int:
    """Minutes from now in which a casing is finished in half of the courses."""
    found = promises.finishing([order(label)], at=clock.now())
    return sorted(found[order(label)].sample.minutes)[100]


def test_each_casing_inside_is_forecast_and_the_further_one_is_finished_first(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    far, near = picked_up(phone, world, 2)
    passed(gateway, near, "receiving")
    passed(gateway, far, "receiving", "initial-inspection", "enveloping", "stripping")
    stands = computed(world.plant.uid)
    assert (stands.failed_at, stands.missing, stands.replications) == (None, [], 200)
    assert set(Finish.objects.values_list("work_order", flat=True)) == {order(far), order(near)}
    assert 0 < median(far) < median(near) < 24 * 60
    assert Published.objects.get(plant=world.plant.uid).ahead != []
    assert Arrival.objects.filter(plant=world.plant.uid).count() == 28 * 2 * 6


def test_of_what_is_on_hold_rejected_or_finished_nothing_is_forecast_and_the_page_says_so(
    world: World, phone: Phone, gateway: Gateway, client: Client
) -> None:
    enter(world.plant)
    held, bad, done, going = picked_up(phone, world, 4)
    for label in (held, bad, done, going):
        passed(gateway, label, "receiving")
    hold = gateway.tell(held, "hold", station="initial-inspection", note="look again dry")
    gateway.tell(bad, "rejected", station="initial-inspection")
    gateway.tell(done, "finished", station="paint")
    assert computed(world.plant.uid).said["on_hold"] == 1
    assert list(Finish.objects.values_list("work_order", flat=True)) == [order(going)]
    client.force_login(world.operator)
    assert "1 casings are on hold." in client.get("/plant/forecast").content.decode()
    gateway.tell(held, "released", station="initial-inspection", releases=hold["id"])
    computed(world.plant.uid)
    assert {order(held), order(going)} == set(Finish.objects.values_list("work_order", flat=True))


def test_of_a_label_that_two_wear_nothing_is_forecast(
    world: World, phone: Phone, enrol: Enrol, gateway: Gateway
) -> None:
    enter(world.plant)
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    computed(world.plant.uid)
    assert Finish.objects.count() == 1
    other = enrol(world.other_driver)
    other.pick_up(label, world.other_yard.uid, UUID(int=7))
    assert other.push().status == 200
    assert computed(world.plant.uid).said["unsure"] == 1
    assert Finish.objects.count() == 0


def test_a_table_of_promises_follows_the_forecast_and_the_standard_times_without_one(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant, standard_days=9)
    publish(world)
    drained()
    before = table(world)
    assert not before.forecast
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    computed(world.plant.uid)
    drained()
    after = table(world)
    assert after.forecast
    assert after.version > before.version
    # The plant takes its shifts back: nothing is forecast any more.
    Calendar.objects.get(plant=world.plant).shifts.all().delete()
    stands = computed(world.plant.uid)
    assert (stands.at, stands.missing) == (None, [["shifts", ""]])
    drained()
    assert not table(world).forecast
    assert promises.finishing([order(label)], at=clock.now()) == {}


def test_a_station_with_the_longest_name_is_told_with_a_promise_that_is_recorded(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    name, name_es = "Final inspection and pressure test, north bank".ljust(80, "."), "ñ" * 80
    Station.objects.filter(plant=world.plant).update(name=name, name_es=name_es)
    publish(world)
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    computed(world.plant.uid)
    drained()
    told = table(world).forecast
    assert told
    assert {(one["name"], one["name_es"]) for one in told["ahead"]} == {(name, name_es)}
    day = str(today() + timedelta(days=9))
    said = {"on": day, "basis": "forecast", "offered": day, "table": table(world).version,
            "confidence": 90, "forecast_at": told["made_at"], "ahead": told["ahead"]}  # fmt: skip
    op = taken(phone, world, said, version=4)
    sent(phone)
    assert promise(op).ahead == told["ahead"]


def test_a_plant_without_shifts_keeps_its_standard_times_and_says_what_to_enter(
    world: World, client: Client
) -> None:
    enter(world.plant, shifts=False)
    Station.objects.filter(plant=world.plant, code="buffing").update(cycle_min=None)
    stands = computed(world.plant.uid)
    assert stands.missing == [["shifts", ""], ["cycle", "buffing"]]
    assert not Published.objects.exists()
    client.force_login(world.operator)
    page = client.get("/plant/forecast").content.decode()
    assert "No shifts are entered" in page
    assert "Buffing: no cycle is entered" in page
    assert "An administrator enters it in the records." in page
    admin = type(world.operator).objects.create_user(
        "ada", role="admin", site=world.store, is_staff=True, is_superuser=True
    )
    client.force_login(admin)
    page = client.get("/plant/forecast").content.decode()
    buffing = Station.objects.get(plant=world.plant, code="buffing")
    for address in (f"/admin/dock/calendar/{world.plant.uid}/change/",
                    f"/admin/dock/station/{buffing.pk}/change/"):  # fmt: skip
        assert f'href="{address}"' in page
        assert client.get(address).status_code == 200


def test_a_computing_that_fails_leaves_what_stands_with_its_time(
    world: World, phone: Phone, gateway: Gateway, client: Client
) -> None:
    enter(world.plant)
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    stood = computed(world.plant.uid)
    packed = bytes(Finish.objects.get().minutes)
    # A figure that no page of ours lets pass.
    Station.objects.filter(plant=world.plant, code="buffing").update(machines=0)
    Forecast.objects.update(begun_at=None)
    assert services.compute(plant=world.plant.uid, at=clock.now()) == "failed"
    fell = Forecast.objects.get()
    assert (fell.at, fell.why) == (stood.at, "ValueError")
    assert bytes(Finish.objects.get().minutes) == packed
    client.force_login(world.operator)
    page = client.get("/plant/forecast").content.decode()
    assert "could not be done" in page
    assert "ValueError" not in page  # that is the log's
    Station.objects.filter(plant=world.plant, code="buffing").update(machines=1)
    assert computed(world.plant.uid).failed_at is None


def test_it_is_due_when_something_changed_at_most_once_a_minute_and_at_the_latest_in_fifteen(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    at = clock.now()

    def due(later_s: float) -> bool:
        return bool(services.due(at=at + timedelta(seconds=later_s)))

    assert due(0)
    assert services.compute(plant=world.plant.uid, at=at) == "computed"
    at += timedelta(milliseconds=Forecast.objects.get().took_ms)  # counted from its end
    assert not due(61)
    assert services.compute(plant=world.plant.uid, at=at + timedelta(seconds=61)) == "not_due"
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    assert not due(59)
    assert due(61)
    assert services.compute(plant=world.plant.uid, at=at + timedelta(seconds=61)) == "computed"
    assert not due(200)
    assert due(61 + 900)
    Calendar.objects.get(plant=world.plant).holidays.create(on=(at + timedelta(days=3)).date())
    assert due(200)


@pytest.mark.parametrize("held", [True, False], ids=["held by another", "let go"])
def test_one_computes_a_plant_at_a_time(world: World, held: bool) -> None:
    enter(world.plant)
    key = locks.forecast_key(world.plant.uid)
    with another_holds(key) as let_go:
        if not held:
            let_go()
        found = services.compute(plant=world.plant.uid, at=clock.now())
    assert found == ("busy" if held else "computed")


def test_what_was_predicted_is_scored_once_a_casing_is_finished(
    world: World, phone: Phone, gateway: Gateway, client: Client
) -> None:
    enter(world.plant)
    done, bad, slow = picked_up(phone, world, 3)
    for label in (done, bad, slow):
        passed(gateway, label, "receiving")
    computed(world.plant.uid)
    kinds = Prediction.objects.values_list("kind", "ended")
    assert list(kinds) == [("arrival", False)] * 3
    computed(world.plant.uid)
    assert Prediction.objects.count() == 3  # once a day
    at = clock.now() + timedelta(hours=2)
    gateway.tell(done, "finished", station="paint", happened_at=at, load="L1")
    gateway.tell(bad, "rejected", station="initial-inspection")
    computed(world.plant.uid)
    scored = {p.work_order: p for p in Prediction.objects.all()}
    made_at = scored[order(done)].made_at
    assert scored[order(done)].actual_h == pytest.approx(
        (at - made_at).total_seconds() / 3600, abs=0.01
    )
    assert (scored[order(done)].load, scored[order(done)].ended) == ("L1", True)
    assert (scored[order(bad)].actual_h, scored[order(bad)].ended) == (None, True)
    assert (scored[order(slow)].actual_h, scored[order(slow)].ended) == (None, False)
    client.force_login(world.operator)
    page = client.get("/plant/forecast").content.decode()
    assert "Of 1 forecasts of casings finished in the last four weeks, 100 %" in page


def test_casings_on_a_truck_are_known_to_come(world: World, enrol: Enrol, gateway: Gateway) -> None:
    enter(world.plant)
    first, *_ = on_truck(world, enrol(), 3)
    assert computed(world.plant.uid).said["known"] == 0
    handed(world)
    drained()
    assert computed(world.plant.uid).said["known"] == 3
    assert Finish.objects.count() == 3  # what is promised of them is watched on their way
    gateway.tell(first, "received", station="receiving")
    stands = computed(world.plant.uid)
    assert (stands.said["known"], stands.said["inside"]) == (2, 1)


def test_what_is_learned_is_kept_by_the_day_with_what_it_was_before(
    world: World, gateway: Gateway, client: Client
) -> None:
    enter(world.plant)
    now = clock.now()
    begun = now - timedelta(days=2)
    for n in range(25):  # they come every six minutes, and every twenty one is inspected
        label, came = world.a_label(), begun + timedelta(minutes=6 * n)
        gateway.tell(label, "received", station="receiving", happened_at=came)
        for k, station in enumerate(("initial-inspection", "enveloping", "stripping"), 1):
            at = came + timedelta(minutes=40 * k)
            gateway.tell(label, "passed", station=station, happened_at=at)
        left = begun + timedelta(hours=4, minutes=20 * n)
        gateway.tell(label, "passed", station="final-inspection", happened_at=left)
        ended = left + timedelta(minutes=5)
        gateway.tell(label, "finished", station="paint", happened_at=ended)
    stands = computed(world.plant.uid)
    rows = {row.station: row for row in Learned.objects.all()}
    assert rows["final-inspection"].figures["n"] == 25
    shown: dict[str, Any] = {one["code"]: one for one in stands.said["stations"]}
    assert 12 < shown["final-inspection"]["mean_h"] * 60 < 21  # ten were entered
    Learned.objects.filter(station="final-inspection").update(
        on=(now - timedelta(days=4)).date(),
        figures=rows["final-inspection"].figures | {"mean_h": 9.0},
    )
    computed(world.plant.uid)
    assert Learned.objects.filter(station="final-inspection").count() == 2
    client.force_login(world.operator)
    page = client.get("/plant/forecast").content.decode()
    assert "Learned before" in page
    assert "9.0 h" in page


def test_what_is_older_than_it_is_kept_is_forgotten_and_the_newest_learned_stays(
    world: World,
) -> None:
    at = clock.now()
    long_ago = at - timedelta(days=500)
    made: dict[str, Any] = {"plant": world.plant, "grid": [], "said": [], "kind": "arrival"}
    for made_at in (long_ago, at):
        Prediction.objects.create(
            work_order=UUID(int=1), on=made_at.date(), made_at=made_at, **made
        )
        figures = {"mean_h": 1.0}
        Learned.objects.create(plant=world.plant, station="paint", on=made_at.date(), at=made_at,
                               figures=figures)  # fmt: skip
    Learned.objects.create(plant=world.plant, station="gone", on=long_ago.date(), at=long_ago,
                           figures={})  # fmt: skip
    services.purge(at=at)
    assert Prediction.objects.get().made_at == at
    assert {(row.station, row.at) for row in Learned.objects.all()} == {
        ("paint", at), ("gone", long_ago),
    }  # fmt: skip


def test_a_casing_that_nobody_has_seen_for_a_month_is_lost_and_the_page_says_so(
    world: World, phone: Phone, gateway: Gateway, client: Client
) -> None:
    enter(world.plant)
    lost, going = picked_up(phone, world, 2)
    passed(gateway, lost, "receiving", hours_ago=24 * 30)
    passed(gateway, going, "receiving")
    Prediction.objects.create(
        plant=world.plant, work_order=order(lost), kind="inside", on=clock.now().date(),
        made_at=clock.now() - timedelta(days=20), grid=[1.0] * 50, said=[1.0, 2.0, 3.0],
    )  # fmt: skip
    assert computed(world.plant.uid).said["lost"] == 1
    assert list(Finish.objects.values_list("work_order", flat=True)) == [order(going)]
    assert Prediction.objects.get(work_order=order(lost)).ended
    client.force_login(world.operator)
    assert "1 casings were not seen for more than 14 days" in (
        client.get("/plant/forecast").content.decode()
    )


def test_only_works_that_the_plant_has_a_standard_time_for_are_offered(world: World) -> None:
    enter(world.plant)
    Calendar.objects.get(plant=world.plant).times.filter(work="repair").delete()
    computed(world.plant.uid)
    assert set(Arrival.objects.values_list("work", flat=True)) == {"retread"}
    Calendar.objects.get(plant=world.plant).times.all().delete()
    computed(world.plant.uid)
    assert set(Arrival.objects.values_list("work", flat=True)) == {"retread", "repair"}


def test_a_second_shift_entered_today_changes_nothing_of_the_past(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    every, at = range(7), clock.now()
    dock.enter_shifts(plant=world.plant.uid, shifts=[Shift(d, time(6), time(14)) for d in every])
    Entered.history.update(history_date=at - timedelta(days=40))
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving", hours_ago=24 * 5)
    made_at = at - timedelta(days=4)
    Prediction.objects.create(
        plant=world.plant, work_order=order(label), kind="arrival", on=made_at.date(),
        made_at=made_at, grid=[20.0] * 50, said=[20.0, 24.0, 30.0],
    )  # fmt: skip
    longer = [
        Shift(d, *span) for d in every for span in ((time(6), time(14)), (time(14), time(22)))
    ]
    dock.enter_shifts(plant=world.plant.uid, shifts=longer)
    ended = at - timedelta(days=1)
    gateway.tell(label, "finished", station="paint", happened_at=ended)
    computed(world.plant.uid)
    assert Prediction.objects.get().actual_h == pytest.approx(24.0)


def test_a_casing_that_was_finished_and_is_worked_again_is_scored_by_its_last_end(
    world: World, phone: Phone, gateway: Gateway
) -> None:
    enter(world.plant)
    (label,) = picked_up(phone, world, 1)
    passed(gateway, label, "receiving")
    computed(world.plant.uid)
    at = clock.now()
    gateway.tell(label, "finished", station="paint", happened_at=at + timedelta(hours=2))
    computed(world.plant.uid)
    assert Prediction.objects.get().actual_h == pytest.approx(2, abs=0.05)
    gateway.tell(label, "repair", station="paint", again_at="building",
                 happened_at=at + timedelta(hours=3))  # fmt: skip
    computed(world.plant.uid)
    assert (Prediction.objects.get().ended, Prediction.objects.get().actual_h) == (False, None)
    gateway.tell(label, "finished", station="paint", happened_at=at + timedelta(hours=30))
    computed(world.plant.uid)
    assert Prediction.objects.get().actual_h == pytest.approx(30, abs=0.05)
