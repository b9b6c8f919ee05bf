"""How sure an answer is: the same run with coefficients drawn from their ranges."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients, sampled
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule


@dataclass(frozen=True)
class Band:
    """Low, middle and high of an answer: 5, 50 and 95 % of the draws."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class HourlyBand:
    """The same hour by hour."""

    low: NDArray[np.float64]
    middle: NDArray[np.float64]
    high: NDArray[np.float64]


def band(values: list[float]) -> Band:
    """5, 50 and 95 % of `values`."""
    low, middle, high = np.percentile(values, [5.0, 50.0, 95.0])
    return Band(float(low), float(middle), float(high))


def pairs(
    weather: Weather,
    bed: BedInRun,
    optics: CoverOptics | list[CoverOptics],
    schedule: Schedule,
    draws: int,
    seed: int,
    march: Any = None,
) -> list[tuple[UnderCover, UnderCover]]:
    """Runs under cover and in the open, both with the same draw of coefficients.

    `optics` is one cover, or one draw for each run (see `covers.sampled_optics`).
    The cover's leak is drawn too, from 0.4 to 2.5 times its likely value (an assumption; the
    table of leaks says the same). Draws are independent, so bands are if anything too wide where
    two coefficients stand in for each other.
    """
    generator = np.random.default_rng(seed + 1)
    leaks = np.exp(generator.triangular(np.log(0.4), 0.0, np.log(2.5), size=draws))
    cases = []
    covers = optics if isinstance(optics, list) else [optics] * draws
    for c, leak, cover in zip(sampled(draws, seed), leaks, covers, strict=True):
        drawn = _with(bed, c, float(leak))
        at = place_of(weather, drawn)
        cases.append(Case(drawn, cover, schedule, at))
        cases.append(Case(drawn, cover, Schedule.open_bed(), at))
    runs = simulate_all(weather, cases, march)
    return list(zip(runs[::2], runs[1::2], strict=True))


def _with(bed: BedInRun, c: Coefficients, leak: float) -> BedInRun:
    box = bed.enclosure
    return replace(bed, coefficients=c, enclosure=replace(box, leak_factor=box.leak_factor * leak))


def banded(
    runs: list[tuple[UnderCover, UnderCover]],
    answer: Callable[[UnderCover, UnderCover], float],
) -> Band:
    """The band of one number over the draws."""
    return band([answer(under, bare) for under, bare in runs])


def hourly_band(
    runs: list[tuple[UnderCover, UnderCover]],
    series: Callable[[UnderCover, UnderCover], NDArray[np.float64]],
) -> HourlyBand:
    """The band of an hourly series over the draws."""
    stack = np.stack([series(under, bare) for under, bare in runs])
    low, middle, high = np.percentile(stack, [5.0, 50.0, 95.0], axis=0)
    return HourlyBand(low, middle, high)
