"""Days to look at closely: a clear and a cloudy one of each month, out of a year of hours."""

from datetime import date

import numpy as np

from hoopwright.climate.sun import sun_of
from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass

#: Share of a month's days that count as its clear and as its cloudy ones (ours).
SHARE = 0.2
#: Light above the air [W/m2, mean of a day] under which a day's clearness says nothing.
_DARK = 5.0


@dataclass(frozen=True)
class DesignDay:
    """A day of the record: `first` is the row of its hour that ends at 1 h."""

    date: date
    cloudy: bool
    first: int

    @property
    def hours(self) -> slice:
        """Return its 24 rows."""
        return slice(self.first, self.first + 24)


def design_days(weather: Weather) -> tuple[DesignDay, ...]:
    """Return a clear and a cloudy day of each month of a record that begins at midnight.

    Days are ranked by clearness (light on the level over that above the air, FAO-56 eq. 35 turned
    round), or by cloud where the sun hardly rises. Of the clearest and of the dullest fifth of a
    month that day is taken whose mean temperature is the middle one of its fifth: a day that was
    in the record, and not a mean.
    """
    days = len(weather) // 24
    rows = days * 24

    def daily(values: np.ndarray) -> np.ndarray:
        return np.asarray(values[:rows].reshape(days, 24).mean(axis=1))

    above = daily(sun_of(weather).extraterrestrial_horizontal)
    light, cloud = daily(weather.global_horizontal), daily(weather.sky_cover)
    bright = np.where(above > _DARK, light / np.maximum(above, _DARK), 1.0 - cloud)
    warm, month = daily(weather.air_temperature), weather.months[:rows:24]
    starts = np.datetime64(weather.start, "D") + np.arange(days)
    found = []
    for number in np.unique(month):
        of_month = np.flatnonzero(month == number)
        ranked = of_month[np.argsort(bright[of_month], kind="stable")]
        some = max(1, round(SHARE * ranked.size))
        for cloudy, group in ((False, ranked[-some:]), (True, ranked[:some])):
            day = int(group[np.argsort(warm[group], kind="stable")[(group.size - 1) // 2]])
            found.append(DesignDay(starts[day].item(), cloudy, 24 * day))
    return tuple(found)
