"""`hoopwright readings`: temperatures measured at a bed, kept, held against the model, reported."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from hoopwright.cli.options import AsJson, Commands, PlanFile

if TYPE_CHECKING:
    from hoopwright.readings.fit import Fit
    from hoopwright.readings.recognise import Logger
    from hoopwright.sheet.readings_words import BedReadings

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
        str | None,
        typer.Option(help="Zone whose summer time the clock kept, as America/Denver."),
    ] = None,
    utc: Annotated[
        float | None, typer.Option(help="Hours of the logger's clock from UTC, as -7.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Read loggers' files, show what is wrong in them, and keep the rest beside the plan."""
    from hoopwright import read_plan
    from hoopwright.cli import text
    from hoopwright.readings.keep import file_beside
    from hoopwright.readings.recognise import Answers, read_logger
    from hoopwright.readings.text import ReadingsError

    if utc is not None and not -12.0 <= utc <= 14.0:
        raise ReadingsError(f"--utc {utc:g}: clocks keep between -12 and 14 hours from UTC")
    read = read_plan(plan)
    added: list[dict[str, Any]] = []
    place = standard_offset(read.plan.site.longitude)
    answers = Answers(None if dates is None else dates == "day", unit, inside, outside)
    for file in files:
        logger = read_logger(file, answers)
        if logger.questions:
            raise ReadingsError("\n".join(f"{file}: {one}" for one in logger.questions))
        says = _keep(file, logger, file_beside(plan), place, zone, utc)
        added.append({"file": str(file), "says": says})
        if not json:
            print("\n  ".join([file.name, *says]))
    if json:
        print(text.as_json({"kept_in": str(file_beside(plan)), "added": added}))


def standard_offset(longitude: float | None) -> float:
    """Return the place's standard time from UTC [h]: the nearest whole hour by the sun.

    Zones bend round borders by an hour or two; days and nights stay whole by the sun's hour, and
    the model's sun is told the same.
    """
    return 0.0 if longitude is None else float(round(longitude / 15.0))


def _keep(
    file: Path,
    logger: Logger,
    store: Path,
    place: float,
    zone: str | None,
    utc: float | None,
) -> list[str]:
    import numpy as np

    from hoopwright.readings.clean import clean
    from hoopwright.readings.hourly import to_standard
    from hoopwright.readings.keep import add as keep

    used = [column for column in logger.columns if column.role]
    found = clean(logger.times, [column.values for column in used], logger.line)
    offset = logger.offset if logger.offset is not None else utc
    times = to_standard(found.times, offset, place, zone)
    lines = list(logger.notes)
    if offset is None:
        kept = f"summer time of {zone} taken out" if zone else "local standard time, as assumed"
        lines.append(f"clock: {kept}; --zone or --utc says otherwise")
    elif logger.offset is not None:
        lines.append(f"clock: UTC{offset:+g}, as the file says")
    told = [fault.says for fault in found.faults]
    lines += told[:12]
    if len(told) > 12:
        lines.append(f"and {len(told) - 12} more")
    for column, values in zip(used, found.values, strict=True):
        good = int(np.isfinite(values).sum())
        own = [f.says for f in found.faults]
        new = keep(store, file, column.role, times, values, own) if times else False
        state = "" if new else "; there already"
        name = column.name or "unnamed column"
        lines.append(f"{column.role}: {name}, {good} readings in {column.unit}{state}")
    if times:
        lines.append(f"{times[0]:%Y-%m-%d %H:%M} to {times[-1]:%Y-%m-%d %H:%M}, kept in {store}")
    return lines


@app.command()
def report(
    plans: Annotated[list[Path], typer.Argument(metavar="PLAN...", help="Plans with readings.")],
    out: Annotated[Path | None, typer.Option(help="Write one page for a board (PDF).")] = None,
    title: Annotated[str, typer.Option(help="Title of that page.")] = "What the covers gained",
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
    from hoopwright.cli import outputs, text
    from hoopwright.cli.readings_data import bed_data
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
    from hoopwright.cli import text
    from hoopwright.sheet.readings_words import fitted_words, months_table

    say = voice_of(design_of(read_plan(path)))
    table = months_table(bed, say)
    heads = [column.head for column in table.columns]
    print(table.caption)
    print(text.table(heads, table.rows, right=tuple(range(1, len(heads)))))
    print(text.paragraph(table.note, first="  ", rest="  "))
    if bed.modelled is not None and bed.modelled.typical:
        words = "The model has the sun and wind of a typical year: compare months, not nights."
        print(text.paragraph(words, first="  ", rest="  "))
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
    from hoopwright import design_of, read_plan
    from hoopwright.heat.compiled import compiled_march
    from hoopwright.readings.against import modelled, setting_of, unfitted, weather_over
    from hoopwright.readings.fit import fit
    from hoopwright.readings.keep import file_beside, hours_kept
    from hoopwright.readings.measured import measured
    from hoopwright.readings.text import ReadingsError
    from hoopwright.sheet.readings_words import BedReadings

    read = read_plan(path)
    store = file_beside(path)
    hours = hours_kept(store)
    own = measured(hours)
    if own is None:
        raise ReadingsError(
            f"{path}: no night has readings inside and outside both; add the other sensor's file"
        )
    over, typical = weather_over(read, hours, weather)
    design = design_of(read)
    march = compiled_march() if fitted else None
    setting = setting_of(design, over, march)
    bed = BedReadings(read.plan.name, own, modelled(setting, hours, typical))
    if not fitted:
        return bed, None
    import numpy as np

    bare = setting_of(design_of(unfitted(read)), over, march)
    return bed, fit(bare, np.where(hours.both, hours.inside, np.nan))


def _adopt(path: Path, fitted: Fit) -> bool:
    """Write fitted numbers that help into the plan, where the model finds them from now on."""
    from hoopwright import writing
    from hoopwright.plan.read import text_of
    from hoopwright.programme.variants import with_keys

    if not fitted.helps:
        return False
    sets = {f"measured.{one.name}": round(one.likely, 3) for one in fitted.numbers}
    writing.write(path, with_keys(text_of(path), sets))
    return True


def _write_page(plan: Path, beds: list[BedReadings], out: Path, title: str) -> None:
    import datetime

    from hoopwright import design_of, read_plan, writing
    from hoopwright.answers.facts import voice_of
    from hoopwright.sheet import rendered
    from hoopwright.sheet.readings_words import funder_document

    design = design_of(read_plan(plan))
    paper = design.plan.paper or ("letter" if design.system.name == "us" else "a4")
    page = funder_document(beds, voice_of(design), paper, datetime.date.today(), title)
    writing.write(out, rendered(page, "pdf"))
