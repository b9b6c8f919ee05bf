"""A forecast from a reply saved in a file, for gardens without a network and for tests."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import read_global
from hoopwright.climate.forecast.http import LARGEST
from hoopwright.climate.forecast.json_reply import parsed
from hoopwright.climate.forecast.national_forecast import read_grid
from hoopwright.tables import foreign


def forecast_from_file(path: Path, place: ForecastPlace, now: datetime | None) -> Forecast:
    """Return the forecast of a saved reply of either service.

    now : with its zone, to refuse a stale one; None to take a file of any age
    """
    try:
        text = foreign.text_held(path, LARGEST)
    except OSError as error:
        raise ForecastError(f"{path}: cannot be opened: {error.strerror}") from None
    try:
        reply = parsed(text, path.name)
        if "hourly" in reply:
            return read_global(text, place, now)
        if "properties" in reply:
            return read_grid(text, place, now)
    except ForecastError as error:
        raise ForecastError(f"{path}: {error}") from None
    raise ForecastError(f"{path}: neither of the two forecasts that can be read")
