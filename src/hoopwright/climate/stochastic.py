"""The random processes of a weather generator: wet days, linked residuals, clearness."""

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from hoopwright.climate.weather import Series, series
from hoopwright.frozen import dataclass

Grid = NDArray[np.float64]

RICHARDSON_LAG = ((0.567, 0.086, -0.002), (0.253, 0.504, -0.050), (-0.006, -0.039, 0.244))
"""A of x(t) = A x(t-1) + B e(t) for maximum, minimum, radiation, unit variances.

Source: Richardson 1981, Water Resources Research 17, 182-190; Richardson & Wright 1984, WGEN,
USDA ARS-8 (from memory; 31 U.S. stations). The pair gives unit variances within 1 %.
"""

RICHARDSON_SHOCK = ((0.781, 0.0, 0.0), (0.328, 0.637, 0.0), (0.238, -0.341, 0.873))
"""B of the same."""


def wet_days(chance: Series, rng: Generator, carry: float = 0.75) -> NDArray[np.bool_]:
    """Return a row of wet and dry days from a two-state first-order Markov chain.

    chance : [-] long-run chance of a wet day, one a day
    carry  : [-] wet after dry is carry x chance, wet after wet is (1 - carry) + carry x chance
    Source: Geng, Penning de Vries & Supit 1986, Agric. Forest Meteorol. 36, 363-376, with
    their 0.75.
    """
    draws = rng.random(chance.size).tolist()
    after_dry = (carry * chance).tolist()
    wet = draws[0] < float(chance[0])
    row = [wet]
    for draw, low in zip(draws[1:], after_dry[1:], strict=True):
        wet = draw < low + (1 - carry if wet else 0.0)
        row.append(wet)
    return np.array(row)


def rain_amounts(
    mean: Series,
    rng: Generator,
    least: float = 0.3,
    intercept: float = -2.16,
    slope: float = 1.83,
) -> Series:
    """Return rain [mm] on wet days from a gamma distribution of the given means [mm].

    least : [mm] below which a day does not count as wet; the gamma begins there, so that the
        count of wet days is kept (our departure: the paper begins at nil)
    Source: Geng et al. 1986, scale = -2.16 + 1.83 mean. Their line falls to nil at 1.2 mm;
    the shape is kept at 1 or below (exponential), which is our departure for dry climates.
    """
    above = np.maximum(mean - least, 0.05)
    scale = np.maximum(intercept + slope * mean, above)
    return series(least + rng.gamma(above / scale, scale))


def scaled_matrices(holding: float) -> tuple[Grid, Grid]:
    """Return A and B that remember `holding` times as much from day to day as the published.

    holding : [-] 1 for Richardson's own; B is then worked out anew (Cholesky) so that the
        variances and same-day correlations stay the published ones
    """
    lag, shock = np.array(RICHARDSON_LAG), np.array(RICHARDSON_SHOCK)
    if holding == 1:
        return lag, shock
    covariance = np.eye(3)
    for _ in range(60):
        covariance = lag @ covariance @ lag.T + shock @ shock.T
    weaker = holding * lag
    rest: Grid = series(np.linalg.cholesky(covariance - weaker @ covariance @ weaker.T))
    return weaker, rest


def linked_residuals(count: int, rng: Generator, holding: float = 1.0) -> Grid:
    """Return (count, 3) residuals of maximum, minimum and radiation, unit variances.

    holding : [-] see scaled_matrices
    Source: Richardson 1981 (see RICHARDSON_LAG). The first day starts from independent draws.
    """
    lag, shock = scaled_matrices(holding)
    shocks = (rng.standard_normal((count, 3)) @ shock.T).tolist()
    (a, b, c), (d, e, f), (g, h, i) = lag.tolist()
    x, y, z = rng.standard_normal(3).tolist()
    rows = []
    for p, q, r in shocks:
        x, y, z = (
            a * x + b * y + c * z + p, d * x + e * y + f * z + q, g * x + h * y + i * z + r,
        )  # fmt: skip
        rows.append((x, y, z))
    return np.array(rows)


def normal_rank(score: Series) -> Series:
    """Return the standard normal distribution function [-], within 7.5e-8.

    Source: Abramowitz & Stegun 1964, 26.2.17.
    """
    size = np.abs(score)
    t = 1 / (1 + 0.2316419 * size)
    tail = t * (
        0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429)))
    )
    upper = tail * np.exp(-(size**2) / 2) / (2 * np.pi) ** 0.5
    return series(np.where(score >= 0, 1 - upper, upper))


@dataclass(frozen=True)
class ClearnessTable:
    """Quantiles of daily clearness for each month: rank [-] against clearness [-]."""

    rank: Grid
    value: Grid

    def draw(self, rank: Series, month: NDArray[np.int64]) -> Series:
        """Return the clearness [-] of each day at its rank [-] in its month's distribution."""
        drawn = np.empty(rank.size)
        for m in range(12):
            here = month == m
            drawn[here] = np.interp(rank[here], self.rank[m], self.value[m])
        return drawn


def clearness_table(
    mean: Series, clearest: Series, spread: float = 0.47, dullest: float = 0.05, steps: int = 800
) -> ClearnessTable:
    """Return the distribution of daily clearness in each month: a beta between two ends.

    mean     : [-] monthly mean clearness; clearest : [-] that of the clearest days
    spread   : [-] standard deviation over sqrt((mean - dullest)(clearest - mean))
    dullest  : [-] Bendt, Collares-Pereira & Rabl 1981 take 0.05
    The curve and the spread were measured on ten TMY3 files (by file 0.39 to 0.54, mean 0.47):
    with it the ranks of 3650 real days are even within 0.02. The published exponential curve
    (Bendt et al. 1981 with Herzog 1985) was too wide there by a quarter; see the docs.
    """
    if (mean >= clearest - 0.01).any():
        month = int(np.flatnonzero(mean >= clearest - 0.01)[0]) + 1
        raise ValueError(
            f"month {month}: mean clearness {mean[month - 1]:.2f} is that of a month without a "
            f"cloud ({clearest[month - 1]:.2f}) or above; check radiation or sun hours"
        )
    centre = (np.maximum(mean, dullest + 0.02) - dullest) / (clearest - dullest)
    total = 1 / spread**2 - 1
    angle = (np.arange(steps) + 0.5) / steps * np.pi / 2
    sine, cosine = np.log(np.sin(angle)), np.log(np.cos(angle))
    first, second = centre * total, (1 - centre) * total
    log_density = (2 * first[:, None] - 1) * sine + (2 * second[:, None] - 1) * cosine
    mass = np.cumsum(np.exp(log_density - log_density.max(axis=1)[:, None]), axis=1)
    rank = (mass - 0.5 * np.diff(mass, axis=1, prepend=0)) / mass[:, -1:]
    value = dullest + (clearest - dullest)[:, None] * np.sin(angle)[None, :] ** 2
    return ClearnessTable(rank, value)
