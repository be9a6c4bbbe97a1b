"""What was simulated, corrected by what became of casings lately. Pure, numpy alone.

Each prediction of a casing is a grid of quantiles. Where among them it was finished is its score:
the level at which the grid meets the hours that it took, going on in a straight line beyond both
ends. The calibrated p-quantile of a new casing is its own grid read at the p-quantile of past
scores (distributional conformal prediction: Chernozhukov, Wuethrich and Zhu, PNAS 2021; split
conformal: Vovk, Gammerman and Shafer 2005; Lei et al., JASA 2018).

The guarantee: if the new casing's score and the past ones are exchangeable (any order of them
equally likely) and all are known, it is finished within its calibrated p-quantile with probability
at least p, and at most p + 1/(n + 1) without ties, whatever the simulation is worth. `split` alone
is that, exactly. A plant breaks the assumption: work gets slower, a chamber stands still, casings
of one load come out together. Three things answer it, and none restores the guarantee as such:

* newer casings weigh more (Barber, Candes, Ramdas and Tibshirani, Ann. Stat. 2023: what is lost is
  at most the weighted distance from exchangeability);
* casings still inside count as taking longer than they have been there (product limit: Kaplan and
  Meier 1958), else a plant that comes to a stand would look fast: the slow are not finished yet;
* the level itself is moved by how past promises fared (adaptive conformal inference: Gibbs and
  Candes, NeurIPS 2021), which for any sequence whatever brings the long-run share to p.

What is scored is not what is offered. A score is of a casing that is inside: the first forecast of
it on the day that it came (arrival), and one a day after that (inside). The day offered where it is
handed over is of a casing that is still to come, corrected by the scores of arrivals; how far the
way to the dock, and what else comes until then, are off is in no score. So the guarantee is of the
plant, from its dock on. A casing that waits for days behind its first station is corrected as an
arrival though its later forecasts are scored as inside.

All lengths are corrected together. By classes of length the shortest promises were kept as often
as the others (89 instead of 83 in a hundred in a calm plant), but after a stand of two days its
casings then fill more than a tenth of a class, and for weeks promises were a quarter longer.

Hours are worked hours. The clock of asked_h and now_h is worked hours too, from any one origin.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LEVELS: tuple[float, ...] = tuple(round(0.02 * n + 0.01, 2) for n in range(50))
"""Of a grid: 0.01, 0.03 to 0.99."""
_AT = np.array(LEVELS)
_MIDDLE = len(LEVELS) // 2

LEAST = 100
"""Finished casings, below which nothing is corrected: 99 fix the 99 % point at their largest."""
NEWEST = 3_000
"""Predictions of a kind that are looked at."""
HALF = 1_500
"""So many predictions ago, one weighs half: in loads of 22, some seventy loads count. Our own."""
BLOCK = 50
"""Predictions that were made with one correction when the past is gone through again."""
GAIN = 0.01
"""How far a block moves the level, as a share of how far it was off. Our own."""
ASKED: tuple[float, ...] = (0.5, 0.7, 0.8, 0.9, 0.95, 0.99)
"""Levels whose share is followed; between them in a line."""
NARROW_H = 0.5
"""A grid's ends go on with at least this spread, so that a prediction without any can be wrong."""


class Scored(NamedTuple):
    """A prediction and what became of it. grid: as simulated, at LEVELS. took_h: inf while the
    casing is inside; what was rejected, lost or taken back is left out."""

    asked_h: float
    grid: Sequence[float]
    took_h: float
    kind: str = "arrival"


@dataclass(frozen=True, slots=True)
class Table:
    """Past scores of one kind, ascending; share: of a new casing's score at most this one;
    moved: by how much each of ASKED is asked for more (or less) than it says."""

    kind: str
    n: int
    pending: int
    scores: tuple[float, ...]
    share: tuple[float, ...]
    moved: tuple[float, ...]

    def at(self, levels: Floats) -> Floats:
        """The score at each level; the largest there is, beyond what so few can say."""
        knots = np.concatenate(([0.0], ASKED, [1.0]))
        aimed = np.concatenate(([0.0], np.asarray(ASKED) + self.moved, [1.0]))
        wanted = np.interp(levels, knots, np.maximum.accumulate(np.clip(aimed, 0, 1)))
        where = np.searchsorted(np.asarray(self.share), wanted - 1e-12, side="left")
        found: Floats = np.asarray(self.scores)[np.minimum(where, len(self.scores) - 1)]
        return found


