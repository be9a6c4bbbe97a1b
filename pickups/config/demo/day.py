"""One working day at the demo's dealer, played against the running product through its doors.

Each scene takes a moment, so that somebody who watches the load sheets, the casings' pages and the
caught mails sees it happen. It can be played again: it takes what waits on the day.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from pickups.config.demo.crew import Dock, Hand
from pickups.config.demo.sheets import Dispatcher

Scene = tuple[str, Callable[[], str]]

NEXT = {
    "": ("receiving", "received"),
    "receiving": ("initial-inspection", "passed"),
    "initial-inspection": ("shearography", "passed"),
    "shearography": ("buffing", "passed"),
    "repair": ("buffing", "passed"),
    "buffing": ("building", "passed"),
    "building": ("curing", "passed"),
    "curing": ("final-inspection", "passed"),
    "final-inspection": ("paint", "finished"),
}
"""Where this plant's gateway scans, and what comes after what."""

NEW: tuple[dict[str, Any], ...] = (
    {
        "size": "295/75R22.5",
        "rating": "G 144/141L",
        "brand": "Corvane",
        "tins": [{"tin": "ZZ4 5KD 1422", "made": "new"}],
        "treads_32nds": [[5, 6, 5, 6], [5, 5, None, 6]],
        "position": "drive",
        "unit": "D21",
        "findings": [{"zone": "crown", "kind": "nail_hole", "mm": 5, "count": 2}],
    },
    {
        "size": "11R22.5",
        "brand": "Lathmore",
        "tins": [{"tin": "ZZ7 6TE 3020", "made": "new"}, {"tin": "QF3 0823", "made": "retread"}],
        "treads_32nds": [[4, 4, 5, 4]],
        "unit": "D34",
        "pulled_for": "worn",
    },
)
"""What is fetched at every stop."""
SOLD: dict[str, Any] = {
    "line": "sell",
    "size": "11R24.5",
    "brand": "Tall Pine",
    "tins": [{"tin": "ZZ2 4XC 2318", "made": "new"}],
    "treads_32nds": [[8, 9, 9, 8]],
    "sale": {"grade": "B", "cents": 4500, "pays": "price"},
}
WHEEL = {**NEW[1], "line": "wheel_tire", "rim": "steel", "valve_out": True, "unit": "D35"}
SCRAP: dict[str, Any] = {"count": 4, "fee_cents": 350, "manifest": "SM-20440"}
STAYS: dict[str, Any] = {
    "size": "11R22.5",
    "brand": "Hexholm",
    "findings": [{"zone": "sidewall", "kind": "run_flat", "side": "serial"}],
    "check": {"verdict": "leave", "because": ["stop_condition"]},
}
"""At the first stop too: one to sell, a wheel with its tire, scrap, and one that has to stay."""
MOST_STOPS = 4


