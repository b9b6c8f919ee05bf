"""Undisturbed ground temperature: Kusuda & Achenbach 1965 (formula from memory, values computed).

Mean 8, swing 12, coldest day 20, diffusivity 0.0432 m2/day (0.5e-6 m2/s).
"""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.heat.soil import annual_wave, fit_annual_wave


@pytest.mark.parametrize(
    ("depth", "day", "expected"), [(0.28, 200, 18.44), (1.0, 200, 14.78), (0.0, 20, -4.0)]
)
def test_values(depth: float, day: float, expected: float) -> None:
    found = annual_wave(depth, np.array([day]), 8.0, 12.0, 20.0, 0.0432)
    assert float(found[0]) == pytest.approx(expected, abs=0.01)


def test_the_fit_finds_its_own_wave() -> None:
    days = np.arange(1, 8761) / 24.0
    surface = annual_wave(0.0, days, 8.0, 12.0, 20.0, 0.0432)
    mean, swing, coldest = fit_annual_wave(days, surface)
    assert mean == pytest.approx(8.0, abs=0.01)
    assert swing == pytest.approx(12.0, abs=0.01)
    assert coldest == pytest.approx(20.0, abs=0.1)
