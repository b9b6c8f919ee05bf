"""What a daily record of many years holds, as plots."""

from collections.abc import Sequence

import numpy as np

from hoopwright.climate.frost import FrostYears
from hoopwright.climate.record import DailyRecord
from hoopwright.climate.summary import DailySummary
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import YEAR, Axis, Mark, Series, nice_step
from hoopwright.drawing.plots.day_map import DayMap, day_map, temperature_colours
from hoopwright.drawing.plots.field import Size
from hoopwright.drawing.plots.frost_plots import frost_chances
from hoopwright.drawing.plots.weather_plots import rain_bars, temperature_lines
from hoopwright.drawing.scene import View
from hoopwright.units import System


def record_plots(
    record: DailyRecord, held: DailySummary, frost: Sequence[FrostYears], system: System
) -> tuple[View, ...]:
    """Return the plots of a daily record; frost: its dates, one entry a threshold."""
    months = record.months
    highs = [record.maximum[months == month] for month in range(12)]
    lows = [record.minimum[months == month] for month in range(12)]
    kind = f"Record of {held.first.year} to {held.last.year}."
    views = [temperature_lines(highs, lows, system, kind), _nights(record, system)]
    spans = frost_chances(frost, system, kind)
    if spans is not None:
        views.append(spans)
    if np.isfinite(held.precipitation).any():
        views.append(rain_bars(held.precipitation, system, f"Means of the months. {kind}"))
    return tuple(views)


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
