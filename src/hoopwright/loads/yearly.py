"""How often gusts and snows are met at a place, and how many years a cover gets through."""

import math
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.frozen import dataclass
from hoopwright.odds.normal import Floats, inverse_normal

#: V_T / V_50 = START + SLOPE ln(12 T): ASCE 7-16 C26.5, outside hurricane country, from memory.
START, SLOPE = 0.36, 0.1
MONTHS = 12.0
#: How often snow is brushed off.
Brushed = Literal["daily", "weekly", "never"]
#: Spread of the logarithm of the yearly greatest ground snow [-]: meets the factors of ASCE 7-16
#: C7.2 from 10, 25 and 100 years to 50 (1.82, 1.20, 0.82, from memory) within 6 %.
SNOW_SIGMA = 0.70
#: Coefficient of variation of the yearly greatest ground snow [-] in EN 1991-1-3 Annex D, whose
#: figure runs from 0.2 to 0.6 (from memory); which holds at a place is an assumption.
SNOW_VARIATION = 0.5
EULER = 0.5772156649


@dataclass(frozen=True, eq=False)
class Sheltered:
    """A barrier. covered : [-] share of strong winds it stands across; behind : [-] speed left"""

    covered: float
    behind: Floats


@dataclass(frozen=True)
class YearlyGust:
    """The gusts of a place.

    once_in_fifty : [m/s] three-second gust met once in 50 years
    sheltered : the barrier that some come over; it counts in what is got through alone
    """

    once_in_fifty: float
    sheltered: Sheltered | None = None

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
        Gusts over the barrier come as often as the strong winds there and are slower at the bed.
        """
        if self.sheltered is None:
            return float(self.stands(stands_to, years).mean())
        covered = self.sheltered.covered
        past = self.stands(stands_to, (1 - covered) * years)
        over = self.stands(stands_to / self.sheltered.behind, covered * years)
        return float((past * over).mean())


def yearly_gust(gust: float, years: float) -> YearlyGust:
    """Return the gusts of a place where one [m/s] is met once in some years on average."""
    return YearlyGust(gust / ratio_of(years))


def ratio_of(years: float) -> float:
    """Return the gust met once in some years over the one met once in fifty [-]."""
    return START + SLOPE * float(np.log(MONTHS * years))


@dataclass(frozen=True)
class YearlySnow:
    """The snows of a place. load : [Pa] on the ground, met once in `years` winters on average

    eurocode : the yearly greatest follows EN 1991-1-3 Annex D (Gumbel), else a log-normal after
    the factors of ASCE 7-16 C7.2
    """

    load: float
    years: float
    eurocode: bool

    def below(self, load: ArrayLike) -> Floats:
        """Return the chance [-] that a winter's greatest load stays below this one [Pa].

        Sources: ASCE 7-16 C7.2, EN 1991-1-3 D.1, both from memory. Check: 10 years over 50 is
        0.58 (1 / 1.82 = 0.55 in C7.2) and by Annex D at a variation of 0.5 0.72.
        """
        ratio = np.maximum(np.asarray(load, dtype=float) / max(self.load, 1e-9), 1e-12)
        chance = 1 - 1 / self.years
        if self.eurocode:
            scale = SNOW_VARIATION * math.sqrt(6) / math.pi
            mean = 1 - scale * (EULER + math.log(-math.log(chance)))
            with np.errstate(over="ignore"):
                return np.asarray(np.exp(-np.exp(-((ratio * mean - 1) / scale + EULER))))
        score = float(inverse_normal(chance)) + np.log(ratio) / SNOW_SIGMA
        tails = np.vectorize(math.erfc, otypes=[float])(-score / math.sqrt(2))
        return np.asarray(0.5 * tails)

    def gets_through(self, stands_to: Floats, years: float) -> float:
        """Return the chance [-] that a cover gets through some winters.

        stands_to : [Pa] on the ground, of each drawn bed, which stays what it is
        """
        return float((self.below(stands_to) ** years).mean())
