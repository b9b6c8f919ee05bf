"""`hoopwright advise`: the few best designs for a plan's place and wishes."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, PlanFile

if TYPE_CHECKING:
    from hoopwright.plan.read import ReadPlan
    from hoopwright.programme.advise import Advice, Option


def advise(
    plan: PlanFile,
    hold: Annotated[
        str | None, typer.Option(help="Gust it must hold to, as 60mph. Default: the plan's gust.")
    ] = None,
    cost: Annotated[float | None, typer.Option(help="Most it may cost.")] = None,
    days: Annotated[int | None, typer.Option(help="Frost-free days to gain at least.")] = None,
    height: Annotated[
        str | None, typer.Option(help="Clear height over the boards at least, as 30in.")
    ] = None,
    most: Annotated[int, typer.Option(help="How many designs to show.", min=1, max=20)] = 6,
    out: Annotated[
        Path | None, typer.Option(help="Folder to save the designs shown as plans.")
    ] = None,
    workers: Annotated[
        int | None, typer.Option(help="Processes. Default: one for each core.", min=1, max=64)
    ] = None,
    climate: Annotated[
        bool, typer.Option("--climate/--no-climate", help="Run a year under each cover.")
    ] = True,
    json: AsJson = False,
) -> None:
    """Weigh thousands of designs for this bed; show the few that none beats at everything."""
    from hoopwright import design_of, read_plan
    from hoopwright.cli import outputs
    from hoopwright.design.growing import typical_year
    from hoopwright.programme.advise import Wish, usual_space
    from hoopwright.programme.advise import advise as search

    read = read_plan(plan)
    if out is not None:
        outputs.spare([out / f"{plan.stem}-{number}.toml" for number in range(1, most + 1)], plan)
    design = design_of(read)
    wish = Wish(
        hold=asked("--hold", hold, "speed") if hold else read.plan.site.gust,
        cost=cost,
        days=days,
        height=asked("--height", height, "length") if height else None,
    )
    weather = typical_year(read.plan, read.weather_file) if climate else None
    space = usual_space(read, design)
    with text.bar() as shown:
        task = shown.add_task(f"Weighing {len(space):,} designs", total=len(space))
        found = search(
            read,
            space,
            wish,
            weather,
            workers=workers or os.cpu_count() or 1,
            most=most,
            progress=lambda done, whole: shown.update(task, completed=done),
        )
    files = _save(plan, read, found, out) if out is not None else {}
    if json:
        print(text.as_json(_data(found)))
        return
    _print(read, found, files)


def asked(option: str, given: str, kind: str) -> float:
    """Return the quantity given to an option in SI, or raise naming the option."""
    from hoopwright.units import UnitError
    from hoopwright.units import read as quantity

    try:
        return quantity(given, kind)
    except UnitError as error:
        raise UnitError(f"{option}: {error}") from None


def _print(read: ReadPlan, found: Advice, files: dict[int, Path]) -> None:
    from hoopwright import design_of
    from hoopwright.answers.choosing_words import (
        NONE_MEETS,
        does_words,
        option_words,
        searched_words,
    )
    from hoopwright.answers.facts import voice_of

    say = voice_of(design_of(read))
    print(read.plan.name)
    print(text.indented(f"As planned: {does_words(found.now, say)}"))
    print()
    print(text.paragraph(searched_words(found)))
    if not found.few:
        print(text.paragraph(NONE_MEETS))
        return
    for number, option in enumerate(found.few, start=1):
        print()
        indent = f"  {number:>2}  "
        print(text.paragraph(option_words(option, found, say), first=indent, rest="      "))
        if number in files:
            print(f"      Saved as {files[number]}")
    print()
    print(text.paragraph(GUIDANCE))


def _save(plan: Path, read: ReadPlan, found: Advice, folder: Path) -> dict[int, Path]:
    """Write the designs shown as plans beside each other; return them by number."""
    from hoopwright import writing

    folder.mkdir(parents=True, exist_ok=True)
    files = {}
    for number, option in enumerate(found.few, start=1):
        path = folder / f"{plan.stem}-{number}.toml"
        files[number] = writing.write(path, plan_text(plan, read, option, folder))
    return files


def plan_text(plan: Path, read: ReadPlan, option: Option, folder: Path) -> str:
    """Return the plan's own text with an option's keys; files it names are found from `folder`."""
    import tomlkit

    from hoopwright.plan.read import WEATHER_WITHOUT_FILE, text_of
    from hoopwright.programme.variants import with_keys

    sets: dict[str, Any] = {
        key: read.plan.system.written_length(value) if isinstance(value, float) else value
        for key, value in option.sets.items()
    }
    document = tomlkit.parse(with_keys(text_of(plan), sets))
    no_files = ("example", *WEATHER_WITHOUT_FILE)
    sections: Any = {"": document, **{key: document.get(key, {}) for key in ("site", "season")}}
    for section, key in NAMES_OF_FILES:
        name = sections[section].get(key)
        if isinstance(name, str) and name not in no_files:
            sections[section][key] = os.path.relpath(plan.parent / name, folder)
    return tomlkit.dumps(document)


def _data(found: Advice) -> dict[str, Any]:
    from dataclasses import asdict

    def one(option: Option) -> dict[str, Any]:
        return {
            "choices": {choice.axis: choice.says for choice in option.choices},
            "sets": dict(option.sets),
            "worth": asdict(option.worth),
        }

    return {
        "searched": found.searched,
        "refused": dict(found.refused),
        "few": [one(option) for option in found.few],
        "front": [one(option) for option in found.whole],
    }


#: Keys of a plan, each with its section, that name a file beside the plan.
NAMES_OF_FILES = (
    ("", "prices"),
    ("", "catalogue"),
    ("site", "weather"),
    ("season", "varieties"),
)

GUIDANCE = (
    "Prices and strengths carry the ranges that `check` and `limits` show; the climate is of one "
    "year. Local codes rule; ask a licensed engineer where people could be hurt."
)
