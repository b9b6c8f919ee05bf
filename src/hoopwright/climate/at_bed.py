"""From the station to the bed: height, cold air, horizon, fence and wind near the ground."""

from dataclasses import replace

import numpy as np

from hoopwright.climate import air
from hoopwright.climate.sun import HourlySun, sun_of
from hoopwright.climate.weather import Series, Weather, series
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Horizon:
    """The skyline seen from the bed: elevation [deg] at azimuths [deg from north, clockwise].

    Straight lines between the points, closed round the circle.
    """

    azimuths: tuple[float, ...]
    elevations: tuple[float, ...]

    def __post_init__(self) -> None:
        if len(self.azimuths) != len(self.elevations) or not self.azimuths:
            raise ValueError("a horizon needs as many elevations as azimuths, at least one")
        if any(not 0 <= azimuth < 360 for azimuth in self.azimuths):
            raise ValueError("horizon azimuths run from 0 to below 360 deg")
        if list(self.azimuths) != sorted(set(self.azimuths)):
            raise ValueError("horizon azimuths must rise, each once")
        if any(not 0 <= elevation < 90 for elevation in self.elevations):
            raise ValueError("horizon elevations run from 0 to below 90 deg")

    def at(self, azimuth: Series) -> Series:
        """Return the skyline's elevation [deg] at azimuths [deg]."""
        points = np.array([self.azimuths[-1] - 360, *self.azimuths, self.azimuths[0] + 360])
        heights = np.array([self.elevations[-1], *self.elevations, self.elevations[0]])
        return series(np.interp(series(azimuth) % 360, points, heights))


LEVEL = Horizon((0.0,), (0.0,))


@dataclass(frozen=True)
class PlaceDifference:
    """How the bed's place differs from the station's.

    elevation       : [m] of the bed; None for that of the station
    lapse           : [K/m] fall of temperature with height; 0.0065 is the standard atmosphere's.
                      Mountain minima lapse less (0.003 to 0.005), so on nights it overstates.
    dew_lapse       : [K/m] fall of the dew point; 0.0018 follows from a fixed humidity ratio.
                      Real valleys vary.
    cold_pool       : [K] by which the bed is colder on clear calm nights (positive = colder),
                      the user's own knowledge; nil by default
    horizon         : skyline of hills, house and trees
    wind_shelter    : [-] wind at the bed over wind in the open at the same height; 1 open, 0.3
                      behind a fence (published shelter studies give 0.2 to 0.8 within 10 heights)
    """

    elevation: float | None = None
    lapse: float = 0.0065
    dew_lapse: float = 0.0018
    cold_pool: float = 0.0
    horizon: Horizon = LEVEL
    wind_shelter: float = 1.0

    def __post_init__(self) -> None:
        if not 0 < self.wind_shelter <= 1.5:
            raise ValueError("wind_shelter must lie between 0 and 1.5")
        if not 0 <= self.lapse <= 0.02:
            raise ValueError("lapse must lie between 0 and 0.02 K/m")
        if not -10 <= self.cold_pool <= 15:
            raise ValueError("cold_pool must lie between -10 and 15 K")


def at_bed(weather: Weather, exposure: PlaceDifference) -> Weather:
    """Return the weather as the bed has it, every change stated in `repairs`.

    The wind stays that at 10 m in the open, times the shelter; see wind_at_height.
    Not corrected: rain, snow and cloud, which hills change in ways that need local knowledge.
    """
    said = list(weather.repairs)
    moved = _lifted(weather, exposure, said)
    moved = _pooled(moved, exposure, said)
    moved = _shaded(moved, exposure, said)
    if exposure.wind_shelter != 1.0:
        said.append(f"Wind was multiplied by the shelter factor {exposure.wind_shelter:g}.")
    return replace(
        moved,
        wind_speed=moved.wind_speed * exposure.wind_shelter,
        wind_shelter=moved.wind_shelter * exposure.wind_shelter,
        repairs=tuple(said),
    )


