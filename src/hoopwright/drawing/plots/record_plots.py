"""What a daily record of many years holds, as plots: temperatures, frost chances, gaps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hoopwright.climate.frost import FrostChance, FrostYears, first_frost, frost_years, last_frost
from hoopwright.climate.record import DailyRecord
from hoopwright.climate.summary import THRESHOLDS, daily_summary
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import YEAR, Axis, Mark, Series, day_words, nice_step
from hoopwright.drawing.plots.day_map import DayMap, day_map, temperature_colours
from hoopwright.drawing.plots.field import Size
from hoopwright.drawing.plots.span_chart import Span, SpanRow, SpanWords, span_chart
from hoopwright.drawing.plots.weather_plots import rain_bars, temperature_lines, threshold_words
from hoopwright.drawing.scene import View
from hoopwright.units import System

RARE, EVEN = 0.1, 0.5


def record_plots(record: DailyRecord, system: System) -> tuple[View, ...]:
    """Return the plots of a daily record."""
    held = daily_summary(record)
    months = record.dates.astype("datetime64[M]").astype(np.int64) % 12
    highs = [record.maximum[months == month] for month in range(12)]
    lows = [record.minimum[months == month] for month in range(12)]
    kind = f"Record of {held.first.year} to {held.last.year}."
    views = [temperature_lines(highs, lows, system, kind), _nights(record, system)]
    years = [frost_years(record, threshold) for threshold in THRESHOLDS]
    frost = frost_chances(years, system, kind)
    if frost is not None:
        views.append(frost)
    if np.isfinite(held.precipitation).any():
        views.append(rain_bars(held.precipitation, system, f"Means of the months. {kind}"))
    return tuple(views)


def frost_chances(years: Sequence[FrostYears], system: System, kind: str) -> View | None:
    """Return the frost-free spans at even and at rare risk, one row a threshold; None for none.

    A dark bar begins and ends where frost still comes 1 year in 10, a light one 1 year in 2;
    strokes are the 90 % intervals of the sampling error of the dark ends.
    """
    rows = [_row(frost, system) for frost in years]
    first = next((n for n, row in enumerate(rows) if row.dark), None)
    if first is None:
        return None
    safe, threshold = rows[first].dark[0], threshold_words(years[first].threshold, system)
    title = (
        f"1 year in 10 falls to {threshold} after {day_words(safe.first - 1)}, "
        f"1 in 10 before {day_words(safe.last + 1)}"
    )
    counted = len(years[first].years)
    note = f"From {counted} years. {kind} Strokes: 90 % range of the sampling error."
    meaning = SpanWords("each end safe 9 years in 10", "each end safe 1 year in 2")
    return span_chart("frost", title, rows, meaning, note=note)


def _row(frost: FrostYears, system: System) -> SpanRow:
    label = f"above {threshold_words(frost.threshold, system)}"
    rare = _span(last_frost(frost, RARE), first_frost(frost, RARE), sure=True)
    even = _span(last_frost(frost, EVEN), first_frost(frost, EVEN), sure=False)
    words = "" if rare or even else "too few years with such a frost, or none"
    return SpanRow(label, rare, even, words=words)


def _span(spring: FrostChance, autumn: FrostChance, sure: bool) -> tuple[Span, ...]:
    """Return the days between two dates (of the year, from 1), both frosty days left out."""
    if not np.isfinite([spring.day, autumn.day]).all() or autumn.day - spring.day < 2:
        return ()
    begin, end = spring.day, autumn.day - 2
    if not sure:
        return (Span(begin, end),)
    return (Span(begin, end, spring.low, spring.high, autumn.low - 2, autumn.high - 2),)


def nights_by_year(record: DailyRecord) -> tuple[Series, int]:
    """Return lowest temperatures as rows of years and columns of days, and the first year.

    A leap year's last day is left out, so that every row has 365 days.
    """
    first = int(record.years[0])
    count = int(record.years[-1]) - first + 1
    cells = np.full((count, YEAR), np.nan)
    day = record.day_of_year - 1
    kept = day < YEAR
    cells[record.years[kept] - first, day[kept]] = record.minimum[kept]
    return cells, first


def _nights(record: DailyRecord, system: System) -> View:
    shown = gauge.temperature(system)
    cells, first = nights_by_year(record)
    count = cells.shape[0]
    step = max(1, round(nice_step(count, 6)))
    years = [year for year in range(first, first + count) if year % step == 0 or count <= 6]
    marks = tuple(Mark(year - first + 0.5, str(year)) for year in years)
    rows = Axis(0.0, float(count), marks or (Mark(0.5, str(first)),))
    # The days before the first and after the last belong to no gap, yet they are unknown too.
    missing = int((~np.isfinite(record.minimum)).sum())
    share = 100 * (1 - missing / len(record))
    title = f"{share:.1f} % of the nights are known" + (
        f"; {missing:,} are missing" if missing else ""
    )
    note = "Lowest temperature of each day, year by year. Ruled: not known."
    drawn = DayMap(cells, rows, temperature_colours([cells], shown), level=None, strip=False)
    tall = min(max(0.0016 * count, 0.03), 0.12)
    return day_map("nights", title, drawn, shown, note=note, size=Size(height=tall))
