"""A hundred invented beds with known leak, light and soil water: how often the intervals hold."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

from hoopwright.heat.compiled import compiled_march
from hoopwright.readings.fit import NAMES, fit

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "readings"))

TRIALS = 100


def main() -> None:
    """Print, of a hundred seeded trials, in how many the true numbers lie in their intervals."""
    from synthetic_bed import readings, setting, true_numbers

    model = setting(march=compiled_march())
    start = time.perf_counter()
    inside = np.zeros((TRIALS, 3), dtype=bool)
    widths, better = [], 0
    for seed in range(TRIALS):
        found = fit(model, readings(seed, model))
        true = true_numbers(seed)
        inside[seed] = [
            one.low <= value <= one.high for one, value in zip(found.numbers, true, strict=True)
        ]
        widths.append([(one.high - one.low) / one.likely for one in found.numbers])
        better += found.helps
    took = (time.perf_counter() - start) / TRIALS
    print(f"{TRIALS} beds, six weeks each, {took:.2f} s a fit")
    for n, name in enumerate(NAMES):
        wide = 100 * float(np.median(np.array(widths)[:, n]))
        print(
            f"  {name:<10} within its interval {inside[:, n].sum():3d}; interval {wide:.0f} % wide"
        )
    print(f"  all three at once {inside.all(axis=1).sum():3d} (asked: 95)")
    print(f"  better on weeks held out {better:3d}")
    assert inside.all(axis=1).sum() >= 95


if __name__ == "__main__":
    main()
