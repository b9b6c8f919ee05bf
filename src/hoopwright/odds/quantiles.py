"""What draws say: quantiles, chances, what comes first, what most of the doubt is from."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

#: Shares of the beds that have given way at the careful, the middle and the strong figure [-].
CAREFUL, MIDDLE, STRONG = 0.10, 0.50, 0.90


def weak_to_strong(values: Floats) -> tuple[float, float, float]:
    """Return the careful, middle and strong figure of draws; infinite where none is reached."""
    places = [min(values.size - 1, int(share * values.size)) for share in (CAREFUL, MIDDLE, STRONG)]
    ordered = np.partition(values, places)
    careful, middle, strong = (float(ordered[place]) for place in places)
    return careful, middle, strong


def rank_correlation(inputs: Sequence[Floats], answer: Floats) -> Floats:
    """Return Spearman's rank correlation [-] of each input with an answer.

    inputs : each input's ranks about their mean, no two draws alike
    Draws in which nothing gives way share the top rank. Source: Spearman 1904; the tests hold it
    against scipy's.
    """
    ranks = _ranks(np.where(np.isfinite(answer), answer, np.finfo(float).max))
    ranks = ranks - ranks.mean()
    size = float(np.sqrt(ranks @ ranks))
    return np.asarray(
        [own @ ranks / (size * np.sqrt(own @ own)) if size else 0.0 for own in inputs]
    )


def _ranks(values: Floats) -> Floats:
    order = np.argsort(values, kind="stable")
    held = values[order]
    first = np.append(True, held[1:] != held[:-1])
    begins = np.flatnonzero(first)
    count = np.diff(begins, append=held.size)
    ranks = np.empty(held.size)
    ranks[order] = (begins + 0.5 * (count - 1))[np.cumsum(first) - 1]
    return ranks


def quantiles(values: Floats, shares: Sequence[float]) -> Floats:
    """Return what shares of the values lie below, as NumPy's does, which loads masked arrays."""
    held = np.sort(values)
    return np.asarray(np.interp(np.multiply(shares, held.size - 1), np.arange(held.size), held))
