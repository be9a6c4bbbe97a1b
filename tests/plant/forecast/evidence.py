"""The evidence that a promise holds: reached coverage and lengths of each regime, as figures.

`python -m tests.plant.forecast.evidence` (make coverage) plays all regimes whole and writes a
report as text and JSON into .var/; REGIME=calm plays one, WEEKS=6 fewer weeks. Aims that are not
reached are named, and it ends with 1.
"""

import json
import math
import os
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from pickups.config.places import PROJECT
from tests.plant.forecast.promising import Promised, forecasts, promised
from tests.plant.forecast.regimes import (
    AIMS,
    ASKED,
    LEAST,
    REGIMES,
    SHOCKS_END_H,
    WEEKS,
    Regime,
    at_equal_coverage,
    played,
)  # fmt: skip
from tests.plant.forecast.trueplant import CLOSES, OPENS, WEEK

METHODS = {
    "ours": "ours: simulated and corrected",
    "raw": "ours, not corrected",
    "days": "(a) fixed number of working days",
    "past": "(b) the past's quantile",
    "nearest": "(c) given casings in process: nearest",
    "along": "(c) given casings in process: line",
}
TRUCK_H = 17.0
"""A truck to the store leaves each working day at this hour; a promise is rounded up to it."""
MONTH = 4
"""Weeks."""
OUT = PROJECT / ".var"
Figures = dict[str, Any]
EQUAL = "mean h at equal coverage"


@dataclass(frozen=True)
class Share:
    """A share kept, and 95 % limits where casings of a cluster are late together."""

    n: int
    kept: float
    low: float
    high: float


def clustered(kept: np.ndarray, cluster: np.ndarray) -> Share:
    """The ratio estimator with clusters as the units (Cochran, Sampling Techniques 1977, 6.3)."""
    n, share = len(kept), float(kept.mean())
    _, of = np.unique(cluster, return_inverse=True)
    off = np.bincount(of, weights=kept - share)
    many = len(off)
    error = math.sqrt(float((off**2).sum()) / n**2 * many / max(many - 1, 1))
    return Share(n, share, share - 1.96 * error, share + 1.96 * error)


def wilson(kept: int, n: int, z: float = 1.96) -> float:
    """The lower limit of a share (Wilson, JASA 1927)."""
    share = kept / n
    middle = share + z * z / (2 * n)
    spread = z * math.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    return (middle - spread) / (1 + z * z / n)


def column(rows: Sequence[Promised], name: str) -> np.ndarray:
    return np.array([getattr(one, name) for one in rows], dtype=np.float64)


def months(rows: Sequence[Promised], first_h: float, last_h: float) -> list[tuple[float, float]]:
    """(week it begins, Wilson's lower limit) of every MONTH that begins a week after first_h or
    later, in steps of a week, and ends by last_h."""
    at = column(rows, "at")
    kept = column(rows, "took") <= column(rows, "ours")
    found = []
    begin = first_h + WEEK
    while begin + MONTH * WEEK <= last_h:
        here = kept[(at >= begin) & (at < begin + MONTH * WEEK)]
        if len(here):
            found.append((begin / WEEK, wilson(int(here.sum()), len(here))))
        begin += WEEK
    return found


def by_truck(rows: Sequence[Promised], position: np.ndarray, name: str) -> np.ndarray:
    """Whether each was finished when the truck left that its promise is rounded up to. position:
    worked hours on the clock of the plant at which it was promised."""
    a_day, leaves = CLOSES - OPENS, TRUCK_H - OPENS
    due = position + column(rows, name)
    truck = np.ceil((due - leaves) / a_day) * a_day + leaves
    kept: np.ndarray = position + column(rows, "took") <= truck
    return kept


def figures(regime: Regime, rows: Sequence[Promised], position: np.ndarray) -> Figures:
    took, load = column(rows, "took"), column(rows, "load")
    week = column(rows, "at") // WEEK
    found: Figures = {"promises": len(rows), "loads": len(np.unique(load))}
    for name in METHODS:
        lengths = column(rows, name)
        kept = (took <= lengths).astype(float)
        by_load, by_week = clustered(kept, load), clustered(kept, week)
        found[name] = {
            "kept": by_load.kept,
            "by load": [by_load.low, by_load.high],
            "by week": [by_week.low, by_week.high],
            "mean h": float(lengths.mean()),
            EQUAL: at_equal_coverage(lengths.tolist(), took.tolist()),
            "kept by the truck": float(by_truck(rows, position, name).mean()),
        }
    if regime.outages:
        last = float(column(rows, "at").max()) + 1e-6
        found["after a shock"] = [
            list(one)
            for begun, until in zip(SHOCKS_END_H, [*SHOCKS_END_H[1:], last], strict=True)
            for one in months(rows, begun, until)
        ]
    return found


