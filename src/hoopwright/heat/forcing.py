"""Hourly forcing of the march: weather, light and schedule laid out for one bed and one cover."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import saturation_over_water
from hoopwright.climate.sky import sky_of
from hoopwright.climate.sun import sun_of
from hoopwright.climate.weather import Weather
from hoopwright.heat import constants as names
from hoopwright.heat.coefficients import Coefficients, read_rows
from hoopwright.heat.convection import in_thin_air
from hoopwright.heat.enclosure import Canopy, CoverOptics, Enclosure
from hoopwright.heat.light import (
    SNOW_SHOWS,
    LightGeometry,
    light_geometry,
    light_of_ground,
    light_on_boards,
    light_under,
)
from hoopwright.heat.longwave import KELVIN, STEFAN_BOLTZMANN
from hoopwright.heat.near_ground import neutral_conductance, wind_share
from hoopwright.heat.schedule import Settings
from hoopwright.heat.snow import Snow, light_through, resistance, snow_depths
from hoopwright.heat.soil import annual_wave, fit_annual_wave
from hoopwright.heat.vapour import stomatal_resistance

Series = NDArray[np.float64]
SCREEN = 2.0  # [m] height of the station's thermometer; WMO allows 1.25-2 m
BED_HEIGHT = 0.25  # [m] height of "air at the bed" over open soil; Sugiyama et al. 1967 used 0.25


@dataclass(frozen=True)
class Place:
    """The part of the forcing that every cover on this bed shares.

    from_ground, on_boards : [W/m2] light that leaves the ground outside; light on the bed's sides
    """

    weather: Weather
    geometry: LightGeometry
    sky: Series
    vapour: Series
    deep: Series
    snow: Snow
    from_ground: Series
    on_boards: Series


def place(
    weather: Weather,
    enclosure: Enclosure,
    depth: float,
    diffusivity: float,
    c: Coefficients,
    trust_file_sky: bool = True,
    ground_warmer: float = 1.0,
) -> Place:
    """Work out what does not depend on the cover.

    depth [m], diffusivity [m2/s] : of the deep boundary, whose temperature is the annual wave of
    Kusuda & Achenbach fitted to the record's own air, `ground_warmer` [K] warmer than the air
    (soil runs 1-2 K warmer than air where snow lies; common practice, no source).
    """
    day = _days(weather)
    if len(weather) >= 8000:
        year = min(len(weather), 8760)
        mean, swing, coldest = fit_annual_wave(day[:year], weather.air_temperature[:year])
        deep = annual_wave(depth, day, mean + ground_warmer, swing, coldest, diffusivity * 86400.0)
    else:
        deep = np.full(len(weather), float(weather.air_temperature.mean()) + ground_warmer)
    snow = snow_depths(weather, c)
    geometry = light_geometry(enclosure, sun_of(weather), c.film_refractive_index)
    from_ground = light_of_ground(weather.global_horizontal, snow.on_ground, c)
    return Place(
        weather=weather,
        geometry=geometry,
        sky=sky_of(weather, trust_file_sky) + c.sky_error,
        vapour=saturation_over_water(weather.dew_point),
        deep=deep,
        snow=snow,
        from_ground=from_ground,
        on_boards=light_on_boards(weather, geometry, from_ground),
    )


def _days(weather: Weather) -> Series:
    """Day of the year [1-366) at the end of each hour."""
    start = weather.start
    first = start.timetuple().tm_yday + start.hour / 24.0
    return first + np.arange(1, len(weather) + 1) / 24.0


def leak_of(enclosure: Enclosure) -> tuple[float, float]:
    """Air changes [1/h] and [1/h per m/s] of a closed cover by how its edges are held."""
    for row in read_rows("heat_leakage.csv"):
        if row["edge"] == enclosure.edge:
            return (
                enclosure.leak_factor * float(row["still [1/h]"]),
                enclosure.leak_factor * float(row["wind [1/h per m/s]"]),
            )
    raise ValueError(f"no leak is known for edges that are {enclosure.edge!r}")


def outside_convection(wind: Series, pressure: float, c: Coefficients) -> Series:
    """h [W/m2K] on the cover's outside in `wind` [m/s] at `pressure` [Pa].

    Papadakis et al. 1992, 0.95 + 6.76 u^0.49, u <= 6.3 m/s; in thin air as the law's own power of
    u (the small still part alike).
    """
    law = c.outside_scale * (c.outside_still + c.outside_wind * wind**c.outside_exponent)
    return np.asarray(in_thin_air(pressure, c.outside_exponent) * law)


def forcing(  # the order of the columns is the kernel's
    at: Place,
    enclosure: Enclosure,
    optics: CoverOptics,
    canopy: Canopy,
    hours: Settings,
    c: Coefficients,
    air: Series | None = None,
    into: NDArray[np.float64] | None = None,
) -> NDArray[np.float64]:
    """The table of hourly columns that the kernel reads, shape (hours, columns).

    air  : [degC] to use in place of the station's, where a run wants another outside air
    into : a table of that shape to fill, whatever it holds
    """
    weather = at.weather
    outside = weather.air_temperature if air is None else air
    columns = np.empty((len(weather), names.FORCING_COLUMNS)) if into is None else into
    columns.fill(0.0)
    # A barrier that the record's wind already feels is not taken off twice: the greater counts.
    speed = weather.wind_speed * min(1.0, c.wind_shelter / weather.wind_shelter)
    crown = np.maximum(speed * wind_share(enclosure.height), c.least_wind)
    bed = np.maximum(speed * wind_share(BED_HEIGHT), c.least_wind)
    screen = np.maximum(speed * wind_share(SCREEN), c.least_wind)
    snow = at.snow
    light = light_under(weather, at.geometry, enclosure, optics, c, at.from_ground)
    through_snow = light_through(snow.on_cover, c)
    covered = hours.covered > 0.5
    # Powers by products: NumPy's own take ten times as long.
    square = (outside + KELVIN) ** 2
    black = STEFAN_BOLTZMANN * square * square
    sees = at.geometry.cover_sees_sky

    columns[:, names.AIR] = outside
    columns[:, names.VAPOUR] = at.vapour
    columns[:, names.SKY] = at.sky
    columns[:, names.OUTER] = sees * at.sky + (1.0 - sees) * black
    columns[:, names.LIGHT] = light.on_bed * through_snow
    columns[:, names.COVER_LIGHT] = light.in_cover * through_snow
    columns[:, names.OPEN_LIGHT] = weather.global_horizontal
    convection = outside_convection(crown, float(weather.pressure.mean()), c)
    _cover_outside(columns, outside, convection, snow.on_cover, black, c)
    _leaks(columns, enclosure, optics, crown)
    columns[:, names.WIND] = np.where(covered, crown, bed)
    columns[:, names.OPEN_EXCHANGE] = screen * neutral_conductance(
        BED_HEIGHT, SCREEN, c.open_roughness
    )
    columns[:, names.FREE_WIND] = screen
    columns[:, names.COVERED] = hours.covered
    columns[:, names.SNOW_ON_COVER] = snow.on_cover > 0.005
    columns[:, names.GROUND_SNOW] = np.where(covered, 0.0, resistance(snow.on_ground, c))
    columns[:, names.SIDE_AIR] = outside + (
        c.board_solar_absorptance * c.board_outside_resistance * at.on_boards
    )
    columns[:, names.DEEP] = at.deep
    _shares(columns, canopy, covered & True, snow.on_ground, c)
    columns[:, names.AUTO_FROM] = hours.auto_from
    columns[:, names.AUTO_MOST] = hours.auto_most
    columns[:, names.ENDS_OPEN] = hours.ends
    return columns


def _cover_outside(
    columns: NDArray[np.float64],
    outside: Series,
    convection: Series,
    depth: Series,
    black: Series,
    c: Coefficients,
) -> None:
    """Convection on the cover; under snow, its resistance and the snow's own sky exchange."""
    absolute = outside + KELVIN
    radiation = 4.0 * STEFAN_BOLTZMANN * absolute * absolute * absolute
    snowy = depth > 0.005
    top = convection + radiation
    columns[:, names.COVER_OUT] = np.where(
        snowy, 1.0 / (1.0 / top + resistance(depth, c)), convection
    )
    columns[:, names.COVER_AIR] = np.where(snowy, (columns[:, names.OUTER] - black) / top, 0.0)


