"""`hoopwright readings`: temperatures measured at a bed, kept, held against the model, reported."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Commands, PlanFile

if TYPE_CHECKING:
    from hoopwright.readings.adding import ReadFile
    from hoopwright.readings.evidence import BedReadings
    from hoopwright.readings.fit import Fit

app = typer.Typer(
    cls=Commands, help="Measured temperatures: add loggers' files, report what was gained."
)
Inside = Annotated[str | None, typer.Option(help='Column inside, or "only" for the only one.')]
Outside = Annotated[str | None, typer.Option(help='Column outside, or "only" for the only one.')]


@app.command()
def add(
    plan: PlanFile,
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="Loggers' CSV files.")],
    inside: Inside = None,
    outside: Outside = None,
    unit: Annotated[Literal["C", "F"] | None, typer.Option(help="Unit of the readings.")] = None,
    dates: Annotated[
        Literal["day", "month"] | None, typer.Option(help="Which comes first in 03/04/2026.")
    ] = None,
    zone: Annotated[
        str | None, typer.Option(help="Zone whose summer time the clock kept, as America/Denver.")
    ] = None,
    utc: Annotated[
        float | None, typer.Option(help="Hours of the logger's clock from UTC, as -7.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Read loggers' files, show what is wrong in them, and keep the rest beside the plan."""
    from hoopwright import read_plan
    from hoopwright.readings.adding import LoggerClock, place_offset, read_file
    from hoopwright.readings.keep import file_beside
    from hoopwright.readings.recognise import Answers
    from hoopwright.readings.text import ReadingsError

    read = read_plan(plan)
    added: list[dict[str, Any]] = []
    answers = Answers(None if dates is None else dates == "day", unit, inside, outside)
    clock, place = LoggerClock(zone, utc), place_offset(read.plan.site.longitude)
    for file in files:
        found = read_file(file, answers, clock, place)
        if found.logger.questions:
            raise ReadingsError("\n".join(f"{file}: {one}" for one in found.logger.questions))
        says = _keep(file, found, file_beside(plan))
        added.append({"file": str(file), "says": says})
        if not json:
            print("\n  ".join([file.name, *says]))
    if json:
        print(text.as_json({"kept_in": str(file_beside(plan)), "added": added}))


def _keep(file: Path, found: ReadFile, store: Path) -> list[str]:
    import numpy as np

    from hoopwright.readings.keep import add as keep

    lines, times = [*found.notes, *found.told], list(found.times)
    for column, values in found.series:
        good = int(np.isfinite(values).sum())
        new = keep(store, file, column.role, times, values, list(found.faults)) if times else False
        state = "" if new else "; there already"
        lines.append(f"{column.role}: {column.name}, {good} readings in {column.unit}{state}")
    if times:
        lines.append(f"{times[0]:%Y-%m-%d %H:%M} to {times[-1]:%Y-%m-%d %H:%M}, kept in {store}")
    return lines


@app.command()
def report(
    plans: Annotated[list[Path], typer.Argument(metavar="PLAN...", help="Plans with readings.")],
    out: Annotated[Path | None, typer.Option(help="Write one page for a board (PDF).")] = None,
    title: Annotated[str | None, typer.Option(help="Title of that page.")] = None,
    weather: Annotated[
        Path | None, typer.Option(help="Hourly weather of that very time (EPW or TMY3 form).")
    ] = None,
    fit: Annotated[
        bool, typer.Option("--fit", help="Fit leak, light and soil water to the readings.")
    ] = False,
    adopt: Annotated[
        bool, typer.Option("--adopt", help="Keep the fitted numbers for this bed.")
    ] = False,
    json: AsJson = False,
) -> None:
    """Print what was gained by month against the model; fit the model; write the page."""
    from hoopwright.answers.readings_data import bed_data
    from hoopwright.cli import outputs
    from hoopwright.readings.keep import file_beside

    outputs.spare((out,), weather, *plans, *[file_beside(path) for path in plans])
    found: list[BedReadings] = []
    data: list[dict[str, Any]] = []
    for path in plans:
        bed, fitted = _worked(path, weather, fit or adopt)
        found.append(bed)
        adopted = _adopt(path, fitted) if fitted is not None and adopt else None
        if json:
            data.append({**bed_data(bed, fitted), "plan": str(path), "adopted": bool(adopted)})
        else:
            _print(path, bed, fitted, adopted)
    if out is not None:
        _write_page(plans[0], found, out, title)
    if json:
        print(text.as_json({"beds": data, "files": [] if out is None else [str(out)]}))
    elif out is not None:
        print(out)


def _print(path: Path, bed: BedReadings, fitted: Fit | None, adopted: bool | None) -> None:
    from hoopwright import design_of, read_plan
    from hoopwright.answers.facts import voice_of
    from hoopwright.sheet.readings_words import TYPICAL, fitted_words, months_table

    say = voice_of(design_of(read_plan(path)))
    table = months_table(bed, say)
    heads = [column.head for column in table.columns]
    print(table.caption)
    print(text.table(heads, table.rows, right=tuple(range(1, len(heads)))))
    print(text.indented(table.note))
    if bed.modelled is not None and bed.modelled.typical:
        print(text.indented(TYPICAL))
    if fitted is not None:
        print("\nFitted to these readings")
        for line in fitted_words(fitted, say):
            print(text.paragraph(line, first="  ", rest="    "))
    if adopted is not None:
        kept = (
            f"Kept in {path} under [measured]: the model of this bed uses them from now on."
            if adopted
            else "Not kept: they do no better than the table's."
        )
        print(text.paragraph(kept, first="  ", rest="    "))
    print()


def _worked(path: Path, weather: Path | None, fitted: bool) -> tuple[BedReadings, Fit | None]:
    from hoopwright import read_plan
    from hoopwright.readings.evidence import fitted_to, read_at
    from hoopwright.readings.keep import file_beside, hours_kept
    from hoopwright.readings.text import ReadingsError

    read, hours = read_plan(path), hours_kept(file_beside(path))
    try:
        bed = read_at(read, hours, weather)
    except ReadingsError as error:
        raise ReadingsError(f"{path}: {error}") from None
    return bed, fitted_to(read, hours, weather) if fitted else None


def _adopt(path: Path, fitted: Fit) -> bool:
    """Write fitted numbers that help into the plan, where the model finds them from now on."""
    from hoopwright import writing
    from hoopwright.plan.read import text_of
    from hoopwright.programme.variants import with_keys

    if not fitted.helps:
        return False
    writing.write(path, with_keys(text_of(path), fitted.sets))
    return True


def _write_page(plan: Path, beds: list[BedReadings], out: Path, title: str | None) -> None:
    import datetime

    from hoopwright import design_of, read_plan, writing
    from hoopwright.answers.facts import voice_of
    from hoopwright.sheet import rendered
    from hoopwright.sheet.document import paper_of
    from hoopwright.sheet.readings_words import TITLE, funder_document

    design = design_of(read_plan(plan))
    today = datetime.date.today()
    page = funder_document(beds, voice_of(design), paper_of(design), today, title or TITLE)
    writing.write(out, rendered(page, "pdf"))