def missed(regime: Regime, found: Figures) -> list[str]:
    """The aims that these figures do not reach."""
    said = []
    ours = found["ours"]
    if regime.name == "calm":
        if not AIMS.calm[0] <= ours["kept"] <= AIMS.calm[1]:
            said.append(f"calm: kept {ours['kept']:.3f}, aim {AIMS.calm[0]} to {AIMS.calm[1]}")
        if found["promises"] < LEAST:
            said.append(f"calm: {found['promises']} promises, aim {LEAST}")
    than = {"past": AIMS.than_past, "nearest": AIMS.than_in_process, "along": AIMS.than_in_process}
    for name, aim in than.items():
        ratio = ours[EQUAL] / found[name][EQUAL]
        if ratio > aim:
            said.append(f"{regime.name}: {ratio:.2f} of the length of {METHODS[name]}, aim {aim}")
    for week, low in found.get("after a shock", []):
        if low < AIMS.after_shock:
            said.append(f"month from week {week:.1f}: Wilson {low:.3f}, aim {AIMS.after_shock}")
    return said


def text(regime: Regime, found: Figures) -> str:
    """A table of one regime, Markdown."""
    heads = ("promise, asked 90 %", "kept", "95 % by load", "by week", "mean h",
             "at equal coverage", "of (b)", "kept by the truck")  # fmt: skip
    lines = [
        f"### {regime.name}: {found['promises']:,} promises in {found['loads']} cure loads",
        "",
        f"| {' | '.join(heads)} |",
        "|---" * len(heads) + "|",
    ]
    for name, says in METHODS.items():
        one = found[name]
        lines.append(
            f"| {says} | {one['kept']:.1%} | {_limits(one['by load'])} | {_limits(one['by week'])}"
            f" | {one['mean h']:.1f} | {one[EQUAL]:.1f} | {one[EQUAL] / found['past'][EQUAL]:.2f}"
            f" | {one['kept by the truck']:.1%} |"
        )
    if after := found.get("after a shock"):
        lowest = min(low for _, low in after)
        months_said = f"From a week after each shock on, {len(after)} months"
        lines += ["", f"{months_said}: the lowest of their Wilson limits is {lowest:.1%}."]
    return "\n".join(lines)


def _limits(pair: Sequence[float]) -> str:
    return f"{pair[0]:.1%} to {pair[1]:.1%}"


def tried(regime: Regime, weeks: int) -> Figures:
    """Play a regime, promise, and hold against what came."""
    history, days = played(regime)
    rows = promised(history, days, forecasts(history, days, weeks))
    position = np.array([days.worked(0.0, one.at) for one in rows])
    return figures(regime, rows, position)


def main() -> int:
    weeks = int(os.environ.get("WEEKS", WEEKS))
    wanted = os.environ.get("REGIME")
    kept: dict[str, Any] = {"weeks": weeks}
    tables: list[str] = []
    failed: list[str] = []
    for regime in REGIMES:
        if wanted not in (None, regime.name):
            continue
        begun = time.perf_counter()
        found = tried(regime, weeks)
        found["took s"] = round(time.perf_counter() - begun)
        found["missed"] = missed(regime, found)
        failed += found["missed"]
        kept[regime.name] = found
        tables.append(text(regime, found))
        print(tables[-1] + "\n", flush=True)
        _write(kept, tables, failed)
    print(f"Aims not reached: {'; '.join(failed) or 'none'}.")
    return 1 if failed else 0


def _write(kept: dict[str, Any], tables: Sequence[str], failed: Sequence[str]) -> None:
    """After each regime, so that what is known survives who stops it."""
    head = f"Promised at {ASKED:.0%}, {kept['weeks']} weeks a plant; hours are worked hours."
    last = f"Aims not reached: {'; '.join(failed) or 'none'}."
    OUT.mkdir(exist_ok=True)
    (OUT / "coverage.md").write_text("\n\n".join((head, *tables, last)) + "\n")
    (OUT / "coverage.json").write_text(json.dumps(kept, indent=2) + "\n")


if __name__ == "__main__":
    sys.exit(main())
