"""Every step on a load sheet by its page: done, refused with what is allowed, undone."""

import re
from typing import Any
from uuid import UUID

import psycopg
import pytest
from django.conf import settings
from django.db import connection
from django.test import Client

from pickups.customers import services as customers
from pickups.runs import queries
from pickups.runs import services as runs
from pickups.runs.models import Run
from tests.pickups.desk.sheets import Desk, draw_up, today
from tests.pickups.runs.yard import Yard
from tests.world import Phone, World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    return Yard(world, phone, gateway)


@pytest.fixture
def desk(world: World, office: Client) -> Desk:
    return Desk(office, draw_up(world))


def head(world: World, **more: Any) -> dict[str, Any]:
    told: dict[str, Any] = {"on": today().isoformat(), "start": world.store.uid, "kind": "route"}
    return {**told, "vehicle": "truck 9", "driver": world.driver.uid, "note": "", **more}


def test_ticked_casings_go_on_and_off_and_all_of_a_yard_at_one_press(
    desk: Desk, yard: Yard
) -> None:
    one, two, three = (yard.home() for _ in range(3))
    status, page = desk.do("put", work_order=[one, two])
    assert (status, desk.drops()) == (302, {one, two})
    assert "2 put on the sheet." in page
    desk.do("put", all=f"{three},{one}", work_order=[two])
    assert desk.drops() == {one, two, three}
    _, page = desk.do("take-off", work_order=[two])
    assert desk.drops() == {one, three}
    assert "1 taken off the sheet." in page


def test_casings_go_to_the_stop_that_was_chosen(desk: Desk, world: World, yard: Yard) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    desk.do("stops", place=f"yard:{south.uid}")
    uid = yard.home()
    desk.do("put", work_order=[uid], stop=desk.stops()[0])
    assert (len(desk.stops()), desk.drops()) == (1, {uid})


def test_nothing_ticked_is_said(desk: Desk) -> None:
    nothing: list[dict[str, Any]] = [{}, {"work_order": "no id"}, {"all": ""}]
    for odd in nothing:
        status, page = desk.do("put", **odd)
        assert (status, desk.version()) == (400, 1)
        assert "Tick at least one casing" in page


def test_what_cannot_go_is_named_with_why_and_stays_ticked(
    desk: Desk, world: World, yard: Yard
) -> None:
    good, bad = yard.home(), yard.home()
    other = draw_up(world, vehicle="truck 7")
    runs.put(run=other.uid, work_orders=[bad])
    answer = desk.client.post(
        desk.address + "put", {"seen": 1, "work_order": [str(good), str(bad)]}
    )
    page = answer.content.decode()
    assert (answer.status_code, desk.drops(), desk.version()) == (409, set(), 1)
    assert "Nothing was put there, since some cannot go:" in page
    assert f"{yard.label(bad)[:4]}\u2009{yard.label(bad)[4:]} is on another sheet" in page
    assert re.search(rf'value="{good}"[^>]* checked', page)


