"""Moist air: vapour, saturation, density, and what altitude does to them."""

import numpy as np

from hoopwright.climate.weather import Series, series
from hoopwright.tables.constants import KELVIN


def saturation_pressure(temperature: Series | float) -> Series:
    """Return the vapour pressure [Pa] over ice below 0.01 degC and over water above.

    temperature : [degC], valid -100 to 200
    Source: ASHRAE Handbook Fundamentals 2017, ch. 1, eqs. 5 and 6 (Hyland & Wexler 1983).
    """
    celsius = series(temperature)
    return np.where(celsius <= 0.01, _over_ice(celsius), saturation_over_water(celsius))


def saturation_over_water(temperature: Series | float) -> Series:
    """Return the vapour pressure [Pa] over liquid, also supercooled; ASHRAE 2017 eq. 6.

    Weather services report the dew point over water at all temperatures; so use this, not the
    ice curve, to turn a station's dew point into vapour pressure.
    """
    kelvin = series(temperature) + KELVIN
    return np.exp(
        -5.8002206e3 / kelvin
        + 1.3914993
        - 4.8640239e-2 * kelvin
        + 4.1764768e-5 * kelvin**2
        - 1.4452093e-8 * kelvin**3
        + 6.5459673 * np.log(kelvin)
    )


def _over_ice(temperature: Series) -> Series:
    # ASHRAE, as over water above
    kelvin = series(temperature) + KELVIN
    return np.exp(
        -5.6745359e3 / kelvin
        + 6.3925247
        - 9.6778430e-3 * kelvin
        + 6.2215701e-7 * kelvin**2
        + 2.0747825e-9 * kelvin**3
        - 9.4840240e-13 * kelvin**4
        + 4.1635019 * np.log(kelvin)
    )


def saturation_slope(temperature: Series | float) -> Series:
    """Return d(saturation pressure)/dT [Pa/K], the derivative of the ASHRAE equations."""
    celsius = series(temperature)
    kelvin = celsius + KELVIN
    ice = (
        5.6745359e3 / kelvin**2
        - 9.6778430e-3
        + 2 * 6.2215701e-7 * kelvin
        + 3 * 2.0747825e-9 * kelvin**2
        - 4 * 9.4840240e-13 * kelvin**3
        + 4.1635019 / kelvin
    )
    return saturation_pressure(celsius) * np.where(celsius <= 0.01, ice, _over_water_slope(celsius))


def _over_water_slope(temperature: Series) -> Series:
    """Return d(log of saturation pressure)/dT [1/K] over water."""
    kelvin = temperature + KELVIN
    return series(
        5.8002206e3 / kelvin**2
        - 4.8640239e-2
        + 2 * 4.1764768e-5 * kelvin
        - 3 * 1.4452093e-8 * kelvin**2
        + 6.5459673 / kelvin
    )


def dew_point(vapour_pressure: Series | float) -> Series:
    """Return the temperature [degC] at which air of this vapour pressure [Pa] is saturated.

    Over water, as weather services report it at all temperatures. Newton's rule on the logarithm
    of ASHRAE 2017 eq. 6, to 1e-9 K.
    """
    pressure = np.maximum(series(vapour_pressure), 1e-3)
    log_ratio = np.log(pressure / 611.2)
    guess = 243.12 * log_ratio / (17.62 - log_ratio)
    for _ in range(6):
        over = np.log(saturation_over_water(guess) / pressure)
        guess = guess - over / _over_water_slope(guess)
    return guess


def dew_point_from_humidity(temperature: Series | float, relative_humidity: Series) -> Series:
    """Return the dew point [degC] over water from temperature [degC] and humidity [0 to 1]."""
    return dew_point(series(relative_humidity) * saturation_over_water(temperature))


def relative_humidity(temperature: Series | float, dew: Series | float) -> Series:
    """Return relative humidity [-] over water from temperature and dew point [degC]."""
    return saturation_over_water(dew) / saturation_over_water(temperature)


def pressure_at(elevation: float) -> float:
    """Return standard pressure [Pa] at an elevation [m]; ASHRAE 2017 ch. 1 eq. 3."""
    return float(101325.0 * (1 - 2.25577e-5 * elevation) ** 5.2559)


def latent_heat(temperature: Series | float) -> Series:
    """Return the latent heat of evaporation [J/kg].

    Source: FAO-56 annex 3 eq. 3-1 (Harrison 1963): 2.501 - 0.002361 T MJ/kg.
    """
    return 1e6 * (2.501 - 2.361e-3 * series(temperature))


def psychrometric_constant(
    pressure: Series | float,
    latent: float = 2.45e6,
    specific_heat: float = 1013.0,
    molar_ratio: float = 0.622,
) -> Series:
    """Return gamma [Pa/K]; FAO-56 eq. 8 with its constants at 20 degC."""
    return specific_heat * series(pressure) / (molar_ratio * latent)
