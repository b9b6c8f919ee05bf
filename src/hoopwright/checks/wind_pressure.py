"""From a gust in the open to the pressure at this bed, and back."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.loads.near_ground import gust_share, roughness, velocity_pressure
from hoopwright.loads.wind_asce import elevation_factor
from hoopwright.loads.wind_cases import ASCE, EUROCODE, Basis
from hoopwright.odds import Draws
from hoopwright.site import Site
from hoopwright.tables.doubts import doubts

Floats = NDArray[np.float64]

#: Density of air at sea level, 15 degC [kg/m3]: ISO 2533.
AIR_DENSITY = 1.225
PEAK = "peak factor of the gust at the bed"
PROFILE = "gust near the ground over the profile"
AMONG_HOUSES = "gust among houses and gardens"
GROUND = "roughness of the ground upwind"


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
    def density(self) -> float:
        """Return the density of the air here [kg/m3]."""
        return AIR_DENSITY * float(elevation_factor(self.site.elevation or 0.0))

    @cached_property
    def likely_share(self) -> float:
        """Return the likely gust at the crown over the gust 10 m up in the open [-]."""
        ground = roughness().get(self.site.exposure)
        if ground is None:
            return doubts()[AMONG_HOUSES].likely
        return float(gust_share(self.height, ground.likely, doubts()[PEAK].likely))

    def share(self, draws: Draws) -> Floats:
        """Return the gust at the crown over the gust 10 m up in the open [-], drawn.

        Shelter is left out: a barrier shelters from one side, and wind comes along the bed too.
        """
        known = doubts()
        ground = roughness().get(self.site.exposure)
        if ground is None:
            return draws.of(AMONG_HOUSES, known[AMONG_HOUSES])
        rough = draws.of(GROUND, ground)
        peak = draws.of(PEAK, known[PEAK])
        return gust_share(self.height, rough, peak) * draws.of(PROFILE, known[PROFILE])

    def speed(self, pressure: Floats) -> Floats:
        """Return the wind speed at the crown [m/s] that makes a velocity pressure [Pa]."""
        return np.asarray(np.sqrt(2.0 * np.maximum(pressure, 0.0) / self.density))

    def pressure(self, gust: float) -> float:
        """Return the likely velocity pressure [Pa] at the bed of a gust in the open [m/s]."""
        return float(velocity_pressure(self.likely_share * gust, self.density))
