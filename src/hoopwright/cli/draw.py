"""`hoopwright draw`: the drawings of a plan as SVG for looking at and DXF for a shop."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli.options import PlanFile


def draw(
    plan: PlanFile,
    out: Annotated[Path, typer.Option(help="Folder to write to.")] = Path("drawings"),
    format: Annotated[
        Literal["svg", "dxf", "both"], typer.Option(help="svg, dxf or both.")
    ] = "both",
) -> None:
    """Draw the bed to scale: plan, side, end, end panel, details and the finished bed."""
    from hoopwright import design_of, read_plan
    from hoopwright.drawing.files import write_drawings

    for path in write_drawings(design_of(read_plan(plan)), out, format):
        print(path)
