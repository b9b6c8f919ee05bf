"""`hoopwright draw`: the drawings of a plan as SVG for looking at and DXF for a shop."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Misused, PlanFile


def draw(
    plan: PlanFile,
    out: Annotated[Path, typer.Option(help="Folder to write to.")] = Path("drawings"),
    format: Annotated[
        Literal["svg", "dxf", "both"], typer.Option(help="svg, dxf or both.")
    ] = "both",
    steps: Annotated[
        bool, typer.Option("--steps", help="Write instead a picture of each building step as SVG.")
    ] = False,
    json: AsJson = False,
) -> None:
    """Draw the bed to scale: plan, side, end, end panel, details and the finished bed."""
    from hoopwright import design_of, read_plan
    from hoopwright.drawing.files import write_drawings

    if steps and format == "dxf":
        raise Misused("draw --steps: the pictures of the steps are SVG; leave --format out")
    design = design_of(read_plan(plan))
    if steps:
        from hoopwright.drawing.steps.pictures import write_step_pictures
        from hoopwright.sheet.steps import drafts_of

        keys = tuple(draft.key for draft in drafts_of(design))
        files = write_step_pictures(design, keys, out)
    else:
        files = write_drawings(design, out, format)
    text.print_files(files, json)
    if not json:
        print(text.paragraph(text.GUIDANCE))
