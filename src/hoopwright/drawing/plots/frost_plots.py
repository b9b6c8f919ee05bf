"""Spans free of frost over the year: of one year, and at stated chances from many years."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from hoopwright.climate.frost import FrostChance, FrostYears, first_frost, last_frost
from hoopwright.climate.summary import FrostSpan
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import day_words
from hoopwright.drawing.plots.span_chart import Span, SpanRow, SpanWords, span_chart
from hoopwright.drawing.scene import View
from hoopwright.units import System

RARE, EVEN = 0.1, 0.5


def threshold_words(threshold: float, system: System) -> str:
    """Return a killing step [degC], to the tenth where its tenth is not nil."""
    shown = gauge.temperature(system)
    number = shown.number(threshold)
    digits = 0 if abs(number - round(number)) < 0.1 else 1
    return replace(shown, digits=digits).show(threshold)


def frost_of_a_year(spans: Sequence[FrostSpan], system: System, kind: str) -> View | None:
    """Return the spans of one year, one row a threshold; None where no frost bounds one."""
    bounded = [span for span in spans if span.last is not None and span.first is not None]
    if not bounded:
        return None
    rows = []
    for span in spans:
        label = f"above {threshold_words(span.threshold, system)}"
        if span.last is None or span.first is None:
            rows.append(SpanRow(label, words="no such frost in one half of the year"))
        else:
            rows.append(SpanRow(label, (Span(_day(span.last) + 1, _day(span.first) - 1),)))
    title = (
        f"{bounded[0].season} days between the last and the first night at "
        f"{threshold_words(bounded[0].threshold, system)} or below"
    )
    note = f"{kind} One year is one sample: it carries no probability."
    return span_chart("frost", title, rows, SpanWords("no night so cold"), note=note)


def _day(when: date) -> int:
    return when.toordinal() - date(when.year, 1, 1).toordinal()


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
    words = "" if rare or even else "no dates at these chances"
    return SpanRow(label, rare, even, words=words)


def _span(spring: FrostChance, autumn: FrostChance, sure: bool) -> tuple[Span, ...]:
    """Return the days between two dates (of the year, from 1), both frosty days left out."""
    if not np.isfinite([spring.day, autumn.day]).all() or autumn.day - spring.day < 2:
        return ()
    begin, end = spring.day, autumn.day - 2
    if not sure:
        return (Span(begin, end),)
    return (Span(begin, end, spring.low, spring.high, autumn.low - 2, autumn.high - 2),)
