"""The page on wind, snow and hail: what the bed bears, what goes first, what to do then."""

from __future__ import annotations

from hoopwright.answers.ladder_words import change_words, ladder_words
from hoopwright.design import Design
from hoopwright.drawing.ladder_views import ladder_layouts
from hoopwright.programme.changes import WorkedChange
from hoopwright.sheet.content import Block, Bullets, Paragraph, Part, Table, columns
from hoopwright.sheet.pictures import diagram_of

CHART_WIDTH = 0.165
LOADED_HEIGHT = 0.05
MOST_CHANGES = 6

GUIDANCE = (
    "Rough figures: mind the ranges. This is guidance for small garden covers that nobody shelters "
    "in. Local codes rule. Ask a licensed engineer where the cover stands by people, a road or a "
    "building, or is taller than you are."
)
RAILS_DOWN = "Roll the sides down and tie the rails to the boards at every hoop."
BEFORE_A_STORM = (
    "Close the ends. An end open towards the wind fills the cover like a sail.",
    "If gusts above the one to plan for are forecast, take the cover off; bare hoops stand.",
    "Take the cover off, or stay with it and brush, when wet snow is forecast.",
)


def weather_parts(design: Design, worked: tuple[WorkedChange, ...]) -> tuple[Part, ...]:
    """Return the page: the answer first, the bars, what to do, and what would help."""
    wind_shape, snow_shape, wind_bars, snow_bars = (
        diagram_of(layout) for layout in ladder_layouts(design, CHART_WIDTH, LOADED_HEIGHT)
    )
    wind, snow, hail = ladder_words(design)
    rails = (RAILS_DOWN,) if "rail" in design.cover.edges else ()
    parts = [
        Part("Wind", (Paragraph(wind.summary, strong=True), wind_bars)),
        Part("Snow", (Paragraph(snow.summary, strong=True), snow_bars)),
        Part("Hail", (Paragraph(hail.summary, strong=True),)),
        Part("Before a storm", (Bullets((*rails, *BEFORE_A_STORM)),)),
        Part("How the hoop moves", (wind_shape, snow_shape)),
    ]
    if worked:
        parts.append(Part("What would help, best value first", (_changes(design, worked),)))
    parts.append(Part("", (Paragraph(GUIDANCE),)))
    return tuple(parts)


def _changes(design: Design, worked: tuple[WorkedChange, ...]) -> Block:
    rows = tuple((words.what, words.gain) for words in change_words(design, worked[:MOST_CHANGES]))
    heads = columns("Change 1 | What it gains and costs 1.4")
    return Table("What would help", heads, rows, untitled=True)
