"""Who stands at a store's counter: a PC driven by keys, and what the journeys ask of it alike."""

import contextlib
import re
from typing import Any

from playwright.sync_api import APIResponse, Page, Route, expect

from tests.journeys.app import App
from tests.pickups.labels.pictures import rasters, texts
from tests.world.stack import Stack

NO_PREVIEW = "--disable-print-preview"
"""A browser without a screen falls over its own print preview."""


class Counter(App):
    """A PC at a counter: as wide as a desk, driven by keys."""

    def open(self, *, offline: bool = False) -> Page:
        """Start the browser on the same profile and open the app."""
        page = super().open(offline=offline)
        page.set_viewport_size({"width": 1440, "height": 900})
        return page

    def type(self, text: str, *, end: str = "Enter") -> None:
        """As a typist does, then a key."""
        self.page.keyboard.type(text)
        self.page.keyboard.press(end)

    def scan(self, label: str, field: str) -> None:
        """As a scanner types, into whatever field the cursor stands in, which keeps none of it.

        On a machine that is busy the keys may come as slowly as a hand's: then it is scanned anew.
        """
        for _ in range(5):
            self.type(label)
            with contextlib.suppress(AssertionError):
                expect(self.page.get_by_test_id("label")).to_have_value(
                    f"{label[:4]}\u2009{label[4:]}", timeout=1000
                )
                expect(self.page.get_by_test_id(field)).to_have_value("", timeout=1000)
                return
            self.page.get_by_test_id("label").fill("")
            self.page.get_by_test_id(field).fill("")
        raise AssertionError(f"{label} was not read")

    def press(self, *keys: str) -> None:
        """Keys one after the other."""
        for key in keys:
            self.page.keyboard.press(key)

    def expect_at(self, name: str) -> None:
        """Wait until the cursor stands in the control of that name."""
        expect(self.page.get_by_test_id(name)).to_be_focused()

    def tab_to(self, name: str, most: int = 25, key: str = "Tab") -> None:
        """Tab, or Shift and Tab, until the cursor stands there: no mouse."""
        for _ in range(most):
            if self.page.evaluate("document.activeElement.dataset.testid") == name:
                return
            self.page.keyboard.press(key)
        raise AssertionError(f"{name} is not among the next {most} stops of {key}")

    def hears(self) -> None:
        """Ask for what is new, as a device does when its signal comes back."""
        self.set_offline(True)
        self.set_offline(False)

    def sends(self) -> None:
        """All that was entered has reached the server."""
        self.expect_waiting(0)


def facts(stack: Stack, kind: str, labels: list[str]) -> dict[str, tuple[str, dict[str, Any]]]:
    """By label: who holds the casing after the fact, and what was told."""
    query = "SELECT label, holder, told FROM custody_fact WHERE kind = %s AND label = ANY(%s)"
    rows = stack.rows(query, kind, labels)
    assert len(rows) == len(labels), "each once"
    return {label: (holder, told) for label, holder, told in rows}


def sound_label(text: str) -> str:
    """A label as it is shown, without its thin space."""
    return re.sub(r"[^0-9A-Z]", "", text)


def a_drop_off(counter: Counter, count: int) -> None:
    """From the first page to the first casing: name, Enter, Enter, how many; labels are there."""
    expect(counter.page.get_by_test_id("labels-left")).to_contain_text(re.compile("[1-9]"))
    counter.type("tarn")
    counter.expect_at("drop-off")
    counter.press("Enter")
    counter.expect_at("customer-count")
    counter.type(str(count))


def overheard(page: Page, address: str) -> list[APIResponse]:
    """The answers that the server gives there from now on, passed on as they are."""
    heard: list[APIResponse] = []

    def pass_on(route: Route) -> None:
        heard.append(route.fetch())
        route.fulfill(response=heard[-1])

    page.route(address, pass_on)
    return heard


def read_back(drawn: list[APIResponse], url: str, label: str) -> None:
    """The PDF is that of one label and its twin, for the printer's own dots."""
    (answer,) = drawn
    assert answer.headers["content-type"] == "application/pdf"
    pages = [texts(page) for page in rasters(answer.body())]
    assert pages == [{"qr": [f"{url}/L/{label}".upper()], "bars": [label]}] * 2
