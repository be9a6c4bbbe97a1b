"""A tablet at a plant's station: what the floor's journeys do on it, and what comes to it."""

import json
from typing import Any
from uuid import UUID

from playwright.sync_api import Page, expect

from pickups.kernel.ids import derived, uuid7
from tests.journeys.app import App
from tests.journeys.cargo import PICKED_UP, Cargo
from tests.world.stack import Stack

UPRIGHT, LYING = (800, 1280), (1280, 800)


class Tablet(App):
    """Enrolled at the plant, and as large as a tablet."""

    def open(self, *, offline: bool = False) -> Page:
        """Start the browser on the same profile and open the app."""
        page = super().open(offline=offline)
        page.set_viewport_size({"width": UPRIGHT[0], "height": UPRIGHT[1]})
        return page

    def stand_at(self, station: str) -> None:
        """Choose the station; returns when it waits for a scan."""
        if self.page.get_by_test_id("station-choice").count() == 0:
            self.page.get_by_test_id("station-change").click()
        self.page.get_by_test_id(f"station-{station}").click()
        expect(self.page.get_by_test_id("station-change")).to_be_visible()
        expect(self.page.get_by_test_id("label")).to_be_visible()

    def scan(self, label: str) -> None:
        """Type a label and Enter, as eight symbols; returns when its casing is there."""
        page = self.page
        page.get_by_test_id("label").fill(label)
        page.get_by_test_id("label").press("Enter")
        expect(page.get_by_test_id("at-casing")).to_have_attribute("data-label", label)

    def answer(self, label: str, outcome: str) -> None:
        """Press an answer; returns when the tablet has kept it."""
        page = self.page
        page.get_by_test_id(f"answer-{outcome}").click()
        expect(page.get_by_test_id(f"last-{label}")).to_be_visible()

    def find(self, zone: str, kind: str, mm: int | None) -> None:
        """Three taps: where, what, how large."""
        page = self.page
        page.get_by_test_id(f"zone-{zone}").click()
        page.get_by_test_id(f"kind-{kind}").click()
        if mm is not None:
            page.get_by_test_id(f"mm-{mm}").click()
        page.get_by_test_id("finding-done").click()


def staffed(web: Stack) -> Stack:
    """A stack whose plant has an operator, and somebody who answers for it."""
    cast = web.cast
    if "operator" not in cast:
        cast["operator"] = web.call(f"hire({cast['plant']!r}, 'plant', 'Kit', 'Arlo')").strip()
        cast["foreman"] = web.call(f"hire({cast['plant']!r}, 'admin', 'Bea', 'Lund')").strip()
        web.call("settle()")
    return web


def told(web: Stack, label: str) -> list[dict[str, Any]]:
    """What stations told under a label, in the order of recording."""
    query = "SELECT body FROM inspection_station_event WHERE label = %s ORDER BY happened_at"
    return [body for (body,) in web.rows(query, label)]


def ordered(cargo: Cargo, **wanted: str) -> str:
    """One casing picked up some days ago with what is wanted of it; its label."""
    cast, phone = cargo.stack.cast, cargo.phone
    label, pickup, yard = str(cast["labels"].pop()), uuid7(), UUID(cast["yard"])
    payload = {"pickup": str(pickup), "yard": str(yard), "label": label, "size": "295/75R22.5"}
    phone.ahead = -PICKED_UP
    told = phone.enter("custody.pick_up", {**payload, "work": "retread", **wanted}, version=3)
    phone.finish(pickup, yard, [told["id"]])
    cargo.push()
    cargo.orders[label] = told["id"]
    return label


def truck(web: Stack, store: str, driver: str, way: str, **stop: list[str]) -> tuple[str, str]:
    """A run of today that calls at the plant; its id and that of its list for a way."""
    stops = [{"site": web.cast["plant"], **stop}]
    made = json.loads(web.call(f"hand_sheet({store!r}, {driver!r}, {stops!r})").splitlines()[-1])
    web.call("settle()")
    return made["run"], str(derived(UUID(made["stops"][0]), way))
