"""The plant's pages as a supervisor has them, in a real browser: no barrier, no page too wide."""

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.kernel import clock
from pickups.questions import services as questions
from pickups.questions.models import Question
from pickups.questions.rules import Kind
from pickups.questions.services import Ask
from plant.dock import services as dock
from tests.conftest import Enrol, in_process
from tests.pickups.desk.test_browser import faults
from tests.plant.dock.test_consignments import counted, drained, handed, on_truck
from tests.plant.floor.browsing import opened
from tests.world import World
from tests.world.plant import Gateway

pytestmark = pytest.mark.django_db(transaction=True)
PAGES = ("/plant/", "/plant/at/receiving", "/plant/trucks", "/plant/route", "/plant/limits")


def a_day(world: World, enrol: Enrol) -> str:
    """Casings inside, one rejected, one truck that differs, one repair limit, one question: the
    address of its page."""
    gateway = Gateway(in_process, world.plant_key)
    first, second, _ = on_truck(world, enrol(), 3)
    run = handed(world)
    counted(enrol, world, run, 3)
    for label in (first, second, world.a_label()):
        gateway.tell(label, "received", station="receiving")
    gateway.tell(second, "rejected", station="initial-inspection")
    drained()
    dock.enter_limit(
        plant=world.plant.uid,
        place=("crown", "nail_hole", "medium"),
        most_mm=9.5,
        most_count=3,
        chart="Chart of March",
        by=world.operator,
        at=clock.now(),
    )
    facts = {"plant": str(world.plant.uid), "reworks": 3, "limit": 2}
    questions.ask([Ask(Kind.REWORK_LIMIT, f"label:{second}", facts)], at=clock.now())
    return f"/plant/questions/{Question.objects.get(kind=Kind.REWORK_LIMIT).pk}/"


@pytest.mark.parametrize(
    ("language", "light", "width"), [("es", "dark", 360), ("en", "light", 1440)]
)
def test_every_page_of_the_plant_is_accessible_and_fits(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    enrol: Enrol,
    language: str,
    light: str,
    width: int,
) -> None:
    asked = a_day(world, enrol)
    size = {"width": width, "height": 740}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    page = opened(browser, live_server, world.operator, **options).new_page()
    found = []
    for address in (asked, *PAGES):
        page.goto(address)
        assert page.locator("html").get_attribute("lang") == language
        found += faults(page)
    page.locator("form.limit button").click()  # a wrong line comes back with its fault
    assert page.locator("[aria-invalid=true]").count() == 1
    found += faults(page)
    assert found == []


def test_a_limit_is_entered_and_a_station_moved_by_keyboard_alone(
    browser: Browser, live_server: LiveServer, world: World
) -> None:
    page = opened(browser, live_server, world.operator).new_page()
    page.goto("/plant/limits")
    page.locator("#zone").focus()
    for typed in ("crown", "nail", None, "9.5", None, "Chart of March"):
        if typed:
            page.keyboard.type(typed)
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.locator("tr", has_text="Chart of March").get_by_text("9.5 mm").wait_for()
    page.goto("/plant/route")
    page.get_by_role("button", name="Move Buffing up").focus()
    page.keyboard.press("Enter")
    page.get_by_text("Buffing is number 5 now.").wait_for()
