"""Suppose something of the plant, over HTTP: asked, computed, stopped, and nothing else changed."""

from datetime import date, timedelta
from typing import Any
from uuid import UUID

import pytest
from django.test import Client

from pickups.casings.models import WorkOrder
from pickups.kernel import clock, ids
from pickups.promises.models import Promise, Risk
from plant.dock.models import Chamber
from plant.floor import words
from plant.forecast import supposing, tasks, trying
from plant.forecast.models import Forecast, Supposed
from tests.pickups.promises.promising import sent, taken, today
from tests.pickups.promises.trucks import publish
from tests.plant.floor.conftest import SignedIn
from tests.plant.forecast.plants import computed, enter, passed
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db
SHIFT = {"from": "14:00", "to": "22:00"}


@pytest.fixture
def busy(world: World, phone: Phone, gateway: Gateway) -> list[str]:
    """A plant with two chambers and casings in process, promised for a day; their labels."""
    enter(world.plant, cycle_min=60)
    Chamber.objects.create(plant=world.plant, code="B", name="Chamber B", holds=10, cycle_min=120)
    publish(world)
    labels = []
    for _ in range(4):
        op = taken(phone, world, today() + timedelta(days=3), work="retread")
        sent(phone)
        labels.append(op["payload"]["label"])
        passed(gateway, labels[-1], "receiving", "initial-inspection")
    return labels


def ask(client: Client, **typed: Any) -> Supposed:
    answer = client.post("/plant/suppose/", {"uid": str(ids.uuid7()), **typed})
    assert answer.status_code == 302, answer.content.decode()
    row = Supposed.objects.latest("asked_at")
    assert answer["Location"] == f"/plant/suppose/{row.uid}/"
    return row


def shown(client: Client, row: Supposed) -> str:
    return client.get(f"/plant/suppose/{row.uid}/").content.decode()


def test_a_sales_manager_asks_and_is_answered_and_nothing_of_the_plant_is_changed(
    world: World, busy: list[str], signed_in: SignedIn
) -> None:
    computed(world.plant.uid)
    sales = signed_in("sales")
    kept = [list(model.objects.order_by("pk").values()) for model in (Forecast, Promise, Risk)]
    row = ask(sales, more="60", on=str(today() + timedelta(days=1)), without="B", **SHIFT)
    page = shown(sales, row)
    assert "Waits to be computed." in page
    assert "live.js" in page
    assert tasks.suppose(str(row.uid)) == "done"
    page = shown(sales, row)
    day = words.day_in_words("en", today() + timedelta(days=1))
    assert f"60 more casings {day}, without Chamber B, a second shift 14:00-22:00" in page
    assert "of 4 open promises" in page or "of 4 of casings" in page
    assert "A retread that arrives" in page
    assert "live.js" not in page
    same = [list(model.objects.order_by("pk").values()) for model in (Forecast, Promise, Risk)]
    assert same == kept
    assert tasks.suppose(str(row.uid)) == "not_waiting", "sent twice it is computed once"


def test_promises_that_move_are_listed_with_both_days(
    world: World, busy: list[str], operator: Client
) -> None:
    row = ask(operator, without="B")
    assert tasks.suppose(str(row.uid)) == "done"
    row.refresh_from_db()
    order = WorkOrder.objects.get(label=busy[0])
    row.came["moved"] = [
        {"uid": str(order.uid), "promised": "2027-01-12", "before": "2027-01-12",
         "after": "2027-01-14", "kept": [0.93, 0.41]},
        {"uid": str(UUID(int=5)), "promised": "2027-01-12", "before": None, "after": "2027-01-14",
         "kept": [None, 0.41]},
    ]  # fmt: skip
    row.save()
    page = shown(operator, row)
    assert "2 of 4 open promises" in page
    assert busy[0] in page
    assert words.day_in_words("en", date(2027, 1, 14)) in page
    assert "93 % → 41 %" in page


