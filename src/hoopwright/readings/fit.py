"""The model's few uncertain numbers fitted to readings: leak, light through the cover, moisture.

Least squares on the inside air hour by hour, by SciPy (the extra `fitting`). Errors of neighbouring
hours are alike; the uncertainty counts as many independent ones as their correlation leaves.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.heat.run import BedInRun, place_of, simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.readings.text import ReadingsError

Series = NDArray[np.float64]
Tell = Callable[[float], None]
NAMES = ("leak", "light", "moisture")
#: Bounds: leak and light against the table's likely values [-], moisture of the bed soil [m3/m3].
LOW = np.array([0.1, 0.5, 0.05])
HIGH = np.array([10.0, 1.1, 0.5])
#: Share of the likely values left out at each end of a stated interval: each number lies within
#: its own in about 995 of 1000 cases, all three together in about 98 of 100, were the model right.
TAIL = 0.0025
#: Half the box that the likely numbers are looked for in, about the best: as the steps below.
BOX = np.array([1.0, 0.12, 0.12])
DRAWS, GRID, ROUNDS = 60, 41, 3
#: Steps of the differences: of the leak's logarithm, of light, of moisture.
STEPS = (0.1, 0.03, 0.02)
#: The table's leak holds within a factor of 2.5 either way; that range counts as one more reading
#: of its logarithm with this standard deviation (an assumption).
LEAK_RANGE = 0.6
#: Hours the model runs before its hours count: the air and the top soil settle.
SETTLES = 72
#: Least hours of readings that a fit is made from: two weeks.
LEAST = 14 * 24


@dataclass(frozen=True)
class FitSetting:
    """What stays the same while numbers are fitted.

    weather : of the hours of the readings;  outside : [degC] measured, laid over the weather's
    """

    weather: Weather
    bed: BedInRun
    optics: CoverOptics
    schedule: Schedule
    march: Any = None

    def inside(self, numbers: Series) -> Series:
        """Return the inside air [degC] with these numbers (leak, light, moisture)."""
        leak, light, moisture = (float(one) for one in numbers)
        box = replace(self.bed.enclosure, leak_factor=self.bed.enclosure.leak_factor * leak)
        soil = replace(self.bed.soil, moisture=min(moisture, self.bed.soil.porosity))
        bed = replace(self.bed, enclosure=box, soil=soil)
        optics = replace(self.optics, age_factor=self.optics.age_factor * light)
        at = place_of(self.weather, bed)
        return simulate(self.weather, bed, optics, self.schedule, at, self.march).air


@dataclass(frozen=True)
class FittedOne:
    """One number: the likely one, the interval stated, and what the table had."""

    name: str
    likely: float
    low: float
    high: float
    before: float


@dataclass(frozen=True)
class Fit:
    """A fit and how it does on hours it has not seen.

    error_before, error_after : [K] root mean square on the hours held out, table and fitted
    hours, held : how many were fitted, and held out
    """

    numbers: tuple[FittedOne, ...]
    error_before: float
    error_after: float
    hours: int
    held: int

    @property
    def sets(self) -> dict[str, float]:
        """Return the keys of a plan that keep these numbers for its bed."""
        return {f"measured.{one.name}": round(one.likely, 3) for one in self.numbers}

    @property
    def helps(self) -> bool:
        """Return whether the fitted numbers do better on hours they have not seen."""
        return self.error_after < self.error_before


def fit(setting: FitSetting, measured: Series, tell: Tell | None = None) -> Fit:
    """Return the numbers fitted to measured inside air [degC], NaN where there is none.

    Every third week is held out, where there are three weeks or more.
    tell : told which share is done [-]
    """
    tell = tell or (lambda share: None)
    least_squares = _least_squares()
    there = np.isfinite(measured)
    there[:SETTLES] = False
    if int(there.sum()) < LEAST:
        raise ReadingsError(
            f"{int(there.sum())} hours of readings with both sensors; a fit wants {LEAST}, two "
            "weeks, besides the first three days"
        )
    week = np.arange(len(measured)) // 168
    held = there & (week % 3 == 2) if week[-1] >= 2 else np.zeros_like(there)
    used = there & ~held
    start = np.array([1.0, 1.0, setting.bed.soil.moisture])
    first = setting.inside(start)
    task = _Task(setting, measured, used)
    # Plain least squares first; from its errors, how alike neighbouring hours are.
    plain = _solved(least_squares, task, _searched(start))
    tell(0.2)
    task = task.whitened(task.errors(plain.x)[used])
    answer = _solved(least_squares, task, plain.x)
    tell(0.4)
    middle, lowest, highest = _likely(task, answer.x, tell)
    best, low, high = _numbers(middle), _numbers(lowest), _numbers(highest)
    last = setting.inside(best)
    judged = held if bool(held.any()) else used
    numbers = tuple(
        FittedOne(name, float(best[n]), float(low[n]), float(high[n]), float(start[n]))
        for n, name in enumerate(NAMES)
    )
    return Fit(
        numbers,
        _rms((first - measured)[judged]),
        _rms((last - measured)[judged]),
        int(used.sum()),
        int(held.sum()),
    )


@dataclass(frozen=True)
class _Task:
    """The errors to be made small: of hours used, less what the hour before tells of them.

    likeness : [-] correlation of an hour's error with the last one's, 0 at first
    spread   : [K] of the errors that are left, by which the table's own range of the leak counts
    """

    setting: FitSetting
    measured: Series
    used: NDArray[np.bool_]
    likeness: float = 0.0
    spread: float = 0.0

    def errors(self, searched: Series) -> Series:
        """Return the model's errors, all hours [K]."""
        return self.setting.inside(_numbers(searched)) - self.measured

    def residuals(self, searched: Series) -> Series:
        """Return what is to be made small: errors of the hours, and the leak's own."""
        return np.append(self._left(self.errors(searched)), self.spread * searched[0] / LEAK_RANGE)

    def slopes(self, searched: Series) -> Series:
        """Return how the residuals go with each number."""
        hours = self._left(_slopes(self.setting, searched))
        return np.vstack([hours, [self.spread / LEAK_RANGE, 0.0, 0.0]])

    def whitened(self, errors: Series) -> _Task:
        """Return the task with neighbouring errors' likeness taken out."""
        apart = errors - errors.mean()
        likeness = float((apart[1:] * apart[:-1]).sum() / max((apart**2).sum(), 1e-12))
        likeness = min(max(likeness, 0.0), 0.97)
        spread = float(errors.std()) * math.sqrt(1.0 - likeness**2)
        return replace(self, likeness=likeness, spread=spread)

    def _left(self, values: Series) -> Series:
        """Return values of the used hours less what the hour before tells of them."""
        after = self.used.copy()
        after[0] = False
        after[1:] &= self.used[:-1]
        at = np.flatnonzero(after)
        return np.asarray(values[at] - self.likeness * values[at - 1])


