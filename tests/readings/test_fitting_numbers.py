"""Leak, light and soil water fitted to readings of an invented bed whose numbers are known.

Three seeded beds here; a hundred in `python -m bench.readings`.
"""

from __future__ import annotations

import numpy as np
import pytest
from synthetic_bed import readings, setting, true_numbers

from hoopwright.heat.compiled import compiled_march
from hoopwright.readings.fit import NAMES, fit
from hoopwright.readings.text import ReadingsError


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_known_numbers_lie_within_the_stated_intervals(seed: int) -> None:
    """And the fitted model does better on weeks it has not seen."""
    model = setting(march=compiled_march())
    found = fit(model, readings(seed, model))
    assert tuple(one.name for one in found.numbers) == NAMES
    for one, true in zip(found.numbers, true_numbers(seed), strict=True):
        assert one.low <= true <= one.high, one
        assert one.low < one.likely < one.high
    assert found.held > 100
    assert found.error_after < found.error_before
    # What was put in as error: 0.63 K.
    assert found.error_after < 0.85


def test_too_few_hours_are_refused() -> None:
    """Ten days do not make a fit; the message says how many would."""
    model = setting(march=compiled_march())
    measured = readings(1, model)
    measured[24 * 10 :] = np.nan
    with pytest.raises(ReadingsError, match="336, two weeks"):
        fit(model, measured)


def test_without_scipy_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fitting is an extra."""
    import sys

    monkeypatch.setitem(sys.modules, "scipy.optimize", None)
    model = setting(march=compiled_march())
    with pytest.raises(ReadingsError, match="fitting"):
        fit(model, np.zeros(len(model.weather)))
