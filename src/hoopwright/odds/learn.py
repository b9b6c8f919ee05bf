"""What a few readings of a person's own say about an input."""

from collections.abc import Sequence

import numpy as np

from hoopwright.odds.draws import HIGH_SCORE
from hoopwright.tables.spread import Spread

#: Scatter of the logarithm from one leg or clip of a bed to the next [-] (an assumption).
SCATTER = 0.25


def updated(prior: Spread, readings: Sequence[float], scatter: float = SCATTER) -> Spread:
    """Return the range of the next single value once some readings are known.

    prior : range above zero, read as log-normal; readings : in its unit, all above zero
    scatter : [-] standard deviation of the logarithm between single values, taken as known

    Source: normal prior of the mean of the logarithms and normal readings, conjugate (any
    textbook of Bayesian statistics); the range is that of one more value, so it does not shrink
    below the scatter.
    """
    if not readings or min(readings) <= 0:
        raise ValueError("a pull test needs at least one reading, all of them above zero")
    mean, spread = np.log(prior.likely), np.log(prior.high / prior.low) / (2 * HIGH_SCORE)
    known, given = 1 / spread**2, len(readings) / scatter**2
    middle = (known * mean + given * float(np.mean(np.log(readings)))) / (known + given)
    wide = HIGH_SCORE * np.sqrt(1 / (known + given) + scatter**2)
    return Spread(*(float(np.exp(middle + side * wide)) for side in (-1.0, 0.0, 1.0)))
