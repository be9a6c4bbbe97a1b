"""The driver's app in a real Chromium, driven as a hand would; killable like a phone's process."""

import contextlib
import re
import shutil
import tempfile
from collections.abc import Sequence
from pathlib import Path

import psutil
from django.conf import settings
from playwright.sync_api import BrowserContext, Page, Playwright, expect

FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
PATIENCE_MS = 20_000
PIN = "270941"
"""What a person of the journeys types, unless a journey is about PINs."""
SCRAWL = ((0.1, 0.6), (0.25, 0.2), (0.35, 0.7), (0.5, 0.3), (0.6, 0.6), (0.9, 0.5))


class App:
    """One browser profile with the app in it."""

    def __init__(
        self, playwright: Playwright, chromium: str, url: str, flags: Sequence[str] = ()
    ) -> None:
        self.playwright, self.chromium, self.url = playwright, chromium, url
        self.flags = [*FLAGS, *flags]
        self.pin: str | None = None
        """What unlocks it; None as long as nobody has a PIN here."""
        self.profile = Path(tempfile.mkdtemp(prefix="yardloop-profile-"))
        self.context: BrowserContext | None = None
        self.page: Page = self.open()

    def open(self, *, offline: bool = False) -> Page:
        """Start the browser on the same profile and open the app."""
        self.context = self.playwright.chromium.launch_persistent_context(
            str(self.profile),
            executable_path=self.chromium,
            headless=True,
            args=self.flags,
            viewport={"width": 360, "height": 740},
            locale="en-US",
            timezone_id=settings.DEALER_TIME_ZONE,  # where its dealer is: days are the same there
        )
        self.context.set_default_timeout(PATIENCE_MS)
        self.context.set_offline(offline)
        self.page = self.new_page()
        self.page.goto(f"{self.url}/app/")
        if self.pin is not None:
            self.expect_open()
        return self.page

    def new_page(self) -> Page:
        """Another tab; one that is locked as soon as anybody has a PIN here."""
        assert self.context is not None
        page = self.context.new_page()
        if self.pin is not None:
            self._mind(page)
        return page

    def _mind(self, page: Page) -> None:
        """From now on the PIN is typed wherever the page is found locked: no journey need mind."""
        pin = self.pin or ""
        page.add_locator_handler(
            page.get_by_test_id("lock"), lambda: page.get_by_test_id("pin").fill(pin)
        )

    def by_hand(self) -> None:
        """From now on a locked page stays locked until the journey itself types."""
        self.page.remove_locator_handler(self.page.get_by_test_id("lock"))
        self.pin = None

    def expect_open(self) -> None:
        """Wait until the device is unlocked."""
        expect(self.page.get_by_test_id("lock-now")).to_be_visible()

    def kill(self) -> None:
        """SIGKILL to every process of this browser."""
        for process in psutil.process_iter(["cmdline"]):
            words = " ".join(process.info["cmdline"] or [])
            if f"--user-data-dir={self.profile}" in words:
                with contextlib.suppress(psutil.NoSuchProcess):
                    process.kill()
        with contextlib.suppress(Exception):
            assert self.context is not None
            self.context.close()

    def close(self) -> None:
        """End it in peace and forget the profile."""
        with contextlib.suppress(Exception):
            assert self.context is not None
            self.context.close()
        shutil.rmtree(self.profile, ignore_errors=True)

    def set_offline(self, offline: bool) -> None:
        """Take the network away or give it back."""
        assert self.context is not None
        self.context.set_offline(offline)

    def enrol(self, code: str, person: str) -> None:
        """Enrol, wait for the first pull, say who holds the phone."""
        page = self.page
        page.get_by_test_id("enrol-code").fill(code)
        page.get_by_test_id("enrol-name").fill("Truck 4 phone")
        page.get_by_test_id("enrol-submit").click()
        self.choose(person)
        # Offline work needs the worker in charge.
        page.wait_for_function("() => navigator.serviceWorker.controller !== null")

    def choose(self, person: str, pin: str = PIN) -> None:
        """The first one to hold a device that was enrolled: a name, and a PIN typed twice."""
        self.by_hand()
        self.page.get_by_test_id(f"person-{person}").click()
        self.set_pin(pin)
        self.pin = pin
        self._mind(self.page)

    def set_pin(self, pin: str) -> None:
        """Six digits twice; returns when the device has them."""
        self.page.get_by_test_id("pin-new").fill(pin)
        self.page.get_by_test_id("pin-again").fill(pin)
        expect(self.page.get_by_test_id("set-pin")).to_have_count(0)

    def add_person(self, person: str, pin: str) -> None:
        """Whoever holds it lets another have a PIN."""
        page = self.page
        page.get_by_test_id("who-change").click()
        page.get_by_test_id("who-add").click()
        page.get_by_test_id(f"person-{person}").click()
        self.set_pin(pin)

    def somebody_else(self, pin: str) -> None:
        """The next one of this device: locked, and that one's PIN typed."""
        self.by_hand()
        self.page.get_by_test_id("who-change").click()
        self.page.get_by_test_id("who-next").click()
        self.page.get_by_test_id("pin").fill(pin)
        self.expect_open()
        self.pin = pin
        self._mind(self.page)

    def start_pickup(self, yard: str) -> None:
        """Open the sheet at a yard."""
        self.page.get_by_test_id(f"yard-{yard}").click()
        expect(self.page.get_by_test_id("label")).to_be_visible()

    def add(self, label: str, *treads: int, photo: bytes | None = None) -> None:
        """Enter one casing; returns when the sheet shows it."""
        page = self.page
        page.get_by_test_id("label").fill(label)
        for tread in treads:
            page.get_by_test_id(f"tread-{tread}").click()
        if photo is not None:
            page.get_by_test_id("photo").set_input_files(
                {"name": "casing.jpg", "mimeType": "image/jpeg", "buffer": photo}
            )
            expect(page.locator("img").first).to_be_visible()
        page.get_by_test_id("save").click()
        expect(page.get_by_test_id(f"casing-{label}")).to_be_visible()

    def sign(self, name: str, *, draw: bool = True) -> None:
        """The name of who signs, and a drawing with the mouse; returns when it is kept."""
        page = self.page
        page.get_by_test_id("signer").fill(name)
        if not draw:
            return
        pad = page.get_by_test_id("sign-pad")
        pad.scroll_into_view_if_needed()
        box = pad.bounding_box()
        assert box is not None
        for i, (across, down) in enumerate(SCRAWL):
            at = box["x"] + across * box["width"], box["y"] + down * box["height"]
            page.mouse.move(*at, steps=1 if i == 0 else 5)
            if i == 0:
                page.mouse.down()
        page.mouse.up()
        expect(page.get_by_test_id("sign-clear")).to_be_visible()

    def finish(self, count: int | None = None, *, signer: str = "R. Amsel") -> None:
        """From the sheet to the receipt: the customer's count, a name, the last word."""
        page = self.page
        page.get_by_test_id("finish").click()
        if count is not None:
            page.get_by_test_id("customer-count").fill(str(count))
        self.sign(signer, draw=False)
        page.get_by_test_id("finish-confirm").click()
        expect(page.get_by_test_id("receipt")).to_be_visible()

    def waiting(self) -> int:
        """How many operations the bottom line says are waiting."""
        text = self.page.get_by_test_id("waiting").inner_text()
        found = re.search(r"\d+", text)
        return int(found.group()) if found else 0

    def expect_waiting(self, number: int, *, patience_s: float = 20) -> None:
        """Wait until the bottom line says so."""
        expect(self.page.get_by_test_id("waiting")).to_have_text(
            re.compile(rf"(^|\D){number}(\D|$)"), timeout=patience_s * 1000
        )

    def expect_standing(self, label: str, standing: str, *, patience_s: float = 20) -> None:
        """Wait until a casing's line says how it stands."""
        expect(self.page.get_by_test_id(f"casing-{label}")).to_have_attribute(
            "data-standing", standing, timeout=patience_s * 1000
        )
