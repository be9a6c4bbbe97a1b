"""Pro-rata credit for a failed retread: price times the tread that was left to use. Pure.

credit = price x (remaining - pull) / (original - pull), between nothing and the price. Depths in
32nds of an inch; remaining is the mean of the readings; pull is the depth at which the tread would
have been taken off, stated with every decision. Rounded to the cent, half up. Common practice, no
published source; what a dealer or a supplier has agreed to otherwise goes before it. Nothing here
says why a tire failed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from pickups.kernel.wire import Fault, Malformed

DEEPEST_32NDS = 40
MOST_CENTS = 1_000_000
"""A price beyond is taken for a slip. Our own figure."""


@dataclass(frozen=True, slots=True)
class Terms:
    """price_cents: of the retread, without the casing. original_32nds: as it was new."""

    price_cents: int
    original_32nds: int
    pull_32nds: int

    def __post_init__(self) -> None:
        """Raises Malformed for what cannot be divided by, or is no depth."""
        if not 0 <= self.price_cents <= MOST_CENTS:
            raise Malformed(Fault("price", str(self.price_cents), f"0 to {MOST_CENTS // 100}"))
        if not 0 < self.original_32nds <= DEEPEST_32NDS:
            raise Malformed(Fault("original", str(self.original_32nds), f"1 to {DEEPEST_32NDS}"))
        if not 0 <= self.pull_32nds < self.original_32nds:
            allowed = f"0 to {self.original_32nds - 1}"
            raise Malformed(Fault("pull", str(self.pull_32nds), allowed))


def remaining(readings: Sequence[int]) -> Fraction:
    """The mean of what was measured, in 32nds; raises Malformed for none, or for no depth."""
    if not readings or not all(0 <= r <= DEEPEST_32NDS for r in readings):
        said = ", ".join(map(str, readings))
        raise Malformed(Fault("tread", said, f"readings from 0 to {DEEPEST_32NDS}"))
    return Fraction(sum(readings), len(readings))


def credit_cents(readings: Sequence[int], terms: Terms) -> int:
    """What is credited, in cents."""
    left = remaining(readings) - terms.pull_32nds
    share = min(Fraction(1), max(Fraction(0), left / (terms.original_32nds - terms.pull_32nds)))
    return int(terms.price_cents * share + Fraction(1, 2))
