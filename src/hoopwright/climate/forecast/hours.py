"""From hours of temperature, cloud and wind to whole hourly weather, with the light worked out."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from hoopwright.climate import air, daylight
from hoopwright.climate.forecast.clock import standard_offset, zone_at
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.read.gaps import draw_across
from hoopwright.climate.sun import sun_over_hours
from hoopwright.climate.weather import Series, Station, Weather, series
from hoopwright.frozen import dataclass

LONGEST_GAP = 6
"""[h] of a needed layer that may be drawn across; weather services step by up to 6 h."""
LEAST = 24
"""[h] below which a forecast is of no use for tomorrow."""
STALE = timedelta(hours=24)
"""Age at which a forecast is refused: tomorrow has become yesterday."""


@dataclass(frozen=True)
class Layers:
    """Values at local standard hour ends after `start`, NaN where unknown; units as in Weather.

    cover             : [-] TOTAL sky cover
    global_horizontal : [W/m2] mean of the hour, where the service has it
    """

    air_temperature: Series
    dew_point: Series
    cover: Series
    wind_speed: Series
    wind_direction: Series
    precipitation: Series
    pressure: Series
    gust: Series
    snowfall: Series
    rain_chance: Series
    thunder: Series
    hail: Series
    global_horizontal: Series | None = None


NEEDED: Mapping[str, str] = {
    "air_temperature": "temperature",
    "dew_point": "dew point",
    "cover": "sky cover",
    "wind_speed": "wind speed",
}


def refuse_stale(issued: datetime, now: datetime, service: str, stale: timedelta = STALE) -> None:
    """Raise where a forecast is too old, or from the future by over an hour."""
    age = now - issued
    if age > stale:
        days = age.total_seconds() / 86400
        raise ForecastError(f"{service}: the forecast is {days:.1f} days old; ask again")
    if age < timedelta(hours=-1):
        raise ForecastError(f"{service}: the forecast is from the future; is the clock right?")


def time_zone_of(place: ForecastPlace, service_says: str | None = None) -> str:
    """Return the zone: the user's, else the service's, else that of the map."""
    return place.time_zone or service_says or zone_at(place.latitude, place.longitude)


def first_hour(utc: datetime, offset: float) -> datetime:
    """Return the local standard hour (naive) at or after a moment."""
    local = utc.astimezone(UTC).replace(tzinfo=None) + timedelta(hours=offset)
    whole = local.replace(minute=0, second=0, microsecond=0)
    return whole if whole == local else whole + timedelta(hours=1)


def forecast_of(
    layers: Layers,
    start: datetime,
    place: ForecastPlace,
    elevation: float,
    zone: str,
    issued: datetime,
    service: str,
) -> Forecast:
    """Return the forecast: gaps drawn across, cut where a needed layer ends, light worked out.

    start : local standard time (naive); row i is the hour ending at start + (i + 1) h
    """
    notes: list[str] = []
    kept, first = _whole_hours(layers, service, notes)
    count = kept.air_temperature.size
    start = start + timedelta(hours=first)
    offset = standard_offset(zone, start.year)
    station = Station(place.name, place.latitude, place.longitude, elevation, offset)
    standard = air.pressure_at(elevation)
    pressure = series(np.where(np.isfinite(kept.pressure), kept.pressure, standard))
    light = _light(kept, station, start, pressure, notes)
    weather = Weather(
        station=station,
        start=start,
        air_temperature=kept.air_temperature,
        dew_point=np.minimum(kept.dew_point, kept.air_temperature),
        pressure=pressure,
        global_horizontal=light[0],
        direct_normal=light[1],
        diffuse_horizontal=light[2],
        sky_infrared=np.full(count, np.nan),
        sky_cover=np.clip(kept.cover, 0.0, 1.0),
        wind_speed=np.maximum(kept.wind_speed, 0.0),
        wind_direction=np.nan_to_num(kept.wind_direction, nan=270.0),
        precipitation=kept.precipitation,
        snow_depth=np.full(count, np.nan),
        source=service,
        repairs=tuple(notes),
    )
    return Forecast(
        weather,
        kept.gust,
        kept.snowfall,
        kept.rain_chance,
        kept.thunder,
        kept.hail,
        issued,
        zone,
        (f"Forecast: {service}.", *notes),
    )


def _whole_hours(layers: Layers, service: str, notes: list[str]) -> tuple[Layers, int]:
    known = np.all([np.isfinite(getattr(layers, name)) for name in NEEDED], axis=0)
    some = np.flatnonzero(known)
    if some.size == 0:
        lacking = [
            words for name, words in NEEDED.items() if not np.isfinite(getattr(layers, name)).any()
        ]
        raise ForecastError(
            f"{service}: no hour has all that is needed"
            + (f"; {', '.join(lacking)} is missing" if lacking else "")
        )
    first = int(some[0])
    steps = np.diff(some)
    breaks = np.flatnonzero(steps > LONGEST_GAP)
    last = int(some[breaks[0]] if breaks.size else some[-1])
    if last - first + 1 < LEAST:
        raise ForecastError(
            f"{service}: only {last - first + 1} hours in a row are known; {LEAST} are needed"
        )
    hours = slice(first, last + 1)
    gaps = int((~known[hours]).sum())
    if gaps:
        notes.append(f"{gaps} hours without a value were drawn between their neighbours.")
    cut: dict[str, Any] = {
        name: None if values is None else values[hours] for name, values in vars(layers).items()
    }
    cut.update({name: draw_across(cut[name]) for name in NEEDED})
    return Layers(**cut), first


def _light(
    layers: Layers, station: Station, start: datetime, pressure: Series, notes: list[str]
) -> tuple[Series, Series, Series]:
    """Return global, direct normal and diffuse [W/m2].

    Where the service is silent: clear sky of Ineichen & Perez 2002 dimmed by total cloud after
    Kasten & Czeplak 1980, split after Erbs et al. 1982. Single hours are good to about 30 %.
    """
    count = layers.air_temperature.size
    sun = sun_over_hours(start, count, station)
    ratio = float(pressure.mean()) / 101325.0
    clear = daylight.clear_sky_global(sun, station.elevation, ratio)
    dimmed = daylight.cloudy_sky_global(clear, layers.cover)
    said = layers.global_horizontal
    if said is None or not np.isfinite(said).any():
        notes.append("Light was worked out from the clear sky and the forecast of cloud.")
        total = dimmed
    else:
        ceiling = 1.1 * sun.extraterrestrial_horizontal + 5.0
        total = np.where(np.isfinite(said), np.clip(said, 0.0, ceiling), dimmed)
    direct, diffuse = daylight.split_global(series(total), sun)
    return series(total), direct, diffuse


def unknown(count: int) -> Series:
    """Return a layer that says nothing."""
    return np.full(count, np.nan)