def test_stops_are_added_told_moved_and_removed(desk: Desk, world: World) -> None:
    desk.do("stops", place=f"yard:{world.yard.uid}")
    status, page = desk.do("stops", place=f"site:{world.plant.uid}")
    assert status == 302
    assert "Stop added: Fernhollow plant." in page
    yard, plant = desk.stops()
    told: dict[str, Any] = {"begins": "08:00", "to": "10:30", "fetch": "14", "note": "gate 2"}
    status, page = desk.do(f"stops/{yard}", **told)
    assert "08:00 to 10:30" in page
    assert "14 said to wait" in page
    assert "gate 2" in page
    desk.do(f"move/{plant}", to=1)
    assert desk.stops() == [plant, yard]
    _, page = desk.do(f"remove/{plant}")
    assert desk.stops() == [yard]
    assert "Stop removed: Fernhollow plant." in page


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"begins": "10:00", "to": "09:00"}, "ends at 09:00, before it begins at 10:00"),
        ({"begins": "ten"}, "Give times as 08:30"),
        ({"fetch": "many"}, "a whole number of casings from 0 to 999"),
        ({"fetch": "1000"}, "1000 casings do not wait at one stop; 0 to 999 can"),
        ({"fetch": "-1"}, "-1 casings do not wait"),
        ({"fetch": "9" * 30}, "do not wait at one stop"),
        ({"note": "x" * 201}, "a note of at most 200"),
    ],
)
def test_what_is_wrong_with_a_stop_is_said_and_what_was_typed_stays(
    desk: Desk, world: World, wrong: dict[str, str], said: str
) -> None:
    desk.do("stops", place=f"yard:{world.yard.uid}")
    (stop,) = desk.stops()
    form = {"seen": 2, "fetch": "7", "note": "ring twice", **wrong}
    answer = desk.client.post(f"{desk.address}stops/{stop}", form)
    page = answer.content.decode()
    assert (answer.status_code, desk.version()) == (400, 2)
    assert said in page
    typed = form | wrong
    assert f'name="note" maxlength="200" autocomplete="off" value="{typed["note"]}"' in page
    assert f'autocomplete="off" value="{typed["fetch"]}" size="4"' in page
    assert f'<details id="stop-{stop}" open>' in page
    assert page.count('aria-invalid="true"') == (2 if "ends at" in said else 1)


NOWHERE = UUID("0196f0b2-5e0a-7c11-9d57-3f6f2f0c8a12")


@pytest.mark.parametrize("place", ["", "yard:", f"yard:{NOWHERE}", "road:1", f"site:{NOWHERE}"])
def test_a_place_that_is_none_is_no_stop(desk: Desk, place: str) -> None:
    status, page = desk.do("stops", place=place)
    assert (status, desk.stops()) == (400, [])
    assert "Choose one in the list." in page


def test_a_head_is_changed_and_a_wrong_one_is_kept_in_its_form(desk: Desk, world: World) -> None:
    desk.do("head", **head(world, kind="transfer", note="early"))
    desk.run.refresh_from_db()
    assert (desk.run.vehicle, desk.run.kind, desk.run.note) == ("truck 9", "transfer", "early")
    told = {"seen": 2, **head(world, on="soon", vehicle="truck 12")}
    answer = desk.client.post(desk.address + "head", told)
    page = answer.content.decode()
    assert (answer.status_code, desk.version()) == (400, 2)
    assert 'value="truck 12"' in page
    assert '<details class="part" id="head" open>' in page


def test_a_page_that_is_behind_is_told_and_loses_nothing_typed(
    desk: Desk, world: World, yard: Yard
) -> None:
    uid = yard.home()
    runs.add_stop(run=desk.run.uid, yard=world.yard.uid)
    (stop,) = desk.stops()
    answers = [
        desk.client.post(desk.address + "put", {"seen": 1, "work_order": str(uid), "stop": stop}),
        desk.client.post(f"{desk.address}stops/{stop}", {"seen": 1, "note": "ring twice"}),
        desk.client.post(desk.address + "head", {"seen": 1, **head(world, note="slow")}),
        desk.client.post(desk.address + "stops", {"seen": 1, "place": f"site:{world.plant.uid}"}),
        desk.client.post(desk.address + "hand", {"seen": 1}),
        desk.client.post(desk.address + "hand", {"seen": "x"}),
        desk.client.post(desk.address + "hand"),
    ]
    kept = [rf'value="{uid}"[^>]* checked', 'value="ring twice"', 'value="slow"',
            f'value="site:{world.plant.uid}" selected', "", "", ""]  # fmt: skip
    for answer, typed in zip(answers, kept, strict=True):
        page = answer.content.decode()
        assert answer.status_code == 409
        assert "This sheet was changed since you opened it" in page
        assert re.search(typed, page)
    assert f'<option value="{stop}" selected>' in answers[0].content.decode()
    assert (desk.version(), desk.drops()) == (2, set())


