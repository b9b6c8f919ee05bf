"""`hoopwright climate`: what a weather file holds, in words, as JSON and as plots."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson


def climate(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE", help="EPW, TMY3 or GHCN-Daily file (.csv or .dly), or the word demo."
        ),
    ],
    json: AsJson = False,
    draw: Annotated[Path | None, typer.Option(help="Folder to draw the plots to (SVG).")] = None,
    units: Annotated[Literal["us", "metric"], typer.Option(help="us or metric.")] = "us",
) -> None:
    """Print what a weather file holds: place, months, frost dates, sun, wind, gaps and repairs."""
    from hoopwright import writing
    from hoopwright.cli.climate_held import held_data, held_in, plots_of
    from hoopwright.cli.climate_words import held_words
    from hoopwright.units import METRIC, US

    system = US if units == "us" else METRIC
    held = held_in(file)
    files: list[Path] = []
    if draw is not None:
        from hoopwright.drawing.plots.field import plot_svg

        draw.mkdir(parents=True, exist_ok=True)
        for view in plots_of(held, system):
            files.append(writing.write(draw / f"{view.name}.svg", plot_svg(view)))
    if json:
        named = {"files": [str(path) for path in files]} if files else {}
        print(text.as_json({**held_data(held), **named}))
    elif files:
        text.print_files(files, json=False)
    else:
        print(held_words(held, system))
