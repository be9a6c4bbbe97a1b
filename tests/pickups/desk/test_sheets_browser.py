"""Load sheets in a real browser: without a mouse, accessible in every light, size and language."""

from uuid import UUID

import pytest
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer

from pickups.runs import services as runs
from pickups.runs.models import Drop, Run
from pickups.runs.rules import Said
from tests.pickups.desk.sheets import draw_up, promise, today
from tests.pickups.desk.test_browser import browser, faults, opened
from tests.pickups.runs.yard import Yard
from tests.world import Phone, World
from tests.world.plant import Gateway

__all__ = ["browser"]
pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def yard(world: World, phone: Phone, gateway: Gateway) -> Yard:
    return Yard(world, phone, gateway)


def drops() -> set[UUID]:
    return set(Drop.objects.filter(active=True).values_list("work_order", flat=True))


def focused(page: Page) -> str:
    """The value or text of what has the focus."""
    return str(page.evaluate("document.activeElement.value || document.activeElement.textContent"))


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_is_accessible_and_fits_a_small_phone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    yard: Yard,
    light: str,
    language: str,
) -> None:
    late, bad, _ = yard.home(), yard.rejected(), yard.waiting()
    promise(late, today(-1))
    written, out = draw_up(world, note="Bring the cage."), draw_up(world, vehicle="truck 7")
    runs.put(run=written.uid, work_orders=[late, yard.finished()])
    runs.set_stop(run=written.uid, stop=written.stops.get().uid, said=Said(fetch=14, note="ring"))
    runs.put(run=out.uid, work_orders=[bad, yard.home()])
    runs.hand(run=out.uid)
    over = draw_up(world, vehicle="truck 9")
    runs.add_stop(run=over.uid, yard=world.yard.uid)
    runs.hand(run=over.uid)
    runs.come_back(run=over.uid)
    addresses = ["/office/sheets/", "/office/rack/", f"/office/sheets/{written.uid}/throw-away"]
    addresses += [f"/office/sheets/{run.uid}/" for run in (written, out, over)]
    size = {"width": 360, "height": 740} if language == "es" else {"width": 1440, "height": 900}
    options = {"viewport": size, "color_scheme": light, "locale": language, "bypass_csp": True}
    context = opened(browser, live_server, world, **options)
    page = context.new_page()
    found = []
    for address in addresses:
        page.goto(address)
        for details in page.locator("details").all():
            details.evaluate("d => d.open = true")
        found += faults(page)
    context.close()
    assert found == []


def test_a_sheet_is_made_handed_out_and_undone_with_keys_alone(
    browser: Browser, live_server: LiveServer, world: World, yard: Yard
) -> None:
    run = draw_up(world)
    casings = [yard.home() for _ in range(3)]
    context = opened(browser, live_server, world)
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.goto(f"/office/sheets/{run.uid}/")
    press(page, "l", "Space", "ArrowDown", "Space")
    assert page.locator("[data-count]").text_content() == "2 ticked"
    press(page, "m")
    page.get_by_text("2 put on the sheet.").wait_for()
    left = next(iter(set(casings) - drops()))
    assert len(drops()) == 2
    page.wait_for_function("v => document.activeElement.value === v", arg=str(left))
    press(page, "a", "m")
    page.get_by_text("1 put on the sheet.").wait_for()
    assert drops() == set(casings)
    press(page, "s", "ArrowDown", "b")
    page.get_by_text("1 taken off the sheet.").wait_for()
    assert len(drops()) == 2
    page.wait_for_function("() => document.activeElement.matches('[data-off]')")
    press(page, "u")
    page.get_by_text("Undone: 1 taken off").wait_for()
    press(page, "u")
    page.get_by_text("Undone: 1 put on").wait_for()
    assert len(drops()) == 2
    press(page, "s")
    for _ in range(20):
        press(page, "Tab")
        if focused(page) == "Hand to Dale Orrin":
            break
    press(page, "Enter")
    page.get_by_text("Handed to Dale Orrin.").wait_for()
    assert Run.objects.get().state == "handed"
    context.close()
    assert said == []  # the security policy blocked nothing


def test_single_keys_can_be_switched_off_and_never_act_where_one_types(
    browser: Browser, live_server: LiveServer, world: World, yard: Yard
) -> None:
    run = draw_up(world)
    yard.home()
    context = opened(browser, live_server, world)
    page = context.new_page()
    page.goto(f"/office/sheets/{run.uid}/")
    page.get_by_label("Find a label").focus()
    page.keyboard.type("lamusb")
    assert page.get_by_label("Find a label").input_value() == "lamusb"
    page.get_by_role("checkbox", name="Single keys").uncheck()
    page.reload()
    assert not page.get_by_role("checkbox", name="Single keys").is_checked()
    press(page, "l", "a", "m")
    page.wait_for_timeout(300)
    context.close()
    assert drops() == set()


def test_without_a_script_every_step_is_a_button(
    browser: Browser, live_server: LiveServer, world: World, yard: Yard
) -> None:
    run, uid = draw_up(world), yard.home()
    context = opened(browser, live_server, world, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"/office/sheets/{run.uid}/")
    page.get_by_role("button", name="Put all on (1): North yard").click()
    page.get_by_text("1 put on the sheet.").wait_for()
    assert drops() == {uid}
    page.get_by_role("button", name=f"Take off: {yard.label(uid)}").click()
    page.get_by_text("1 taken off the sheet.").wait_for()
    page.get_by_role("button", name="Undo: 1 taken off").click()
    page.get_by_text("Undone: 1 taken off").wait_for()
    assert drops() == {uid}
    context.close()


def test_on_paper_stands_the_sheet_and_nothing_else(
    browser: Browser, live_server: LiveServer, world: World, yard: Yard
) -> None:
    run, uid = draw_up(world), yard.home()
    runs.put(run=run.uid, work_orders=[uid])
    yard.home()
    context = opened(browser, live_server, world, color_scheme="dark")
    page = context.new_page()
    page.goto(f"/office/sheets/{run.uid}/")
    assert not page.locator(".paper").is_visible()
    page.emulate_media(media="print")
    assert page.locator(".paper").is_visible()
    assert not page.locator(".bench, .top, .tools, .headline").first.is_visible()
    colours = "e => [getComputedStyle(e).color, getComputedStyle(document.body).backgroundColor]"
    assert page.locator(".paper").evaluate(colours) == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    assert page.locator(".paper .box").count() == 1
    context.close()