def _solved(least_squares: Callable[..., Any], task: _Task, start: Series) -> Any:
    low, high = _searched(LOW), _searched(HIGH)
    return least_squares(
        task.residuals,
        np.clip(start, low + 1e-3, high - 1e-3),
        jac=task.slopes,
        bounds=(low, high),
        x_scale=np.array([0.5, 0.1, 0.1]),
        xtol=1e-4,
        ftol=1e-5,
    )


def _least_squares() -> Callable[..., Any]:
    try:
        from scipy.optimize import least_squares
    except ImportError:
        raise ReadingsError(
            'SciPy is not installed; install the extra "fitting" to fit the model'
        ) from None
    found: Callable[..., Any] = least_squares
    return found


def _searched(numbers: Series) -> Series:
    return np.array([math.log(numbers[0]), numbers[1], numbers[2]])


def _numbers(searched: Series) -> Series:
    return np.array([math.exp(searched[0]), searched[1], searched[2]])


def _slopes(setting: FitSetting, searched: Series) -> Series:
    """Return how the inside air goes with each number, by differences on both sides.

    The steps are wide: dew, ice and the automatic opener make small kinks that narrow ones see.
    """
    low, high = _searched(LOW), _searched(HIGH)
    columns = []
    for at, step in enumerate(STEPS):
        up, down = searched.copy(), searched.copy()
        up[at], down[at] = min(up[at] + step, high[at]), max(down[at] - step, low[at])
        apart = setting.inside(_numbers(up)) - setting.inside(_numbers(down))
        columns.append(apart / (up[at] - down[at]))
    return np.stack(columns, axis=1)


def _rms(errors: Series) -> float:
    return float(np.sqrt((errors**2).mean())) if len(errors) else math.nan


