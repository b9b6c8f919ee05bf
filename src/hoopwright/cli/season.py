"""`hoopwright season`: the climate under the cover, sowing dates, and the opening calendar."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, PlanFile

if TYPE_CHECKING:
    from hoopwright.answers.season_warmth import Grid
    from hoopwright.design.season_report import SeasonReport
    from hoopwright.plan.read import ReadPlan


def season(
    plan: PlanFile,
    json: AsJson = False,
    hours: Annotated[
        Path | None, typer.Option(help="Write one year hour by hour to a .csv or .parquet file.")
    ] = None,
    draw: Annotated[Path | None, typer.Option(help="Folder to draw the plots to (SVG).")] = None,
    ics: Annotated[
        Path | None, typer.Option(help="Write a calendar file (iCalendar) of what to do when.")
    ] = None,
    year: Annotated[
        int | None, typer.Option(help="Year of the calendar. Default: next.", min=1970, max=2200)
    ] = None,
    fresh: Annotated[bool, typer.Option("--fresh", help="Work it out anew.")] = False,
) -> None:
    """Run the bed through many years, open and covered: frost, heat, sowing, opening."""
    from hoopwright import read_plan
    from hoopwright.cli import outputs
    from hoopwright.cli.hours import suited, write_hours

    read = read_plan(plan)
    outputs.spare((hours, ics), plan)
    if hours is not None:
        suited(hours)
    report = report_of(read, fresh)
    files: list[Path] = []
    if hours is not None:
        files.append(write_hours(report, hours))
    if draw is not None:
        from hoopwright.drawing.season_plots import write_season_plots

        files += write_season_plots(report, draw, read.plan.system)
    if ics is not None:
        files.append(_write_calendar(read, report, ics, year))
    if json:
        from hoopwright.answers.season_data import season_data

        found = season_data(report)
        named = {"files": [str(file) for file in files]} if files else {}
        print(text.as_json({**found, **named}))
    elif files:
        text.print_files(files, json=False)
        print(text.paragraph(text.GUIDANCE))
    else:
        _print(read, report)
        print("\n" + text.paragraph(text.GUIDANCE))


def report_of(read: ReadPlan, fresh: bool = False) -> SeasonReport:
    """Return the season, its progress shown where it has to be worked out."""
    from hoopwright.answers.season_kept import FIRST_USE, season_of

    with text.bar() as shown:
        task = shown.add_task("Weather", total=1.0)

        def tell(what: str, share: float) -> None:
            if what == FIRST_USE:  # Said also where no bar is drawn.
                shown.console.print(text.paragraph(what))
                return
            shown.update(task, description=what, completed=share)

        return season_of(read, tell, fresh)


def _print(read: ReadPlan, report: SeasonReport) -> None:
    from hoopwright.answers.season_words import grids

    system = read.plan.system
    print(read.plan.name)
    print(f"\n  {report.origin[:1].upper()}{report.origin[1:]}.")
    for grid in grids(report, system):
        _print_grid(grid)


def _print_grid(grid: Grid) -> None:
    """Print a grid row by row: label, then each head with its cell."""
    print(f"\n{grid.title}")
    if grid.note:
        print(text.indented(grid.note))
    for row in grid.rows:
        print(f"  {row.label}")
        for head, cell in zip(grid.heads[1:], row.cells, strict=True):
            if cell:
                print(text.labelled(f"  {head}", cell, 30))


def _write_calendar(read: ReadPlan, report: SeasonReport, path: Path, year: int | None) -> Path:
    import datetime

    from hoopwright import writing
    from hoopwright.design.season_calendar import season_calendar

    held = season_calendar(read.plan, report, year or datetime.date.today().year + 1)
    return writing.write(path, held)
