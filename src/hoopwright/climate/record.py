"""A station's daily record: many years of extremes, rain and snow."""

from datetime import date

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Series, Station
from hoopwright.frozen import dataclass

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
