"""What a weather file holds as plain data for machines: SI units, the unit in each name."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from hoopwright.cli.climate_held import Daily, Hourly
from hoopwright.climate.frost import FrostChance, FrostYears, first_frost, last_frost, season_length
from hoopwright.climate.weather import Station

CHANCES = (0.5, 0.2, 0.1)


def held_data(held: Hourly | Daily) -> dict[str, Any]:
    """Return everything that is told of a file."""
    return _daily(held) if isinstance(held, Daily) else _hourly(held)


def _number(value: float, digits: int = 4) -> float | None:
    return round(float(value), digits) if math.isfinite(value) else None


def _months(values: Iterable[float], digits: int = 3) -> list[float | None]:
    return [_number(value, digits) for value in values]


def _station(station: Station) -> dict[str, Any]:
    return {
        "name": station.name,
        "latitude_deg": _number(station.latitude),
        "longitude_deg": _number(station.longitude),
        "elevation_m": _number(station.elevation),
        "utc_offset_h": _number(station.utc_offset),
    }


def _hourly(held: Hourly) -> dict[str, Any]:
    weather, told = held.weather, held.summary
    north = told.station.latitude >= 0
    return {
        "kind": "hourly",
        "units": "SI",
        "station": _station(told.station),
        "source": told.source,
        "start": weather.start.isoformat(),
        "years": held.years,
        "hours": told.hours,
        "typical_year": weather.typical_year,
        "invented": weather.invented,
        "months": {
            "mean_degC": _months(told.mean),
            "mean_maximum_degC": _months(told.mean_maximum),
            "mean_minimum_degC": _months(told.mean_minimum),
            "radiation_kWh_m2_d": _months(told.radiation),
            "wind_m_s": _months(told.wind),
            "relative_humidity": _months(told.humidity),
            "precipitation_mm": _months(told.precipitation),
        },
        "lowest_degC": _number(told.lowest),
        "highest_degC": _number(told.highest),
        "radiation_kWh_m2_a": _number(told.yearly_radiation),
        "diffuse_share": _number(told.diffuse_share),
        "clearness": _number(told.clearness),
        "strongest_hourly_wind_m_s": _number(told.strongest_wind),
        "sky_depression_K": _number(told.sky_depression),
        "frost_of_the_year": [
            {
                "threshold_degC": span.threshold,
                "last_in_spring": span.last.strftime("%m-%d") if span.last else None,
                "first_in_autumn": span.first.strftime("%m-%d") if span.first else None,
                "days_between": span.season,
            }
            for span in told.frost
            if north
        ],
        "frost_chances": [_chances(frost) for frost in held.frost],
        "unknown_hours": dict(told.unknown),
        "repairs": list(told.repairs),
        "cautions": list(told.cautions),
    }


def _daily(held: Daily) -> dict[str, Any]:
    told = held.summary
    return {
        "kind": "daily",
        "units": "SI",
        "station": _station(told.station),
        "source": told.source,
        "first": told.first.isoformat(),
        "last": told.last.isoformat(),
        "invented": held.record.invented,
        "complete_share": _number(told.complete),
        "months": {
            "mean_maximum_degC": _months(told.mean_maximum),
            "mean_minimum_degC": _months(told.mean_minimum),
            "precipitation_mm": _months(told.precipitation),
        },
        "lowest_degC": _number(told.lowest),
        "highest_degC": _number(told.highest),
        "frost_chances": [_chances(frost) for frost in held.frost],
        "repairs": list(told.repairs),
        "cautions": list(told.cautions),
    }


def _chances(frost: FrostYears) -> dict[str, Any]:
    return {
        "threshold_degC": frost.threshold,
        "years": len(frost.years),
        "last_in_spring": [_chance(last_frost(frost, chance)) for chance in CHANCES],
        "first_in_autumn": [_chance(first_frost(frost, chance)) for chance in CHANCES],
        "days_between_fewer_than": [
            {**_chance(season_length(frost, 1 - chance), "days"), "probability": chance}
            for chance in CHANCES
        ],
    }


def _chance(chance: FrostChance, what: str = "day_of_year") -> dict[str, float | None]:
    return {
        "probability": chance.probability,
        what: _number(chance.day, 1),
        "low": _number(chance.low, 1),
        "high": _number(chance.high, 1),
    }
