"""A season report as plain data for machines."""

import math
from dataclasses import asdict
from datetime import date, time
from typing import Any, cast

import numpy as np

from hoopwright.design.season_report import SeasonReport
from hoopwright.season.tomorrow import Tomorrow


def season_data(report: SeasonReport) -> dict[str, Any]:
    """Return a season report in SI, days of the year counted from 0 on 1 January."""
    return {
        "units": "SI",
        "origin": report.origin,
        "invented": report.invented,
        "risk": report.risk,
        "covers": [plain(asdict(cover)) for cover in report.covers],
        "crops": {
            crop: {cover: _window(window) for cover, window in row.items()}
            for crop, row in report.windows.items()
        },
        "gains": {crop: plain(asdict(gain)) for crop, gain in report.gains.items()},
        "successions": [plain(asdict(chain)) for chain in report.successions],
        "opening_calendar": [plain(asdict(half)) for half in report.calendar],
        "allowed_opening_m": report.allowed_height,
        "heat_by_opening": [plain(asdict(one)) for one in report.openings],
        "opening_that_keeps_under_32_degC_m": report.keeps_under,
        "additions": [plain(asdict(one)) for one in report.additions],
        "watering": [plain(asdict(one)) for one in report.thirst],
        "frost_curves": {
            name: {
                "chance": plain(curve.chance),
                "low": plain(curve.low),
                "high": plain(curve.high),
            }
            for name, curve in report.curves.items()
        },
    }


def day_data(found: Tomorrow) -> dict[str, Any]:
    """Return one day's advice in SI, hours in local standard time."""
    return cast(dict[str, Any], plain(asdict(found)))


def _window(window: Any) -> dict[str, Any]:
    data: dict[str, Any] = plain(asdict(window))
    for left_out in ("obstacles", "middle_harvest", "cleared", "ripe_by_year"):
        data.pop(left_out, None)
    for end in ("earliest", "latest"):
        if data[end] is not None:
            data[end].pop("drawn")
    return data


def plain(value: Any) -> Any:
    """Return data with arrays as lists, times as ISO 8601 has them, and no number as null."""
    if isinstance(value, dict):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part) for part in value]
    if isinstance(value, np.ndarray):
        return [plain(part) for part in value.tolist()]
    if isinstance(value, float | np.floating):
        return round(float(value), 6) if math.isfinite(value) else None
    if isinstance(value, np.generic):
        return plain(value.item())
    if isinstance(value, date | time):
        return value.isoformat()
    return value
