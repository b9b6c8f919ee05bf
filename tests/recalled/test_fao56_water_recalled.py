"""Readily available water: FAO Irrigation and Drainage Paper 56 (1998), example 36, from memory."""

import pytest

from hoopwright.season.water_coefficients import (
    WaterStore,
)

# Example 36: readily available water [mm] of three crops on three soils.
EXAMPLE_36 = [
    ("onion", 0.4, 0.30, (11, 20, 14)),
    ("tomato", 0.8, 0.40, (29, 54, 38)),
    ("maize", 1.2, 0.55, (59, 112, 79)),
]


@pytest.mark.parametrize(("_crop", "roots", "share", "expected"), EXAMPLE_36)
def test_example_36_readily_available_water(_crop, roots, share, expected) -> None:
    soils = [WaterStore(0.15, 0.06), WaterStore(0.32, 0.15), WaterStore(0.35, 0.23)]
    found = [share * soil.available(roots) for soil in soils]
    assert found == pytest.approx(expected, abs=0.6)
