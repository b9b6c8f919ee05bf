"""`hoopwright limits`: the whole ladder, and what each change would gain and cost."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hoopwright.cli.options import AsJson, PlanFile


def limits(
    plan: PlanFile,
    json: AsJson = False,
    changes: Annotated[
        bool, typer.Option("--changes/--no-changes", help="Work out what changes would gain.")
    ] = True,
    draw: Annotated[
        Path | None, typer.Option(help="Folder to draw the loaded hoop and the ladder to (SVG).")
    ] = None,
) -> None:
    """Print what gives way at which gust, snow or hail, first to last, and what would help."""
    from hoopwright import design_of, read_plan
    from hoopwright.cli import text
    from hoopwright.cli.data import change_data, rung_data
    from hoopwright.programme.changes import worked_changes
    from hoopwright.sheet.ladder_words import change_words, ladder_words

    read = read_plan(plan)
    design = design_of(read)
    worked = worked_changes(read, design) if changes else ()
    if draw is not None:
        from hoopwright.drawing.files import write_ladder_drawings

        for path in write_ladder_drawings(design, draw):
            print(path)
    if json:
        rungs = [rung_data(rung) for rung in design.ladder.rungs]
        print(text.as_json({"rungs": rungs, "changes": [change_data(one) for one in worked]}))
        return
    print(design.plan.name)
    for part in ladder_words(design):
        print(f"\n{part.title}")
        print(text.paragraph(part.summary, first="  ", rest="  "))
        for row in part.rows:
            tail = f"{row.harm}; {row.case}" if row.case else row.harm
            print(text.labelled(row.at, f"{row.happens} [{tail}]", 26))
    if worked:
        print("\nWhat would help, best value first")
        for words in change_words(design, worked):
            print(text.labelled(words.what, words.gain, 34))
    print()
    print(text.paragraph(GUIDANCE))


GUIDANCE = (
    "Guidance for small unoccupied garden covers, worked out with rough figures: mind the ranges. "
    "Local codes rule. Ask a licensed engineer where a cover stands by people, a road or a "
    "building, is taller than you are, or shelters anyone."
)
