"""Sky long-wave against the printed example of a building-energy program and the formulas."""

import numpy as np
import pytest

from hoopwright.climate import sky


def test_example_of_the_engineering_reference():
    """EnergyPlus Engineering Reference, climate calculations: 293 K, dew point 283 K, clear.

    Emissivity 0.815 and 340.6 W/m2. Its text rounds ln(283/273) to 0.036; at full precision
    the same formula gives 0.8145 and 340.3, so 0.4 W/m2.
    """
    emissivity = sky.clark_allen_emissivity(np.array([10.0]))

    assert emissivity[0] == pytest.approx(0.815, abs=0.001)
    assert sky.sky_radiation(emissivity, 293 - 273.15)[0] == pytest.approx(340.6, abs=0.4)


def test_martin_berdahl_and_clark_allen_at_freezing():
    """Air 0 degC, dew point -10 degC, hand-worked from the papers' formulas.

    0.711 - 0.056 + 0.0073 = 0.6623 at 1000 hPa with no hour term; at midnight and 760 hPa
    0.6623 + 0.013 - 0.0288 = 0.6465. Clark & Allen 0.759; with 10 tenths x 1.154 = 0.876.
    """
    clear = sky.martin_berdahl_clear_emissivity(-10.0, 100000.0, 6.0)
    high = sky.martin_berdahl_clear_emissivity(-10.0, 76000.0, 0.0)

    assert clear == pytest.approx(0.6623, abs=1e-4)
    assert high == pytest.approx(0.6465, abs=1e-4)
    assert sky.clark_allen_emissivity(-10.0) == pytest.approx(0.7585, abs=5e-4)
    assert sky.clark_allen_emissivity(-10.0, 1.0) == pytest.approx(0.7585 * 1.154, abs=5e-4)


def test_sky_temperature_of_a_clear_cold_sky():
    """At air 0 degC: emissivity 0.6623 is a sky of -26.7 degC; radiation and back."""
    assert sky.sky_temperature(sky.sky_radiation(0.6623, 0.0)) == pytest.approx(-26.7, abs=0.05)


def test_overcast_sky_is_near_the_air_and_clear_sky_far_below():
    """Martin & Berdahl, cloud base 2 km: exp(-2/8.2) = 0.784 of the gap is closed."""
    clear = sky.martin_berdahl_emissivity(0.0, 85000.0, 0.0, 0.0)
    overcast = sky.martin_berdahl_emissivity(0.0, 85000.0, 0.0, 1.0)

    assert (overcast - clear) / (1 - clear) == pytest.approx(np.exp(-2 / 8.2), abs=1e-9)
