"""Natural ventilation through openings.

Boulard & Baille 1995, J. agric. Engng Res. 61:145 (both sides);
Kittas, Boulard & Papadakis 1997 (which of wind and stack prevails). Formulas from memory, values
computed from them.
"""

from __future__ import annotations

from math import sqrt

import pytest
from scipy.optimize import brentq

from hoopwright.heat.ventilation import in_series, through_openings

LENGTH = 3.658  # [m] 12 ft


@pytest.mark.parametrize(("wind", "expected"), [(2.0, 0.457), (0.0, 0.161)])
def test_both_sides_open_a_foot(wind: float, expected: float) -> None:
    flow = through_openings(2 * LENGTH * 0.3, 0.3, 0.65, 0.09, 10.0, 295.0, wind)
    assert flow == pytest.approx(expected, rel=0.03)


def test_wind_takes_over_where_kittas_says() -> None:
    """Both parts are equal at u = sqrt(2 g H/4 / (T Cw)) sqrt(dT), some 0.24 sqrt(dT) at 0.3 m."""
    height, kelvin, pressure = 0.3, 290.0, 0.09
    equal = sqrt(2 * 9.80665 * height / 4 / (kelvin * pressure))
    assert equal == pytest.approx(0.24, abs=0.01)
    stack = through_openings(1.0, height, 0.65, pressure, 4.0, kelvin, 0.0)
    windy = through_openings(1.0, height, 0.65, pressure, 0.0, kelvin, equal * 2.0)
    assert windy == pytest.approx(stack, rel=1e-6)


# Worked by hand from Boulard & Baille for a 3 x 12 ft bed at 2000 m: 1024 W of heat into the air,
# 6.5 W/m2K through 1.4 m2 of cover a m2 of ground, Cd 0.65, Cw 0.09, air 0.95 kg/m3 at 295 K.
SIZES = [(0.0, 8.0, 9.4), (1.0, 8.0, 5.2), (2.0, 5.0, 5.0), (2.0, 8.0, 2.8), (4.0, 8.0, 1.4)]


@pytest.mark.parametrize(("wind", "difference", "inches"), SIZES)
def test_opening_that_holds_a_difference(wind: float, difference: float, inches: float) -> None:
    area = 0.914 * LENGTH

    def left_over(height: float) -> float:
        flow = through_openings(2 * LENGTH * height, height, 0.65, 0.09, difference, 295.0, wind)
        return 1024.0 - 6.5 * 1.4 * area * difference - 0.95 * 1006.0 * flow * difference

    height = brentq(left_over, 1e-4, 2.0)
    assert height / 0.0254 == pytest.approx(inches, rel=0.05)


def test_a_mesh_in_the_opening_costs_air() -> None:
    """Lopez et al. 2016: meshes with Cd 0.15-0.33 in series; alone they rule the flow."""
    assert in_series(0.65, 0.325) == pytest.approx(1 / sqrt(1 / 0.65**2 + 1 / 0.325**2))
    assert in_series(0.65, 0.151) < 0.151
    assert in_series(0.65, 0.0) == 0.65
