"""The dispatcher of the demo's day: writes a load sheet through the office's pages."""

import re
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from pickups.config.demo.doors import Office

_GROUP = re.compile(r'aria-labelledby="g-([0-9a-f-]{36})".*?name="all" value="([^"]+)"', re.DOTALL)
_SEEN = re.compile(r'name="seen" value="(\d+)"')
_SHEET = re.compile(r"/office/sheets/([0-9a-f-]{36})/")
_STOP = re.compile(r'/stops/([0-9a-f-]{36})"')
WINDOWS = (("09:00", "10:00"), ("10:00", "11:30"), ("13:00", "14:00"), ("14:00", "15:30"))


@dataclass
class Dispatcher:
    """Somebody signed in at the office, and the sheet that they write today."""

    office: Office
    store: str
    driver: str
    vehicle: str
    sheet: str = ""

    def write(self, today: date, *, most: int) -> int:
        """Draw a sheet up, put what is loose on it, hand it over; returns its stops."""
        self.office.get(reverse("sheets"))
        head = {"store": self.store, "start": self.store, "kind": "route", "on": today}
        self.office.post(
            reverse("draw-up"), driver=self.driver, vehicle=self.vehicle, note="", **head
        )
        found = _SHEET.search(self.office.at)
        assert found is not None
        self.sheet = found.group(1)
        for _, casings in _GROUP.findall(self.office.page)[:most]:
            self._step("put", all=casings)
        stops = list(dict.fromkeys(_STOP.findall(self.office.page)))
        for stop, (begins, to) in zip(stops, WINDOWS, strict=False):
            said = {"begins": begins, "to": to, "fetch": 2, "note": ""}
            path = reverse("set-stop", kwargs={"uid": self.sheet, "stop": stop})
            self.office.post(path, seen=self._seen(), **said)
        if stops:
            self._step("hand")
        else:
            path = reverse("throw-away", kwargs={"uid": self.sheet})
            self.office.get(f"{path}?seen={self._seen()}")
            self.office.post(f"{path}?seen={self._seen_in_address()}")
            self.sheet = ""
        return len(stops)

    def back(self) -> None:
        """The truck is back."""
        if self.sheet:
            self.office.get(reverse("sheet", kwargs={"uid": self.sheet}))
            self._step("come-back")

    def _step(self, name: str, **fields: object) -> None:
        self.office.post(reverse(name, kwargs={"uid": self.sheet}), seen=self._seen(), **fields)

    def _seen_in_address(self) -> str:
        return self.office.at.partition("seen=")[2]

    def _seen(self) -> str:
        found = _SEEN.search(self.office.page)
        return found.group(1) if found else ""
