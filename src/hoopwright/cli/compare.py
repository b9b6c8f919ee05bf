"""`hoopwright compare`: several plans, or one plan varied, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson

if TYPE_CHECKING:
    from hoopwright.climate.weather import Weather
    from hoopwright.plan.read import ReadPlan
    from hoopwright.programme.compare import Compared, ComparedFigure


def compare(
    plans: Annotated[list[Path], typer.Argument(metavar="PLAN...", help="Plan files (TOML).")],
    vary: Annotated[
        list[str] | None,
        typer.Option("--try", help="Vary the one plan given: spacing=2ft,3ft. May be given again."),
    ] = None,
    climate: Annotated[
        bool, typer.Option("--climate/--no-climate", help="Run a year under each cover.")
    ] = True,
    json: AsJson = False,
) -> None:
    """Print cost, work, strength, warmth and waste of several plans, differences first."""
    from hoopwright import read_plan
    from hoopwright.answers.labour import labour_of
    from hoopwright.programme.compare import compare as compared_plans
    from hoopwright.programme.compare import figures
    from hoopwright.programme.variants import VariantError, variants

    if vary and len(plans) > 1:
        raise VariantError("--try wants one plan; give several plans without it")
    if vary:
        found = [(one.name, one.read) for one in variants(plans[0], vary)]
    else:
        found = [(path.stem, read_plan(path)) for path in plans]
    if len(found) < 2:
        raise VariantError("one plan alone: give another, or vary it with --try spacing=2ft,3ft")
    weathers = years_of([read for _, read in found]) if climate else [None] * len(found)
    march = None
    if climate:
        from hoopwright.heat.compiled import compiled_march, march_at_hand

        march = compiled_march() if len(found) > 6 else march_at_hand()
    compared = compared_plans(found, weathers, march)
    lines = figures(compared, lambda design: labour_of(design).likely)
    if json:
        print(text.as_json(_data(compared, lines)))
    else:
        print(_words(compared, lines).rstrip())
        print("\n" + text.paragraph(text.GUIDANCE))


def years_of(reads: list[ReadPlan]) -> list[Weather | None]:
    """Return one year for each plan; plans of one place share it."""
    from hoopwright.design.growing import typical_year

    known: dict[str, Weather] = {}
    found: list[Weather | None] = []
    for read in reads:
        site, season = read.plan.site, read.plan.season
        key = f"{read.weather_file} {site.elevation} {site.cold_pool} {season.seed}"
        if key not in known:
            known[key] = typical_year(read.plan, read.weather_file)
        found.append(known[key])
    return found


def _data(compared: tuple[Compared, ...], lines: tuple[ComparedFigure, ...]) -> dict[str, Any]:
    import math

    return {
        "plans": [one.name for one in compared],
        "figures": [
            {
                "what": line.what,
                "kind": line.kind,
                "values": [value if math.isfinite(value) else None for value in line.values],
                "differs": line.differs,
            }
            for line in lines
        ],
    }


def _words(compared: tuple[Compared, ...], lines: tuple[ComparedFigure, ...]) -> str:
    from hoopwright.answers.choosing_words import (
        bars,
        names_of,
        same_words,
        table_rows,
        warmth_words,
    )
    from hoopwright.answers.facts import voice_of

    say, names = voice_of(compared[0].design), names_of(compared)
    rows = table_rows(lines, say)
    head = ("", *names)
    right = tuple(range(1, len(head)))
    parts = [text.table(head, rows, right)] if rows else ["  No figure differs."]
    parts.append("  * best in that line")
    same = same_words(lines, say)
    if same:
        parts += ["", text.indented(same)]
    parts += ["", *bars(lines, names, say)]
    if compared[0].worth.growth is not None:
        guidance = "Strength is guidance: mind the ranges in `hoopwright limits`."
        parts.append(text.paragraph(f"{warmth_words(compared, say)} {guidance}"))
    return "\n".join(parts)
