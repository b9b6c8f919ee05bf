"""An open global forecast by its documented JSON (Open-Meteo's /v1/forecast), with past days.

Free for own use without a key; data under CC BY 4.0, to be named where shown. Temperatures are
those of the moment, radiation, rain and snow those of the hour before it: just our hours.
"""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any
from urllib.parse import urlencode

import numpy as np

from hoopwright.climate.forecast.clock import standard_offset
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.hours import (
    Layers,
    forecast_of,
    refuse_stale,
    time_zone_of,
    unknown,
)
from hoopwright.climate.forecast.http import Get
from hoopwright.climate.forecast.json_reply import (
    Wanted,
    inner,
    listed,
    numbered,
    parsed,
    to_si,
    worded,
)
from hoopwright.climate.weather import Series

SERVICE = "Open-Meteo (open-meteo.com, CC BY 4.0)"
HOUSE = "https://api.open-meteo.com"
LONGEST = 24 * 25

WANTED: Mapping[str, Wanted] = {
    "air_temperature": Wanted("temperature_2m", "temperature", -90.0, 60.0),
    "dew_point": Wanted("dew_point_2m", "temperature", -95.0, 40.0),
    "cover": Wanted("cloud_cover", "share", 0.0, 1.0),
    "wind_speed": Wanted("wind_speed_10m", "speed", 0.0, 120.0),
    "wind_direction": Wanted("wind_direction_10m", "angle", 0.0, 360.0),
    "precipitation": Wanted("precipitation", "rain", 0.0, 500.0),
    "pressure": Wanted("surface_pressure", "pressure", 40000.0, 110000.0),
    "gust": Wanted("wind_gusts_10m", "speed", 0.0, 150.0),
    "snowfall": Wanted("snowfall", "snow", 0.0, 5.0),
    "rain_chance": Wanted("precipitation_probability", "share", 0.0, 1.0),
    "global_horizontal": Wanted("shortwave_radiation", "radiation", -5.0, 1600.0),
}
REQUIRED = ("air_temperature", "dew_point", "cover", "wind_speed")
HAIL_CODES = (96, 99)
THUNDER_CODES = (95, 96, 99)
"""WMO weather interpretation codes as the service documents them: 95 thunderstorm, 96 and 99
with hail."""


def address(place: ForecastPlace, days: int = 7, past_days: int = 5, house: str = HOUSE) -> str:
    """Return the address of a request in universal time and our units.

    days, past_days : [d] ahead and behind; the days behind warm up the soil of the model
    """
    asked = {
        "latitude": f"{place.latitude:.4f}",
        "longitude": f"{place.longitude:.4f}",
        "hourly": ",".join([*(wanted.name for wanted in WANTED.values()), "weather_code"]),
        "wind_speed_unit": "ms",
        "timezone": "GMT",
        "forecast_days": str(days),
        "past_days": str(past_days),
    }
    return f"{house}/v1/forecast?{urlencode(asked, safe=',')}"


def fetch_global(place: ForecastPlace, get: Get, now: datetime, house: str = HOUSE) -> Forecast:
    """Return the forecast of a place with its last days. get : address to text."""
    return read_global(get(address(place, house=house)), place, now)


