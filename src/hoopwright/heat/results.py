"""What a run gives back, hour by hour, with its energy books."""

from functools import cached_property

import numpy as np

from hoopwright.climate.air import saturation_over_water
from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.constants import Outcome


@dataclass(frozen=True)
class Energy:
    """Sums over the run [J/m2] per ground area; gains positive in, losses positive out.

    residual is what the linearised long-wave leaves over: light + longwave - cover_air - air -
    vapour - side - deep - stored, with emission by its full law. closure is its share [-] of all
    heat that passed.
    """

    light: float
    longwave: float
    cover_air: float
    air: float
    vapour: float
    side: float
    deep: float
    stored: float
    residual: float
    absolute_residual: float


@dataclass(frozen=True)
class UnderCover:
    """The climate of one bed, arrays of shape (hours,), values at the end of each hour.

    air, leaf, surface, cover : [degC] inside air, leaves, soil surface, film (or outside air)
    vapour                    : [Pa] of the inside air
    condensate, leaf_water    : [kg/m2] of ground on the cover and on the leaves
    opening                   : [m] height of the rolled-up sides
    air_changes               : [1/h] of the volume under the cover (as if, while it is off)
    ventilation               : [m3/s per m2 ground]
    water                     : [mm] evaporated from soil and leaves in the hour, less leaf dew
    light                     : [W/m2] on the bed
    residual                  : [W/m2] energy not accounted for, mean of the hour
    upper_air, fabric         : [degC] air between an inner fabric and the cover, and the fabric
    jugs                      : [degC] water jugs (outside air at the start where there are none)
    soil                      : [degC] shape (hours, layers);  depths [m] of the layers' middles
    """

    weather: Weather
    air: Series
    leaf: Series
    surface: Series
    cover: Series
    vapour: Series
    condensate: Series
    leaf_water: Series
    opening: Series
    air_changes: Series
    ventilation: Series
    water: Series
    light: Series
    residual: Series
    upper_air: Series
    fabric: Series
    jugs: Series
    soil: Series
    depths: Series
    energy: Energy

    @cached_property
    def relative_humidity(self) -> Series:
        """Relative humidity [-] of the inside air over water."""
        return np.asarray(np.minimum(self.vapour / saturation_over_water(self.air), 1.0))

    def soil_at(self, depth: float) -> Series:
        """Soil temperature [degC] at `depth` [m], linear between surface and layer middles."""
        points = np.concatenate(([0.0], self.depths))
        values = np.column_stack((self.surface, self.soil))
        right = int(np.clip(np.searchsorted(points, depth), 1, len(points) - 1))
        share = (depth - points[right - 1]) / (points[right] - points[right - 1])
        share = min(max(share, 0.0), 1.0)
        return np.asarray(values[:, right - 1] * (1.0 - share) + values[:, right] * share)


def under_cover(
    weather: Weather, table: Series, energy: Energy, thickness: Series, volume: float
) -> UnderCover:
    """Name the march's columns, shape (columns, hours); volume [m3/m2] of air under the cover."""
    found = Outcome(*table[: len(Outcome._fields)])
    return UnderCover(
        weather=weather,
        air=found.air,
        leaf=found.leaf,
        surface=found.surface,
        cover=found.cover,
        vapour=found.vapour,
        condensate=found.dew,
        leaf_water=np.maximum(found.leaf_dew, 0.0),
        opening=found.opening,
        air_changes=found.exchange * 3600.0 / volume,
        ventilation=found.exchange,
        water=found.water,
        light=found.light,
        residual=found.residual,
        upper_air=found.upper,
        fabric=found.fabric,
        jugs=found.jug,
        soil=table[len(Outcome._fields) :].T,
        depths=np.cumsum(thickness) - thickness / 2.0,
        energy=energy,
    )
