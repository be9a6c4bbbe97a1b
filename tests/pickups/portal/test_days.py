"""What was promised, when it comes and where it is ready: in the list and in the story."""

from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client
from pytest_django import Settings
from pytest_django.fixtures import DjangoAssertNumQueries

from pickups.customers.models import Contact
from pickups.journal.services import drain
from pickups.kernel import clock
from pickups.kernel.languages import day_in_words
from pickups.notices.queries import days
from pickups.portal.queries import mine
from pickups.promises import services as promises
from pickups.promises.models import Timetable
from tests.pickups.portal.conftest import Opened, in_past, tell, text
from tests.world import Phone, World
from tests.world.plant import Gateway

EVERY_DAY = list(range(7))


@pytest.fixture(autouse=True)
def zone(settings: Settings) -> None:
    settings.DEALER_TIME_ZONE = "UTC"


def ahead(of_today: int) -> date:
    return days.today(clock.now()) + timedelta(days=of_today)


def in_words(of_today: int, language: str = "en") -> str:
    return day_in_words(language, ahead(of_today))


@pytest.fixture
def trucks(world: World) -> None:
    """Every day from the plant to the first store and from there to the first yard."""
    ways = [(world.plant.uid, Timetable.Way.FROM_PLANT.value, EVERY_DAY),
            (world.yard.uid, Timetable.Way.TO_YARD.value, EVERY_DAY)]  # fmt: skip
    promises.publish_timetable(site=world.store.uid, rows=ways, at=clock.now())


def wanted(phone: Phone, world: World, promised: int | None = None, **more: Any) -> tuple[str, str]:
    """One picked up with what is wanted, promised for so many days ahead: label and work order."""
    payload: dict[str, Any] = {"pickup": str(uuid4()), "yard": str(world.yard.uid)}
    payload["label"] = world.a_label()
    if promised is not None:
        payload["promised"] = {"on": ahead(promised).isoformat(), "basis": "standard_time"}
    fact = phone.enter("custody.pick_up", payload | more, version=2)
    assert phone.push().status == 200
    assert phone.outbox == []
    return fact["payload"]["label"], fact["id"]


def come_home(phone: Phone, world: World, label: str, *, ago: int = 0) -> None:
    driver, rack = f"person:{world.driver.uid}", f"site:{world.store.uid}"
    told = {"label": label, "way": "out", "giver": driver, "taker": rack}
    phone.enter("custody.hand_over", told, happened_at=clock.rfc3339(in_past(ago)))
    assert phone.push().status == 200


def weekly(world: World, *ways: tuple[UUID, str, int]) -> None:
    """Each truck once a week, on the weekday of so many days ahead of today."""
    rows = [(place, way, [ahead(day).weekday()]) for place, way, day in ways]
    promises.publish_timetable(site=world.store.uid, rows=rows, at=clock.now())


