"""Constants of nature and of agreement that several rooms need; each stands here only."""

from hoopwright.units.convert import INCH, STANDARD_GRAVITY

__all__ = ["INCH", "STANDARD_GRAVITY", "WATER_DENSITY"]

WATER_DENSITY = 1000.0
"""Density of water [kg/m3], to 0.3 % from 0 to 25 degC."""
