"""The air that a bed's water balance stands in, day by day, in the open and under the cover."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import saturation_over_water
from hoopwright.climate.reference_evapotranspiration import (
    clear_sky_radiation,
    daily_extraterrestrial,
    daily_reference,
)
from hoopwright.climate.weather import Weather
from hoopwright.heat.results import UnderCover
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.water import DailyAir

Series = NDArray[np.float64]

MEGAJOULES = 3600e-6
"""[MJ/m2] in one hour of 1 W/m2."""

STILL_AIR = 208.0 / 295.0
"""[m/s] wind at 2 m that gives FAO-56's reference the aerodynamic resistance of 295 s/m measured
in a plastic house (Fernandez et al. 2010, from memory); FAO-56 eq. 4: ra = 208/u2."""


def covered_air(
    run: UnderCover, first: int = 0, days: int | None = None, rain_passes: float = 0.0
) -> DailyAir:
    """Return the days under the cover from a run of the heat model.

    rain_passes : [-] share of the rain that comes through, 0 for film, 1 for fabric or mesh
    FAO-56's reference with the inside air and light and a fixed still wind: its wind function
    fails under a cover. The sky's long-wave is left as in the open, which makes it a little low.
    """
    weather = run.weather
    hours = _hours(weather, first, days)
    celsius = _by_day(run.air[hours])
    vapour = _by_day(run.vapour[hours]) / 1000.0
    light = _by_day(run.light[hours]).sum(axis=1) * MEGAJOULES
    outside = _by_day(weather.global_horizontal[hours]).sum(axis=1) * MEGAJOULES
    # Keep the sky's own cloudiness: inside light over a clear sky dimmed as much.
    passed = light / np.maximum(outside, 1e-6)
    clear = _clear(weather, first, len(celsius)) * np.clip(passed, 0.05, 1.0)
    rain = rain_passes * _by_day(weather.precipitation[hours])
    still = np.full(len(celsius), STILL_AIR)
    return _daily(weather, celsius, vapour, still, light, clear, rain)


def _daily(
    weather: Weather,
    celsius: Series,
    vapour: Series,
    wind: Series,
    light: Series,
    clear: Series,
    rain: Series,
) -> DailyAir:
    found = daily_reference(
        celsius.max(axis=1),
        celsius.min(axis=1),
        vapour.mean(axis=1),
        wind,
        light,
        clear,
        weather.station.elevation,
    )
    humidity = vapour * 1000.0 / saturation_over_water(celsius)
    return DailyAir(
        reference=np.maximum(found.reference, 0.0),
        rain=np.nan_to_num(rain).sum(axis=1),
        wind=np.asarray(wind, dtype=np.float64),
        least_humidity=np.clip(humidity.min(axis=1), 0.0, 1.0),
    )


def _hours(weather: Weather, first: int, days: int | None) -> slice:
    whole = len(weather) // 24
    count = whole - first if days is None else days
    if first < 0 or count < 1 or first + count > whole:
        raise SeasonError(f"the record has {whole} days; {count} from day {first} cannot be had")
    return slice(24 * first, 24 * (first + count))


def _by_day(hours: Series) -> Series:
    return hours.reshape(-1, 24)


def _clear(weather: Weather, first: int, days: int) -> Series:
    begun = weather.start.timetuple().tm_yday + first
    number = np.asarray((begun - 1 + np.arange(days)) % 365 + 1, dtype=np.float64)
    outside = daily_extraterrestrial(weather.station.latitude, number)
    return np.asarray(clear_sky_radiation(outside, weather.station.elevation))
