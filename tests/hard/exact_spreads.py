"""Quantiles and deviations of the spreads with 50 digits, and where to look for the worst."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

from fitwright import _core
from mpmath import mp, mpf

mp.dps = 50


def spread(shape: str, middle: float, deviation: float, low: float, high: float) -> Any:
    """A spread of the core that stands for no job."""
    return _core.Spread("x", 0, -1, -1, shape, middle, deviation, low, high)


def _score(u: Any) -> Any:
    """The x of a standard normal below which the share u lies."""
    if u > mpf("0.5"):
        return -_score(1 - u)
    start = mpf(-math.sqrt(-2.0 * math.log(float(u)))) if u < 0.1 else mpf(0)
    log_u = mp.log(u)
    return mp.findroot(lambda x: mp.log(mp.ncdf(x)) - log_u, start)


def _truncated(s: Any, u: Any) -> Any:
    side = -1 if s.low > s.middle else 1
    p = [mp.ncdf(side * (mpf(x) - s.middle) / s.deviation) for x in (s.low, s.high)]
    share = p[0] + u * (p[1] - p[0])
    return s.middle + side * mpf(s.deviation) * _score(share)


def _triangular(s: Any, u: Any) -> Any:
    low, middle, high = mpf(s.low), mpf(s.middle), mpf(s.high)
    if u * (high - low) < middle - low:
        return low + mp.sqrt(u * (high - low) * (middle - low))
    return high - mp.sqrt((1 - u) * (high - low) * (high - middle))


def _logarithm(s: Any) -> tuple[Any, Any]:
    variance = mp.log1p((mpf(s.deviation) / s.middle) ** 2)
    return mp.log(s.middle) - variance / 2, mp.sqrt(variance)


def _lognormal(s: Any, u: Any) -> Any:
    mean, deviation = _logarithm(s)
    return mp.exp(mean + deviation * _score(u))


def _beta(s: Any, u: Any) -> Any:
    low, width = mpf(s.low), mpf(s.high) - s.low
    mean, deviation = (s.middle - low) / width, s.deviation / width
    total = mean * (1 - mean) / deviation**2 - 1
    a, b = mean * total, (1 - mean) * total
    # One step of Newton from the table's value, which is near: the square of its error is left.
    x = (mpf(s.quantile(float(u))) - low) / width
    density = x ** (a - 1) * (1 - x) ** (b - 1) / mp.beta(a, b)
    return low + width * (x - (mp.betainc(a, b, 0, x, regularized=True) - u) / density)


QUANTILES: dict[str, Callable[[Any, Any], Any]] = {
    "normal": lambda s, u: s.middle + s.deviation * _score(u),
    "truncated_normal": _truncated,
    "uniform": lambda s, u: mpf(s.low) + u * (mpf(s.high) - s.low),
    "triangular": _triangular,
    "lognormal": _lognormal,
    "beta": _beta,
}


def deviation(s: Any) -> Any:
    """The standard deviation of a spread between ends."""
    low, middle, high = mpf(s.low), mpf(s.middle), mpf(s.high)
    if s.shape == "uniform":
        return (high - low) / mp.sqrt(12)
    if s.shape == "triangular":
        return mp.sqrt(
            ((middle - low) ** 2 + (middle - low) * (high - middle) + (high - middle) ** 2) / 18
        )
    a, b = (low - middle) / s.deviation, (high - middle) / s.deviation
    mass = mp.ncdf(b) - mp.ncdf(a) if a < 0 else mp.ncdf(-a) - mp.ncdf(-b)
    mean = (mp.npdf(a) - mp.npdf(b)) / mass
    square = 1 + (a * mp.npdf(a) - b * mp.npdf(b)) / mass
    return s.deviation * mp.sqrt(square - mean**2)


@dataclass(frozen=True)
class Kind:
    """Spreads of one shape, and what they stand for."""

    shape: str
    about: str
    make: Callable[[Random], Any]


def _truncated_normal(random: Random) -> Any:
    sigma = 10.0 ** random.uniform(-6, -4)
    middle = 0.08
    first = random.uniform(-6.0, 5.0)
    ends = (first, first + 10.0 ** random.uniform(-2, 0.8))
    return spread(
        "truncated_normal", middle, sigma, middle + ends[0] * sigma, middle + ends[1] * sigma
    )


def _between(shape: str) -> Callable[[Random], Any]:
    def make(random: Random) -> Any:
        low = 0.08
        high = low + 10.0 ** random.uniform(-9, -4)
        middle = low + (high - low) * random.choice([0.0, 0.5, 1.0, random.random()])
        return spread(shape, middle, math.nan, low, high)

    return make


def _lognormal_spread(random: Random) -> Any:
    middle = 10.0 ** random.uniform(-7, 3)
    return spread("lognormal", middle, middle * 10.0 ** random.uniform(-9, 0.5), math.nan, math.nan)


def _beta_spread(random: Random) -> Any:
    width = 10.0 ** random.uniform(-6, 0)
    mean = random.uniform(0.1, 0.9)
    most = math.sqrt(mean * (1.0 - mean))
    return spread("beta", mean * width, most * random.uniform(0.1, 0.7) * width, 0.0, width)


KINDS = (
    Kind(
        "normal",
        "any",
        lambda r: spread("normal", 0.08, 10.0 ** r.uniform(-7, -4), math.nan, math.nan),
    ),
    Kind(
        "truncated_normal",
        "from 6 deviations below to 11 above, windows of 0.01 to 6",
        _truncated_normal,
    ),
    Kind("uniform", "1 nm to 0.1 mm on 80 mm", _between("uniform")),
    Kind("triangular", "1 nm to 0.1 mm on 80 mm, the peak at an end too", _between("triangular")),
    Kind("lognormal", "deviation 1e-9 to 3 of the mean", _lognormal_spread),
    Kind("beta", "means 0.1 to 0.9 of the width, deviations to 0.7 of the greatest", _beta_spread),
)  # fmt: skip


def shares(random: Random) -> Iterator[float]:
    """Shares below: in the middle, and out in both tails."""
    yield 0.5
    for _ in range(4):
        yield random.random()
        tail = 10.0 ** random.uniform(-9, -1)
        yield tail
        yield 1.0 - tail