@dataclass(frozen=True, slots=True)
class State:
    """What is corrected by. n: finished casings that count; tables: of kinds with enough."""

    n: int
    tables: tuple[Table, ...]

    @property
    def enough(self) -> bool:
        return bool(self.tables)

    def table(self, kind: str) -> Table | None:
        return next((one for one in self.tables if one.kind == kind), None)

    def says(self) -> str:
        if not self.enough:
            return (
                f"Not corrected: {self.n} finished casings are known, {LEAST} are needed. The "
                "quantiles are the simulation's own."
            )
        return "; ".join(
            f"{one.kind}: corrected by {one.n} finished casings, {one.pending} still inside"
            for one in self.tables
        )

    def plain(self) -> dict[str, Any]:
        """As JSON can hold it."""
        return asdict(self)

    @classmethod
    def of(cls, plain: Mapping[str, Any]) -> "State":
        return cls(
            plain["n"],
            tuple(
                Table(
                    one["kind"],
                    one["n"],
                    one["pending"],
                    scores=tuple(one["scores"]),
                    share=tuple(one["share"]),
                    moved=tuple(one["moved"]),
                )
                for one in plain["tables"]
            ),
        )


NOTHING = State(0, ())


def grid(samples: Floats) -> Floats:
    """Quantiles at LEVELS of each column's finite samples [S, N] -> [N, len(LEVELS)]; a row of inf
    where a column has none."""
    ordered = np.sort(samples, axis=0)
    many = np.isfinite(ordered).sum(axis=0)
    rank = np.ceil(many[:, None] * _AT - 1e-9).astype(np.int64) - 1
    found: Floats = ordered[np.clip(rank, 0, None), np.arange(samples.shape[1])[:, None]]
    return found


def score(quantiles: Floats, hours: Floats) -> Floats:
    """Where hours[N] lie among quantiles [N, len(LEVELS)]: the lowest level that reaches them."""
    low, high, upper, lower = _ends(quantiles)
    i = np.clip((quantiles < hours[:, None]).sum(axis=1), 1, len(LEVELS) - 1)
    rows = np.arange(len(hours))
    left, right = quantiles[rows, i - 1], quantiles[rows, i]
    with np.errstate(invalid="ignore", divide="ignore"):
        inside = _AT[i - 1] + (_AT[i] - _AT[i - 1]) * (hours - left) / (right - left)
    beyond = np.where(hours > high, _AT[-1] + (hours - high) / upper, inside)
    found: Floats = np.where(hours <= low, _AT[0] - (low - hours) / lower, beyond)
    return found


def hours_at(quantiles: Floats, scores: Floats) -> Floats:
    """The other way: the hours at which each row of quantiles meets each score, [N, len(scores)];
    never below 0."""
    low, high, upper, lower = (one[:, None] for one in _ends(quantiles))
    i = np.clip(np.searchsorted(_AT, scores, side="left"), 1, len(LEVELS) - 1)
    along = (scores - _AT[i - 1]) / (_AT[i] - _AT[i - 1])
    left = quantiles[:, i - 1]
    inside = left + (quantiles[:, i] - left) * along
    beyond = np.where(scores > _AT[-1], high + (scores - _AT[-1]) * upper, inside)
    found = np.where(scores <= _AT[0], low - (_AT[0] - scores) * lower, beyond)
    never_before: Floats = np.maximum(found, 0.0)
    return never_before


