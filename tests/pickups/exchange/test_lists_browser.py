"""The pages of lists in a real browser: accessible in both lights and sizes, keyboard only."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from pickups.exchange import services
from pickups.exchange.models import Import
from pickups.kernel import clock
from tests.pickups.desk.test_browser import browser, faults, opened
from tests.pickups.exchange.files import book, settle, text
from tests.world import World

__all__ = ["browser"]
pytestmark = pytest.mark.django_db(transaction=True)
GOOD: dict[str, list[list[object]]] = {
    "Fleets": [["customer number", "customer", "store"],
               ["1001", "Tarn Valley Haulage", "Bramblewick store"],
               ["1002", "Ferncliff Freight", "Saltmarsh store"]],
    "Yards": [["customer", "yard", "address", "since"], ["1001", "North yard", "5 Quarry Lane", 2],
              ["1002", "Gate 4 behind the old weighbridge", "9 Kiln Row", 3]],
}  # fmt: skip
WRONG = [["customer", "yard"], ["Nobody and Daughters Refrigerated Transport", "x"],
         ["", "y"], ["Tarn Valley Haulage", "a\x7f"]]  # fmt: skip


def seen(raw: bytes, name: str) -> Import:
    return services.take_in(raw=raw, name=name, wanted="", by=None, at=clock.now())


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_of_lists_is_accessible_and_fits_a_small_phone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    light: str,
    language: str,
) -> None:
    ready, wrong = seen(book(**GOOD), "fleets.xlsx"), seen(text(WRONG), "yards.csv")
    running = seen(text([WRONG[0], *[["Tarn Valley Haulage", f"Y{n}"] for n in range(1200)]]), "a")
    mark = services.look(running)[0].mark
    assert services.agree(uid=running.uid, mark=mark, at=clock.now(), owe=False) == "agreed"
    services.step(uid=running.uid, start=0, owe=False)
    size = {"width": 360, "height": 740} if language == "es" else {"width": 1440, "height": 900}
    context = opened(browser, live_server, world, viewport=size, color_scheme=light,
                     locale=language, bypass_csp=True)  # fmt: skip
    page = context.new_page()
    found = []
    for address in ("", f"{ready.uid}/", f"{wrong.uid}/", f"{running.uid}/"):
        page.goto(f"/office/lists/{address}")
        found += faults(page)
    page.goto("/office/lists/work/casings.csv?from=x")
    found += faults(page)
    context.close()
    assert found == []


def test_a_list_comes_in_by_keys_alone(
    browser: Browser,
    live_server: LiveServer,
    world: World,
    tmp_path: Path,
) -> None:
    file = tmp_path / "fleets.xlsx"
    file.write_bytes(book(**GOOD))
    context = opened(browser, live_server, world, locale="en")
    page = context.new_page()
    page.goto("/office/")
    page.get_by_role("link", name="Lists").press("Enter")
    page.get_by_label("File (CSV or XLSX").set_input_files(file)
    page.get_by_role("button", name="Look at it").press("Enter")
    page.get_by_role("heading", name="What fleets.xlsx would do").wait_for()
    assert page.get_by_text("These columns are not read: since.").is_visible()
    page.get_by_role("button", name="Write it: 2 new, 2 changed").press("Enter")
    page.get_by_role("heading", name="fleets.xlsx is being written").wait_for()
    settle()
    page.get_by_role("heading", name="fleets.xlsx is written").wait_for(timeout=10_000)
    assert world.customer.yards.filter(address="5 Quarry Lane").exists()
    context.close()
