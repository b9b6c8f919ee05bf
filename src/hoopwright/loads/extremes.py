"""The greatest gusts and snows of each year in a record, as an extreme-value distribution."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]

#: Days with a value that a year needs to count, and years that a fit needs (assumptions).
LEAST_DAYS, LEAST_YEARS = 300, 8
#: Refits to samples of the fit itself, for its doubt.
REFITS = 50


class TooFewYears(ValueError):
    """A record with too few whole years of what is asked of it."""


def yearly_greatest(values: Floats, dates: NDArray[np.datetime64], *, winters: bool) -> Floats:
    """Return the greatest value of each year that has enough days.

    values : one a day, NaN where unknown; winters : years run from July to June
    """
    months = dates.astype("datetime64[M]").astype(int) + (6 if winters else 0)
    years = months // 12
    kept = []
    for year in np.unique(years):
        own = values[(years == year) & np.isfinite(values)]
        if own.size >= LEAST_DAYS:
            kept.append(float(own.max()))
    return np.asarray(kept)


@dataclass(frozen=True, eq=False)
class Extremes:
    """Generalised extreme value distributions: the fit in the first row, then its refits.

    rows : shape [-], place and scale, a row each as scipy has them; years : fitted to
    """

    rows: Floats
    years: int

    def below(self, value: Floats) -> Floats:
        """Return the chance [-] that a year stays below each value, (rows, values)."""
        from scipy.stats import genextreme

        shape, place, scale = (one[:, None] for one in self.rows.T)
        return np.asarray(genextreme.cdf(value[None], shape, place, scale))

    def gets_through(self, stands_to: Floats, years: float) -> float:
        """Return the chance [-] to get through some years; beds and fits stay what they are."""
        return float((self.below(stands_to) ** years).mean())

    def once_in(self, years: float) -> tuple[float, float, float]:
        """Return what is passed once in some years on average: 5, 50 and 95 % of the refits."""
        from scipy.stats import genextreme

        found = genextreme.isf(1 / years, *self.rows.T)
        low, middle, high = (float(one) for one in np.quantile(found, (0.05, 0.5, 0.95)))
        return low, middle, high


def fitted(greatest: Floats, seed: int = 1) -> Extremes:
    """Return the distribution of a place's yearly greatest values with its doubt.

    Source: generalised extreme value by greatest likelihood (scipy.stats.genextreme); its doubt
    by refits to samples of the fit (parametric bootstrap). Raises TooFewYears.
    """
    from scipy.stats import genextreme

    if greatest.size < LEAST_YEARS:
        raise TooFewYears(f"{greatest.size} whole years of it; at least {LEAST_YEARS} are needed")
    if not np.ptp(greatest) > 0:
        raise TooFewYears("the same greatest value every year")
    best = genextreme.fit(greatest)
    random = np.random.default_rng(seed)
    again = [
        genextreme.fit(genextreme.rvs(*best, size=greatest.size, random_state=random), best[0],
                       loc=best[1], scale=best[2])
        for _ in range(REFITS)
    ]  # fmt: skip
    return Extremes(np.asarray([best, *again]), int(greatest.size))