def test_the_summary_counts_what_is_ready_and_lists_it_before_what_is_finished(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    for ways in (["finished"], ["finished"], ["finished"], ["received"], ["rejected"]):
        label, _ = wanted(phone, world)
        tell(gateway, label, *ways)
    labels = [wanted(phone, world)[0] for _ in range(2)]
    for label in labels:
        tell(gateway, label, "finished")
        come_home(phone, world, label)
    page = text(ines.get("/casings/"))
    assert "7 of yours with us: 1 rejected, 2 ready, 3 finished, 1 being worked on." in page
    assert page.index(" Ready ") < page.index(" Finished ")
    assert all(label in page[page.index(" Ready ") : page.index(" Finished ")] for label in labels)


def test_of_a_promise_is_said_how_it_stands(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    cases = {
        f"Promised for {in_words(0)}, standard time": wanted(phone, world, 0),
        f"Promised for {in_words(3)}, standard time": wanted(phone, world, 3),
        f"Late: was promised for {in_words(-1)}, standard time": wanted(phone, world, -1),
    }
    _, without = wanted(phone, world)
    listed = text(ines.get("/casings/"))
    for said, (_, order) in cases.items():
        assert said.partition(",")[0] in listed
        page = ines.get(f"/casings/{order}")
        assert said in text(page)
        assert ('class="late"' in page.content.decode()) == said.startswith("Late")
    assert "romised" not in text(ines.get(f"/casings/{without}"))


@pytest.mark.usefixtures("trucks")
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_finished_one_says_when_it_comes_and_that_it_will_be_late(
    opened: Opened, world: World, phone: Phone, gateway: Gateway, language: str
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    label, order = wanted(phone, world, 0)
    tell(gateway, label, "finished")
    browser = opened()
    day, promised = in_words(2, language), in_words(0, language)
    comes = {"en": f"Comes to you on {day}", "es": f"Le llega el {day}"}[language]
    late = {
        "en": f"Will be late: promised for {promised}, standard time",
        "es": f"Se retrasará: prometida para el {promised}, plazo normal",
    }[language]
    where = {"en": f"It comes to North yard on {day}.", "es": f"Llega a North yard el {day}."}
    listed, page = text(browser.get("/casings/")), text(browser.get(f"/casings/{order}"))
    assert comes in listed
    assert late.partition(",")[0] in listed
    assert late in page
    assert where[language] in page


@pytest.mark.usefixtures("trucks")
def test_one_ready_for_its_yard_says_on_which_day_it_goes_out(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    label, order = wanted(phone, world, 1)
    tell(gateway, label, "finished")
    come_home(phone, world, label)
    assert f"Goes out to you on {in_words(1)}" in text(ines.get("/casings/"))
    page = text(ines.get(f"/casings/{order}"))
    assert f"It is ready at Bramblewick store and goes out to North yard on {in_words(1)}." in page
    assert "ate: " not in page


@pytest.mark.parametrize("ago", [0, 1, 6])
def test_on_the_morning_of_the_promised_day_it_goes_out_that_day_and_is_not_late(
    ines: Client, world: World, phone: Phone, gateway: Gateway, ago: int
) -> None:
    weekly(world, (world.plant.uid, "from_plant", -1), (world.yard.uid, "to_yard", 0))
    label, order = wanted(phone, world, 0)
    tell(gateway, label, "finished", happened_at=in_past(ago))
    come_home(phone, world, label, ago=ago)
    page = text(ines.get(f"/casings/{order}"))
    assert f"and goes out to North yard on {in_words(0)}." in page
    assert f"Promised for {in_words(0)}" in page
    assert "ate: " not in page


@pytest.mark.parametrize("ago", [0, 1])
def test_on_the_morning_of_a_transfer_day_it_comes_by_that_truck_and_is_not_late(
    ines: Client, world: World, phone: Phone, gateway: Gateway, ago: int
) -> None:
    weekly(world, (world.plant.uid, "from_plant", 0), (world.yard.uid, "to_yard", 1))
    label, order = wanted(phone, world, 1)
    tell(gateway, label, "finished", happened_at=in_past(ago))
    page = text(ines.get(f"/casings/{order}"))
    assert f"It comes to North yard on {in_words(1)}." in page
    assert "ate: " not in page


def test_what_comes_by_the_truck_of_today_goes_to_the_yard_on_a_later_day(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    weekly(world, (world.plant.uid, "from_plant", 0), (world.yard.uid, "to_yard", 0))
    label, order = wanted(phone, world, 0)
    tell(gateway, label, "finished", happened_at=in_past(1))
    page = text(ines.get(f"/casings/{order}"))
    assert f"It comes to North yard on {in_words(7)}." in page
    assert f"Will be late: promised for {in_words(0)}" in page


@pytest.mark.parametrize(("ago", "goes"), [(0, 7), (1, 0)])
def test_a_truck_of_today_takes_what_lay_there_before_today(
    ines: Client, world: World, phone: Phone, gateway: Gateway, ago: int, goes: int
) -> None:
    weekly(world, (world.yard.uid, "to_yard", 0))
    label, order = wanted(phone, world)
    tell(gateway, label, "finished", happened_at=in_past(ago))
    come_home(phone, world, label, ago=ago)
    assert f"Goes out to you on {in_words(goes)}" in text(ines.get("/casings/"))
    named = {"fact": order, "label": label}
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label, "unit": "T-9"}
    phone.enter("custody.pick_up", told | {"corrects": named}, version=2)
    assert phone.push().status == 200
    assert f"Goes out to you on {in_words(goes)}" in text(ines.get("/casings/")), "told again only"


def test_what_was_promised_for_yesterday_is_late_though_a_truck_goes_today(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    weekly(world, (world.yard.uid, "to_yard", 0))
    label, order = wanted(phone, world, -1)
    tell(gateway, label, "finished", happened_at=in_past(2))
    come_home(phone, world, label, ago=2)
    page = text(ines.get(f"/casings/{order}"))
    assert f"goes out to North yard on {in_words(0)}." in page
    assert f"Late: was promised for {in_words(-1)}" in page


def test_the_trucks_of_the_plant_where_it_lies_count_and_no_others(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    later, cut_off = uuid4(), uuid4()
    weekly(
        world,
        (world.plant.uid, "from_plant", 2),
        (later, "from_plant", 5),
        (cut_off, "to_plant", 0),
        (world.yard.uid, "to_yard", 3),
    )
    label, order = wanted(phone, world, 3)
    tell(gateway, label, "finished")
    page = text(ines.get(f"/casings/{order}"))
    assert f"It comes to North yard on {in_words(3)}." in page
    assert "ate: " not in page


def test_a_promise_that_was_taken_back_is_told_no_longer(
    ines: Client, world: World, phone: Phone
) -> None:
    label, order = wanted(phone, world, -1)
    while drain():
        pass
    assert "was promised for" in text(ines.get(f"/casings/{order}"))
    told = {"pickup": str(uuid4()), "yard": str(world.yard.uid), "label": label}
    told_again = told | {"corrects": {"fact": order, "label": label}}
    phone.enter("custody.pick_up", told_again, version=2)
    assert phone.push().status == 200
    while drain():
        pass
    for address in (f"/casings/{order}", "/casings/"):
        assert "romised" not in text(ines.get(address))


@pytest.mark.usefixtures("trucks")
@pytest.mark.parametrize("language", ["en", "es"])
def test_one_to_be_fetched_says_where_and_is_not_late_because_nobody_came(
    opened: Opened, world: World, phone: Phone, gateway: Gateway, language: str
) -> None:
    Contact.objects.filter(customer=world.customer).update(language=language)
    label, order = wanted(phone, world, -1, back_to="store", store=str(world.store.uid))
    tell(gateway, label, "finished")
    browser = opened()
    before = text(browser.get(f"/casings/{order}"))
    day = in_words(1, language)
    assert {"en": f"It can be fetched at Bramblewick store on {day}.",
            "es": f"Se puede recoger en Bramblewick store el {day}.",
           }[language] in before  # fmt: skip
    assert {"en": "Late: was promised", "es": "Con retraso: estaba prometida"}[language] in before
    come_home(phone, world, label)
    listed, page = text(browser.get("/casings/")), text(browser.get(f"/casings/{order}"))
    assert {"en": "To be fetched at Bramblewick store", "es": "Para recoger en Bramblewick"}[
        language
    ] in listed
    assert {"en": "It is ready to be fetched at Bramblewick store, 555 0100.",
            "es": "Está lista para recogerla en Bramblewick store, 555 0100.",
           }[language] in page  # fmt: skip
    assert {"en": "Late:", "es": "Con retraso"}[language] not in page
    assert {"en": "Dropped off", "es": "Entregada el"}[language] in listed


def test_what_is_rejected_or_on_hold_comes_on_no_day_and_is_not_ready(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    label, order = wanted(phone, world, -2)
    tell(gateway, label, "finished")
    come_home(phone, world, label)
    hold = tell(gateway, label, "hold")
    assert "ready" not in text(ines.get("/casings/"))
    tell(gateway, label, "rejected")
    gateway.tell(label, "released", releases=hold[0]["id"])
    for address in ("/casings/", f"/casings/{order}"):
        page = text(ines.get(address))
        assert "ready" not in page
        assert "romised" not in page
        assert "not retreaded and is in our store" in page or address == "/casings/"


def test_what_is_wanted_stands_in_the_story_and_nothing_where_nobody_was_asked(
    ines: Client, world: World, phone: Phone
) -> None:
    told: dict[str, Any] = {
        "tread_design": "open shoulder drive",
        "purchase_order": "PO 4471",
        "unit": "T-118",
    }
    _, order = wanted(phone, world, basis="pool", back_to="store", **told)
    _, repair = wanted(phone, world, work="repair")
    old = phone.pick_up(world.a_label(), world.yard.uid, uuid4())["id"]
    assert phone.push().status == 200
    assert (
        "Retread, open shoulder drive · any casing of yours comes back for it · to be fetched at"
        " our store · purchase order PO 4471 · unit T-118"
    ) in text(ines.get(f"/casings/{order}"))
    assert "Repair only" in text(ines.get(f"/casings/{repair}"))
    assert "Next it goes to the plant. What happened" in text(ines.get(f"/casings/{old}"))


def test_one_that_came_back_late_says_so_and_one_in_time_does_not(
    ines: Client, world: World, phone: Phone, gateway: Gateway
) -> None:
    for promised, late in ((-1, True), (0, False)):
        label, order = wanted(phone, world, promised)
        tell(gateway, label, "finished")
        told = {"delivery": str(uuid4()), "yard": str(world.yard.uid), "label": label}
        phone.enter("custody.deliver", told)
        assert phone.push().status == 200
        page = text(ines.get(f"/casings/{order}"))
        assert ("Late: was promised for" in page) == late
        assert ("Promised for" in page) != late
    assert "romised" not in text(ines.get("/casings/"))


@pytest.mark.usefixtures("trucks")
def test_a_long_list_asks_no_more_often_than_a_short_one(
    world: World,
    phone: Phone,
    gateway: Gateway,
    django_assert_max_num_queries: DjangoAssertNumQueries,
) -> None:
    def more(count: int) -> None:
        for _ in range(count):
            label, _ = wanted(phone, world, 1)
            tell(gateway, label, "finished")
            label, _ = wanted(phone, world, 1)
            tell(gateway, label, "finished")
            come_home(phone, world, label)

    more(1)
    # Orders thrice, sites, yards and whom to call there, timetable, times, calendars, promises,
    # last told, since when, what stayed, promises whose day is over, those at risk, what must stop.
    asked = 16
    with django_assert_max_num_queries(asked):
        mine.mine(world.customer.uid, "en")
    more(4)
    with django_assert_max_num_queries(asked):
        page = mine.mine(world.customer.uid, "en")
    assert sum(len(section.lines) for section in page.sections) == 10
