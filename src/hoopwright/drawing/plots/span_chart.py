"""Stretches of the year as bars, two kinds a row: sowing under cover and in the open."""

import math
from collections.abc import Sequence

from hoopwright.drawing.font import text_width
from hoopwright.drawing.plots.axes import YEAR, Area, Axis, day_words, year_axis
from hoopwright.drawing.plots.field import WIDTH, month_names, month_rules
from hoopwright.drawing.plots.words import EDGE, GAP, HALO, LINE, MIDDLE, RULE, balanced, heading
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Circle,
    Group,
    Item,
    Layer,
    Shape,
    Text,
    Tone,
    View,
    Weight,
    rectangle,
    thin_part,
)
from hoopwright.frozen import dataclass

ROW = 0.0052
BAR = 0.0016
#: Of the whole width, the most that the names of the rows may take.
LABEL_SHARE = 0.24
DOT = 0.00085
SAMPLE = 0.008
#: More rows than this and the months are named below as well.
LONG = 8


@dataclass(frozen=True)
class Span:
    """From day to day of the year, from 0, both within.

    first_low, first_high, last_low, last_high : how sure the ends are; NaN where not known
    """

    first: float
    last: float
    first_low: float = math.nan
    first_high: float = math.nan
    last_low: float = math.nan
    last_high: float = math.nan


@dataclass(frozen=True)
class SpanRow:
    """One row: its name, its dark and its light bars, a dot, and words where it has none.

    dot : day of the year; NaN for none, or beyond the year
    """

    label: str
    dark: tuple[Span, ...] = ()
    light: tuple[Span, ...] = ()
    dot: float = math.nan
    words: str = ""


@dataclass(frozen=True)
class SpanWords:
    """What the dark bars, the light bars and the dots mean."""

    dark: str
    light: str = ""
    dot: str = ""


def span_chart(
    name: str,
    title: str,
    rows: Sequence[SpanRow],
    meaning: SpanWords,
    *,
    note: str = "",
    width: float = WIDTH,
) -> View:
    """Return the chart; months and their halves are ruled.

    title : the finding
    """
    if not rows:
        raise ValueError("a chart needs at least one row")
    labels = [balanced(row.label, LABEL_SHARE * width) for row in rows]
    left = max(text_width(line, TEXT_SIZE) for lines in labels for line in lines) + 1.5 * GAP
    tall = [ROW + (len(lines) - 1) * LINE for lines in labels]
    height = sum(tall)
    area = Area(left, 0.0, width - left, height, year_axis(), Axis(0.0, float(len(rows))))
    long = len(rows) > LONG
    items: list[Item] = [*month_rules(area, names=long, halves=True)]
    items += month_names(area, area.top + 0.35 * LINE)
    feet = [area.top - sum(tall[: number + 1]) for number in range(len(rows))]
    items.append(RULE.trace(*(((0.0, foot), (area.right, foot)) for foot in feet[:-1])))
    for number, (row, foot) in enumerate(zip(rows, feet, strict=True)):
        middle = foot + tall[number] / 2
        named = _label(labels[number], area.left - GAP, middle)
        shapes = (*named, *_marks(area, row, middle))
        items.append(Group(f"row-{number + 1}", row_words(row, meaning), shapes))
    top = area.top + 1.6 * LINE
    key, top = _key(top + 0.4 * LINE, width, meaning)
    items += key
    items += heading(title, note, 0.0, top + 0.9 * LINE, width)
    said = "; ".join(row_words(row, meaning) for row in rows) + "."
    return View(name, title, said, tuple(items), 1.0)


def _label(lines: Sequence[str], right: float, middle: float) -> list[Shape]:
    top = middle + (len(lines) - 1) * LINE / 2 - MIDDLE
    return [
        Text((right, top - number * LINE), line, Layer.TEXT, Anchor.END)
        for number, line in enumerate(lines)
    ]