def test_what_is_stopped_is_computed_no_further(busy: list[str], operator: Client) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    operator.post(f"/plant/suppose/{row.uid}/stop")
    assert tasks.suppose(str(row.uid)) == "not_waiting"
    assert "Stopped." in shown(operator, row)
    page = operator.post(f"/plant/suppose/{row.uid}/stop", follow=True).content.decode()
    assert "It had come to its end already." in page


def test_a_form_sent_twice_is_asked_once_and_one_person_asks_one_thing_at_a_time(
    busy: list[str], operator: Client, signed_in: SignedIn
) -> None:
    assert busy
    form = {"uid": str(ids.uuid7()), **SHIFT}
    row = ask(operator, **form)
    assert ask(operator, **form) == row
    page = operator.post("/plant/suppose/", {"uid": str(ids.uuid7()), "more": "60",
                                             "on": str(today())})  # fmt: skip
    assert page.status_code == 400
    assert "One question at a time" in page.content.decode()
    assert 'value="60"' in page.content.decode()
    assert Supposed.objects.count() == 1
    sales = signed_in("sales")
    ask(sales, **SHIFT)
    assert Supposed.objects.count() == 2
    tasks.suppose(str(row.uid))
    ask(operator, **SHIFT)
    Supposed.objects.update(asked_at=clock.now() - timedelta(hours=1), state="runs")
    ask(operator, **SHIFT)  # what is stuck holds nobody up


@pytest.mark.parametrize("uid", [{}, {"uid": "x"}], ids=["none", "no-uuid"])
def test_a_form_without_its_id_is_shown_again(
    busy: list[str], operator: Client, uid: dict[str, str]
) -> None:
    assert busy
    answer = operator.post("/plant/suppose/", {**SHIFT, **uid})
    assert (answer.status_code, Supposed.objects.count()) == (400, 0)
    assert "Send it again" in answer.content.decode()


def test_who_asked_or_who_decides_stops_and_nobody_else(
    busy: list[str], operator: Client, signed_in: SignedIn
) -> None:
    assert busy
    row, sales = ask(operator, **SHIFT), signed_in("sales")
    stop = f"/plant/suppose/{row.uid}/stop"
    assert stop not in shown(sales, row)
    page = sales.post(stop, follow=True).content.decode()
    assert "Only who asked" in page
    assert "Waits to be computed." in page
    other = ask(sales, **SHIFT)
    assert stop.replace(str(row.uid), str(other.uid)) in shown(sales, other)
    sales.post(f"/plant/suppose/{other.uid}/stop")
    operator.post(stop)
    assert set(Supposed.objects.values_list("state", flat=True)) == {"stopped"}


