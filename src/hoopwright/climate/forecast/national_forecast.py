"""The U.S. National Weather Service's open gridpoint forecast (api.weather.gov), read by its JSON.

Public domain, the United States and its waters only. First the point is looked up, then its grid
cell of 2.5 km. Each layer is a list of values over ISO 8601 intervals with a unit of measure.
"""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import urlsplit

import numpy as np

from hoopwright.climate import air
from hoopwright.climate.forecast.clock import standard_offset, zone
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.hours import (
    Layers,
    first_hour,
    forecast_of,
    refuse_stale,
    time_zone_of,
    unknown,
)
from hoopwright.climate.forecast.http import Get
from hoopwright.climate.forecast.json_reply import (
    Wanted,
    inner,
    instant,
    interval,
    listed,
    numbered,
    parsed,
    to_si,
    worded,
)
from hoopwright.climate.weather import Series

SERVICE = "U.S. National Weather Service"
HOUSE = "https://api.weather.gov"
LONGEST = 24 * 9
"""[h] of a grid forecast; the service gives seven to eight days."""

VALUES = (
    Wanted("temperature", "temperature", -90.0, 60.0),
    Wanted("dewpoint", "temperature", -95.0, 40.0),
    Wanted("relativeHumidity", "share", 0.0, 1.0),
    Wanted("skyCover", "share", 0.0, 1.0),
    Wanted("windSpeed", "speed", 0.0, 120.0),
    Wanted("windDirection", "angle", 0.0, 360.0),
    Wanted("windGust", "speed", 0.0, 150.0),
    Wanted("probabilityOfPrecipitation", "share", 0.0, 1.0),
)
SUMS = (
    Wanted("quantitativePrecipitation", "rain", 0.0, 1500.0),
    Wanted("snowfallAmount", "snow", 0.0, 10.0),
)
HEIGHT = Wanted("elevation", "length", -500.0, 9000.0)


def point_address(place: ForecastPlace, house: str = HOUSE) -> str:
    """Return the address of the look-up; the service wants four decimals at most."""
    return f"{house}/points/{_short(place.latitude)},{_short(place.longitude)}"


def _short(degrees: float) -> str:
    text = f"{degrees:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def read_point(text: str, house: str = HOUSE) -> tuple[str, str]:
    """Return a point's grid forecast's address and the zone of its clock.

    An address in another house is refused.
    """
    properties = inner(parsed(text, SERVICE), "properties", SERVICE)
    address = worded(properties, "forecastGridData", SERVICE)
    asked, found = urlsplit(house), urlsplit(address)
    own = urlsplit(HOUSE)
    if found.netloc not in (asked.netloc, own.netloc):
        raise ForecastError(f"{SERVICE}: the grid lies in another house; not followed")
    name = worded(properties, "timeZone", SERVICE)
    zone(name)
    return f"{house}{found.path}", name


def fetch_national(place: ForecastPlace, get: Get, now: datetime, house: str = HOUSE) -> Forecast:
    """Return the grid forecast of a place. get : address to text; now : with its zone."""
    address, time_zone = read_point(get(point_address(place, house)), house)
    return read_grid(get(address), place, now, time_zone)


def read_grid(
    text: str, place: ForecastPlace, now: datetime | None, zone_name: str | None = None
) -> Forecast:
    """Return the hourly forecast of a gridpoint reply.

    now       : to refuse a stale one; None to read a file of any age
    zone_name : from the look-up
    A value counts for every hour that ends within its interval; amounts are shared evenly.
    """
    properties = inner(parsed(text, SERVICE), "properties", SERVICE)
    issued = instant(worded(properties, "updateTime", SERVICE), "updateTime", SERVICE)
    if now is not None:
        refuse_stale(issued, now, SERVICE)
    begun, length = interval(worded(properties, "validTimes", SERVICE), SERVICE)
    clock = time_zone_of(place, zone_name)
    offset = standard_offset(clock, begun.year)
    start = first_hour(begun, offset)
    grid = _Grid(properties, start - timedelta(hours=offset), min(int(length) + 1, LONGEST))
    return forecast_of(
        grid.layers(), start, place, _height(properties, place), clock, issued, SERVICE
    )


def _height(properties: Mapping[str, Any], place: ForecastPlace) -> float:
    if place.elevation is not None:
        return place.elevation
    said = inner(properties, "elevation", SERVICE)
    value = numbered(said.get("value"), "elevation", SERVICE)
    found = to_si(value, said.get("unitCode"), HEIGHT, SERVICE)
    if np.isnan(found):
        raise ForecastError(f"{SERVICE}: the grid does not know its elevation; give yours")
    return found


