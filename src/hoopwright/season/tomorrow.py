"""Tomorrow at the bed: open from when to when and how far, and what the night will be inside."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np

from hoopwright.climate.forecast.form import Forecast
from hoopwright.climate.sun import day_spans
from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.enclosure import CoverOptics, InnerFabric
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, place_of, simulate
from hoopwright.heat.schedule import Opened, Schedule, Season
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.opening import Limits
from hoopwright.season.storms import Bearing, StormWarning, storm_warnings

STAYS_OPEN = 24.0
"""[h] closing hour of a cover left open over the night."""


@dataclass(frozen=True)
class Rules:
    """How tomorrow is decided; each an assumption unless it says otherwise.

    open_under      : [K] under the heat limit at which the sides should be up already
    close_before    : [h] before sunset to shut, so as to keep heat in (common practice, no
                      source: one to two hours)
    forecast_error  : [K] of a service's minimum a day ahead
    model_error     : [K] of the model's nights, the project's own goal
    sky_error       : [W/m2] to either side, half the spread of published sky models
    open_nights_above : [degC] outside minimum at which the sides stay up (60 degF, a U.S.
                      extension rule)
    """

    open_under: float = 4.0
    close_before: float = 1.5
    forecast_error: float = 1.5
    model_error: float = 1.5
    sky_error: float = 15.0
    open_nights_above: float = 15.5


@dataclass(frozen=True)
class Covering:
    """The bed tomorrow's advice is for.

    heights : [m] the sides can be set to, rising, none above what the animals allow
    visits  : [h] local standard time at which somebody can come by; empty for any half hour
    fabric  : a second cover at hand to lay on the crop, or None
    usual   : how the cover was run in the days before
    """

    bed: BedInRun
    optics: CoverOptics
    heights: tuple[float, ...]
    visits: tuple[float, ...] = ()
    fabric: InnerFabric | None = None
    usual: Schedule | None = None


@dataclass(frozen=True)
class Tomorrow:
    """What to do on `day`, hours in local standard time.

    opens, closes : [h] or None where the cover stays shut (closes None: leave it open)
    height        : [m] of the sides
    peak_shut, peak : [degC] highest inside air if left shut, and as advised
    night_air, night_leaf : [degC] lowest in the night after, inside
    outside       : [degC] lowest of the forecast that night
    margin        : [K] to either side of the night's figures
    fabric        : a fabric is wanted; with_fabric [degC] lowest leaf under the one at hand, None
                    without one; fabric_lies where the plan keeps one on the crop already
    too_hot       : even so the peak is over the limit: shade it
    notes         : on the forecast itself
    """

    day: date
    opens: float | None
    closes: float | None
    height: float
    peak_shut: float
    peak: float
    night_air: float
    night_leaf: float
    outside: float
    margin: float
    fabric: bool
    with_fabric: float | None
    too_hot: bool
    warnings: tuple[StormWarning, ...]
    notes: tuple[str, ...]
    fabric_lies: bool = False


def advise(
    forecast: Forecast,
    covering: Covering,
    limits: Limits,
    day: date,
    past: Weather | None = None,
    bearing: Bearing | None = None,
    rules: Rules | None = None,
    march: Any = None,
) -> Tomorrow:
    """Return what to do on a day of the forecast.

    limits : too_hot [degC] of the inside air, too_cold [degC] of the leaves
    past   : the hours before the forecast, to warm up the soil; without it the soil starts from
             the forecast's own mean and the night is a little less sure
    The model is run through the last days shut (or as `usual`), then with ever wider openings
    until the day's peak keeps under the limit.
    """
    how = rules or Rules()
    weather = joined(past, forecast.weather)
    here = _Day(weather, day)
    model = _Model(weather, covering, day, march)
    shut = model.run(None, 0.0, None)
    peak_shut = float(shut.air[here.daylight].max())
    opens = closes = None
    height, best = 0.0, shut
    if peak_shut > limits.too_hot:
        opens = _opening_hour(shut, here, limits.too_hot - how.open_under, covering.visits)
        mild = weather.air_temperature[here.night].min() >= how.open_nights_above
        closes = (
            STAYS_OPEN if mild else _closing_hour(here, how.close_before, covering.visits, opens)
        )
        height, best = _least_needed(model, shut, here, opens, closes, limits)
    night_leaf = float(best.leaf[here.night].min())
    margin = _margin(model, opens, closes, height, here, how)
    wanted = night_leaf - margin < limits.too_cold
    under = None
    if wanted and covering.fabric is not None and covering.bed.fabric is None:
        run = model.run(opens, height, closes, fabric=covering.fabric)
        under = float(run.leaf[here.night].min())
    return Tomorrow(
        day=day,
        opens=opens if height > 0 else None,
        closes=closes if height > 0 and closes != STAYS_OPEN else None,
        height=height,
        peak_shut=peak_shut,
        peak=float(best.air[here.daylight].max()),
        night_air=float(best.air[here.night].min()),
        night_leaf=night_leaf,
        outside=float(weather.air_temperature[here.night].min()),
        margin=margin,
        fabric=wanted,
        with_fabric=under,
        fabric_lies=covering.bed.fabric is not None,
        too_hot=float(best.air[here.daylight].max()) > limits.too_hot,
        warnings=storm_warnings(forecast, bearing or Bearing(), here.midnight, 48),
        notes=forecast.notes,
    )


def joined(past: Weather | None, ahead: Weather) -> Weather:
    """Return the past up to the forecast's start, then the forecast, as one record.

    A hole between them of up to a day is closed by the hours of the day before; a wider one
    leaves the past out, since its soil would be stale.
    """
    if past is None:
        return ahead
    if past.station.utc_offset != ahead.station.utc_offset:
        raise SeasonError("past and forecast do not keep the same clock")
    hole = int((ahead.start - past.start).total_seconds() // 3600) - len(past)
    if hole > 24:
        return ahead
    hours = np.arange(len(past) + min(hole, 0))
    head = past.part(np.concatenate([hours, hours[-24:][: max(hole, 0)]]), past.start).columns
    whole: dict[str, Any] = {
        name: np.concatenate([head[name], after]) for name, after in ahead.columns.items()
    }
    return replace(ahead, start=past.start, **whole)


class _Day:
    """Where a day and its night lie in the record."""

    def __init__(self, weather: Weather, day: date) -> None:
        self.midnight = datetime(day.year, day.month, day.day)
        first = int((self.midnight - weather.start).total_seconds() // 3600)
        if first < 0 or first + 24 > len(weather):
            raise SeasonError(f"the forecast does not hold the whole of {day:%d %B}")
        self.first = first
        self.daylight = np.arange(first, first + 24)
        # Row i is the hour that ends at i + 1: the night from 18 h to 9 h, or as far as it goes.
        self.night = np.arange(first + 18, min(first + 33, len(weather)))
        if self.night.size < 10:
            raise SeasonError(f"the forecast ends before the night after {day:%d %B} is over")
        span = day_spans(self.midnight, 1, weather.station)
        self.sunset = float(np.nan_to_num(span.sunset, nan=24.0)[0])


class _Model:
    """The bed run up to and through the day, opened on that day only."""

    def __init__(self, weather: Weather, covering: Covering, day: date, march: Any) -> None:
        self.weather = weather
        self.covering = covering
        after = day + timedelta(days=1)
        self.date, self.next = (day.month, day.day), (after.month, after.day)
        self.march = march
        self.places: dict[Coefficients, Place] = {}

    def run(
        self,
        opens: float | None,
        height: float,
        closes: float | None,
        coefficients: Coefficients | None = None,
        fabric: InnerFabric | None = None,
    ) -> UnderCover:
        usual = self.covering.usual or Schedule.closed()
        own = self.covering.bed
        c = coefficients or own.coefficients
        bed = replace(own, coefficients=c, fabric=fabric or own.fabric)
        at = self.places.get(c) or self.places.setdefault(c, place_of(self.weather, bed))
        way: Opened = "closed" if opens is None or height <= 0 else "days"
        ahead = [Season(self.date, self.date, open_height=height, opened=way)]
        if way == "days" and closes == STAYS_OPEN:
            ahead.append(Season(self.next, self.next, open_height=height, opened="always"))
        visits = replace(
            usual.visits,
            morning=opens if opens is not None else usual.visits.morning,
            evening=closes if closes is not None else usual.visits.evening,
        )
        # The days before keep their own habit: only the season of the day looks at these hours.
        # One opened by day is taken as opened by need.
        before = tuple(
            replace(one, opened="visits") if one.opened == "days" else one for one in usual.seasons
        )
        plan = Schedule((*ahead, *before), visits)
        return simulate(self.weather, bed, self.covering.optics, plan, at, self.march)


def _opening_hour(shut: UnderCover, here: _Day, warm: float, visits: Sequence[float]) -> float:
    """Return when [h] the shut bed passes `warm`, or the last visit before it."""
    air = shut.air[here.daylight]
    hour = int(np.argmax(air > warm)) if (air > warm).any() else 12
    needed = max(hour - 0.5, 0.0)
    before = [visit for visit in visits if visit <= needed]
    if not visits:
        return needed
    return max(before) if before else min(visits)


def _closing_hour(here: _Day, before_sunset: float, visits: Sequence[float], opens: float) -> float:
    """Return when [h] to shut: the visit nearest to the wished hour, after opening."""
    wished = round(2 * (here.sunset - before_sunset)) / 2
    later = [visit for visit in visits if visit > opens + 1]
    if not later:
        return max(wished, opens + 1) if not visits else STAYS_OPEN
    return min(later, key=lambda visit: abs(visit - wished))


def _least_needed(
    model: _Model,
    shut: UnderCover,
    here: _Day,
    opens: float,
    closes: float,
    limits: Limits,
) -> tuple[float, UnderCover]:
    """Return the least height that keeps the peak under the limit, else the greatest."""
    height, best = 0.0, shut
    for height in model.covering.heights:
        best = model.run(opens, height, closes)
        if float(best.air[here.daylight].max()) <= limits.too_hot:
            break
    return height, best


def _margin(
    model: _Model,
    opens: float | None,
    closes: float | None,
    height: float,
    here: _Day,
    how: Rules,
) -> float:
    """Return the night's margin [K]: sky, forecast and model as independent errors."""
    likely = model.covering.bed.coefficients
    lows = [
        float(
            model.run(opens, height, closes, replace(likely, sky_error=likely.sky_error + shift))
            .leaf[here.night]
            .min()
        )
        for shift in (-how.sky_error, how.sky_error)
    ]
    sky = abs(lows[1] - lows[0]) / 2
    return float(np.sqrt(sky**2 + how.forecast_error**2 + how.model_error**2))