def test_stopped_in_the_middle_nothing_of_it_is_kept(
    busy: list[str], operator: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    course = supposing.course

    def stops(*args: Any, **named: Any) -> Any:
        operator.post(f"/plant/suppose/{row.uid}/stop")
        return course(*args, **named)

    monkeypatch.setattr(supposing, "course", stops)
    assert tasks.suppose(str(row.uid)) == "stopped"
    row.refresh_from_db()
    assert (row.state, row.step, row.came) == ("stopped", 1, {})


def test_each_step_shows_and_the_page_is_fetched_only_when_it_differs(
    busy: list[str], operator: Client
) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    live = f"/plant/suppose/{row.uid}/live"
    Supposed.objects.update(state="runs", step=2)
    said = operator.get(live).content.decode()
    assert "Being computed: step 3 of 4." in said
    assert "the plant as you suppose" in said
    mark = said.split('data-mark="')[1].split('"')[0]
    assert operator.get(f"{live}?seen={mark}").status_code == 204
    long_ago = clock.now() - timedelta(hours=1)
    Supposed.objects.update(asked_at=long_ago)
    assert "It was not finished. Ask again." in operator.get(f"{live}?seen={mark}").content.decode()


def test_what_nobody_began_is_sent_until_somebody_does(busy: list[str], operator: Client) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    assert trying.waiting(at=clock.now()) == [row.uid]
    tasks.suppose(str(row.uid))
    assert trying.waiting(at=clock.now()) == []


def test_a_plant_of_which_something_is_missing_says_so(operator: Client) -> None:
    row = ask(operator, **SHIFT)
    assert tasks.suppose(str(row.uid)) == "lacks"
    assert "something has to be entered first" in shown(operator, row)


def test_a_fault_is_said_and_can_be_asked_anew(
    busy: list[str], operator: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    monkeypatch.setattr(supposing, "course", lambda *_, **__: 1 / 0)
    assert tasks.suppose(str(row.uid)) == "failed"
    page = shown(operator, row)
    assert "It could not be computed" in page
    assert "ZeroDivisionError" not in page  # that is the log's


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, "Nothing is supposed"),
        ({"more": "0", "on": "2027-01-01"}, "“0” is not allowed. Allowed: a whole number from 1"),
        ({"more": "501", "on": "2027-01-01"}, "“501” is not allowed"),
        ({"more": "½", "on": "2027-01-01"}, "“½” is not allowed"),
        ({"on": "2027-01-01", **SHIFT}, "More casings: “” is not allowed. Allowed: a whole number"),
        ({"more": "60"}, "They arrive on: “” is not allowed. Allowed: a day from"),
        ({"more": "60", "on": "2020-01-01"}, "“2020-01-01” is not allowed"),
        ({"more": "60", "on": "2027-02-31"}, "“2027-02-31” is not allowed"),
        ({"without": "Z"}, "“Z” is no chamber of this plant"),
        ({"from": "14:00"}, "to: “” is not allowed. Allowed: two times of the day"),
        ({"from": "25:00", "to": "22:00"}, "A second shift from: “25:00” is not allowed"),
        ({"from": "14:00", "to": "14:00"}, "to: “14:00” is not allowed"),
    ],
    ids=["nothing", "none", "many", "half", "no-casings", "no-day", "past", "no-such-day",
         "chamber", "one-end", "hour", "no-hours"],
)  # fmt: skip
def test_what_is_typed_wrong_is_named_and_stays(
    busy: list[str], operator: Client, typed: dict[str, str], said: str
) -> None:
    assert busy
    answer = operator.post("/plant/suppose/", {"uid": str(ids.uuid7()), **typed})
    page = answer.content.decode()
    assert (answer.status_code, Supposed.objects.count()) == (400, 0)
    assert said in page
    assert all(f'value="{value}"' in page for value in typed.values() if value != "Z")


def test_the_only_chamber_cannot_be_left_out(world: World, operator: Client) -> None:
    enter(world.plant)
    assert 'name="without"' not in operator.get("/plant/suppose/").content.decode()
    assert (
        operator.post("/plant/suppose/", {"uid": str(ids.uuid7()), "without": "A"}).status_code
        == 400
    )


def test_another_plants_question_is_not_here(
    world: World, busy: list[str], operator: Client, signed_in: SignedIn
) -> None:
    assert busy
    row = ask(operator, **SHIFT)
    Supposed.objects.update(plant=world.store)
    for path in ("", "live"):
        assert operator.get(f"/plant/suppose/{row.uid}/{path}").status_code == 404
    assert operator.post(f"/plant/suppose/{row.uid}/stop").status_code == 404
    assert signed_in("driver").get("/plant/suppose/").status_code == 403


def test_old_questions_are_forgotten(busy: list[str], operator: Client) -> None:
    assert busy
    ask(operator, **SHIFT)
    trying.purge(at=clock.now() + timedelta(days=399))
    assert Supposed.objects.count() == 1
    trying.purge(at=clock.now() + timedelta(days=401))
    assert Supposed.objects.count() == 0


def test_in_spanish(busy: list[str], signed_in: SignedIn) -> None:
    assert busy
    client = signed_in(language="es")
    row = ask(client, without="B", **SHIFT)
    tasks.suppose(str(row.uid))
    page = shown(client, row)
    assert "Sin Chamber B, un segundo turno 14:00-22:00" in page
    assert "Un reencauche que llega" in page
