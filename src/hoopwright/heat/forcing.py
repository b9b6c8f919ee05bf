"""Hourly forcing of the march: weather, light and schedule laid out for one bed and one cover."""

from dataclasses import field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import saturation_over_water
from hoopwright.climate.sky import sky_of
from hoopwright.climate.sun import HourlySun, sun_of
from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients, read_rows
from hoopwright.heat.constants import Hour
from hoopwright.heat.convection import in_thin_air, neutral_conductance, wind_share
from hoopwright.heat.enclosure import Canopy, CoverOptics, Enclosure
from hoopwright.heat.light import (
    SNOW_SHOWS,
    LightGeometry,
    light_geometry,
    light_of_ground,
    light_on_boards,
    light_under,
)
from hoopwright.heat.schedule import Settings
from hoopwright.heat.snow import Snow, light_through, resistance, snow_depths
from hoopwright.heat.soil import annual_wave, fit_annual_wave
from hoopwright.heat.vapour import stomatal_resistance
from hoopwright.tables.constants import KELVIN, STEFAN_BOLTZMANN

SCREEN = 2.0  # [m] height of the station's thermometer; WMO allows 1.25-2 m
SNOW_COVERS = 0.005  # [m] of snow at which the cover is hidden (an assumption)
BED_HEIGHT = 0.25  # [m] height of "air at the bed" over open soil; Sugiyama et al. 1967 used 0.25


@dataclass(frozen=True)
class Outside:
    """Air [degC] and vapour [Pa] around the cover, hour by hour."""

    air: Series
    vapour: Series


@dataclass(frozen=True)
class Place:
    """The part of the forcing that every cover on this bed shares.

    light_from : the bed and cover whose geometry it is
    from_ground, on_boards : [W/m2] light that leaves the ground outside; light on the bed's sides
    kept : runs that other runs at this place ask for again
    """

    weather: Weather
    light_from: Enclosure
    sun: HourlySun
    geometry: LightGeometry
    sky: Series
    vapour: Series
    deep: Series
    snow: Snow
    from_ground: Series
    on_boards: Series
    kept: dict[Any, Any] = field(init=False, repr=False, compare=False, default_factory=dict)