def test_a_sheet_is_handed_taken_back_and_over(desk: Desk, world: World) -> None:
    status, page = desk.do("hand")
    assert status == 400
    assert "keeps at least one stop" in page
    desk.do("stops", place=f"yard:{world.yard.uid}")
    _, page = desk.do("hand")
    assert "Handed to Dale Orrin. The phones of Bramblewick store show it." in page
    status, page = desk.do("hand")
    assert status == 409
    assert "That cannot be done now: with its driver." in page
    _, page = desk.do("take-back")
    assert "being written; no phone shows it" in page
    desk.do("hand")
    _, page = desk.do("back")
    assert "the truck is back" in page
    assert "Loose work" not in page.split("Stops")[-1]
    desk.do("not-back")
    assert Run.objects.get().state == "handed"


def test_a_sheet_without_a_driver_or_of_a_day_that_is_over_says_what_it_needs(
    desk: Desk, world: World
) -> None:
    desk.do("stops", place=f"yard:{world.yard.uid}")
    desk.do("head", **head(world, driver=""))
    assert "It can be handed out once a driver of this store is named" in desk.page()
    status, page = desk.do("hand")
    assert status == 400
    assert "Choose one at its head." in page
    desk.do("head", **head(world, on=today(-1).isoformat()))
    status, page = desk.do("hand")
    assert status == 400
    assert "is over. Choose today or a later day" in page


def test_casings_that_keep_a_sheet_from_its_driver_are_named(desk: Desk, yard: Yard) -> None:
    gone = yard.home()
    desk.do("put", work_order=[gone])
    yard.withdraw(gone)
    assert "was entered by mistake and withdrawn" in desk.page()
    status, page = desk.do("hand")
    assert (status, Run.objects.get().state) == (409, "written")
    assert "It was not handed out, since some casings cannot go:" in page


def test_a_sheet_is_thrown_away_once_asked(desk: Desk, yard: Yard) -> None:
    desk.do("put", work_order=[yard.home()])
    page = desk.client.get(desk.address + "throw-away").content.decode()
    assert "?seen=2" in page
    assert desk.client.post(desk.address + "throw-away?seen=1").status_code == 409
    assert desk.client.post(desk.address + "throw-away?seen=2").status_code == 302
    assert not Run.objects.exists()
    assert desk.client.get(desk.address).status_code == 404
    assert desk.client.post(desk.address + "hand", {"seen": 2}).status_code == 404


def steps(desk: Desk, world: World, loose: UUID) -> dict[str, tuple[str, dict[str, Any]]]:
    """Each step that can be undone: where its form goes, and what it holds."""
    stop = desk.stops()[0]
    return {
        "head": ("head", head(world)),
        "add": ("stops", {"place": f"site:{world.plant.uid}"}),
        "tell": (f"stops/{stop}", {"fetch": "3", "note": "x", "begins": "08:00"}),
        "move": (f"move/{stop}", {"to": 2}),
        "remove": (f"remove/{stop}", {}),
        "put": ("put", {"work_order": [loose]}),
        "take off": ("take-off", {"work_order": list(desk.drops())}),
    }


STEPS = ("head", "add", "tell", "move", "remove", "put", "take off")


def standing(desk: Desk) -> object:
    """All of a sheet but its version."""
    return queries.bodies([desk.run.uid])


@pytest.mark.parametrize("name", STEPS)
def test_each_step_is_undone(desk: Desk, world: World, yard: Yard, name: str) -> None:
    south = customers.open_yard(customer=world.customer, name="South yard")
    desk.do("put", work_order=[yard.home(), yard.home(yard=str(south.uid))])
    loose, before = yard.home(), standing(desk)
    where, form = steps(desk, world, loose)[name]
    desk.do(where, **form)
    assert standing(desk) != before
    assert "Undo: " in desk.page()
    status, page = desk.do("undo")
    assert (status, standing(desk)) == (302, before)
    assert "Undone: " in page


@pytest.mark.parametrize(("verb", "inverse"), [("take-back", "handed"), ("back", "handed")])
def test_taking_back_and_coming_back_are_undone_too(
    desk: Desk, yard: Yard, verb: str, inverse: str
) -> None:
    uid = yard.home()
    desk.do("put", work_order=[uid])
    desk.do("hand")
    desk.do(verb)
    desk.do("undo")
    assert (Run.objects.get().state, desk.drops()) == (inverse, {uid})


