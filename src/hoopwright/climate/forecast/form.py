"""What a forecast says, hour by hour, and the one error that everything wrong becomes."""

from datetime import datetime

from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass


class ForecastError(ValueError):
    """A forecast that cannot be had or trusted: one sentence on what is wrong and what helps."""


@dataclass(frozen=True)
class ForecastPlace:
    """Where the forecast is for.

    latitude, longitude : [deg], north and east positive
    elevation           : [m] of the bed, or None to take the service's
    time_zone           : IANA name, or None to take the service's or look it up
    """

    name: str
    latitude: float
    longitude: float
    elevation: float | None = None
    time_zone: str | None = None

    def __post_init__(self) -> None:
        if not (-90 <= self.latitude <= 90 and -180 <= self.longitude <= 180):
            raise ForecastError(
                f"latitude {self.latitude:g}, longitude {self.longitude:g} is no place on earth"
            )


@dataclass(frozen=True)
class Forecast:
    """Hours ahead; arrays of the length of `weather`, rows as in Weather (hour ending).

    gust        : [m/s] strongest, NaN where the service is silent
    snowfall    : [m] new snow in the hour, NaN where silent
    rain_chance : [-] of any rain or snow, NaN where silent
    thunder, hail : [-] 1 where the service names them, else 0
    issued      : when the service made it, in universal time; None for a typical day
    time_zone   : IANA name of the place's clock
    notes       : sentences: gaps filled, a stale copy used, and the like
    """

    weather: Weather
    gust: Series
    snowfall: Series
    rain_chance: Series
    thunder: Series
    hail: Series
    issued: datetime | None
    time_zone: str
    notes: tuple[str, ...] = ()
