"""Reference evapotranspiration of FAO Irrigation and Drainage Paper 56 (Allen et al. 1998).

Units are those of the paper where its constants carry them: energy in MJ/m2 per day or hour,
vapour pressure and air pressure in kPa. Every function says so.
"""

import numpy as np

from hoopwright.climate.weather import Series, series
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class DailyReference:
    """Parts of a daily or monthly sum: energies [MJ/m2 d], reference [mm/d]."""

    net_shortwave: Series
    net_longwave: Series
    net_radiation: Series
    reference: Series


def atmospheric_pressure(elevation: Series | float) -> Series:
    """Return [kPa] at elevation [m]; FAO-56 eq. 7."""
    return 101.3 * ((293 - 0.0065 * series(elevation)) / 293) ** 5.26


def psychrometric_constant(pressure: Series | float) -> Series:
    """Return gamma [kPa/degC] from pressure [kPa]; FAO-56 eq. 8."""
    return 0.665e-3 * series(pressure)


def saturation_vapour_pressure(temperature: Series | float) -> Series:
    """Return e0 [kPa] at temperature [degC]; FAO-56 eq. 11 (Tetens)."""
    celsius = series(temperature)
    return 0.6108 * np.exp(17.27 * celsius / (celsius + 237.3))


def saturation_slope(temperature: Series | float) -> Series:
    """Return Delta [kPa/degC] at temperature [degC]; FAO-56 eq. 13."""
    celsius = series(temperature)
    return 4098 * saturation_vapour_pressure(celsius) / (celsius + 237.3) ** 2


def inverse_distance(day_of_year: Series | float) -> Series:
    """Return the inverse relative distance to the sun dr [-]; FAO-56 eq. 23."""
    return 1 + 0.033 * np.cos(2 * np.pi / 365 * series(day_of_year))


def declination(day_of_year: Series | float) -> Series:
    """Return the solar declination [rad]; FAO-56 eq. 24."""
    return 0.409 * np.sin(2 * np.pi / 365 * series(day_of_year) - 1.39)


def sunset_hour_angle(latitude: Series | float, day_of_year: Series | float) -> Series:
    """Return the sunset hour angle [rad] at latitude [deg]; FAO-56 eq. 25."""
    tangent = np.tan(np.radians(latitude)) * np.tan(declination(day_of_year))
    return series(np.arccos(np.clip(-tangent, -1, 1)))


def daily_extraterrestrial(latitude: Series | float, day_of_year: Series | float) -> Series:
    """Return Ra [MJ/m2 d] at latitude [deg]; FAO-56 eq. 21, solar constant 0.0820."""
    phi = np.radians(latitude)
    angle = sunset_hour_angle(latitude, day_of_year)
    delta = declination(day_of_year)
    lit = angle * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.sin(angle)
    return series(24 * 60 / np.pi * 0.0820 * inverse_distance(day_of_year) * lit)


def clear_sky_radiation(extraterrestrial: Series | float, elevation: float) -> Series:
    """Return Rso [in the units of Ra] at elevation [m]; FAO-56 eq. 37."""
    return (0.75 + 2e-5 * elevation) * series(extraterrestrial)


def net_longwave_daily(
    maximum: Series | float,
    minimum: Series | float,
    vapour_pressure: Series | float,
    relative_shortwave: Series | float,
) -> Series:
    """Return Rnl [MJ/m2 d], outgoing positive; FAO-56 eq. 39. relative_shortwave : Rs/Rso."""
    fourth = (series(maximum) + 273.16) ** 4 + (series(minimum) + 273.16) ** 4
    damp = 0.34 - 0.14 * np.sqrt(series(vapour_pressure))
    return series(
        4.903e-9 * fourth / 2 * damp * (1.35 * np.minimum(relative_shortwave, 1.0) - 0.35)
    )


def daily_reference(
    maximum: Series | float,
    minimum: Series | float,
    vapour_pressure: Series | float,
    wind: Series | float,
    shortwave: Series | float,
    clear_sky: Series | float,
    elevation: float,
    soil_heat: Series | float = 0.0,
    albedo: float = 0.23,
) -> DailyReference:
    """Return ET0 [mm/d] and its parts; FAO-56 eqs. 6, 38, 39.

    maximum, minimum [degC]; vapour_pressure [kPa]; wind [m/s] at 2 m; shortwave, clear_sky
    and soil_heat [MJ/m2 d]; elevation [m]
    """
    middle = (series(maximum) + series(minimum)) / 2
    slope = saturation_slope(middle)
    gamma = psychrometric_constant(atmospheric_pressure(elevation))
    saturated = (saturation_vapour_pressure(maximum) + saturation_vapour_pressure(minimum)) / 2
    kept = (1 - albedo) * series(shortwave)
    relative = series(shortwave) / np.maximum(clear_sky, 1e-9)
    lost = net_longwave_daily(maximum, minimum, vapour_pressure, relative)
    net = kept - lost
    wind = series(wind)
    dry = saturated - series(vapour_pressure)
    top = 0.408 * slope * (net - soil_heat) + gamma * 900 / (middle + 273) * wind * dry
    return DailyReference(kept, lost, net, top / (slope + gamma * (1 + 0.34 * wind)))
