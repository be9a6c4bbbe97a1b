"""The shipped app in a real Chromium, killed at random instants while casings are entered: each is
entered once, whatever was under way. `make sim` does it twenty times (BROWSERS says how often).
"""

import os
import random
import threading
from contextlib import suppress

import psutil
import pytest
from playwright.sync_api import Error

from tests.journeys.app import App
from tests.journeys.conftest import OpenApp
from tests.world.stack import Stack

RUNS = int(os.environ.get("BROWSERS") or 2)
CASINGS = 6
LONGEST_S = 0.7
pytestmark = pytest.mark.xdist_group("sim_browser")


class Killer:
    """SIGKILL to every process of a browser after a while; `fired` once it has been sent."""

    def __init__(self, app: App, after_s: float) -> None:
        self.profile = app.profile
        self.fired = False
        self._timer = threading.Timer(after_s, self._kill)
        self._timer.start()

    def _kill(self) -> None:
        for process in psutil.process_iter(["cmdline"]):
            if f"--user-data-dir={self.profile}" in " ".join(process.info["cmdline"] or []):
                with suppress(psutil.NoSuchProcess):
                    process.kill()
                    self.fired = True

    def end(self) -> None:
        """Wait for it, or call it off where it has not begun."""
        self._timer.cancel()
        self._timer.join()


def back_to_the_sheet(app: App, yard: str, known: str) -> None:
    """Opens the killed app again and goes where a driver would; his list is there, or its end."""
    with suppress(Exception):
        assert app.context is not None
        app.context.close()
    page = app.open()
    sheet, begun = page.get_by_test_id("label"), page.locator("[data-testid^='open-']")
    sheet.or_(begun).or_(page.get_by_test_id(f"yard-{yard}")).first.wait_for()
    if not sheet.is_visible():
        begun.first.click()
    page.get_by_test_id(f"casing-{known}").wait_for()


@pytest.mark.parametrize("seed", range(1, RUNS + 1))
def test_a_browser_killed_at_random_instants_loses_and_doubles_nothing(
    web: Stack, open_app: OpenApp, seed: int
) -> None:
    rng = random.Random(seed)
    app, yard = open_app(), web.cast["yard"]
    labels = [web.cast["labels"].pop() for _ in range(CASINGS)]
    app.add(labels[0], 5)
    known, kills = labels[0], 0
    for label in labels[1:]:
        if rng.random() < 0.2:
            web.kill_web()
        killer = Killer(app, rng.uniform(0, LONGEST_S))
        while True:
            try:
                if not app.page.get_by_test_id(f"casing-{label}").count():
                    app.add(label, rng.randrange(2, 20))
                killer.end()
                if not killer.fired:
                    break
            except (Error, AssertionError):
                killer.end()
                if not killer.fired:
                    raise
            kills += 1
            killer = Killer(app, 3600)
            back_to_the_sheet(app, yard, known)
        killer.end()
        known = label
        if web.web is None or web.web.poll() is not None:
            web.start_web()
    app.set_offline(True)  # a signal that comes back does not wait for the next try
    app.set_offline(False)
    app.expect_waiting(0, patience_s=90)
    print(f"\n  seed {seed}: killed {kills} times")
    found = web.rows(
        "SELECT label, count(*) FROM custody_fact WHERE label = ANY(%s) GROUP BY label", labels
    )
    assert dict(found) == dict.fromkeys(labels, 1)
    for label in labels:
        app.expect_standing(label, "recorded")
