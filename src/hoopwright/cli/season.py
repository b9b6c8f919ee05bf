"""`hoopwright season`: the climate under the cover, sowing dates, and the opening calendar."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hoopwright.cli.options import AsJson, PlanFile

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport
    from hoopwright.plan.read import ReadPlan
    from hoopwright.sheet.season_words import Grid


def season(
    plan: PlanFile,
    json: AsJson = False,
    hours: Annotated[
        Path | None,
        typer.Option(help="Write one year hour by hour to a .csv or .parquet file."),
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
    from hoopwright.cli import text

    read = read_plan(plan)
    report = report_of(read, fresh)
    files: list[Path] = []
    if hours is not None:
        from hoopwright.cli.hours import write_hours

        files.append(write_hours(report, hours))
    if draw is not None:
        from hoopwright.drawing.season_plots import write_season_plots

        files += write_season_plots(report, draw, read.plan.system)
    if ics is not None:
        files.append(_write_calendar(read, report, ics, year))
    if json:
        from hoopwright.cli.season_data import season_data

        found = season_data(report)
        named = {"files": [str(file) for file in files]} if files else {}
        print(text.as_json({**found, **named}))
    elif files:
        text.print_files(files, json=False)
    else:
        _print(read, report)


def report_of(read: ReadPlan, fresh: bool = False) -> SeasonReport:
    """Return the season, from the cache where nothing has changed since it was worked out."""
    from hoopwright.store import kept

    files = [file for file in (read.weather_file, *read.varieties) if isinstance(file, Path)]
    stamps = [f"{file} {file.stat().st_mtime_ns} {file.stat().st_size}" for file in files]
    plan, own = read.plan.model_dump_json(), repr(read.catalogue.overlays)
    name = f"season-{kept.key(plan, own, *stamps)}"
    held: SeasonReport | None = None if fresh else kept.load(name)
    if held is None:
        held = _worked_out(read)
        kept.save(name, held)
    return held


def _worked_out(read: ReadPlan) -> SeasonReport:
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    from hoopwright.design import design_of
    from hoopwright.design.growing import place_years
    from hoopwright.design.season_report import season_report
    from hoopwright.heat.compiled import compiled_march

    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task("Weather", total=1.0)

        def tell(what: str, share: float) -> None:
            bar.update(task, description=what, completed=share)

        place = place_years(read.plan, read.weather_file)
        return season_report(design_of(read), place, compiled_march(), tell)


def _print(read: ReadPlan, report: SeasonReport) -> None:
    from hoopwright.sheet.season_words import (
        calendar,
        heat_by_opening,
        sowing,
        thirst,
        warmth,
    )

    system = read.plan.system
    print(read.plan.name)
    print(f"\n  {report.origin[:1].upper()}{report.origin[1:]}.")
    grids = (
        warmth(report, system),
        sowing(report),
        calendar(report, system),
        heat_by_opening(report, system),
        thirst(report, system),
    )
    for grid in grids:
        _print_grid(grid)


def _print_grid(grid: Grid) -> None:
    """Print a grid row by row: label, then each head with its cell."""
    from hoopwright.cli import text

    print(f"\n{grid.title}")
    if grid.note:
        print(text.paragraph(grid.note, first="  ", rest="  "))
    for row in grid.rows:
        print(f"  {row.label}")
        for head, cell in zip(grid.heads[1:], row.cells, strict=True):
            if cell:
                print(text.labelled(f"  {head}", cell, 30))


def _write_calendar(read: ReadPlan, report: SeasonReport, path: Path, year: int | None) -> Path:
    import datetime

    from hoopwright.design.season_calendar import season_calendar

    path.write_bytes(season_calendar(read.plan, report, year or datetime.date.today().year + 1))
    return path
