"""The plant's route as data: begun from the usual one, put into another order, told to devices."""

import json
from collections.abc import Callable
from datetime import time
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pickups.people import services as people
from pickups.people.models import Site, User
from pickups.people.rules import KeyScope
from plant.dock import queries, rules, services
from plant.dock.models import Chamber, Route, Station
from plant.dock.rules import DEFAULT_ROUTE, Shift
from tests.conftest import Enrol, in_process
from tests.world import World


@pytest.fixture
def records(world: World) -> Client:
    """An administrator's browser."""
    user = User.objects.create_user(
        "root", role="admin", site=world.store, is_staff=True, is_superuser=True
    )
    browser = Client()
    browser.force_login(user)
    return browser


def version(world: World) -> int:
    return Route.objects.get(plant=world.plant).version


def test_a_plant_starts_from_the_usual_route_and_only_once(world: World) -> None:
    plant = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    assert services.lay_out(plant=plant) is True
    assert queries.codes(plant.uid) == list(DEFAULT_ROUTE)
    Station.objects.get(plant=plant, code="repair").delete()
    assert services.lay_out(plant=plant) is False
    assert "repair" not in queries.codes(plant.uid)


def test_every_usual_station_says_its_name_and_caution_in_both_languages_and_guesses_no_time(
    world: World,
) -> None:
    for one in queries.stations(world.plant.uid):
        assert one.name
        assert one.name_es not in ("", one.name)
        assert bool(one.caution) == bool(one.caution_es)
        assert (one.cycle_min, one.machines, one.batch) == (None, 1, 1)
    said = {one.code: one.caution for one in queries.stations(world.plant.uid)}
    assert "29 CFR 1910.177" in said["final-inspection"]
    assert "opens, starts or releases" in said["curing"]
    assert [code for code in DEFAULT_ROUTE if not said[code]] == ["cushion-gum", "building"]


def test_a_station_is_moved_to_a_place_and_the_others_close_up(world: World) -> None:
    before = version(world)
    station = Station.objects.get(plant=world.plant, code="skiving")
    assert services.move(plant=world.plant.uid, station=station.pk, to=2)
    order = queries.codes(world.plant.uid)
    assert order[:3] == ["receiving", "skiving", "cleaning"]
    assert sorted(order) == sorted(DEFAULT_ROUTE)
    assert version(world) == before + 1
    assert station.history.filter(history_type="~").count() == 1


def test_a_move_that_comes_twice_is_one(world: World) -> None:
    station = Station.objects.get(plant=world.plant, code="skiving").pk
    services.move(plant=world.plant.uid, station=station, to=2)
    before = version(world)
    assert not services.move(plant=world.plant.uid, station=station, to=2)
    assert version(world) == before


def test_a_station_of_another_plant_is_not_moved(world: World) -> None:
    other = people.open_site(name="Ashmere plant", kind=Site.Kind.PLANT)
    services.lay_out(plant=other)
    station = Station.objects.get(plant=other, code="skiving").pk
    assert not services.move(plant=world.plant.uid, station=station, to=1)
    assert queries.codes(other.uid) == list(DEFAULT_ROUTE)


@given(
    st.lists(
        st.tuples(st.integers(0, 17), st.integers(-2, 30)),
        max_size=6,
    )
)
def test_however_it_is_moved_the_order_stays_one_of_the_same_stations(
    moves: list[tuple[int, int]],
) -> None:
    """The rule that `move` goes by, on a list."""
    order = list(DEFAULT_ROUTE)
    for which, to in moves:
        code = DEFAULT_ROUTE[which]
        order = rules.moved(order, code, to)
        assert order.index(code) == min(max(to, 1), len(order)) - 1
    assert sorted(order) == sorted(DEFAULT_ROUTE)


def test_what_an_administrator_changes_reaches_devices_and_leaves_its_history(
    world: World, records: Client
) -> None:
    station = Station.objects.get(plant=world.plant, code="buffing")
    before = version(world)
    told = {"name": "Buffing", "name_es": "Raspado", "place": 6, "machines": 3, "batch": 1,
            "cycle_min": 9, "scans": "on", "caution": "Eyes.", "caution_es": "Ojos."}  # fmt: skip
    address = f"/admin/dock/station/{station.pk}/change/"
    assert records.post(address, told).status_code == 302
    row = queries.route(world.plant.uid).stations[5]
    assert (row.code, row.machines, row.cycle_min, row.caution) == ("buffing", 3, 9, "Eyes.")
    assert version(world) == before + 1
    latest = station.history.latest()
    assert (latest.machines, latest.history_user.username) == (3, "root")
    assert records.post(address, told | {"machines": 0}).status_code == 200
    assert version(world) == before + 1


def test_a_station_that_is_taken_out_is_gone_from_devices(world: World, records: Client) -> None:
    station = Station.objects.get(plant=world.plant, code="shearography")
    before = version(world)
    address = f"/admin/dock/station/{station.pk}/delete/"
    assert records.post(address, {"post": "yes"}).status_code == 302
    assert "shearography" not in queries.codes(world.plant.uid)
    assert version(world) == before + 1