def test_many_steps_are_undone_one_after_the_other(desk: Desk, world: World, yard: Yard) -> None:
    uids = [yard.home() for _ in range(3)]
    stood = [standing(desk)]
    for uid in uids:
        desk.do("put", work_order=[uid])
        stood.append(standing(desk))
    for expected in stood[-2::-1]:
        desk.do("undo")
        assert standing(desk) == expected
    status, page = desk.do("undo")
    assert (status, desk.version()) == (409, 7)
    assert "There is nothing to undo" in page


def test_a_sheet_is_not_taken_off_the_road_by_an_undo(desk: Desk, yard: Yard) -> None:
    desk.do("put", work_order=[yard.home()])
    desk.do("hand")
    assert "Undo: " not in desk.page()
    assert desk.do("undo")[0] == 409
    assert Run.objects.get().state == "handed"
    desk.do("take-back")
    assert Run.objects.get().state == "written"


def test_a_step_that_somebody_else_has_built_on_is_not_undone(
    desk: Desk, world: World, yard: Yard
) -> None:
    desk.do("put", work_order=[yard.home()])
    before = desk.version()
    runs.add_stop(run=desk.run.uid, site=world.plant.uid)
    assert "Undo: " not in desk.page()
    for seen in (before, before + 1):
        status, _ = desk.do("undo", seen=seen)
        assert status == 409
    assert len(desk.stops()) == 2
    desk.do("take-off", work_order=list(desk.drops()))
    desk.do("undo")
    assert desk.do("undo")[0] == 409, "what lies before the other's step is not reached"
    assert len(desk.drops()) == 1


def test_an_undo_that_cannot_be_says_which_casings_and_can_be_tried_again(
    desk: Desk, world: World, yard: Yard
) -> None:
    uid = yard.home()
    desk.do("put", work_order=[uid])
    desk.do("take-off", work_order=[uid])
    other = draw_up(world)
    runs.put(run=other.uid, work_orders=[uid])
    status, page = desk.do("undo")
    assert (status, desk.drops()) == (409, set())
    assert "It was not undone, since some casings cannot go back:" in page
    runs.take_off(run=other.uid, work_orders=[uid])
    assert desk.do("undo")[0] == 302
    assert desk.drops() == {uid}


def test_undo_is_each_persons_own(desk: Desk, world: World, yard: Yard) -> None:
    desk.do("put", work_order=[yard.home()])
    other = Desk(Client(), desk.run)
    other.client.force_login(world.dispatcher)
    assert "Undo: " not in other.page()
    assert other.do("undo")[0] == 409
    assert len(desk.drops()) == 1


@pytest.mark.django_db(transaction=True)  # the fixture's own locks have to be gone
def test_a_busy_sheet_is_said_and_nothing_typed_is_lost(desk: Desk, world: World) -> None:
    desk.do("stops", place=f"yard:{world.yard.uid}")
    (stop,) = desk.stops()
    with connection.cursor() as c:
        c.execute("SET lock_timeout = '200ms'")
    database = settings.DATABASES["default"]
    host, user, name = (str(database[key]) for key in ("HOST", "USER", "NAME"))
    try:
        with psycopg.connect(host=host, user=user, dbname=name) as other:
            other.execute("SELECT 1 FROM runs_run FOR UPDATE")
            form = {"seen": 2, "note": "typed with care"}
            answer = desk.client.post(f"{desk.address}stops/{stop}", form)
            undone = desk.client.post(desk.address + "undo", {"seen": 2})
            thrown = desk.client.post(desk.address + "throw-away?seen=2")
    finally:
        with connection.cursor() as c:
            c.execute("SET lock_timeout = '3s'")
    assert [a.status_code for a in (answer, undone, thrown)] == [503, 503, 503]
    assert "typed with care" in answer.content.decode()
    assert desk.version() == 2
