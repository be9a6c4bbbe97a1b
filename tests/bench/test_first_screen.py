"""The driver's app: bytes of script to the first screen, and a cold start offline, CPU 4 x slower.

The peer of the cold start is the same page on the same browser at full speed.
"""

import gzip
import statistics
import time

from playwright.sync_api import Playwright

from tests.bench.figures import note
from tests.journeys.app import App
from tests.journeys.conftest import OpenApp, open_app, stack, web
from tests.world.stack import Stack

__all__ = ["open_app", "stack", "web"]  # fixtures that the journeys have too

STARTS = 7
SLOWER = 4


def test_bytes_of_script_to_the_first_screen(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
    page = browser.new_page()
    loaded: dict[str, bytes] = {}
    page.on(
        "response",
        lambda r: (
            loaded.update({r.url: r.body()})
            if r.request.resource_type == "script" and r.ok
            else None
        ),
    )
    page.goto(f"{web.url}/app/")
    page.get_by_test_id("enrol-code").wait_for()
    sizes = {url: len(gzip.compress(body, 9)) for url, body in loaded.items()}
    browser.close()
    assert sizes
    note(
        "script to the first screen",
        files=len(sizes),
        gzip_kb=sum(sizes.values()) / 1024,
        aim="at most 100 KB",
    )


def test_cold_start_offline_on_a_slow_phone(open_app: OpenApp) -> None:
    app = open_app()
    slow = [cold_start_s(app, SLOWER) for _ in range(STARTS)]
    full = [cold_start_s(app, 1) for _ in range(STARTS)]
    note(
        "cold start offline",
        slowed_4x_s=statistics.median(slow),
        full_speed_s=statistics.median(full),
        ratio=statistics.median(slow) / statistics.median(full),
        aim="usable under 1.5 s at 4 x",
    )


def cold_start_s(app: App, slower: int) -> float:
    """From navigation to a usable first screen, in a new tab, with no network."""
    assert app.context is not None
    app.set_offline(True)
    page = app.new_page()
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
    began = time.perf_counter()
    page.goto(f"{app.url}/app/", wait_until="commit")
    page.get_by_test_id("status-line").wait_for()
    page.locator("[data-testid='label'], [data-testid^='open-']").first.wait_for()
    took = time.perf_counter() - began
    page.close()
    return took
