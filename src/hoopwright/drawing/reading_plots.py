"""Readings at a bed as plots: its nights inside and outside, and what each month gained."""

from collections.abc import Sequence
from datetime import datetime, timedelta

import numpy as np

from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import Area, Axis, Mark, Series, value_axis
from hoopwright.drawing.plots.field import (
    FROST,
    WIDTH,
    Size,
    freezing_line,
    number_room,
    number_rules,
    ticks,
    words_below,
)
from hoopwright.drawing.plots.range_bars import RangeBar, range_bars
from hoopwright.drawing.plots.words import (
    CHANGED,
    EDGE,
    LINE,
    PLAIN,
    RULE,
    end_labels,
    end_room,
    heading,
)
from hoopwright.drawing.scene import Group, Item, View
from hoopwright.readings.measured import Estimate
from hoopwright.units import MONTH_NAMES, System

#: Days from mark to mark on the axis, of which the first that gives few marks is taken.
STEPS = (1, 2, 7, 14)
MOST_MARKS = 7


def nights_plot(
    dates: Sequence[datetime],
    inside: Series,
    outside: Series,
    system: System,
    width: float = WIDTH,
) -> View:
    """Return the coldest of each night [degC] under the cover and beside it.

    dates : on which each night ended, in order;  width : [m] of paper
    """
    size, shown = Size(width), gauge.temperature(system)
    first = dates[0]
    lows = [shown.show(float(values.min())) for values in (outside, inside)]
    title = f"The coldest night fell to {lows[0]} outside, to {lows[1]} under the cover"
    at = np.array([(date - first).days for date in dates])
    days = np.arange(at[-1] + 1, dtype=float)
    lines = {}
    for name, values in (("outside", outside), ("under the cover", inside)):
        lines[name] = np.full(len(days), np.nan)
        lines[name][at] = values
    vertical = value_axis([inside, outside, (FROST,)], shown)
    words, left = (*lines, "freezing"), number_room(vertical)
    along = Axis(-0.5, max(days[-1], 1.0) + 0.5, _dates_along(first, int(days[-1])))
    area = Area(left, 0.0, size.width - left - end_room(words), size.height, along, vertical)
    items: list[Item] = [*number_rules(area, shown.mark)]
    items.append(RULE.trace(*(area.upright(mark.at) for mark in along.marks)))
    items.append(EDGE.trace(area.level(vertical.low), *ticks(area, [m.at for m in along.marks])))
    items += [*words_below(area, area.bottom - 0.95 * LINE), *freezing_line(area)]
    for (name, values), look in zip(lines.items(), (PLAIN, CHANGED), strict=True):
        items.append(Group(f"line-{name}", name, (look.trace(*area.pieces(days, values)),)))
    ends = [area.up(float(values[at[-1]])) for values in lines.values()]
    items += end_labels(area.right, [*ends, area.up(FROST)], words, area.bottom, area.top)
    note = "The lowest of each night that both sensors saw."
    items += heading(title, note, 0.0, area.top + 2.0 * LINE, size.width)
    span = f"{_day(first)} {first.year} to {_day(dates[-1])} {dates[-1].year}"
    said = f"{title}. {len(dates)} nights, {span}."
    return View("nights", title, said, tuple(items), 1.0)


def _dates_along(first: datetime, last: int) -> tuple[Mark, ...]:
    """Return marks along so many days: every few days, or at starts of months."""
    for step in STEPS:
        if last / step <= MOST_MARKS:
            days = range(0, last + 1, step)
            return tuple(Mark(float(day), _day(first + timedelta(days=day))) for day in days)
    starts = [
        (day, when) for day in range(last + 1) if (when := first + timedelta(days=day)).day == 1
    ]
    apart = next(n for n in (1, 2, 3, 6, 12, 10**6) if len(starts) / n <= MOST_MARKS)
    return tuple(
        Mark(float(day), f"{MONTH_NAMES[when.month - 1][:3]} {when.year}")
        for day, when in starts[::apart]
    )


def _day(when: datetime) -> str:
    return f"{when.day} {MONTH_NAMES[when.month - 1][:3]}"


def gains_plot(
    title: str,
    months: Sequence[tuple[int, int, Estimate]],
    system: System,
    note: str = "",
    width: float = WIDTH,
) -> View:
    """Return what each month (year, month, gain [K]) gained at night, with its 95 % interval."""
    bars = [
        RangeBar(
            f"{MONTH_NAMES[month - 1][:3]} {year}",
            gain.mean,
            gain.low,
            gain.high,
            f"{gain.count} nights",
        )
        for year, month, gain in months
    ]
    shown = gauge.temperature_difference(system)
    return range_bars("gains", title, bars, shown, note=note, width=width)