def test_chambers_and_the_rework_limit_are_told(world: World, records: Client) -> None:
    told = {"plant": world.plant.pk, "code": "c1", "name": "Chamber 1", "holds": 22}
    assert records.post("/admin/dock/chamber/add/", told).status_code == 302
    assert Chamber.objects.get().cycle_min is None
    address = f"/admin/dock/route/{world.plant.pk}/change/"
    assert records.post(address, {"rework_limit": 2}).status_code == 302
    made = queries.route(world.plant.uid)
    assert [(c.code, c.holds) for c in made.chambers] == [("c1", 22)]
    assert made.rework_limit == 2


def test_shifts_stand_beside_weekdays_and_may_not_run_into_each_other(
    world: World, records: Client
) -> None:
    def form(*shifts: tuple[int, str, str]) -> dict[str, object]:
        told: dict[str, object] = {"plant": world.plant.pk, "weekdays": [0, 1]}
        for part in ("shifts", "times", "holidays"):
            told |= {f"{part}-TOTAL_FORMS": 0, f"{part}-INITIAL_FORMS": 0}
        told["shifts-TOTAL_FORMS"] = len(shifts)
        for i, (weekday, begins, ends) in enumerate(shifts):
            told |= {f"shifts-{i}-weekday": weekday, f"shifts-{i}-begins": begins}
            told[f"shifts-{i}-ends"] = ends
        return told

    add = "/admin/dock/calendar/add/"
    answer = records.post(add, form((0, "22:00", "06:00"), (1, "05:30", "14:00")))
    assert answer.status_code == 200
    assert "Monday 22:00-06:00 runs into Tuesday 05:30-14:00." in answer.content.decode()
    answer = records.post(add, form((0, "22:00", "06:00"), (1, "06:00", "14:00")))
    assert answer.status_code == 302
    calendar = queries.calendar(world.plant.uid)
    assert calendar is not None
    assert [str(s) for s in calendar.shifts.all()] == ["Monday 22:00-06:00", "Tuesday 06:00-14:00"]


OF_DAY = st.integers(0, rules.DAY - 1).map(lambda minute: time(*divmod(minute, 60)))
SHIFTS = st.builds(Shift, st.integers(0, 6), OF_DAY, OF_DAY)


@given(SHIFTS, SHIFTS)
@settings(suppress_health_check=[HealthCheck.too_slow])
def test_two_shifts_overlap_where_some_minute_is_in_both(one: Shift, other: Shift) -> None:
    def minutes(shift: Shift) -> set[int]:
        first, last = shift.span()
        return {minute % rules.WEEK for minute in range(first, last)}

    assert bool(rules.overlaps([one, other])) == bool(minutes(one) & minutes(other))


def test_a_shift_past_sunday_midnight_meets_monday() -> None:
    night, early = Shift(6, time(22), time(6)), Shift(0, time(5), time(9))
    assert rules.overlaps([early, night]) == [(early, night)]


def test_a_plants_system_reads_its_route(world: World) -> None:
    answer = in_process("GET", "/api/plant/route", b"", {"Authorization": f"Key {world.plant_key}"})
    told = json.loads(answer.body)
    assert answer.status == 200
    assert [one["code"] for one in told["stations"]] == list(DEFAULT_ROUTE)
    assert told["stations"][12]["caution_es"].startswith("Recipiente a presión")
    assert (told["uid"], told["rework_limit"]) == (str(world.plant.uid), None)


def test_a_key_that_may_only_tell_does_not_read_the_route(world: World) -> None:
    _, key = people.issue_key(plant=world.plant, name="scale", scopes=[KeyScope.EVENTS])
    answer = in_process("GET", "/api/plant/route", b"", {"Authorization": f"Key {key}"})
    assert answer.status == 403


@pytest.mark.django_db(transaction=True)  # a feed shows what is committed
@pytest.mark.usefixtures("apart")
@pytest.mark.xdist_group("feed")
def test_the_plants_tablet_is_given_the_route_and_every_change_and_a_store_is_not(
    world: World, enrol: Enrol
) -> None:
    tablet, phone = enrol(world.operator), enrol()
    route = route_of(tablet.pull_all, tablet.rows)
    assert route["body"]["stations"][2]["code"] == "initial-inspection"
    station = Station.objects.get(plant=world.plant, code="initial-inspection").pk
    services.move(plant=world.plant.uid, station=station, to=1)
    changed = route_of(tablet.pull_all, tablet.rows)
    assert changed["version"] == route["version"] + 1
    assert changed["body"]["stations"][0]["code"] == "initial-inspection"
    phone.pull_all()
    assert [key for key in phone.rows if key[1] == "plant_route"] == []


def route_of(pull: Callable[[], object], rows: dict[tuple[str, str, str], dict]) -> dict:  # type: ignore[type-arg]
    pull()
    (found,) = [row for key, row in rows.items() if key[1] == "plant_route"]
    return found


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"least": 11}, "least"),
        ({"starts": "06:00, 06:00"}, "starts"),
        ({"starts": "6 o'clock"}, "starts"),
        ({"least": 10, "starts": "06:00, 14:30", "max_wait_min": 0}, ""),
    ],
    ids=["more than it holds", "a time twice", "no time", "sound"],
)
def test_a_chamber_that_could_never_begin_is_not_entered(
    world: World, told: dict[str, Any], field: str
) -> None:
    chamber = Chamber(plant=world.plant, code="A", name="A", holds=10, **told)
    if not field:
        chamber.full_clean()
        return
    with pytest.raises(ValidationError) as wrong:
        chamber.full_clean()
    assert list(wrong.value.message_dict) == [field]