def three_lines(
    found: Tomorrow,
    temperature: Callable[[float], str],
    difference: Callable[[float], str],
    length: Callable[[float], str],
    clock: Callable[[datetime], str],
) -> tuple[str, str, str]:
    """Return the advice in three lines; it orders nothing that the plan does not have.

    temperature, difference, length : how to show [degC], [K] and [m]
    clock : from local standard time to the wall clock's words
    """
    midnight = datetime(found.day.year, found.day.month, found.day.day)

    def at(hour: float) -> str:
        return clock(midnight + timedelta(hours=hour))

    if found.opens is None:
        first = f"Keep it shut; the air inside will reach {temperature(found.peak)}."
    else:
        until = "leave it open" if found.closes is None else f"shut by {at(found.closes)}"
        first = (
            f"Open from {at(found.opens)}, sides up {length(found.height)}, {until}: "
            f"{temperature(found.peak)} inside at most, {temperature(found.peak_shut)} if shut."
        )
    if found.too_hot:
        first += " That is still too hot: take the cover off for the day, or shade it."
    second = (
        f"Night: leaves inside down to {temperature(found.night_leaf)} "
        f"(give or take {difference(found.margin)}), outside air {temperature(found.outside)}."
    )
    if not found.fabric:
        third = "Nothing to lay on the crop tonight."
    elif found.with_fabric is not None:
        third = f"Lay the fabric on before dark: leaves then {temperature(found.with_fabric)}."
    else:
        where = ", even under its fabric" if found.fabric_lies else ""
        third = f"Too cold for what stands in it, or nearly{where}: pick what frost would spoil."
        if not found.fabric_lies:
            third += " The plan has no fabric to lay on."
    return first, second, third
