"""Each caution stands beside the steps and on the screens where someone could be hurt.

What belongs where is the trade's judgement: common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

from hoopwright.answers.facts import voice_of
from hoopwright.design import design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet.cautions import SCREENS, caution_rows, cautions_for, cautions_on
from hoopwright.sheet.class_station import STATION_CAUTIONS
from hoopwright.sheet.step_numbers import Bench
from hoopwright.sheet.steps import chapters, numbered_steps
from hoopwright.sheet.traits import traits_of

GUIDE = Path(__file__).parents[2] / "docs" / "guide" / "build-sheet.md"
#: Beds that between them have every step.
BEDS = {
    "framed": """
[bed]
length = "10 ft"
width = "4 ft"
[hoops]
ridge = "pipe"
[cover]
mesh_band = "24 in"
lacing = true
[holding]
pin = true
stakes = "corners"
tied_to_soil = true
[wishes]
animals = ["burrowers"]
""",
    "tall": """
[bed]
length = "10 ft"
width = "6 ft"
species = "southern-pine-treated"
[hoops]
pipe = "pvc40-1"
height = "6 ft"
ridge = "pipe"
[cover]
style = "wrapped"
roll_up = "none"
fixed_edge = "bury"
""",
    "rods": """
[bed]
box = "standing"
[hoops]
pipe = "pvc40-3/4"
[holding]
legs = "sleeve"
""",
    "battened": """
[cover]
style = "wrapped"
roll_up = "none"
fixed_edge = "batten"
""",
}


def steps_of(text: str) -> dict[str, set[str]]:
    """Return step -> the cautions beside it."""
    design = design_of(read_plan_text(text))
    traits = traits_of(design)
    drafts = [
        draft
        for chapter in chapters(Bench(design, traits, voice_of(design)))
        for draft in chapter.drafts
    ]
    steps = numbered_steps(tuple(drafts), 1, cautions_for(traits), {}, set())
    return {step.key: {caution.key for caution in (*step.cautions, *step.again)} for step in steps}


def standing() -> dict[str, tuple[str, ...]]:
    """Return caution -> the steps, stations and screens it stands at over all beds."""
    found: dict[str, set[str]] = {row.key: set() for row in caution_rows()}
    for text in BEDS.values():
        for step, keys in steps_of(text).items():
            for key in keys:
                found[key].add(step)
    for key in STATION_CAUTIONS:
        found[key].add("class station")
    for screen, keys in SCREENS.items():
        for key in keys:
            found[key].add(f"{screen} page")
    return {key: tuple(sorted(places)) for key, places in found.items()}


def test_the_guide_says_where_each_stands() -> None:
    text = GUIDE.read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([a-z-]+)` \| (.+) \|$", text, re.MULTILINE)
    assert {key: tuple(places.split(", ")) for key, places in rows} == {
        key: places or ("first page",) for key, places in standing().items()
    }


def test_a_bent_pipe_is_warned_of_wherever_a_strap_is_loose() -> None:
    steps = steps_of(BEDS["framed"])
    for step in ("bend", "plumb", "low-straps", "sight", "tighten"):
        assert "spring-back" in steps[step], step


def test_ladder_and_height_only_where_hoops_go_above_reach() -> None:
    tall, low = steps_of(BEDS["tall"]), steps_of(BEDS["framed"])
    for step in ("bend", "sight", "ridge", "wrapped-sheet"):
        assert "ladder" in tall[step], step
    assert not any("ladder" in keys for keys in low.values())


def test_scalds_mesh_trips_flames_and_wires_stand_at_their_steps() -> None:
    steps = steps_of(BEDS["framed"])
    assert "scald" in steps["clips"]
    assert "cut-mesh" in steps["mesh-band"] & steps["mesh-below"]
    for step in ("lacing", "stakes", "ties"):
        assert "trips" in steps[step], step
    assert "flame" in steps["last-look"]
    assert "overhead-lines" in steps_of(BEDS["tall"])["cut-pipe"]


def test_the_station_and_every_screen_of_steps_or_storms_say_theirs() -> None:
    assert {"film-children", "saws"} <= set(STATION_CAUTIONS)
    for screen in ("bed", "limits", "season", "today", "choose"):
        words = " ".join(cautions_on(screen))
        assert "before the wind rises" in words
        assert "never in a gale" in words
