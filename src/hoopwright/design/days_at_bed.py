"""A clear and a cloudy day of each month at the bed: sun, sides, air and leaves, hour by hour."""

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.at_bed import Horizon
from hoopwright.climate.demo import is_demo
from hoopwright.climate.design_days import DesignDay, design_days
from hoopwright.climate.sun import sun_over_hours
from hoopwright.climate.weather import Weather
from hoopwright.design.flow import Design
from hoopwright.design.growing import (
    exposure_of,
    heat_bed_of,
    own_optics,
    schedule_of_plan,
    typical_year,
)
from hoopwright.frozen import dataclass
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule, settings

Hours = NDArray[np.float64]


@dataclass(frozen=True)
class DayAtBed:
    """One day, arrays of 24: values at the end of each hour, 1 h to 24 h local standard time.

    covered            : False where the plan has the cover off on that day
    elevation, azimuth : [deg] of the sun at that moment, clockwise from north
    hidden             : True where the sun is up and behind the skyline
    direct             : [W/m2] facing the sun, mean of the hour, past the skyline
    opening            : [m] of the sides; air, leaf [degC] inside and in the open
    """

    date: date
    cloudy: bool
    covered: bool
    elevation: Hours
    azimuth: Hours
    hidden: NDArray[np.bool_]
    direct: Hours
    opening: Hours
    air: Hours
    leaf: Hours
    open_air: Hours
    open_leaf: Hours


@dataclass(frozen=True)
class DaysAtBed:
    """The days, whose weather they are of, and the skyline seen from the bed."""

    days: tuple[DayAtBed, ...]
    origin: str
    invented: bool
    horizon: Horizon


def days_at_bed(design: Design, file: Path | None, march: Any) -> DaysAtBed:
    """Return the days of one year run through with the plan's own habit of opening.

    file  : of the weather, or None for what the plan names
    march : `heat.compiled.compiled_march()`, or None for the plain kernel, some three seconds
    The sides follow the plan's rule and are not chosen anew for the day; the crop is the model's
    usual canopy.
    """
    plan, bed = design.plan, heat_bed_of(design)
    weather = typical_year(plan, file)
    at, schedule = place_of(weather, bed), schedule_of_plan(plan)
    optics = own_optics(design)
    cases = [Case(bed, optics, schedule, at), Case(bed, optics, Schedule.open_bed(), at)]
    inside, bare = simulate_all(weather, cases, march)
    covered = settings(schedule, weather).covered
    horizon = exposure_of(plan, file is not None).horizon
    found = [
        _day(weather, horizon, one, inside, bare, bool(covered[one.first + 12] > 0))
        for one in design_days(weather)
    ]
    name = weather.station.name
    origin = f"a generated year of {name}" if weather.invented else f"the year of {name}"
    return DaysAtBed(tuple(found), origin, is_demo(weather), horizon)


def _day(
    weather: Weather,
    horizon: Horizon,
    day: DesignDay,
    inside: UnderCover,
    bare: UnderCover,
    covered: bool,
) -> DayAtBed:
    # The hour about each moment, for the sun of that moment.
    middle = datetime(day.date.year, day.date.month, day.date.day) + timedelta(minutes=30)
    sun = sun_over_hours(middle, 24, weather.station)
    rows = day.hours
    return DayAtBed(
        date=day.date,
        cloudy=day.cloudy,
        covered=covered,
        elevation=sun.elevation,
        azimuth=sun.azimuth,
        hidden=(sun.elevation > 0) & (horizon.at(sun.azimuth) > sun.elevation),
        direct=weather.direct_normal[rows],
        opening=inside.opening[rows],
        air=inside.air[rows],
        leaf=inside.leaf[rows],
        open_air=bare.weather.air_temperature[rows],
        open_leaf=bare.leaf[rows],
    )
