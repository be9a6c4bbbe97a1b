"""Hands at the sheet, counted: every input event, and seconds by the keystroke-level model.

Card, Moran and Newell, The keystroke-level model for user performance time with interactive
systems, Communications of the ACM 23(7), 1980, pages 396-410. Its operators, in seconds: K a key,
0.28 for an average non-secretary typist and 0.20 for an average skilled one; P to point, 1.1; H a
hand from one device to another, 0.40; M to make up one's mind, 1.35. What is measured with a gauge
or read off a sidewall is no part of it. A scan is one event: P to aim, K for the trigger, H there
and back. A tap is P, which was measured with a mouse over a screen and is rather too long.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from playwright.sync_api import Page, expect

K_S, K_SKILLED_S, P_S, H_S, M_S = 0.28, 0.20, 1.1, 0.40, 1.35
AT_MOST = 16
"""Input events a casing with six tread readings: the aim."""
A_BREATH_MS = 130
"""Longer than a scanner takes from key to key: without it a robot types like one."""
LONG = 6
"""Keys in a row that a robot may type without a breath."""


@dataclass(frozen=True)
class Found:
    """What a driver finds at one casing; treads by place and groove, in 1/32 inch."""

    label: str
    tin: str
    size: str
    treads: Sequence[Sequence[int]]


@dataclass
class Hand:
    """One hand at one page."""

    page: Page
    operators: Counter[str] = field(default_factory=Counter)
    events: int = 0

    def seconds(self, key_s: float = K_S) -> float:
        """What the model says of all that was done."""
        each = {"K": key_s, "P": P_S, "H": H_S, "M": M_S}
        return sum(each[operator] * times for operator, times in self.operators.items())

    def mind(self) -> None:
        """Look, and know what comes next."""
        self.operators["M"] += 1

    def keys(self, *names: str) -> None:
        """Keys one by one."""
        for name in names:
            if len(names) > LONG or name == "Enter":
                self.page.wait_for_timeout(A_BREATH_MS)
            self.page.keyboard.press(name)
        self.events += len(names)
        self.operators["K"] += len(names)

    def tap(self, name: str) -> None:
        """A control under the thumb."""
        self.page.get_by_test_id(name).click()
        self.events += 1
        self.operators["P"] += 1

    def scan(self, code: str) -> None:
        """A wedge scanner: keys without a pause, and Enter."""
        self.page.keyboard.type(code)
        self.page.keyboard.press("Enter")
        self.events += 1
        self.operators.update(["H", "P", "K", "H"])

    def label(self, way: str, code: str, *, first: bool) -> None:
        """By scanner; or typed, of the roll's next its last three symbols."""
        self.mind()
        if way == "typed":
            self.keys(*(code if first else code[-3:]), "Enter")
        else:
            self.scan(code)
        expect(self.page.get_by_test_id("tin")).to_be_focused()

    def treads(self, way: str, places: Sequence[Sequence[int]], *, first: bool) -> None:
        """Each depth is a thought of its own; the first casing says where a place ends."""
        for at, place in enumerate(places):
            if at > 0 and first:
                self.tap("tread-turn") if way == "thumb" else self.keys("/")
            for depth in place:
                self.mind()
                self.tap(f"tread-{depth}") if way == "thumb" else self.keys(*str(depth))


def enter(page: Page, way: str, casing: Found, *, first: bool) -> Hand:
    """One casing into the open sheet. way: "typed", "scanned" (both by keys) or "thumb"."""
    hand = Hand(page)
    hand.label(way, casing.label, first=first)
    hand.mind()
    hand.keys(*casing.tin)
    hand.mind()
    if first:
        hand.keys("Enter", *casing.size, "Enter")
    elif way == "thumb":
        hand.tap("same-again")
    else:
        hand.keys("=")
    hand.treads(way, casing.treads, first=first)
    hand.mind()
    hand.tap("save") if way == "thumb" else hand.keys("Enter")
    expect(page.get_by_test_id(f"casing-{casing.label}")).to_be_visible()
    expect(page.get_by_test_id("label")).to_be_focused()
    return hand


def run(page: Page, way: str, casings: Sequence[Found]) -> list[Hand]:
    """All of them, the first of a pickup in full."""
    page.get_by_test_id("label").focus()
    return [enter(page, way, casing, first=i == 0) for i, casing in enumerate(casings)]


def pile(labels: Sequence[str], size: str = "295/75R22.5") -> list[Found]:
    """Worn casings as a pile has them: of a size, pulled between 2/32 and 9/32."""
    return [
        Found(
            label,
            f"{1 + 7 * i % 52:02}{14 + i % 10}",
            size,
            [[2 + (i + groove + place) % 8 for groove in range(3)] for place in range(2)],
        )
        for i, label in enumerate(labels)
    ]
