"""`hoopwright draw`: the drawings of a plan as SVG for looking at and DXF for a shop."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli.options import AsJson, PlanFile


def draw(
    plan: PlanFile,
    out: Annotated[Path, typer.Option(help="Folder to write to.")] = Path("drawings"),
    format: Annotated[
        Literal["svg", "dxf", "both"], typer.Option(help="svg, dxf or both.")
    ] = "both",
    json: AsJson = False,
) -> None:
    """Draw the bed to scale: plan, side, end, end panel, details and the finished bed."""
    from hoopwright import design_of, read_plan
    from hoopwright.cli import text
    from hoopwright.drawing.files import write_drawings

    text.print_files(write_drawings(design_of(read_plan(plan)), out, format), json)
