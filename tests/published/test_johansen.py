"""Soil conductivity: Johansen 1975 in Farouki 1981 (fine branch), values computed by hand.

Also the wind profile FAO-56 eq. 47.
"""

from __future__ import annotations

import pytest

from hoopwright.heat.coefficients import likely
from hoopwright.heat.convection import wind_share
from hoopwright.heat.soil import conductivity, heat_capacity


@pytest.mark.parametrize(
    ("saturation", "expected"), [(0.25, 0.63), (0.5, 0.97), (0.75, 1.17), (1.0, 1.31)]
)
def test_loam(saturation: float, expected: float) -> None:
    found = conductivity(0.5, 0.5 * saturation, 0.3, False, likely())
    assert found == pytest.approx(expected, abs=0.02)


@pytest.mark.parametrize(("moisture", "expected"), [(0.1, 1.42), (0.25, 2.05), (0.4, 2.67)])
def test_heat_capacity(moisture: float, expected: float) -> None:
    """de Vries 1963: 1.42, 2.05, 2.67 MJ/m3K at porosity one half (solids 2.0 MJ/m3K)."""
    found = heat_capacity(0.5, moisture, False, likely()) / 1e6
    assert found == pytest.approx(expected, abs=0.04)


def test_frozen_wet_soil_conducts_better() -> None:
    warm = conductivity(0.5, 0.4, 0.3, False, likely())
    assert conductivity(0.5, 0.4, 0.3, True, likely()) > 1.15 * warm


@pytest.mark.parametrize(
    ("height", "share"), [(0.3, 0.415), (0.5, 0.514), (0.75, 0.586), (1.0, 0.635), (2.0, 0.748)]
)
def test_wind_profile(height: float, share: float) -> None:
    assert wind_share(height) == pytest.approx(share, abs=0.002)