def _likely(task: _Task, found: Series, tell: Tell) -> tuple[Series, Series, Series]:
    """Return the middle of the likely numbers, and the ends of their intervals, as searched.

    Dew and ice make kinks in the model that its slopes trip over, so the hours are run at many
    places in a box and laid on a surface of second degree in the three numbers (a response
    surface, Box and Wilson 1951). On it every place of a fine grid is weighed by its likelihood
    with normal errors and the leak's own range. A box that cuts likely places off is moved.
    """
    centre = np.clip(found, _searched(LOW), _searched(HIGH))
    for turn in range(ROUNDS):
        low = np.maximum(centre - BOX, _searched(LOW))
        high = np.minimum(centre + BOX, _searched(HIGH))
        axes, weights = _weighed(task, low, high)
        tell(0.4 + 0.6 * (turn + 1) / ROUNDS)
        ends = [_quantiles(axes[n], weights, n) for n in range(3)]
        middle = np.array([end[1] for end in ends])
        near = [
            (end[0] < a + 0.02 * (b - a) and a > least)
            or (end[2] > b - 0.02 * (b - a) and b < most)
            for end, a, b, least, most in zip(
                ends, low, high, _searched(LOW), _searched(HIGH), strict=True
            )
        ]
        if not any(near):
            break
        centre = middle
    return middle, np.array([end[0] for end in ends]), np.array([end[2] for end in ends])


def _weighed(task: _Task, low: Series, high: Series) -> tuple[list[Series], Series]:
    """Return the grid's axes and how likely each of its places is, shape (GRID, GRID, GRID)."""
    places = low + (high - low) * _spread_points(DRAWS)
    centre, half = (low + high) / 2, (high - low) / 2
    runs = np.stack([task.residuals(place)[:-1] for place in places])
    terms = _terms((places - centre) / half)
    surface = np.linalg.lstsq(terms, runs, rcond=None)[0]
    axes = [np.linspace(a, b, GRID) for a, b in zip(low, high, strict=True)]
    grid = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, 3)
    on_grid = _terms((grid - centre) / half)
    squares = np.einsum("ij,jk,ik->i", on_grid, surface @ surface.T, on_grid)
    best = on_grid[int(np.argmin(squares))] @ surface
    # What the surface misses of the runs counts as error too.
    missed = float(((terms @ surface - runs) ** 2).mean())
    variance = (float((best**2).mean()) + missed) * _alike(best)
    logs = -0.5 * squares / variance - 0.5 * (grid[:, 0] / LEAK_RANGE) ** 2
    weights = np.exp(logs - logs.max())
    return axes, (weights / weights.sum()).reshape(GRID, GRID, GRID)


def _terms(x: Series) -> Series:
    """Return the terms of a surface of second degree, and the leak's third."""
    a, b, c = x.T
    return np.stack([np.ones_like(a), a, b, c, a * a, b * b, c * c, a * b, a * c, b * c, a**3], 1)


def _spread_points(count: int) -> Series:
    """Return points spread evenly over the unit cube (Halton 1960, bases 2, 3 and 5)."""

    def digits(number: int, base: int) -> float:
        share, value = 1.0, 0.0
        while number:
            share /= base
            number, rest = divmod(number, base)
            value += share * rest
        return value

    return np.array([[digits(n, base) for base in (2, 3, 5)] for n in range(1, count + 1)])


def _quantiles(axis: Series, weights: Series, number: int) -> tuple[float, float, float]:
    """Return low end, mean and high end of one number's likely values."""
    own = weights.sum(axis=tuple(n for n in range(3) if n != number))
    along = np.cumsum(own) - 0.5 * own
    low, high = np.interp([TAIL, 1.0 - TAIL], along, axis)
    return float(low), float((own * axis).sum()), float(high)


def _alike(errors: Series) -> float:
    """Return by how much correlation left over between hours widens the variance [-], at least 1.

    1 + 2 sum of the correlations over a day with Bartlett's weights (Newey and West 1987, from
    memory).
    """
    apart = errors - errors.mean()
    whole = float((apart**2).sum())
    widened = 1.0
    for lag in range(1, min(24, len(errors) // 4) + 1):
        r = float((apart[lag:] * apart[:-lag]).sum()) / max(whole, 1e-12)
        widened += 2.0 * (1.0 - lag / 25.0) * r
    return max(1.0, widened)