@dataclass
class Day:
    """Who works today, and the labels that nobody has used."""

    today: date
    dispatcher: Dispatcher
    driver: Hand
    shuttle: Hand
    counter: Hand
    dock: Dock
    plant: str
    labels: Iterator[str]
    signers: dict[str, str]

    def scenes(self) -> list[Scene]:
        """The day in order; each says in a sentence what was done."""
        return [
            ("06:40", self.to_the_plant),
            ("07:15", self.write_the_sheet),
            ("07:40", self.load),
            ("08:30", self.work),
            ("09:30", lambda: self.stop(0)),
            ("10:30", lambda: self.stop(1)),
            ("11:00", self.at_the_counter),
            ("12:30", self.work),
            ("13:00", self.reject_one),
            ("13:30", lambda: self.stop(2)),
            ("14:30", lambda: self.stop(3)),
            ("15:20", self.home_from_the_plant),
            ("16:45", self.unload),
            ("17:10", self.truck_is_back),
        ]

    def to_the_plant(self) -> str:
        """The shuttle takes what waits on the rack; the dock scans it in."""
        rack, road = self.shuttle.rack, self.shuttle.me
        labels = _labels(self.shuttle, holder=rack, progress=("picked_up",))
        self.shuttle.scan(labels, "in", rack, road)
        self.shuttle.scan(labels, "in", road, self.plant)
        self.dock.post("receiving", "received", labels)
        return f"The shuttle brings {len(labels)} casings to the plant; its dock scans them in."

    def write_the_sheet(self) -> str:
        """The dispatcher's load sheet."""
        stops = self.dispatcher.write(self.today, most=MOST_STOPS)
        if not stops:
            return "Nothing is loose that could go home: no load sheet today."
        return f"The dispatcher hands a load sheet with {stops} stops to the driver."

    def load(self) -> str:
        """The driver scans his drops at the rack, last stop first."""
        casings = self.driver.casings()
        labels = [
            casings[uid]["label"]
            for stop in reversed(self._stops())
            for uid in stop["drop"]
            if uid in casings and casings[uid]["holder"] == self.driver.rack
        ]
        self.driver.scan(labels, "out", self.driver.rack, self.driver.me)
        return f"The driver loads {len(labels)} casings by scan."

    def work(self) -> str:
        """Every casing in the plant goes one station further."""
        by_step: dict[tuple[str, str], list[str]] = {}
        for row in self.shuttle.casings(holder=self.plant).values():
            working = row["progress"] in ("received", "in_work") and not row["on_hold"]
            if working and row["station"] in NEXT:
                by_step.setdefault(NEXT[row["station"]], []).append(row["label"])
        for (station, outcome), labels in by_step.items():
            self.dock.post(station, outcome, labels)
        count = sum(map(len, by_step.values()))
        return f"The plant works: {count} casings go a station further."

    def reject_one(self) -> str:
        """An inspector finds what cannot be repaired."""
        rows = self.shuttle.casings(holder=self.plant, progress=("in_work", "received")).values()
        found = [row["label"] for row in rows if not row["on_hold"]][:1]
        finding = {"zone": "shoulder", "kind": "separation", "size_mm": 60}
        why: dict[str, Any] = {"reason": "SEPARATION", "cause": "casing", "findings": [finding]}
        self.dock.post("shearography", "rejected", found, **why)
        said = "One casing is" if found else "No casing is"
        return f"{said} rejected at shearography; its owner hears why."

    def stop(self, at: int) -> str:
        """One stop: what is dropped with a signature, then what is fetched."""
        stops = self._stops()
        if at >= len(stops):
            return "The driver is on the road."
        stop = stops[at]
        yard, signer = stop["yard"], self.signers[stop["yard"]]
        casings = self.driver.casings(holder=self.driver.me)
        labels = [casings[uid]["label"] for uid in stop["drop"] if uid in casings]
        if labels:
            self.driver.deliver(yard, labels, signer=signer)
        kinds = (*NEW, SOLD, WHEEL) if at == 0 else NEW
        taken = [{**one, "label": next(self.labels)} for one in kinds]
        scrap, left = (SCRAP, STAYS) if at == 0 else (None, None)
        days = self.driver.pick_up(
            yard, taken, day=self.today, signer=signer, scrap=scrap, left=left
        )
        due = f", promised for {days[-1]}" if days else ", no day promised"
        place = self.driver.yard(yard)
        due += f"; {SCRAP['count']} counted as scrap, 1 stays there" if scrap else ""
        return f"{place}: {len(labels)} handed back, {len(taken)} picked up{due}; signed."

    def at_the_counter(self) -> str:
        """Somebody fetches, and brings others."""
        waiting = self.counter.casings(holder=self.counter.rack, progress=("shipped", "finished"))
        mine = [row for row in waiting.values() if row["back_to"] == "store"]
        fetched = [row for row in mine if row["yard"] == mine[0]["yard"]]
        yard = mine[0]["yard"] if mine else next(iter(self.signers))
        signer = self.signers[yard]
        if fetched:
            labels = [row["label"] for row in fetched]
            self.counter.deliver(yard, labels, signer=signer, at_counter=True)
        brought = [{**NEW[0], "label": next(self.labels)}]
        self.counter.pick_up(yard, brought, day=self.today, signer=signer, at_counter=True)
        return f"At the counter: {len(fetched)} fetched by their owner, 1 dropped off."

    def home_from_the_plant(self) -> str:
        """What is finished or rejected comes to the rack: ready, and their owners hear it."""
        done = _labels(self.shuttle, holder=self.plant, progress=("finished", "rejected"))
        self.dock.post("shipping", "shipped", done)
        self.shuttle.scan(done, "out", self.plant, self.shuttle.me)
        self.shuttle.scan(done, "out", self.shuttle.me, self.shuttle.rack)
        return f"The shuttle brings {len(done)} casings from the plant to the rack."

    def unload(self) -> str:
        """What was picked up goes on the rack."""
        labels = _labels(self.driver, holder=self.driver.me, progress=("picked_up",))
        self.driver.scan(labels, "in", self.driver.me, self.driver.rack)
        return f"The driver unloads {len(labels)} casings on the rack."

    def truck_is_back(self) -> str:
        """The sheet is done."""
        self.dispatcher.back()
        return "The truck is back; the sheet is closed."

    def _stops(self) -> Sequence[dict[str, Any]]:
        self.driver.phone.pull_all()
        runs = self.driver.phone.seen("run")  # also sheets that somebody else has written today
        mine = runs.get(self.dispatcher.sheet, {}) if self.dispatcher.sheet else {}
        return [stop for stop in mine.get("stops", []) if stop["yard"]]


def _labels(hand: Hand, *, holder: str, progress: Sequence[str]) -> list[str]:
    return [row["label"] for row in hand.casings(holder=holder, progress=progress).values()]
