"""`hoopwright sheet`: the build sheet to print and carry to the bed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli.options import PlanFile


def sheet(
    plan: PlanFile,
    out: Annotated[Path | None, typer.Option(help="File to write.")] = None,
    format: Annotated[
        Literal["pdf", "html", "md"] | None, typer.Option(help="pdf, html or md.")
    ] = None,
) -> None:
    """Write the build sheet: shopping, cuts, tape marks, steps, cautions and care."""
    import datetime

    from hoopwright import design_of, read_plan
    from hoopwright.sheet.write import write_sheet

    design = design_of(read_plan(plan))
    kind = format or (out.suffix.lstrip(".") if out else "pdf")
    path = out or plan.with_suffix(f".{kind}")
    write_sheet(design, path, kind, datetime.date.today())
    print(path)
