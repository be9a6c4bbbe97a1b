"""The random numbers of a simulation: each is a function of what it is drawn for. Pure, compiled.

A uniform number belongs to (seed, replication, casing, station, round, purpose), whoever asks and
in whatever order: so a recursion, an event loop and a plain reference meet the same luck, and two
runs that differ in one casing, or one chamber, share all other luck. It is the number at that place
of a SplitMix64 stream (Steele, Lea and Flood, Fast Splittable Pseudorandom Number Generators,
OOPSLA 2014), one stream a replication. Laws are inverted, one uniform a draw: the normal one by
Wichura's PPND16 (algorithm AS 241, Applied Statistics 37, 1988), to 1e-16; constants from memory,
held against the error function in the tests.
"""

import math

import numpy as np

from plant.forecast.engine.compiled import inlined, whole

LOGNORMAL, EXPONENTIAL, FIXED = (whole(law) for law in range(3))
WORK, PASSES, OUTCOME, FAILS, REPAIRED, COMES = (whole(purpose) for purpose in range(6))
"""Purposes. Failures are drawn for a machine, in the casing's place."""
FIRST = whole(0)
"""Round: of a casing that was not sent back."""

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)
_ONE = np.uint64(0xBF58476D1CE4E5B9)
_OTHER = np.uint64(0x94D049BB133111EB)
_30, _27, _31, _12 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(12)
_JOB, _STATION, _ROUND = np.uint64(28), np.uint64(20), np.uint64(4)
"""Bits: purpose 4, round 16, station 8, casing the rest."""


@inlined
def _mixed(z: np.uint64) -> np.uint64:
    z = (z ^ (z >> _30)) * _ONE
    z = (z ^ (z >> _27)) * _OTHER
    return z ^ (z >> _31)


@inlined
def stream(seed: int, replication: int) -> np.uint64:
    """Where a replication's stream begins."""
    return _mixed(_mixed(np.uint64(seed) + _GOLDEN) + np.uint64(replication) * _GOLDEN)


@inlined
def uniform(begin: np.uint64, job: int, station: int, turn: int, purpose: int) -> float:
    """Uniform in the open interval 0 to 1, a multiple of 2^-53."""
    place = (
        (np.uint64(job) << _JOB)
        | (np.uint64(station) << _STATION)
        | (np.uint64(turn) << _ROUND)
        | np.uint64(purpose)
    )
    z = _mixed(begin + place * _GOLDEN + _GOLDEN)
    return (np.float64(z >> _12) + 0.5) * 2.220446049250313e-16


@inlined
def normal(p: float) -> float:
    """The quantile of the standard normal law at 0 < p < 1."""
    q = p - 0.5
    if abs(q) <= 0.425:
        r = 0.180625 - q * q
        above = (((((((2.5090809287301226727e3 * r + 3.3430575583588128105e4) * r
            + 6.7265770927008700853e4) * r + 4.5921953931549871457e4) * r
            + 1.3731693765509461125e4) * r + 1.9715909503065514427e3) * r
            + 1.3314166789178437745e2) * r + 3.3871328727963666080e0)  # fmt: skip
        below = (((((((5.2264952788528545610e3 * r + 2.8729085735721942674e4) * r
            + 3.9307895800092710610e4) * r + 2.1213794301586595867e4) * r
            + 5.3941960214247511077e3) * r + 6.8718700749205790830e2) * r
            + 4.2313330701600911252e1) * r + 1.0)  # fmt: skip
        return q * above / below
    r = math.sqrt(-math.log(p if q < 0 else 1.0 - p))
    if r <= 5.0:
        r -= 1.6
        above = (((((((7.74545014278341407640e-4 * r + 2.27238449892691845833e-2) * r
            + 2.41780725177450611770e-1) * r + 1.27045825245236838258e0) * r
            + 3.64784832476320460504e0) * r + 5.76949722146069140550e0) * r
            + 4.63033784615654529590e0) * r + 1.42343711074968357734e0)  # fmt: skip
        below = (((((((1.05075007164441684324e-9 * r + 5.47593808499534494600e-4) * r
            + 1.51986665636164571966e-2) * r + 1.48103976427480074590e-1) * r
            + 6.89767334985100004550e-1) * r + 1.67638483018380384940e0) * r
            + 2.05319162663775882187e0) * r + 1.0)  # fmt: skip
    else:
        r -= 5.0
        above = (((((((2.01033439929228813265e-7 * r + 2.71155556874348757815e-5) * r
            + 1.24266094738807843860e-3) * r + 2.65321895265761230930e-2) * r
            + 2.96560571828504891230e-1) * r + 1.78482653991729133580e0) * r
            + 5.46378491116411436990e0) * r + 6.65790464350110377720e0)  # fmt: skip
        below = (((((((2.04426310338993978564e-15 * r + 1.42151175831644588870e-7) * r
            + 1.84631831751005468180e-5) * r + 7.86869131145613259100e-4) * r
            + 1.48753612908506148525e-2) * r + 1.36929880922735805310e-1) * r
            + 5.99832206555887937690e-1) * r + 1.0)  # fmt: skip
    return -above / below if q < 0 else above / below


@inlined
def work(law: int, scale: float, sigma: float, u: float) -> int:
    """Milliseconds of work at the uniform u, at least one. scale: of a lognormal the median, else
    the mean, ms; sigma: standard deviation of the logarithm."""
    if law == LOGNORMAL:
        long = scale * math.exp(sigma * normal(u))
    elif law == EXPONENTIAL:
        long = -scale * math.log(1.0 - u)
    else:
        long = scale
    return max(1, math.floor(min(long, _LONGEST) + 0.5))


_LONGEST = 3.6e12
"""Milliseconds, a hundred years."""
_LEAST_TAIL = 1e-300


@inlined
def rest(law: int, scale: float, sigma: float, u: float, done: int) -> int:
    """Milliseconds still to be worked after `done`, at least one: the law, given that it takes
    longer than that."""
    if done <= 0:
        return work(law, scale, sigma, u)
    if law == LOGNORMAL and sigma > 0.0:
        tail = 0.5 * math.erfc(math.log(done / scale) / sigma * 0.7071067811865476)
        long = scale * math.exp(-sigma * normal(max(tail * (1.0 - u), _LEAST_TAIL)))
    elif law == EXPONENTIAL:
        long = done - scale * math.log(1.0 - u)
    else:
        long = scale
    return max(1, math.floor(min(long, _LONGEST) + 0.5) - done)
