"""Weather files in: typical years, daily station records, frost-date normals."""

from __future__ import annotations

from hoopwright.climate.read.recognise import read_daily, read_weather
from hoopwright.climate.read.text import WeatherFileError

__all__ = ["WeatherFileError", "read_daily", "read_weather"]
