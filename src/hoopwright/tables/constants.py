"""Constants of nature and of agreement that several rooms need; each stands here only."""

from hoopwright.units.convert import STANDARD_GRAVITY

__all__ = ["STANDARD_GRAVITY", "WATER_DENSITY"]

WATER_DENSITY = 1000.0
"""Density of water [kg/m3], to 0.3 % from 0 to 25 degC."""