class _Grid:
    """The layers of one reply laid onto hours that end at start + 1 h, start + 2 h, ..."""

    def __init__(self, properties: Mapping[str, Any], start: datetime, count: int) -> None:
        self.properties = properties
        self.start = start.replace(tzinfo=UTC)
        self.count = count

    def layers(self) -> Layers:
        known = {wanted.name: self.at_ends(wanted) for wanted in VALUES}
        sums = {wanted.name: self.shared(wanted) for wanted in SUMS}
        temperature = known["temperature"]
        thunder, hail = self.storms()
        return Layers(
            air_temperature=temperature,
            dew_point=_dew_point(temperature, known["dewpoint"], known["relativeHumidity"]),
            cover=known["skyCover"],
            wind_speed=known["windSpeed"],
            wind_direction=known["windDirection"],
            precipitation=sums["quantitativePrecipitation"],
            pressure=unknown(self.count),
            gust=known["windGust"],
            snowfall=sums["snowfallAmount"],
            rain_chance=known["probabilityOfPrecipitation"],
            thunder=thunder,
            hail=hail,
        )

    def at_ends(self, wanted: Wanted) -> Series:
        """Return the value that holds at the end of each hour."""
        found = unknown(self.count)
        for value, first, length in self._entries(wanted):
            # Row i ends at start + i + 1: it lies in [first, first + length).
            rows = _rows(first - 1, first - 1 + length, self.count)
            found[rows] = value
        return found

    def shared(self, wanted: Wanted) -> Series:
        """Return an amount over an interval shared evenly over its hours."""
        found = unknown(self.count)
        for value, first, length in self._entries(wanted):
            rows = _rows(first, first + length, self.count)
            found[rows] = value / max(length, 1.0)
        return found

    def storms(self) -> tuple[Series, Series]:
        """Return thunder and hail [0/1] from the layer of words, where there is one."""
        thunder, hail = np.zeros(self.count), np.zeros(self.count)
        layer = self.properties.get("weather")
        if not isinstance(layer, dict) or not isinstance(layer.get("values"), list):
            return thunder, hail
        for entry in layer["values"]:
            if not isinstance(entry, dict) or not isinstance(entry.get("validTime"), str):
                continue
            first, length = self._placed(entry["validTime"])
            words = str(entry.get("value"))
            rows = _rows(first, first + length, self.count)
            if "thunder" in words:
                thunder[rows] = 1.0
            if "hail" in words:
                hail[rows] = 1.0
        return thunder, hail

    def _entries(self, wanted: Wanted) -> Iterator[tuple[float, float, float]]:
        """Yield value [SI], start and length [h after the grid's start] of a layer's entries."""
        layer = self.properties.get(wanted.name)
        if not isinstance(layer, dict):
            return
        for entry in listed(layer, "values", SERVICE):
            if not isinstance(entry, dict):
                raise ForecastError(f"{SERVICE}: {wanted.name} holds something that is no value")
            first, length = self._placed(worded(entry, "validTime", SERVICE))
            value = numbered(entry.get("value"), wanted.name, SERVICE)
            yield to_si(value, layer.get("uom"), wanted, SERVICE), first, length

    def _placed(self, text: str) -> tuple[float, float]:
        begun, length = interval(text, SERVICE)
        return (begun - self.start).total_seconds() / 3600, length


def _rows(first: float, after: float, count: int) -> slice:
    """Return the rows whose number lies in [first, after)."""
    begin, end = int(np.ceil(first - 1e-9)), int(np.ceil(after - 1e-9))
    return slice(min(max(begin, 0), count), min(max(end, 0), count))


def _dew_point(temperature: Series, said: Series, humidity: Series) -> Series:
    """Return the dew point, from relative humidity where the service leaves it out."""
    share = np.clip(np.nan_to_num(humidity, nan=0.5), 0.01, 1.0)
    helped = air.dew_point_from_humidity(np.nan_to_num(temperature), share)
    both = np.isfinite(temperature) & np.isfinite(humidity)
    found = np.where(np.isfinite(said), said, np.where(both, helped, np.nan))
    return np.asarray(np.fmin(found, np.where(np.isfinite(temperature), temperature, np.inf)))
