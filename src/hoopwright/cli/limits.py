"""`hoopwright limits`: the whole ladder, and what each change would gain and cost."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, PlanFile

if TYPE_CHECKING:
    from hoopwright.checks.at_gust import AtGust
    from hoopwright.design import Design
    from hoopwright.programme.changes import WorkedChange


def limits(
    plan: PlanFile,
    json: AsJson = False,
    changes: Annotated[
        bool, typer.Option("--changes/--no-changes", help="Work out what changes would gain.")
    ] = True,
    gust: Annotated[
        str | None, typer.Option(help='Say too what one gust asks of each part, as "60 mph".')
    ] = None,
    why: Annotated[
        str | None,
        typer.Option(
            help="Say what stands behind one rung, as legs-slip, or behind opens, lost or moves: "
            "what gives way and the ten inputs that move it most."
        ),
    ] = None,
    record: Annotated[
        Path | None,
        typer.Option(help="A GHCN-Daily record of the place: odds by its own gusts and snows."),
    ] = None,
    draw: Annotated[
        Path | None,
        typer.Option(help="Folder to draw the odds, the loaded hoop and the ladder to (SVG)."),
    ] = None,
) -> None:
    """Print what gives way at which gust, snow or hail, first to last, and what would help."""
    from hoopwright import design_of, read_plan
    from hoopwright.answers.data import change_data, gust_data, rung_data
    from hoopwright.programme.changes import worked_changes

    read = read_plan(plan)
    design = design_of(read)
    if why is not None:
        _print_why(design, why, json=json)
        return
    by_record = _by_record(design, record)
    worked = worked_changes(read, design) if changes else ()
    asked = None if gust is None else _asked(design, gust)
    if draw is not None:
        from hoopwright.drawing.files import write_ladder_drawings

        for path in write_ladder_drawings(design, draw):
            print(path, file=sys.stderr if json else sys.stdout)
    if json:
        found = {
            "rungs": [rung_data(rung) for rung in design.ladder.rungs],
            "changes": [change_data(one) for one in worked],
            **({"record": dict(by_record)} if by_record else {}),
        }
        print(text.as_json(found if asked is None else {**found, "at_gust": gust_data(asked)}))
        return
    _print_all(design, asked, by_record, worked)


def _print_all(
    design: Design,
    asked: AtGust | None,
    by_record: tuple[tuple[str, str], ...],
    worked: Sequence[WorkedChange],
) -> None:
    from hoopwright.answers.glance import GUIDANCE
    from hoopwright.answers.ladder_words import asked_words, change_words, ladder_words
    from hoopwright.answers.strength_words import strength_words
    from hoopwright.units import show

    print(design.plan.name)
    if asked is not None:
        print(f"\nA gust of {show(asked.gust, 'given speed', design.system)}")
        for what, how_much in asked_words(asked, design.system):
            print(text.labelled(what, how_much, 34))
    told = strength_words(design)
    print()
    for line in told.headlines:
        half = f" (half {line.half})" if line.half else ""
        print(text.labelled(line.what, f"{line.careful}{half}. {line.first}", 20))
    for pair in by_record:
        print(text.labelled(*pair, 20))
    for part in ladder_words(design):
        print(f"\n{part.title}")
        print(text.indented(part.summary))
        for row in part.rows:
            tail = f"{row.harm}; {row.case}" if row.case else row.harm
            print(text.labelled(row.at, f"{row.happens} [{tail}]", 26))
    if worked:
        print("\nWhat would help, best value first")
        for words in change_words(design, worked):
            print(text.labelled(words.what, words.gain, 34))
    print()
    print(text.paragraph(GUIDANCE))
    print(f"Worked out on {told.draws:,} such beds, each with its own strengths and loads.")


def _asked(design: Design, gust: str) -> AtGust:
    """Return what a gust written by a person asks."""
    from hoopwright.checks.at_gust import GustTooStrong, at_gust
    from hoopwright.units import UnitError, read

    try:
        speed = read(gust, "speed")
        return at_gust(design.standing, design.ladder, speed)
    except (UnitError, GustTooStrong) as error:
        raise type(error)(f"--gust: {error}") from None


def _by_record(design: Design, record: Path | None) -> tuple[tuple[str, str], ...]:
    """Return what a record of the place says, as pairs."""
    if record is None:
        return ()
    from hoopwright.answers.record_words import record_words
    from hoopwright.climate.read import read_daily

    return record_words(design, read_daily(record))


def _print_why(design: Design, name: str, *, json: bool) -> None:
    import dataclasses

    from hoopwright.answers.why_words import why_words

    found = why_words(design, name)
    if json:
        inputs = [dataclasses.asdict(one) for one in found.inputs]
        told = {"name": name, "told": dict(found.told), "inputs": inputs, "draws": found.draws}
        print(text.as_json(told))
        return
    print(f"{design.plan.name}: why {found.careful} ({name})")
    for what, words in found.told:
        print(text.labelled(what, words, 26))
    print("\nInputs that move it most: rank correlation, name, 5, 50 and 95 % [SI]")
    for one in found.inputs:
        low, likely, high = one.range
        words = f"{one.name}: {low:.3g}, {likely:.3g}, {high:.3g}. {one.source}"
        print(text.labelled(f"{one.correlation:+.2f}", words, 8))
    print(f"\nWorked out on {found.draws:,} such beds, each with its own strengths and loads.")