def _leaks(
    columns: NDArray[np.float64], enclosure: Enclosure, optics: CoverOptics, wind: Series
) -> None:
    still, windy = leak_of(enclosure)
    changes = still + optics.leak_still + (windy + optics.leak_wind) * wind
    columns[:, names.LEAK] = changes * enclosure.volume / 3600.0


def _shares(
    columns: NDArray[np.float64],
    canopy: Canopy,
    covered: NDArray[np.bool_],
    ground_snow: Series,
    c: Coefficients,
) -> None:
    """Light to soil and leaves, and the stomata that follow from it."""
    caught = 1.0 - np.exp(-c.light_extinction * canopy.leaf_area)
    snowy = ~covered & (ground_snow > SNOW_SHOWS)
    soil_albedo = np.where(snowy, c.snow_albedo, c.soil_albedo)
    columns[:, names.SOIL_LIGHT] = (1.0 - caught) * (1.0 - soil_albedo)
    leaf = caught * (1.0 - np.where(snowy, c.snow_albedo, c.leaf_albedo))
    columns[:, names.LEAF_LIGHT] = leaf
    light = np.where(covered, columns[:, names.LIGHT], columns[:, names.OPEN_LIGHT])
    columns[:, names.STOMATA] = stomatal_resistance(light * leaf / max(canopy.leaf_area, 1e-6), c)
