"""ASCE 7 wind against published worked values, each named with where it was read."""

import pytest

from hoopwright.loads import wind_asce


def test_roof_along_the_wind_of_the_plant_example():
    """h/L 6.5/24: -0.9, -0.5, -0.3 at 0.5, 1.5 and 3 h (plant example, a test case of xcfem/xc)."""
    steps = wind_asce.along_roof_coefficients(6.5 / 24)

    def at(reach):
        return next(value for end, value in steps if reach <= end)

    assert [at(0.5), at(1.5), at(3.0)] == pytest.approx([-0.9, -0.5, -0.3])
    assert wind_asce.leeward_wall_coefficient(24 / 28) == pytest.approx(-0.5)
