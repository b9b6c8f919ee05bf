"""One bed whose uncertain inputs are what a test gives, so that its rungs can be worked by hand."""

from __future__ import annotations

from dataclasses import field

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.odds import Draws
from hoopwright.tables.spread import Spread


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