def _lifted(weather: Weather, exposure: PlaceDifference, said: list[str]) -> Weather:
    station = weather.station
    if exposure.elevation is None or exposure.elevation == station.elevation:
        return weather
    rise = exposure.elevation - station.elevation
    temperature = weather.air_temperature - exposure.lapse * rise
    dew = np.minimum(weather.dew_point - exposure.dew_lapse * rise, temperature)
    factor = air.pressure_at(exposure.elevation) / air.pressure_at(station.elevation)
    said.append(
        f"The bed lies {rise:+.0f} m from the station: air {-exposure.lapse * rise:+.1f} K, dew "
        f"point {-exposure.dew_lapse * rise:+.1f} K, pressure x {factor:.3f}."
    )
    return replace(
        weather,
        station=replace(station, elevation=exposure.elevation),
        air_temperature=temperature,
        dew_point=dew,
        pressure=weather.pressure * factor,
        sky_infrared=np.full(len(weather), np.nan),
    )


def calm_clear_nights(
    weather: Weather, clear_below: float = 0.5, calm_below: float = 3.0
) -> Series:
    """Return how far each hour is a clear calm night [-]: 0 by day, in cloud or in wind.

    clear_below : [-] sky cover, calm_below : [m/s] wind at 10 m, at which it falls to nil; both
    are assumptions. It builds up over the first three hours after sunset.
    """
    dark = sun_of(weather).elevation < 0
    clear = np.clip(1 - weather.sky_cover / clear_below, 0, 1)
    calm = np.clip(1 - weather.wind_speed / calm_below, 0, 1)
    strength = np.where(dark, np.sqrt(clear * calm), 0.0)
    padded = np.concatenate([np.zeros(2), strength])
    return series((padded[2:] + padded[1:-1] + padded[:-2]) / 3 * dark)


def _pooled(weather: Weather, exposure: PlaceDifference, said: list[str]) -> Weather:
    if exposure.cold_pool == 0:
        return weather
    drop = exposure.cold_pool * calm_clear_nights(weather)
    temperature = weather.air_temperature - drop
    said.append(
        f"Cold air pools at the bed: up to {exposure.cold_pool:g} K were taken off on clear calm "
        "nights, as the user states."
    )
    return replace(
        weather,
        air_temperature=temperature,
        dew_point=np.minimum(weather.dew_point, temperature),
    )


def _shaded(weather: Weather, exposure: PlaceDifference, said: list[str]) -> Weather:
    if max(exposure.horizon.elevations) == 0:
        return weather
    sun = sun_of(weather)
    open_share = unshaded(sun, exposure.horizon)
    direct = weather.direct_normal * open_share
    view = sky_view(exposure.horizon)
    diffuse = weather.diffuse_horizontal * view
    beam = weather.direct_normal * sun.sine_elevation
    lost = float(1 - (beam * open_share).sum() / max(beam.sum(), 1e-9))
    said.append(
        f"The skyline hides {100 * (1 - view):.0f} % of the sky, of its light and its cold, and "
        f"{100 * lost:.0f} % of the direct sun over the year."
    )
    return replace(
        weather,
        direct_normal=direct,
        diffuse_horizontal=diffuse,
        global_horizontal=diffuse + direct * sun.sine_elevation,
        sky_view=weather.sky_view * view,
    )


def unshaded(sun: HourlySun, horizon: Horizon, blur: float = 7.5) -> Series:
    """Return the share of each hour's direct sun that clears the skyline [-].

    blur : [deg] over which an hour passes from hidden to free; the sun climbs up to 15 deg an
        hour, so one hour's middle is no sharp edge (an approximation)
    """
    clearance = sun.elevation - horizon.at(sun.azimuth)
    free = np.clip(0.5 + clearance / (2 * blur), 0, 1)
    return series(np.where(horizon.at(sun.azimuth) <= 0, 1.0, free))


def sky_view(horizon: Horizon) -> float:
    """Return the share of an even sky that a level bed still sees [-].

    The mean of cos^2 of the skyline round the circle: exact for a level plane under an
    isotropic sky. It holds for long-wave too (`sky.sky_of`): the hidden part is hill or
    fence, not cold sky.
    """
    azimuth = series(np.arange(720) / 2.0)
    return float((np.cos(np.radians(horizon.at(azimuth))) ** 2).mean())