def place(
    weather: Weather,
    enclosure: Enclosure,
    depth: float,
    diffusivity: float,
    c: Coefficients,
    trust_file_sky: bool = True,
    ground_warmer: float = 1.0,
    like: Place | None = None,
) -> Place:
    """Work out what does not depend on the cover.

    like : of another bed at this place, with the same weather, coefficients and trust

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
    # How edges are held and which sides open changes no light.
    shape = replace(enclosure, edge="clipped", sides_that_open=2, leak_factor=1.0)
    if like is None:
        snow, sun = snow_depths(weather, c), sun_of(weather)
        sky = sky_of(weather, trust_file_sky) + c.sky_error
        vapour = saturation_over_water(weather.dew_point)
        from_ground = light_of_ground(weather.global_horizontal, snow.on_ground, c)
    else:
        snow, sun, sky, vapour = like.snow, like.sun, like.sky, like.vapour
        from_ground = like.from_ground
    if like is not None and like.light_from == shape:
        geometry, on_boards = like.geometry, like.on_boards
    else:
        geometry = light_geometry(enclosure, sun, c.film_refractive_index)
        on_boards = light_on_boards(weather, geometry, from_ground)
    return Place(weather, shape, sun, geometry, sky, vapour, deep, snow, from_ground, on_boards)


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


def forcing(
    at: Place,
    enclosure: Enclosure,
    optics: CoverOptics,
    canopy: Canopy,
    hours: Settings,
    c: Coefficients,
    around: Outside | None = None,
) -> Hour:
    """The series that the march reads, by their names; numbers where they do not change.

    around : what the cover and its leaks meet; an uncovered bed makes its own from the station's
    """
    weather = at.weather
    outside, vapour = weather.air_temperature, at.vapour
    if around is not None:
        outside = np.where(hours.covered > 0.5, around.air, outside)
        vapour = np.where(hours.covered > 0.5, around.vapour, vapour)
    # A barrier that the record's wind already feels is not taken off twice: the greater counts.
    speed = weather.wind_speed * min(1.0, c.wind_shelter / weather.wind_shelter)
    bed = np.maximum(speed * wind_share(BED_HEIGHT), c.least_wind)
    screen = np.maximum(speed * wind_share(SCREEN), c.least_wind)
    snow = at.snow
    # What every cover on this bed meets alike, and costs the most to work out.
    shared = ("every cover", enclosure.height, id(c))
    if shared not in at.kept:
        crown = np.maximum(speed * wind_share(enclosure.height), c.least_wind)
        convection = outside_convection(crown, float(weather.pressure.mean()), c)
        at.kept[shared] = crown, convection, light_through(snow.on_cover, c), c
    crown, convection, through_snow, _ = at.kept[shared]
    light = light_under(weather, at.geometry, enclosure, optics, c, at.from_ground)
    covered = hours.covered > 0.5
    # Powers by products: NumPy's own take ten times as long.
    absolute = outside + KELVIN
    square = absolute * absolute
    black = STEFAN_BOLTZMANN * square * square
    radiation = 4.0 * STEFAN_BOLTZMANN * square * absolute
    sees = at.geometry.cover_sees_sky
    on_cover = sees * at.sky + (1.0 - sees) * black
    on_bed = light.on_bed * through_snow
    soil_light, leaf_light, stomata = _shares(
        np.where(covered, on_bed, weather.global_horizontal), canopy, covered, snow.on_ground, c
    )
    still, windy = leak_of(enclosure)
    by_edges = enclosure.volume * (still + windy * crown)
    by_weave = enclosure.cover_area * (optics.leak_still + optics.leak_wind * crown)
    # Snow on the cover puts its resistance before convection and its own exchange with the sky.
    snowy = snow.on_cover > SNOW_COVERS
    top = convection + radiation
    beneath = 1.0 / (1.0 / top + resistance(snow.on_cover, c))
    return Hour(
        air=outside,
        vapour=vapour,
        sky=at.sky,
        outer=on_cover,
        light=on_bed,
        cover_light=light.in_cover * through_snow,
        open_light=weather.global_horizontal,
        cover_out=np.where(snowy, beneath, convection),
        cover_air=np.where(snowy, (on_cover - black) / top, 0.0),
        leak=(by_edges + by_weave) / 3600.0,
        wind=np.where(covered, crown, bed),
        open_exchange=screen * neutral_conductance(BED_HEIGHT, SCREEN, c.open_roughness),
        free_wind=screen,
        snow_on_cover=snowy,
        ground_snow=np.where(covered, 0.0, resistance(snow.on_ground, c)),
        side_sun=c.board_solar_absorptance * c.board_outside_resistance * at.on_boards,
        rain=_rain(weather, covered, optics, canopy, c),
        deep=at.deep,
        stomata=stomata,
        soil_light=soil_light,
        leaf_light=leaf_light,
        auto_from=hours.auto_from,
        auto_most=hours.auto_most,
        ends_open=hours.ends,
    )


def _rain(
    weather: Weather,
    covered: NDArray[np.bool_],
    optics: CoverOptics,
    canopy: Canopy,
    c: Coefficients,
) -> Series:
    """Rain [kg/m2] that the leaves catch in an hour: as they catch light, and none under film.

    Fabric lets all through, mesh its open share (assumptions). Rain unknown counts as none.
    """
    known = np.isfinite(weather.precipitation) & (weather.air_temperature > c.snow_falls_below)
    falls = np.where(known, weather.precipitation, 0.0)
    passes = 1.0 if optics.is_fabric else optics.open_share
    caught = 1.0 - np.exp(-c.light_extinction * canopy.leaf_area)
    return np.asarray(caught * falls * np.where(covered, passes, 1.0))


def _shares(
    light: Series,
    canopy: Canopy,
    covered: NDArray[np.bool_],
    ground_snow: Series,
    c: Coefficients,
) -> tuple[Series, Series, Series]:
    """Shares of light to soil and leaves, and the stomata that follow from it."""
    caught = 1.0 - np.exp(-c.light_extinction * canopy.leaf_area)
    snowy = ~covered & (ground_snow > SNOW_SHOWS)
    soil = (1.0 - caught) * (1.0 - np.where(snowy, c.snow_albedo, c.soil_albedo))
    leaf = caught * (1.0 - np.where(snowy, c.snow_albedo, c.leaf_albedo))
    return soil, leaf, stomatal_resistance(light * leaf / max(canopy.leaf_area, 1e-6), c)
