"""What the readings at a bed show: measured, modelled over the same hours, and fitted if asked."""

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.read import read_weather
from hoopwright.climate.weather import Weather
from hoopwright.design import Design, design_of
from hoopwright.design.growing import heat_bed_of, own_optics, schedule_of_plan, typical_year
from hoopwright.frozen import dataclass
from hoopwright.heat.compiled import compiled_march
from hoopwright.plan.model import MeasuredSection
from hoopwright.plan.read import ReadPlan
from hoopwright.readings.fit import Fit, FitSetting, Tell, fit
from hoopwright.readings.hourly import Hours
from hoopwright.readings.measured import Measured, measured
from hoopwright.readings.text import ReadingsError


@dataclass(frozen=True)
class Modelled:
    """The model over the hours of the readings.

    nights  : as measured, of the model's own
    typical : True where sun and wind are those of a typical year, so that single nights mean
              little and only whole months can be compared
    """

    nights: Measured
    typical: bool


@dataclass(frozen=True)
class BedReadings:
    """One bed of a report: its name, what was measured, and the model where it was run."""

    name: str
    measured: Measured
    modelled: Modelled | None


def read_at(read: ReadPlan, hours: Hours, weather: Path | None = None) -> BedReadings:
    """Return what readings at a bed show, and the model over the same hours.

    weather : hourly weather of that very time. Raises ReadingsError where no night has both.
    """
    own = measured(hours)
    if own is None:
        raise ReadingsError(
            "no night has readings inside and outside both; add the other sensor's file"
        )
    over, typical = weather_over(read, hours, weather)
    found = modelled(setting_of(design_of(read), over, None), hours, typical)
    return BedReadings(read.plan.name, own, found)


def fitted_to(
    read: ReadPlan, hours: Hours, weather: Path | None = None, tell: Tell | None = None
) -> Fit:
    """Return the model's numbers fitted to the readings, as if none had been before.

    Raises ReadingsError where there are too few, or SciPy is missing.
    """
    over, _ = weather_over(read, hours, weather)
    bare = replace(read, plan=read.plan.model_copy(update={"measured": MeasuredSection()}))
    setting = setting_of(design_of(bare), over, compiled_march())
    return fit(setting, np.where(hours.both, hours.inside, np.nan), tell=tell)


def weather_over(read: ReadPlan, hours: Hours, file: Path | None) -> tuple[Weather, bool]:
    """Return weather over the hours of the readings with the outside air measured laid over it.

    file : hourly weather of that very time; None takes the plan's typical year by the calendar
    The second is True where the year is a typical one. Where outside was not measured the
    record's own air stands.
    """
    weather = read_weather(file) if file is not None else typical_year(read.plan, read.weather_file)
    typical = file is None
    at = _rows(weather, hours, typical)
    part = weather.part(at, hours.start)
    air = np.where(np.isfinite(hours.outside), hours.outside, part.air_temperature)
    # The dew point cannot lie over the air; the record's own spread below it is kept.
    dew_point = np.minimum(part.dew_point - part.air_temperature + air, air)
    return replace(part, air_temperature=air, dew_point=dew_point), typical


def _rows(weather: Weather, hours: Hours, typical: bool) -> NDArray[np.int64]:
    count = len(weather)
    if not typical:
        first = round((hours.start - weather.start).total_seconds() / 3600)
        if first < 0 or first + len(hours) > count:
            last = weather.start + timedelta(hours=count)
            raise ReadingsError(
                f"the weather file covers {weather.start:%Y-%m-%d} to {last:%Y-%m-%d}, the "
                f"readings begin {hours.start:%Y-%m-%d}; give a file of that time, or none"
            )
        return np.arange(first, first + len(hours))
    if count < 8760:
        raise ReadingsError("the plan's weather file holds less than a year; give one that does")
    begin = datetime(2001, weather.start.month, weather.start.day, weather.start.hour)
    found = np.empty(len(hours), dtype=np.int64)
    for at in range(len(hours)):
        when = hours.start + timedelta(hours=at)
        day = 28 if (when.month, when.day) == (2, 29) else when.day
        plain = datetime(2001, when.month, day, when.hour)
        found[at] = round((plain - begin).total_seconds() / 3600) % 8760
    return found


def setting_of(design: Design, weather: Weather, march: Any) -> FitSetting:
    """Return the model of a design over a weather, with what its plan says was measured."""
    bed, schedule = heat_bed_of(design), schedule_of_plan(design.plan)
    return FitSetting(weather, bed, own_optics(design), schedule, march)


def modelled(setting: FitSetting, hours: Hours, typical: bool) -> Modelled | None:
    """Return the model over the hours that were measured, or None where no night is whole."""
    inside = setting.inside(np.array([1.0, 1.0, setting.bed.soil.moisture]))
    own = np.where(hours.both, inside, np.nan)
    found = measured(replace(hours, inside=own))
    return None if found is None else Modelled(found, typical)
