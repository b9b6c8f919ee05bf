"""Constants of nature and of agreement that several rooms need; each stands here only."""

from hoopwright.units.convert import INCH, PSI, STANDARD_GRAVITY

__all__ = [
    "DAY",
    "HOUR",
    "INCH",
    "KELVIN",
    "MONTH_STARTS",
    "PSI",
    "STANDARD_GRAVITY",
    "STEFAN_BOLTZMANN",
    "WATER_DENSITY",
    "YEAR",
]

HOUR, DAY, YEAR = 3600.0, 86400.0, 365.25 * 86400.0
"""An hour, a day and a mean year [s]."""

MONTH_STARTS = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)
"""Day of a common year on which each month begins, from 0; the last is the year's end."""

KELVIN = 273.15
"""What 0 degC is on the absolute scale [K]."""

STEFAN_BOLTZMANN = 5.670374e-8
"""Black-body emission over the fourth power of temperature [W/m2 K4], CODATA 2018."""

WATER_DENSITY = 1000.0
"""Density of water [kg/m3], to 0.3 % from 0 to 25 degC."""
