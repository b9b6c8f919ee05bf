"""Wind, snow and hail: a page that is read in half a minute, and the ladder behind it."""

from hoopwright.answers.glance import GUIDANCE, YEARS, glance
from hoopwright.answers.ladder_words import besides, change_words, wind_basis
from hoopwright.answers.voice import plural, sentence
from hoopwright.design import Design
from hoopwright.drawing.ladder_views import ladder_layouts
from hoopwright.drawing.odds_chart import odds_chart
from hoopwright.drawing.plots.field import plot_layout
from hoopwright.programme.changes import WorkedChange
from hoopwright.sheet.content import Block, Bullets, Paragraph, Part, Table, columns
from hoopwright.sheet.pictures import diagram_of

#: Paper of the two loaded hoops side by side, and across a chart in half of the page [m].
LOADED_WIDTH, LOADED_HEIGHT, CHART_WIDTH = 0.165, 0.045, 0.083
MOST_CHANGES = 4


def glance_parts(design: Design) -> tuple[Part, ...]:
    """Return the half minute: what to plan for, what then happens, the odds here, what to do."""
    read = glance(design)
    heads = columns("What comes about 1.35 | Nine in ten stand 0.85 | Half stand 0.6 | How 3.4")
    rows = tuple((one.what, one.careful, one.half, one.first) for one in read.headlines)
    odds: list[Block] = [Paragraph(read.place)]
    if read.odds:
        years = " | ".join(f"{plural(number, 'year')} 1" for number in YEARS)
        through = tuple((one.what, *one.through) for one in read.odds)
        what = columns(f"How often it gets through 2 | {years}")
        odds.append(Table("The odds here", what, through, untitled=True))
    return (
        Part("", (Paragraph(read.plan_for, strong=True),)),
        Part("", (Table("What it stands, careful first", heads, rows, untitled=True),)),
        Part("The odds", (diagram_of(plot_layout(odds_chart(design))), *odds)),
        Part("Before a storm", (Bullets(read.before),), half=True),
        *(
            (Part("Find out first", (Paragraph(sentence(read.find_out)),), half=True),)
            if read.find_out
            else ()
        ),
        Part("", (Paragraph(GUIDANCE, caution=True),)),
    )


def ladder_parts(design: Design, worked: tuple[WorkedChange, ...]) -> tuple[Part, ...]:
    """Return what stands behind it: the bars, how the hoop moves, and what would help."""
    wind_shape, snow_shape, wind_bars, snow_bars = (
        diagram_of(layout)
        for layout in ladder_layouts(design, LOADED_WIDTH, LOADED_HEIGHT, CHART_WIDTH)
    )
    words = [wind_basis(design.standing, design.system), *besides(design)]
    parts = [
        Part(wind_bars.title, (wind_bars,), half=True),
        Part(snow_bars.title, (snow_bars,), half=True),
        Part("", (Paragraph(" ".join(words)),)),
        Part("How the hoop moves", (wind_shape, snow_shape)),
    ]
    if worked:
        parts.append(Part("What would help, best value first", (_changes(design, worked),)))
    return tuple(parts)


def _changes(design: Design, worked: tuple[WorkedChange, ...]) -> Block:
    rows = tuple((words.what, words.gain) for words in change_words(design, worked[:MOST_CHANGES]))
    heads = columns("Change 1 | What it gains and costs 1.4")
    return Table("What would help", heads, rows, untitled=True)