def read_global(text: str, place: ForecastPlace, now: datetime | None) -> Forecast:
    """Return the hourly forecast of a reply.

    now : to refuse one whose last hour is past or nearly; None to read a file of any age
    """
    reply = parsed(text, SERVICE)
    if reply.get("error"):
        raise ForecastError(f"{SERVICE} refuses the request: {str(reply.get('reason'))[:120]}")
    hourly, units = inner(reply, "hourly", SERVICE), inner(reply, "hourly_units", SERVICE)
    times = _times(listed(hourly, "time", SERVICE), reply)
    if now is not None and times[-1] - now < timedelta(hours=24):
        # No time of issue is given; one that ends within a day cannot tell of tomorrow.
        refuse_stale(times[-1] - timedelta(days=5), now, SERVICE, timedelta(days=4))
    clock = time_zone_of(place)
    offset = standard_offset(clock, times[0].year)
    start = (times[0] - timedelta(hours=1)).replace(tzinfo=None) + timedelta(hours=offset)
    count = len(times)
    layers = {
        name: _column(hourly, units, wanted, count, name in REQUIRED)
        for name, wanted in WANTED.items()
    }
    thunder, hail = _storms(hourly, count)
    layers, shift = _to_whole_hours(layers, start)
    return forecast_of(
        Layers(**layers, thunder=thunder, hail=hail),
        start + timedelta(minutes=shift),
        place,
        _height(reply, place),
        clock,
        now or times[0],
        SERVICE,
    )


def _times(said: list[Any], reply: Mapping[str, Any]) -> list[datetime]:
    """Return the moments in universal time; they must go by hours without a hole."""
    if not 2 <= len(said) <= LONGEST:
        raise ForecastError(f"{SERVICE}: {len(said)} hours are no forecast of days")
    behind = numbered(reply.get("utc_offset_seconds", 0), "utc_offset_seconds", SERVICE)
    if not abs(behind) <= 15 * 3600:
        raise ForecastError(f"{SERVICE}: the offset from universal time cannot be")
    found = []
    for text in said:
        try:
            naive = datetime.fromisoformat(text)
        except (TypeError, ValueError):
            raise ForecastError(f"{SERVICE}: {str(text)[:40]!r} is no time") from None
        if naive.tzinfo is not None or not 1990 <= naive.year <= 2200:
            raise ForecastError(f"{SERVICE}: {str(text)[:40]!r} is no time that can be meant")
        found.append(naive.replace(tzinfo=UTC) - timedelta(seconds=behind))
    if any(b - a != timedelta(hours=1) for a, b in pairwise(found)):
        raise ForecastError(f"{SERVICE}: the hours do not follow each other")
    return found


def _column(
    hourly: Mapping[str, Any], units: Mapping[str, Any], wanted: Wanted, count: int, needed: bool
) -> Series:
    if wanted.name not in hourly and not needed:
        return unknown(count)
    values = listed(hourly, wanted.name, SERVICE)
    if len(values) != count:
        raise ForecastError(f"{SERVICE}: {wanted.name} has {len(values)} values for {count} hours")
    unit = worded(units, wanted.name, SERVICE)
    return np.array(
        [to_si(numbered(value, wanted.name, SERVICE), unit, wanted, SERVICE) for value in values]
    )


def _storms(hourly: Mapping[str, Any], count: int) -> tuple[Series, Series]:
    codes = hourly.get("weather_code")
    if not isinstance(codes, list) or len(codes) != count:
        return np.zeros(count), np.zeros(count)
    thunder = np.array([1.0 if code in THUNDER_CODES else 0.0 for code in codes])
    hail = np.array([1.0 if code in HAIL_CODES else 0.0 for code in codes])
    return thunder, hail


def _to_whole_hours(layers: dict[str, Series], start: datetime) -> tuple[dict[str, Series], float]:
    """Move the hours of places on a half or quarter hour onto whole local hours.

    Momentary values are drawn straight; means and sums too, which is a little soft.
    """
    minutes = start.minute
    if minutes == 0:
        return layers, 0.0
    late = 1 - minutes / 60
    moved = {}
    for name, values in layers.items():
        after = np.append(values[1:], values[-1])
        moved[name] = values * (1 - late) + after * late
    return moved, 60 - minutes


def _height(reply: Mapping[str, Any], place: ForecastPlace) -> float:
    if place.elevation is not None:
        return place.elevation
    found = numbered(reply.get("elevation"), "elevation", SERVICE)
    if not -500 <= found <= 9000:
        raise ForecastError(f"{SERVICE}: the elevation cannot be; give yours")
    return found
