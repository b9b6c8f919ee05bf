"""The hours of wind of a place: how many blow above a speed, and where the strong come from."""

from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]

YEAR = 8766.0
#: Share of a year's hours that count as strong, some 175 of them (assumption).
STRONG = 0.02


@dataclass(frozen=True, eq=False)
class WindHours:
    """Hours of a weather file. speed : [m/s] mean 10 m up; direction : [deg] it comes from"""

    speed: Floats
    direction: Floats

    @cached_property
    def _rising(self) -> Floats:
        return np.sort(self.speed[np.isfinite(self.speed)])

    def over(self, speed: ArrayLike) -> Floats:
        """Return the hours a year that blow above some speeds [m/s], counted."""
        above = self._rising.size - np.searchsorted(self._rising, speed, side="right")
        return np.asarray(above * YEAR / max(self._rising.size, 1))

    def strong_from(self, facing: float, half_angle: float, strong: float = STRONG) -> float:
        """Return the share of the strongest hours that blow from within an angle of a direction.

        facing, half_angle : [deg]; strong : [-] of all hours that count, ties with them
        """
        known = np.isfinite(self.speed) & np.isfinite(self.direction) & (self.speed > 0)
        speed, direction = self.speed[known], self.direction[known]
        if speed.size == 0:
            return 0.0
        most = direction[speed >= np.quantile(speed, 1 - strong)]
        off = np.abs((most - facing + 180.0) % 360.0 - 180.0)
        return float((off <= half_angle).mean())


def hours_over(speed: ArrayLike, mean: ArrayLike) -> Floats:
    """Return the hours a year that blow above some speeds [m/s] where the wind's mean is known.

    mean : [m/s] of all hours. They follow Rayleigh's distribution.
    Valid for: up to about twice the mean; beyond it five weather years had more.
    Source: IEC 61400-1, 6.3.1.1, from memory. Check: half of all hours are above 0.939 of the mean.
    """
    ratio = np.asarray(speed, dtype=float) / np.asarray(mean, dtype=float)
    return np.asarray(YEAR * np.exp(-np.pi / 4 * ratio**2))
