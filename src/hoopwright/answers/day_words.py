"""A day at the bed hour by hour, in the reader's units: numbers for a page, and words beside."""

from typing import Any

import numpy as np

from hoopwright.answers.season_warmth import ACCURACY
from hoopwright.climate.demo import MARK
from hoopwright.design.days_at_bed import DayAtBed, DaysAtBed
from hoopwright.units import MONTH_NAMES, System, show

ROUND = ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
#: Directions in which the skyline is sent [deg].
_STEP = 5.0
#: Direct light [W/m2] from which the sun counts as shining (WMO-No. 8, from memory).
SHINES = 120.0
#: Height of the sun [deg] under which the beam is as weak on a clear day.
LOW = 6.0


def days_told(found: DaysAtBed, system: System, north: float) -> dict[str, Any]:
    """Return every day as plain data.

    north : [deg] clockwise, seen from above, of the way that the first end of the bed looks
    Sun and skyline are unit vectors (along, up, across) of the bed in space.
    """
    around = np.arange(0.0, 360.0 + _STEP, _STEP)
    return {
        "origin": found.origin,
        "mark": MARK if found.invented else "",
        "doubt": f"Of one year of the model's hours, local standard time. {ACCURACY}",
        "skyline": _vectors(found.horizon.at(around), around, north),
        "days": [_day(day, system, north) for day in found.days],
    }


def _vectors(elevation: np.ndarray, azimuth: np.ndarray, north: float) -> list[list[float]]:
    up, turn = np.radians(elevation), np.radians(north + azimuth)
    places = np.column_stack([-np.cos(up) * np.cos(turn), np.sin(up), -np.cos(up) * np.sin(turn)])
    return [[round(float(one), 4) for one in place] for place in places]


def _day(day: DayAtBed, system: System, north: float) -> dict[str, Any]:
    month = MONTH_NAMES[day.date.month - 1]
    kind = "cloudy" if day.cloudy else "clear"
    return {
        "month": day.date.month,
        "cloudy": day.cloudy,
        "title": f"A {kind} day: {day.date.day} {month} of the year worked out",
        "covered": day.covered,
        "sun": _vectors(day.elevation, day.azimuth, north),
        "up": [bool(one > 0) for one in day.elevation],
        "hidden": [bool(one) for one in day.hidden],
        "beam": [round(float(one)) for one in day.direct],
        "opening": [round(float(one), 3) for one in day.opening],
        "curves": {
            name: [round(float(one), 1) for one in values]
            for name, values in (
                ("air inside", day.air),
                ("air outside", day.open_air),
                ("leaves inside", day.leaf),
                ("leaves in the open", day.open_leaf),
            )
            if day.covered or "inside" not in name
        },
        "rows": [_row(day, hour, system) for hour in range(24)],
    }


def _row(day: DayAtBed, hour: int, system: System) -> dict[str, str]:
    """Return an hour's cells in words."""

    def warmth(values: np.ndarray) -> str:
        return show(float(values[hour]), "temperature", system)

    clock = show(hour + 1, "hour", system)
    sun, sides = _sun(day, hour), _sides(day, hour, system)
    open_air, open_leaf = warmth(day.open_air), warmth(day.open_leaf)
    air, leaf = (warmth(day.air), warmth(day.leaf)) if day.covered else ("", "")
    says = f"{clock}: sun {sun}; "
    if day.covered:
        says += f"sides {sides}. Air {air} inside, {open_air} outside; leaves {leaf} inside, "
        says += f"{open_leaf} in the open."
    else:
        says += f"{sides}. Air {open_air}, leaves {open_leaf}."
    cells = {"clock": clock, "sun": sun, "sides": sides, "says": says}
    return cells | {"air": air, "open_air": open_air, "leaf": leaf, "open_leaf": open_leaf}


def _sun(day: DayAtBed, hour: int) -> str:
    height = float(day.elevation[hour])
    if height <= 0:
        return "down"
    way = ROUND[round(float(day.azimuth[hour]) / 45.0) % 8]
    where = f"{height:.0f}° up in the {way}"
    if day.hidden[hour]:
        return f"{where}, behind the skyline"
    return where if day.direct[hour] >= SHINES or height < LOW else f"{where}, behind cloud"


def _sides(day: DayAtBed, hour: int, system: System) -> str:
    if not day.covered:
        return "cover off"
    height = float(day.opening[hour])
    return f"up {show(height, 'depth', system)}" if height > 0.005 else "down"