def _marks(area: Area, row: SpanRow, y: float) -> list[Shape]:
    shapes: list[Shape] = []
    apart = 0.55 * BAR if row.light else 0.0
    for spans, tone, middle in (
        (row.dark, Tone.INK, y + apart),
        (row.light, Tone.LIGHT, y - apart),
    ):
        for span in spans:
            shapes += _bar(area, span, tone, middle)
    if 0 <= row.dot < YEAR:
        place = (area.across(row.dot + 0.5), y + apart)
        shapes.append(Circle(place, DOT, Layer.SCALE, Tone.PAPER, Weight.THIN))
    if row.words:
        x = area.left + GAP
        shapes.append(Text((x, y - MIDDLE), row.words, Layer.TEXT, clear=True))
    return shapes


def _bar(area: Area, span: Span, tone: Tone, y: float) -> list[Shape]:
    low, high = area.across(span.first), area.across(min(span.last + 1, YEAR))
    half = BAR / 2
    corners = rectangle(low, y - half, high, y + half)
    shapes: list[Shape] = [thin_part(corners, Layer.SCALE, tone)]
    ends = ((span.first_low, span.first_high), (span.last_low + 1, span.last_high + 1))
    for early, late in ends:
        if math.isfinite(early) and math.isfinite(late):
            a, b = area.across(max(early, 0.0)), area.across(min(late, float(YEAR)))
            caps = (((x, y - half), (x, y + half)) for x in (a, b))
            stroke = (((a, y), (b, y)), *caps)
            shapes += [HALO.trace(*stroke), EDGE.trace(*stroke)]
    return shapes


def _key(bottom: float, width: float, meaning: SpanWords) -> tuple[list[Item], float]:
    """Return a sample of each mark with its meaning, and the top of the lines they take [m].

    bottom : base of the lowest line; the samples flow from left to right within `width`
    """
    samples = [(meaning.dark, Tone.INK), (meaning.light, Tone.LIGHT), (meaning.dot, Tone.PAPER)]
    placed: list[tuple[int, float, str, Tone]] = []
    line, x = 0, 0.0
    for words, tone in samples:
        if not words:
            continue
        needed = _sample_width(tone) + GAP + text_width(words, TEXT_SIZE)
        if x > 0 and x + needed > width:
            line, x = line + 1, 0.0
        placed.append((line, x, words, tone))
        x += needed + 3 * GAP
    items: list[Item] = []
    for number, x, words, tone in placed:
        y = bottom + (line - number) * LINE
        items.append(_sample(x, y + MIDDLE, tone))
        items.append(Text((x + _sample_width(tone) + GAP, y), words))
    return items, bottom + line * LINE


def _sample_width(tone: Tone) -> float:
    return 2 * DOT if tone is Tone.PAPER else SAMPLE


def _sample(x: float, middle: float, tone: Tone) -> Item:
    """Return a dot or a short bar, as the chart has them."""
    if tone is Tone.PAPER:
        return Circle((x + DOT, middle), DOT, Layer.SCALE, tone, Weight.THIN)
    corners = rectangle(x, middle - BAR / 2, x + SAMPLE, middle + BAR / 2)
    return thin_part(corners, Layer.SCALE, tone)


def row_words(row: SpanRow, meaning: SpanWords) -> str:
    """Return a row as a sentence without its full stop."""
    said = [_dates(meaning.dark, row.dark)] if row.dark else []
    said += [f"{meaning.dot} {day_words(row.dot)}"] if math.isfinite(row.dot) else []
    said += [_dates(meaning.light, row.light)] if row.light else []
    said += [row.words] if row.words else []
    return f"{row.label}: " + (", ".join(said) or "none")


def _dates(words: str, spans: Sequence[Span]) -> str:
    dates = (f"{day_words(span.first)} to {day_words(span.last)}" for span in spans)
    return f"{words} {' and '.join(dates)}"
