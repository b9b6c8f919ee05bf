"""One bed whose uncertain inputs are what a test gives, so that its rungs can be worked by hand."""

from __future__ import annotations

from dataclasses import field

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.odds.draws import Draws
from hoopwright.tables.spread import Spread

#: A share of the bed of the tests, whose boards are of a perishable wood.
SOUND = "wood left at the screws after five years, low resistance"


def gust_of(standing: Standing, pressure: float) -> float:
    """Pressure 0.5 rho (share gust)^2 turned round, at the likely share (its own test) [m/s]."""
    return float(np.sqrt(2 * pressure / 1.225) / standing.wind.likely_share)


@dataclass(frozen=True)
class Given(Draws):
    """A single draw. values : inputs by name; scores : [-] by name; else likely, score 0."""

    count: int = 1
    values: dict[str, float] = field(default_factory=dict)
    scores: dict[str, float] = field(default_factory=dict)

    def of(self, name: str, value: Spread) -> NDArray[np.float64]:
        self.used[name] = value
        return np.array([self.values.get(name, value.likely)])

    def score(self, name: str) -> NDArray[np.float64]:
        return np.array([self.scores.get(name, 0.0)])
