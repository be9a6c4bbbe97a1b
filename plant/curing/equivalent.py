"""Equivalent cure time: how long a cure at one constant temperature would have done as much. Pure.

By the Arrhenius law the rate at temperature T (kelvin) is exp(E/R (1/T_ref - 1/T)) times that at
the reference, E the activation energy of the compound (J/mol), R = 8.314 462 618 J/(mol K) (CODATA
2018). The equivalent time is the integral of that over the record, straight lines between readings.

It is information. What E and T_ref are the supplier of the gum says; without them there is no
figure. It never turns a load that fell short into one that did not, and nothing here compares it
with anything. No published worked example for rubber was found that gives its record and its result
to the digit; the tests hold it against the law's closed form and an independent integration.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plant.curing.record import Stretch, stretches
from plant.curing.series import Reading
from plant.curing.units import KELVIN

GAS = 8.314462618
"""J/(mol K)."""
LEAST_KJ, MOST_KJ = 20.0, 300.0
"""kJ/mol; an activation energy beyond is taken for a slip of the unit. Our own figures."""

_NODES = ((0.0, 128 / 225),
          (math.sqrt(5 - 2 * math.sqrt(10 / 7)) / 3, (322 + 13 * math.sqrt(70)) / 900),
          (math.sqrt(5 + 2 * math.sqrt(10 / 7)) / 3, (322 - 13 * math.sqrt(70)) / 900))  # fmt: skip
"""Gauss-Legendre of five points on -1 to 1 (Abramowitz and Stegun 25.4.30), the half of them."""
_RULE = tuple((sign * x, w) for x, w in _NODES for sign in ((1, -1) if x else (1,)))
_STEP_K = 10.0
"""A ramp is cut into pieces of at most so many kelvin: the rule is then right to 1e-9 of it."""


@dataclass(frozen=True, slots=True)
class Law:
    """reference_c: °C. energy_kj: activation energy, kJ/mol."""

    reference_c: float
    energy_kj: float

    def rate(self, celsius: float) -> float:
        """How many times as fast as at the reference."""
        over = self.energy_kj * 1000 / GAS
        return math.exp(over * (1 / (self.reference_c + KELVIN) - 1 / (celsius + KELVIN)))


def seconds(readings: Sequence[Reading], law: Law, *, gap_s: float) -> float:
    """Equivalent seconds at the reference temperature. Gaps longer than gap_s count nothing."""
    return math.fsum(_of_stretch(piece, law) for piece in stretches(readings, gap_s))


def _of_stretch(piece: Stretch, law: Law) -> float:
    cuts = max(1, math.ceil(abs(piece.to_c - piece.from_c) / _STEP_K))
    slope = (piece.to_c - piece.from_c) / cuts
    middles = (piece.from_c + slope * (cut + 0.5) for cut in range(cuts))
    mean = math.fsum(
        w / 2 * law.rate(middle + slope / 2 * x) for middle in middles for x, w in _RULE
    )
    return mean / cuts * piece.seconds
