"""`hoopwright new`: write a commented starter plan, asking a few questions at a terminal."""

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Misused

QUESTIONS = {
    "bed.length": "How long is the bed",
    "bed.width": "How wide is it",
    "bed.board": "What boards (2x6, 2x8, 2x10, 2x12)",
    "bed.box": "Are the boards new or standing",
    "hoops.pipe": "What pipe",
    "hoops.spacing": "Greatest distance between hoops",
    "cover.style": "Cover framed (end panels) or wrapped (one sheet)",
    "cover.roll_up": "Sides that roll up: both, one or none",
}


def new(
    path: Annotated[Path, typer.Argument(metavar="PLAN", help="File to write.")] = Path("bed.toml"),
    metric: Annotated[bool, typer.Option("--metric", help="Show metric units.")] = False,
    place: Annotated[
        str, typer.Option("--place", help='A town, as "Gunnison, Colorado": where the bed lies.')
    ] = "",
    defaults: Annotated[bool, typer.Option("--defaults", help="Ask nothing.")] = False,
    json: AsJson = False,
) -> None:
    """Write a commented starter plan; at a terminal, ask a few questions first."""
    from hoopwright import writing
    from hoopwright.plan.starter import starter_plan

    if path.exists():
        raise Misused(f"{path}: is there already; give another name, nothing was changed")
    found = _found(place) if place else {}
    ask = sys.stdin.isatty() and not defaults and not json
    answers = _asked(metric) if ask else _offered(metric)
    writing.write(path, starter_plan(answers | found))
    if json:
        text.print_files([path], json)
    else:
        print(f"Wrote {path}. Next: hoopwright check {path}")


def _found(place: str) -> dict[str, str]:
    """Return what a plan says of a place by its name; tell where it was found, and by whom."""
    from hoopwright.site.places import SOURCE, place_called

    found = place_called(place)
    where = f"{abs(found.latitude):.2f} {'N' if found.latitude >= 0 else 'S'}"
    east = f"{abs(found.longitude):.2f} {'E' if found.longitude >= 0 else 'W'}"
    said = f"{found.words}: {where}, {east} ({SOURCE}). Its elevation is yours to write."
    print(said, file=sys.stderr)
    return {"site.name": found.words[:80], "site.latitude": where, "site.longitude": east}


def _offered(metric: bool) -> dict[str, Any]:
    from hoopwright.plan.starter import OFFERED

    offered = {key: both[metric] for key, both in OFFERED.items()}
    return {"units": "metric" if metric else "us", **offered}


def _asked(metric: bool) -> dict[str, Any]:
    """Return the answers; each is read like the plan's own value and asked again if refused."""
    answers: dict[str, Any] = {"name": typer.prompt("Name of the bed", default="My bed")[:80]}
    if not metric:
        units = typer.prompt("Units: us or metric", default="us")
        metric = units.strip().lower().startswith("m")
    answers["units"] = "metric" if metric else "us"
    offered = _offered(metric)
    for key, asks in QUESTIONS.items():
        answers[key] = _answer(key, asks, offered[key])
    return answers


def _answer(key: str, asks: str, offered: str) -> str:
    while True:
        given = str(typer.prompt(asks, default=offered)).strip()
        wrong = refusal(key, given)
        if wrong is None:
            return given
        print(f"  {wrong}")


def refusal(key: str, given: str) -> str | None:
    """Return why a plan would refuse this value for this key, or None."""
    from hoopwright.plan import PlanError, read_plan_text
    from hoopwright.plan.starter import written

    section, name = key.split(".")
    try:
        read_plan_text(f"[{section}]\n{name} = {written(given)}\n")
    except PlanError as error:
        said = [problem.says for problem in error.problems if problem.key == key]
        return said[0] if said else None
    return None
