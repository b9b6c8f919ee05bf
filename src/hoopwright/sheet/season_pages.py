"""The season pages of the sheet: sowing chart, opening calendar, frost curve, warmer than what."""

import re
from dataclasses import replace

from hoopwright.answers.season_warmth import Grid, warmth
from hoopwright.answers.season_words import calendar, heat_by_opening, sowing, successions, thirst
from hoopwright.answers.voice import sentence
from hoopwright.design.season_report import SeasonReport
from hoopwright.drawing.plots.field import plot_layout
from hoopwright.drawing.season_plots import frost_curves, sowing_charts, year_maps
from hoopwright.sheet.content import ColumnHead, Paragraph, Part, Table
from hoopwright.sheet.pictures import diagram_of
from hoopwright.units import MONTH_NAMES, System

#: Crops on one chart, so that it stands on a page with a heading over it, Letter or A4.
MOST_CROPS = 28


def season_parts(report: SeasonReport, system: System) -> tuple[Part, ...]:
    """Return the season: the chart first, then dates, opening, frost and warmth."""
    charts = [diagram_of(plot_layout(view)) for view in sowing_charts(report, MOST_CROPS)]
    frost = diagram_of(plot_layout(frost_curves(report)))
    gain = diagram_of(plot_layout(year_maps(report, system)[-1]))
    dates, opening, warmer = (
        sowing(report, system),
        calendar(report, system),
        warmth(report, system),
    )
    heat, water = heat_by_opening(report, system), thirst(report, system)
    return (
        Part("", (*charts, Paragraph(dates.note))),
        Part(dates.title, (_table(_dates_on_paper(dates), (0.8, 1.65, 1.65, 5.4)),)),
        Part(opening.title, (_table(opening, (1.1, 1.15, 3.7)), Paragraph(opening.note))),
        Part(heat.title, (_table(heat, (1.9, 0.9, 0.9, 0.9)), Paragraph(heat.note)), half=True),
        Part(
            water.title, (_table(water, (1.2, 0.75, 0.75, 1.75)), Paragraph(water.note)), half=True
        ),
        Part("", (frost,)),
        *(
            Part(
                grid.title,
                (_table(grid, (1.7, *(1.3 for _ in grid.heads[1:]))), Paragraph(grid.note)),
            )
            for grid in successions(report)
        ),
        Part("", (gain,)),
        Part(warmer.title, (_table(warmer, (1.65, 0.5, *(1.45 for _ in warmer.heads[2:]))),)),
        Part("", (Paragraph(warmer.note),)),
    )


def _dates_on_paper(grid: Grid) -> Grid:
    """Return the dates with a start and its harvest in one cell, and all words of the cover in one:
    seven narrow columns are twice as high."""

    def start(days: str, harvest: str) -> str:
        return days if harvest == "none" else f"{days}; first harvest {harvest}"

    def row(cells: tuple[str, ...]) -> tuple[str, ...]:
        outside, inside, picked_outside, picked_inside, rule, light, adds = cells
        way = f"{sentence(rule)}. " if rule else ""
        yields = f" Yield by light: {light}." if light else ""
        return start(outside, picked_outside), start(inside, picked_inside), f"{way}{adds}{yields}"

    heads = ("Crop", "Open bed", "Under cover", "The cover, for the first start, and what it adds")
    rows = tuple(replace(one, cells=row(one.cells)) for one in grid.rows)
    return replace(grid, heads=heads, rows=rows)


def _table(grid: Grid, shares: tuple[float, ...]) -> Table:
    columns = tuple(
        ColumnHead(head, share=share) for head, share in zip(grid.heads, shares, strict=True)
    )
    rows = tuple(tuple(map(_short, (row.label, *row.cells))) for row in grid.rows)
    return Table(grid.title, columns, rows, untitled=True)


def _short(words: str) -> str:
    """Return words with their months in three letters, as narrow columns have them."""
    return re.sub(rf"\b({'|'.join(MONTH_NAMES)})\b", lambda found: found[0][:3], words)
