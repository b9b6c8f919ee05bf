"""The steps come in the order that works, and change with the plan."""

from __future__ import annotations

from string import Formatter

from hoopwright.answers.voice import Voice
from hoopwright.design import Design, design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet import Document
from hoopwright.sheet.cautions import caution_rows
from hoopwright.sheet.content import Step
from hoopwright.sheet.pictures import view_diagrams
from hoopwright.sheet.step_numbers import NUMBERS, Bench
from hoopwright.sheet.steps import Draft, chapters, step_rows, step_words_rows
from hoopwright.sheet.traits import traits_of

HELD_DOWN = """
[bed]
length = "8 ft"
width = "4 ft"
[hoops]
pipe = "pvc40-3/4"
stock_length = "12 ft"
ridge = "pipe"
[cover]
lacing = true
[holding]
pin = true
stakes = "corners"
tied_to_soil = true
"""


def keys(sheet: Document) -> list[str]:
    return [step.key for step in sheet.steps()]


def beside(step: Step) -> set[str]:
    return {caution.key for caution in (*step.cautions, *step.again)}


def drafts(design: Design) -> list[Draft]:
    bench = Bench(design, traits_of(design), Voice(design.system))
    return [draft for chapter in chapters(bench) for draft in chapter.drafts]


def in_order(found: list[str], *wanted: str) -> bool:
    places = [found.index(key) for key in wanted]
    return places == sorted(places)


def test_steps_are_numbered_on(a_sheet: Document) -> None:
    numbers = [step.number for step in a_sheet.steps()]
    assert numbers == list(range(1, len(numbers) + 1))


def test_the_order_that_works(demo: Document) -> None:
    assert in_order(
        keys(demo),
        *("cut-boards", "corners", "square", "fill", "mark", "top-straps", "cut-pipe", "bend"),
        *("plumb", "low-straps", "sight", "tighten", "clips", "panels", "battens", "body", "rails"),
        "last-look",
    )


def test_a_standing_box_is_not_built_again(sheets: dict[str, Document]) -> None:
    found = keys(sheets["long"])
    assert found[0] == "standing-box"
    assert not {"cut-boards", "corners", "square"} & set(found)


def test_legs_inside_go_in_before_the_soil(sheets: dict[str, Document]) -> None:
    for name in ("inside", "long"):
        assert in_order(keys(sheets[name]), "tighten", "fill", "clips")


def test_one_strap_has_no_second(sheets: dict[str, Document]) -> None:
    assert "low-straps" not in keys(sheets["inside"])


def test_a_wrapped_cover_has_no_panels(sheets: dict[str, Document]) -> None:
    found = keys(sheets["small"])
    assert "panels" not in found
    assert in_order(found, "battens", "wrapped-sheet", "rails")


def test_fabric_is_never_called_film(sheets: dict[str, Document]) -> None:
    for step in sheets["inside"].steps():
        assert "film" not in " ".join(step.sentences).lower()
        assert "film" not in " ".join(caution.text for caution in step.cautions).lower()


def test_digging_is_cautioned_where_it_is_done(sheets: dict[str, Document]) -> None:
    for name, key in (("inside", "bury"), ("long", "standing-box")):
        step = next(step for step in sheets[name].steps() if step.key == key)
        assert "buried-lines" in beside(step)


def test_treated_wood_is_cautioned(sheets: dict[str, Document]) -> None:
    cut = next(step for step in sheets["inside"].steps() if step.key == "cut-boards")
    assert "treated-wood" in beside(cut)
    assert not any("treated-wood" in beside(step) for step in sheets["demo"].steps())


def test_bending_always_warns_of_the_spring(a_sheet: Document) -> None:
    bend = next(step for step in a_sheet.steps() if step.key == "bend")
    assert "spring-back" in beside(bend)


def test_a_caution_is_told_in_full_once(a_sheet: Document) -> None:
    seen: dict[str, str] = {}
    for step in a_sheet.steps():
        for caution in step.again:
            assert seen[caution.key] == caution.letter
        for caution in step.cautions:
            assert caution.key not in seen
            assert caution.letter not in ("", *seen.values())
            seen[caution.key] = caution.letter


def test_every_caution_and_drawing_named_exists(designs: dict[str, Design]) -> None:
    known = {row.key for row in caution_rows()}
    views = {name for design in designs.values() for name in view_diagrams(design)}
    for design in designs.values():
        for draft in drafts(design):
            assert set(draft.cautions) <= known
            assert not draft.drawing or draft.drawing in views


def test_what_holds_the_bed_down_is_built_too() -> None:
    design = design_of(read_plan_text(HELD_DOWN))
    found = {draft.key: " ".join(draft.sentences) for draft in drafts(design)}
    assert "4 stakes" in found["stakes"]
    assert "18 in into the ground" in found["stakes"]
    assert in_order(list(found), "stakes", "ties", "fill", "tighten", "pin", "ridge", "lacing")
    assert design.hold_down.pin is not None
    assert design.hold_down.pin.name in found["pin"]


def test_legs_on_rods_need_no_straps() -> None:
    plan = HELD_DOWN.replace("pin = true", 'legs = "sleeve"')
    found = [draft.key for draft in drafts(design_of(read_plan_text(plan)))]
    assert "rods" in found
    assert not {"top-straps", "low-straps", "tighten"} & set(found)


def test_every_number_that_the_words_ask_for_is_one_of_the_bed() -> None:
    asked = {
        name.split(".")[0]
        for row in step_words_rows()
        for _, name, _, _ in Formatter().parse(row.text)
        if name
    }
    titles = {name for row in step_rows() for _, name, _, _ in Formatter().parse(row.title) if name}
    parts = asked - set(NUMBERS)

    assert set(NUMBERS) <= asked | titles
    assert parts <= {"bed", "cover", "fitted", "hold_down", "hoop", "plan"}
    assert {key for row in step_words_rows() for key in row.step.split("|")} == {
        row.key for row in step_rows()
    }