def _ends(quantiles: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Of each row its lowest and highest, and hours that one whole level is worth beyond each."""
    low, middle, high = quantiles[:, 0], quantiles[:, _MIDDLE], quantiles[:, -1]
    return low, high, np.maximum(high - middle, NARROW_H), np.maximum(middle - low, NARROW_H)


def split(scores: Iterable[float]) -> tuple[Floats, Floats]:
    """Split conformal: scores ascending, and the share of a new score at most each of them: of n
    the k-th has k/(n + 1)."""
    ordered = np.sort(np.fromiter(scores, np.float64))
    share: Floats = np.arange(1.0, len(ordered) + 1) / (len(ordered) + 1)
    return ordered, share


def limit(scores: Floats, finished: NDArray[np.bool_], weights: Floats) -> tuple[Floats, Floats]:
    """The same where newer ones weigh more and some are only known to be larger: the product limit
    estimate with the new casing among those at risk, its score taken for the largest. With all
    finished and weights of 1 it is `split`."""
    order = np.lexsort((~finished, scores))
    ordered, done, weight = scores[order], finished[order], weights[order]
    at_risk = np.cumsum(weight[::-1])[::-1] + 1.0
    survives = np.cumprod(1.0 - np.where(done, weight / at_risk, 0.0))
    share: Floats = np.subtract(1.0, survives)
    return ordered, share


def state(
    scored: Sequence[Scored], now_h: float, *, half: float = HALF, gain: float = GAIN
) -> State:
    """What to correct by at now_h, from predictions made before; in any order."""
    tables = []
    finished = 0
    for kind in sorted({one.kind for one in scored}):
        past = sorted((s for s in scored if s.kind == kind), key=lambda s: s.asked_h)[-NEWEST:]
        asked = np.array([one.asked_h for one in past])
        took = np.array([one.took_h for one in past])
        quantiles = np.array([one.grid for one in past], dtype=np.float64)
        full = score(quantiles, np.where(np.isfinite(took), took, 0.0))
        known = _Known(quantiles, asked, took, full, half)
        n = int((asked + took <= now_h).sum())
        finished += n
        if n >= LEAST:
            moved = _moved(known, now_h, gain) if gain else np.zeros(len(ASKED))
            tables.append(known.table(kind, len(past), now_h, moved))
    return State(finished, tuple(tables))


class _Known(NamedTuple):
    """Predictions of one kind in the order in which they were made; scores: of the finished."""

    quantiles: Floats
    asked: Floats
    took: Floats
    scores: Floats
    half: float

    def table(self, kind: str, upto: int, now_h: float, moved: Floats) -> Table:
        """From the first `upto` of them, as far as they are known at now_h."""
        gone = np.maximum(now_h - self.asked[:upto], 0.0)
        done = self.took[:upto] <= gone
        scores = self.scores[:upto].copy()
        scores[~done] = score(self.quantiles[:upto][~done], gone[~done])
        weights = 0.5 ** (np.arange(upto)[::-1] / self.half)
        ordered, share = limit(scores, done, weights)
        return Table(
            kind,
            int(done.sum()),
            int(upto - done.sum()),
            tuple(ordered.tolist()),
            tuple(share.tolist()),
            tuple(moved.tolist()),
        )


def _moved(known: _Known, now_h: float, gain: float) -> Floats:
    """How far each of ASKED has to be moved: the past is gone through again in blocks, each
    promised by what was known when it began, and counted by what is known now."""
    moved = np.zeros(len(ASKED))
    asked = np.asarray(ASKED)
    for first in range(LEAST, len(known.asked) - BLOCK + 1, BLOCK):
        begun = known.asked[first]
        table = known.table("", first, float(begun), moved)
        if table.n < LEAST:
            continue
        block = slice(first, first + BLOCK)
        promised = hours_at(known.quantiles[block], table.at(asked))
        took, gone = known.took[block, None], np.maximum(now_h - known.asked[block, None], 0.0)
        late = np.minimum(took, gone) > promised
        told = late | (took <= gone)
        if told.any():
            kept = 1.0 - (late & told).sum(axis=0) / np.maximum(told.sum(axis=0), 1)
            moved += gain * (asked - kept) * told.mean(axis=0)
    return moved


def read_at(quantiles: Floats, state: State, levels: Floats, kind: str = "arrival") -> Floats:
    """The calibrated quantiles at these levels of grids [N, len(LEVELS)] -> [N, len(levels)];
    the simulation's own where too few casings are known."""
    table = state.table(kind)
    return hours_at(quantiles, levels if table is None else table.at(levels))


def corrected(samples: Floats, state: State, kind: str = "arrival") -> Floats:
    """Samples [S, N] (worked hours from now, inf where never finished), corrected: of each column's
    F finite ones the k-th smallest becomes the calibrated k/F-quantile. Who is earlier than whom in
    a replication's column stays, and so does inf. Unchanged where too few casings are known."""
    if state.table(kind) is None or not samples.size:
        return samples
    ranks = np.argsort(np.argsort(samples, axis=0, kind="stable"), axis=0, kind="stable")
    finite = np.isfinite(samples)
    many = finite.sum(axis=0)
    quantiles = grid(samples)
    out = np.full_like(samples, math.inf)
    for count in np.unique(many[many > 0]):
        columns = np.flatnonzero(many == count)
        levels = np.minimum(np.arange(1, count + 1) / count, 1 - 0.5 / count)
        values = read_at(quantiles[columns], state, levels, kind)
        picked = np.minimum(ranks[:, columns], count - 1)
        out[:, columns] = np.where(
            finite[:, columns], values[np.arange(len(columns)), picked], math.inf
        )
    return out
