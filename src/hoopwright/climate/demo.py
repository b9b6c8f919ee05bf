"""An invented high valley to try things on; no such place exists."""

from collections.abc import Iterator

import numpy as np

from hoopwright.climate.generate import generate
from hoopwright.climate.normals import MonthlyNormals
from hoopwright.climate.weather import Series, Station, Weather, series
from hoopwright.tables.reader import shipped

DEMO_STATION = Station("Marrow Valley (invented)", 44.0, -110.0, 2050.0, -7.0)
"""Made up: high, dry, a short season. The coordinates only set the sun and the pressure."""

MARK = "Invented weather"
"""What marks every figure that stands on it."""


def is_demo(weather: Weather) -> bool:
    """Return whether weather is the invented valley's."""
    return weather.station.name == DEMO_STATION.name


def demo_normals() -> MonthlyNormals:
    """Return the invented valley's twelve monthly rows."""
    rows = shipped("climate_demo_valley")

    def column(heading: str) -> Series:
        return series(np.array([float(row.cells[heading]) for row in rows]))

    unknown = np.full(12, np.nan)
    return MonthlyNormals(
        station=DEMO_STATION,
        maximum=column("mean maximum [degC]"),
        minimum=column("mean minimum [degC]"),
        precipitation=column("precipitation [mm]"),
        wet_days=column("wet days [d]"),
        clearness=column("clearness [-]"),
        wind_speed=column("wind at 10 m [m/s]"),
        dew_point=column("dew point [degC]"),
        maximum_deviation=unknown,
        minimum_deviation=unknown,
        source="the invented climate of Marrow Valley",
        invented=True,
    )


def demo_weather(years: int = 1, seed: int = 2050) -> Iterator[Weather]:
    """Yield generated years of the invented valley; the same seed gives the same years."""
    return generate(demo_normals(), years, seed)
