"""The device itself: what it shows of its room, the file of what is unsent, a full phone."""

import io
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import CDPSession, Page, Playwright, expect

from tests.journeys.app import App
from tests.journeys.barriers import look
from tests.journeys.conftest import OpenApp
from tests.world.stack import Stack

KB = 1024


def noise(width: int, height: int) -> bytes:
    """A picture that no codec makes small, in no size."""
    out = io.BytesIO()
    coarse = Image.effect_noise((400, 400 * height // width), 120).convert("RGB")
    fine = Image.effect_noise((width, height), 120).convert("RGB")
    large = coarse.resize((width, height), Image.Resampling.NEAREST)
    Image.blend(large, fine, 0.3).save(out, "JPEG", quality=92)
    return out.getvalue()


def facts(stack: Stack, label: str) -> int:
    return int(stack.rows("SELECT count(*) FROM custody_fact WHERE label = %s", label)[0][0])


def newest_device(stack: Stack) -> str:
    return str(stack.rows("SELECT uid FROM people_device ORDER BY enrolled_at DESC LIMIT 1")[0][0])


class Tight(App):
    """A phone whose room can be set. The browser's own estimate tells 10 GB whatever there is."""

    free: int | None = None
    """Bytes in all, set before the app is opened."""
    session: CDPSession | None = None

    def new_page(self) -> Page:
        """Before the app is in it: how much room there is, is looked at when a store is opened."""
        page = super().new_page()
        assert self.context is not None
        self.session = self.context.new_cdp_session(page)
        if self.free is not None:
            self.set_room(self.free)
        return page

    def set_room(self, quota: int | None) -> None:
        """Bytes in all; None: plenty."""
        assert self.session is not None
        size: dict[str, Any] = {} if quota is None else {"quotaSize": max(quota, 1)}
        self.session.send("Storage.overrideQuotaForOrigin", {"origin": self.url, **size})

    def used(self) -> int:
        estimate = "async () => (await navigator.storage.estimate()).usage"
        return int(self.page.evaluate(estimate))

    def open_with_free(self, free: int) -> Page:
        """The same phone, opened again with so many bytes free, without signal."""
        assert self.context is not None
        self.context.close()
        self.free = None
        self.open(offline=True)  # what was dropped before is gone from the disk now
        self.free = self.used() + free
        self.context.close()
        return self.open(offline=True)


def take(page: Page, photo: bytes) -> None:
    page.get_by_test_id("photo").set_input_files(
        {"name": "casing.jpg", "mimeType": "image/jpeg", "buffer": photo}
    )


def test_what_a_locked_or_revoked_phone_cannot_send_goes_to_the_office_in_a_file(
    web: Stack, open_app: OpenApp, tmp_path: Path
) -> None:
    app = open_app()
    page = app.page
    label = web.cast["labels"].pop()
    app.set_offline(True)
    app.add(label, 6, 7, photo=noise(640, 480))
    app.expect_waiting(1)
    web.call(f"people.revoke_device(uid={newest_device(web)!r})")
    app.by_hand()
    page.get_by_test_id("lock-now").click()
    expect(page.get_by_test_id("lock")).to_be_visible()

    page.get_by_test_id("device-open").click()
    expect(page.get_by_test_id("device-waits")).to_contain_text("1 entry")
    expect(page.get_by_test_id("device-waits")).to_contain_text("1 photo or signature")
    assert label not in page.locator("main").inner_text(), "it is locked: how many, never what"
    expect(page.get_by_test_id("device-room")).to_contain_text("free")
    expect(page.get_by_test_id("device-build")).not_to_have_text("unknown")
    with page.expect_download() as coming:
        page.get_by_test_id("device-save").click()
    file = tmp_path / coming.value.suggested_filename
    coming.value.save_as(file)
    said = page.get_by_test_id("device-saved")
    expect(said).to_contain_text("1 entry and 1 photo or signature saved as unsent-Truck-4-phone-")
    assert label.encode() not in file.read_bytes()

    assert "(revoked)" in web.manage("import_unsent", "--look", str(file))
    came = web.manage("import_unsent", "--although-shut-out", str(file))
    assert "1 accepted; 0 were here before; 1 photos" in came
    assert facts(web, label) == 1
    (photo,) = web.rows("SELECT told->'photos'->>0 FROM custody_fact WHERE label = %s", label)[0]
    assert web.rows("SELECT count(*) FROM sync_photo WHERE sha256 = %s", photo) == [(1,)]
    expect(page.get_by_test_id("device-waits")).to_contain_text("1 entry")

    # Enrolled again it sends the same once more: nothing is doubled.
    app.set_offline(False)
    page.get_by_test_id("enrol-again").click()
    page.get_by_test_id("enrol-code").fill(web.fresh_code())
    page.get_by_test_id("enrol-submit").click()
    app.choose(web.cast["driver"])
    app.expect_waiting(0)
    assert facts(web, label) == 1


def test_a_phone_that_fills_up_makes_photos_smaller_and_loses_nothing(
    web: Stack, playwright: Playwright, chromium: str
) -> None:
    app = Tight(playwright, chromium, web.url)
    try:
        fill_up(web, app)
    finally:
        app.close()


def fill_up(web: Stack, app: Tight) -> None:
    app.enrol(web.fresh_code(), web.cast["driver"])
    app.start_pickup(web.cast["yard"])
    page = app.page
    answered, small = web.cast["labels"].pop(), web.cast["labels"].pop()
    app.add(answered, 6, photo=noise(1600, 1200))
    app.expect_standing(answered, "recorded")
    expect(page.get_by_test_id("photos-waiting")).to_have_count(0)

    page = app.open_with_free(400 * KB)
    page.locator("[data-testid^='open-']").first.click()
    app.add(small, 6, 7, photo=noise(3000, 2000))
    app.expect_waiting(1)
    expect(page.get_by_test_id("tight")).to_contain_text("made smaller")

    app.free = None
    app.kill()
    app.open()
    app.expect_waiting(0)
    assert [facts(web, label) for label in (answered, small)] == [1, 1]
    sizes = {
        label: web.rows(
            "SELECT p.width FROM custody_fact f, jsonb_array_elements_text(f.told->'photos') h,"
            " sync_photo p WHERE p.sha256 = h AND f.label = %s",
            label,
        )
        for label in (answered, small)
    }
    assert sizes[answered] == [(1600,)]
    assert [width < 1600 for (width,) in sizes[small]] == [True], "smaller than where there is room"


def test_the_screen_about_the_device_has_no_barrier_in_either_language(
    web: Stack, open_app: OpenApp
) -> None:
    app = open_app()
    page = app.page
    app.set_offline(True)
    app.add(web.cast["labels"].pop(), 6, photo=noise(640, 480))
    page.get_by_test_id("device-open").click()
    expect(page.get_by_test_id("device-room")).to_contain_text("free")
    look(page)
    page.get_by_test_id("language").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Este dispositivo")
    look(page)
