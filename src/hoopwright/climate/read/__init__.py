"""Weather files in: typical years, daily station records, frost-date normals.

Which format a file is, is told from its first lines and never from its name.
"""

from pathlib import Path

from hoopwright.climate.read.ghcn import ghcn_record, is_dly, is_station_csv
from hoopwright.climate.read.hourly import epw_weather, is_epw, is_tmy3, tmy3_weather
from hoopwright.climate.read.text import TextFile, WeatherFileError, load_text
from hoopwright.climate.weather import DailyRecord, Station, Weather

__all__ = ["WeatherFileError", "read_daily", "read_weather"]

ACCEPTED = (
    "accepted are: EPW (first line LOCATION,...), TMY3 CSV (second line Date (MM/DD/YYYY),...), "
    "GHCN-Daily by-station CSV and GHCN-Daily .dly"
)


def read_weather(path: str | Path, longest_gap: int = 6) -> Weather:
    """Return the hourly weather of an EPW or TMY3 file, or raise WeatherFileError.

    longest_gap : [h] at a stretch that may be filled
    """
    file = load_text(Path(path))
    if is_epw(file.lines):
        return epw_weather(file, longest_gap)
    if is_tmy3(file.lines):
        return tmy3_weather(file, longest_gap)
    if is_dly(file.lines) or is_station_csv(file.lines):
        raise file.error("a daily record, not hourly weather; read it as a daily record", line=1)
    raise _unknown(file)


def read_daily(path: str | Path, station: Station | None = None) -> DailyRecord:
    """Return the daily record of a GHCN-Daily file, or raise WeatherFileError.

    station : where it stands; the files carry only an identifier
    """
    file = load_text(Path(path))
    if is_epw(file.lines) or is_tmy3(file.lines):
        raise file.error("one hourly year, not a daily record; read it as hourly weather", line=1)
    if is_dly(file.lines) or is_station_csv(file.lines):
        return ghcn_record(file, station)
    raise _unknown(file)


def is_daily(path: str | Path) -> bool:
    """Return whether a file holds a daily record rather than hours."""
    lines = load_text(Path(path)).lines
    return not is_epw(lines) and (is_dly(lines) or is_station_csv(lines))


def _unknown(file: TextFile) -> Exception:
    shown = file.lines[0][:40].encode("ascii", "replace").decode()
    return file.error(f"not a weather format known here (it begins '{shown}'); {ACCEPTED}", line=1)
