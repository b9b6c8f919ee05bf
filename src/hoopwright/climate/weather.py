"""One record of the weather at a place, hour by hour or day by day: the forms that every reader and
model shares."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Series = NDArray[np.float64]


def series(values: NDArray[np.floating[Any]] | float) -> Series:
    """Return a number or a row of numbers as floats, so that one code path serves both."""
    return np.asarray(values, dtype=np.float64)


@dataclass(frozen=True)
class Station:
    """Where the weather was observed (or is pretended to be).

    latitude, longitude : [deg], north and east positive
    elevation           : [m] above sea level
    utc_offset          : [h] of local standard time, east positive; never summer time
    """

    name: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float


@dataclass(frozen=True)
class Weather:
    """Hourly weather, arrays of shape (n,), in local standard time.

    Row i covers the hour that ends at start + (i + 1) h. Radiation is the mean of that hour;
    temperature, humidity, wind and pressure are the values at its end.

    air_temperature, dew_point         : [degC] in the screen, about 2 m above ground
    pressure                           : [Pa] at the station
    global_horizontal, direct_normal,
    diffuse_horizontal                 : [W/m2]
    sky_infrared                       : [W/m2] down-welling long-wave; NaN where unknown
    sky_cover                          : [-] 0 clear to 1 overcast
    wind_speed                         : [m/s] hourly mean at 10 m
    wind_direction                     : [deg] from north, clockwise
    precipitation                      : [mm] in the hour; NaN where unknown
    snow_depth                         : [m] on the ground; NaN where unknown
    invented                           : True for generated or demonstration weather
    typical_year                       : True for a stitched year that carries no probabilities
    repairs                            : sentences, one for each repair made while reading
    sky_view                           : [-] share of an even sky seen past the skyline; 1 open.
                                         The light is already that at the place; the long-wave
                                         is the open sky's, see `sky.sky_of`
    wind_shelter                       : [-] wind_speed over that in the open, where a barrier has
                                         been taken off it already; 1 open
    """

    station: Station
    start: datetime
    air_temperature: Series
    dew_point: Series
    pressure: Series
    global_horizontal: Series
    direct_normal: Series
    diffuse_horizontal: Series
    sky_infrared: Series
    sky_cover: Series
    wind_speed: Series
    wind_direction: Series
    precipitation: Series
    snow_depth: Series
    source: str
    invented: bool = False
    typical_year: bool = False
    repairs: tuple[str, ...] = ()
    sky_view: float = 1.0
    wind_shelter: float = 1.0

    def __len__(self) -> int:
        return int(self.air_temperature.shape[0])

    @property
    def months(self) -> NDArray[np.int64]:
        """Return the month of each hour, January 0."""
        hours = np.datetime64(self.start, "h") + np.arange(len(self))
        months: NDArray[np.int64] = hours.astype("datetime64[M]").astype(np.int64) % 12
        return months

    @property
    def columns(self) -> dict[str, Any]:
        """Return the hourly arrays by name."""
        return {name: held for name, held in vars(self).items() if isinstance(held, np.ndarray)}

    def part(self, hours: slice | NDArray[np.int64], start: datetime) -> Weather:
        """Return some of the hours, the first of them called by a start."""
        return replace(
            self, start=start, **{name: held[hours] for name, held in self.columns.items()}
        )


Days = NDArray[np.datetime64]


@dataclass(frozen=True)
class DailyRecord:
    """Days in order without holes; NaN where the station has nothing to say.

    first               : date of the first day
    maximum, minimum    : [degC] of the observer's day
    precipitation       : [mm]
    snowfall            : [m] of new snow
    snow_depth          : [m] on the ground
    morning_share       : [-] share of the minima read before noon, NaN where the file does not
                          say. A morning reader can book one cold dawn on two days.
    peak_gust           : [m/s] greatest of the day, None where the station measures none
    repairs             : sentences, one for each repair or omission made while reading
    """

    station: Station
    first: date
    maximum: Series
    minimum: Series
    precipitation: Series
    snowfall: Series
    snow_depth: Series
    source: str
    morning_share: float = float("nan")
    invented: bool = False
    peak_gust: Series | None = None
    repairs: tuple[str, ...] = ()

    def __len__(self) -> int:
        return int(self.minimum.shape[0])

    @property
    def dates(self) -> Days:
        """Return every day as numpy dates."""
        return np.datetime64(self.first, "D") + np.arange(len(self))

    @property
    def years(self) -> NDArray[np.int64]:
        """Return the calendar year of every day."""
        return self.dates.astype("datetime64[Y]").astype(np.int64) + 1970

    @property
    def months(self) -> NDArray[np.int64]:
        """Return the month of every day, January 0."""
        return self.dates.astype("datetime64[M]").astype(np.int64) % 12

    @property
    def day_of_year(self) -> NDArray[np.int64]:
        """Return the day of the year, 1 January = 1."""
        year_start = self.dates.astype("datetime64[Y]").astype("datetime64[D]")
        days: NDArray[np.int64] = (self.dates - year_start).astype(np.int64) + 1
        return days
