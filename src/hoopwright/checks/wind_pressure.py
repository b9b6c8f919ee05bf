"""From a gust in the open to the pressure at this bed, and back, with what shelters it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from hoopwright.loads import wind_asce, wind_eurocode
from hoopwright.loads.shelter import sheltered_share
from hoopwright.loads.wind_cases import ASCE, EUROCODE, Basis
from hoopwright.site import Exposure, Site
from hoopwright.tables.spread import Spread, exactly

_ASCE_EXPOSURE: dict[Exposure, str] = {"town": "B", "open": "C", "shore": "D"}
_EN_TERRAIN: dict[Exposure, str] = {"town": "III", "open": "II", "shore": "0"}
OPEN_TERRAIN_HEIGHT = 10.0


@dataclass(frozen=True)
class WindAtBed:
    """How wind arrives at a cover.

    height : [m] of the crown above the ground
    """

    site: Site
    height: float

    @property
    def basis(self) -> Basis:
        """Return the standard whose coefficients are the likely ones."""
        return EUROCODE if self.site.standard.name == "EN 1991" else ASCE

    @cached_property
    def shelter(self) -> Spread:
        """Return the wind speed here over that in the open [-]."""
        site = self.site
        if site.barrier is None:
            return exactly(1.0)
        return sheltered_share(
            site.barrier, site.barrier_height, site.barrier_distance, self.height
        )

    @cached_property
    def per_square_speed(self) -> float:
        """Return the velocity pressure [Pa] of a gust of 1 m/s, before shelter."""
        if self.basis.eurocode:
            return self._eurocode()
        exposures = wind_asce.exposures()
        exposure = exposures["7-16", _ASCE_EXPOSURE[self.site.exposure]]
        factor = float(
            wind_asce.exposure_factor_outside_code(self.height, exposure)
            if self.site.count_height
            else wind_asce.exposure_factor(self.height, exposure)
        )
        thin = float(wind_asce.elevation_factor(self.site.elevation or 0.0))
        return float(wind_asce.velocity_pressure(1.0, factor, elevation_factor=thin))

    def _eurocode(self) -> float:
        """Return the peak velocity pressure of a gust of 1 m/s at 10 m in open terrain.

        The standard starts from a ten-minute mean; both peaks are taken from it, so their ratio
        carries the terrain and the height. Air density 1.25 kg/m3 as the standard has it.
        """
        terrains = wind_eurocode.terrains()
        here = terrains[_EN_TERRAIN[self.site.exposure]]
        peak = wind_eurocode.peak_velocity_pressure
        ratio = peak(1.0, self.height, here) / peak(1.0, OPEN_TERRAIN_HEIGHT, terrains["II"])
        return float(wind_eurocode.basic_velocity_pressure(1.0) * ratio)

    def gust(self, pressure: Spread) -> Spread:
        """Return the gust in the open [m/s] that brings a velocity pressure [Pa] at the bed.

        The weak end meets the bed without shelter, the strong end with all of it.
        """
        speed = [
            math.sqrt(max(0.0, value) / self.per_square_speed)
            for value in (pressure.low, pressure.likely, pressure.high)
        ]
        shares = (self.shelter.high, self.shelter.likely, self.shelter.low)
        low, likely, high = (one / share for one, share in zip(speed, shares, strict=True))
        return Spread(low, max(low, likely), max(low, likely, high))

    def pressure(self, gust: float) -> float:
        """Return the likely velocity pressure [Pa] at the bed of a gust in the open [m/s]."""
        return self.per_square_speed * (gust * self.shelter.likely) ** 2
