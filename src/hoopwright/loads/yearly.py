"""How often a gust is met at a place, and how many years a cover gets through."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]

#: V_T / V_50 = START + SLOPE ln(12 T): ASCE 7-16 C26.5, outside hurricane country, from memory.
START, SLOPE = 0.36, 0.1
MONTHS = 12.0


@dataclass(frozen=True)
class YearlyGust:
    """The gusts of a place. once_in_fifty : [m/s] three-second gust met once in 50 years"""

    once_in_fifty: float

    def years(self, gust: ArrayLike) -> Floats:
        """Return how many years lie between gusts as strong [m/s] on average [yr].

        Source: ASCE 7-16 C26.5 turned round, from memory. Valid for: a month to some thousand
        years; for gusts met oftener it errs to the rarer side. Check: 65 mph where 70 comes once
        in ten years is met about every five and a half.
        """
        ratio = np.asarray(gust, dtype=float) / self.once_in_fifty
        with np.errstate(over="ignore"):
            return np.asarray(np.exp((ratio - START) / SLOPE) / MONTHS)

    def once_in(self, years: float) -> float:
        """Return the gust [m/s] met once in some years on average [yr]; `years` turned round."""
        return self.once_in_fifty * ratio_of(years)

    def stands(self, gust: ArrayLike, years: float) -> Floats:
        """Return the chance [-] that no gust above this one comes in some years.

        Gusts come by chance and apart from one another (Poisson).
        """
        with np.errstate(divide="ignore"):
            return np.asarray(np.exp(-years / self.years(gust)))

    def gets_through(self, stands_to: Floats, years: float) -> float:
        """Return the chance [-] that a cover gets through some years.

        stands_to : [m/s] of each drawn bed; it stays what it is, while the years are drawn anew.
        """
        return float(self.stands(stands_to, years).mean())


def yearly_gust(gust: float, years: float) -> YearlyGust:
    """Return the gusts of a place where one [m/s] is met once in some years on average."""
    return YearlyGust(gust / ratio_of(years))


def ratio_of(years: float) -> float:
    """Return the gust met once in some years over the one met once in fifty [-]."""
    return START + SLOPE * float(np.log(MONTHS * years))
