"""Draws of the inputs: one Latin hypercube a bed, one column for each name.

An input's column depends on its name, the seed and the number of draws alone. So rungs that
share an input move together, two designs are compared on the same beds, and the figures are the
same on every machine and in every order of asking.
"""

from dataclasses import field
from functools import lru_cache
from typing import Any
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.odds.normal import Floats, inverse_normal
from hoopwright.tables.spread import Spread

#: Score of the 95th percentile of a standard normal value [-].
HIGH_SCORE = 1.6448536269514722
DRAWS = 4096
SEED = 1


@lru_cache(maxsize=4)
def _strata(count: int) -> Floats:
    """Return the standard normal scores of the middles of equal chances, rising."""
    return inverse_normal((np.arange(count, dtype=float) + 0.5) / count)


def _words(start: int, count: int) -> NDArray[np.uint64]:
    """Return 64-bit words that look random, the same on every machine.

    Source: SplitMix64, Steele, Lea and Flood 2014, from memory. numpy.random would do as well,
    but takes half as long again to import as all of numpy.
    """
    with np.errstate(over="ignore"):
        step = np.uint64(0x9E3779B97F4A7C15)
        word = np.arange(1, count + 1, dtype=np.uint64) * step + np.uint64(start) * step * step
        word = (word ^ (word >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        word = (word ^ (word >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return word ^ (word >> np.uint64(31))


@lru_cache(maxsize=256)
def _scores(name: str, count: int, seed: int) -> Floats:
    """Return standard normal scores, one from each of `count` equal chances, in a fixed shuffle."""
    scores = _strata(count)[np.argsort(_words((crc32(name.encode()) << 20) + seed, count))]
    scores.setflags(write=False)
    return scores


@lru_cache(maxsize=256)
def _ranks(name: str, count: int, seed: int) -> Floats:
    """Return the ranks of an input's scores, from the lowest, about their mean."""
    ranks = np.argsort(np.argsort(_scores(name, count, seed))).astype(np.float64)
    ranks -= (count - 1) / 2
    ranks.setflags(write=False)
    return ranks


@lru_cache(maxsize=512)
def _usual(name: str, value: Spread, count: int, seed: int) -> Floats:
    """Return an input drawn at its own scores; kept, for most beds share most of their ranges."""
    found = drawn(value, _scores(name, count, seed))
    found.setflags(write=False)
    return found


def drawn(value: Spread, score: Floats) -> Floats:
    """Return a range at standard normal scores [-]: low, likely and high at 5, 50 and 95 %.

    Log-normal on either side of the likely value where the range is above zero; else normal on
    either side, and never below a low end of exactly zero.
    """
    over = score > 0.0
    if value.low > 0.0:
        step: Floats = np.where(over, value.high / value.likely, value.likely / value.low)
        return np.asarray(value.likely * step ** (score / HIGH_SCORE))
    width: Floats = np.where(over, value.high - value.likely, value.likely - value.low)
    found = value.likely + width * score / HIGH_SCORE
    return np.asarray(np.maximum(found, 0.0) if value.low == 0.0 else found)


@dataclass(frozen=True)
class Draws:
    """The draws of one bed. used : the ranges asked for so far, by name; made : what they gave."""

    count: int = DRAWS
    seed: int = SEED
    used: dict[str, Spread] = field(default_factory=dict)
    made: dict[tuple[str, Spread], Floats] = field(default_factory=dict)

    def __getstate__(self) -> dict[str, Any]:
        # What was drawn is drawn again, the same, where it is wanted.
        return {"count": self.count, "seed": self.seed, "used": self.used, "made": {}}

    def score(self, name: str) -> Floats:
        """Return the standard normal scores of an input [-]."""
        return _scores(name, self.count, self.seed)

    def ranks(self, name: str) -> Floats:
        """Return the ranks of an input's draws about their mean: of any range, as of its scores."""
        return _ranks(name, self.count, self.seed)

    def of(self, name: str, value: Spread) -> Floats:
        """Return an input drawn from its range; the same name gives the same draws."""
        if value.low == value.high:
            return np.full(self.count, value.likely)
        self.used[name] = value
        found = self.made.get((name, value))
        if found is None:
            score = self.score(name)
            usual = score is _scores(name, self.count, self.seed)
            found = self.made[name, value] = (
                _usual(name, value, self.count, self.seed) if usual else drawn(value, score)
            )
        return found
