"""Step pictures: one for each step the plan has, its numbers the plan's, its state the step's."""

from __future__ import annotations

import re

import pytest

from hoopwright.answers.facts import voice_of
from hoopwright.drawing.scene import Group, Layer, Text
from hoopwright.drawing.steps.close_up import half_bent
from hoopwright.drawing.steps.pictures import (
    finished_view,
    fitted,
    step_views,
    write_step_pictures,
)
from hoopwright.drawing.style import STYLES
from hoopwright.drawing.svg import write_svg
from hoopwright.sheet.steps import drafts_of

#: Steps of saw and walk-round, which the pictures beside them show: the box, the hoop, the bed.
TOLD_BESIDE = {"cut-boards", "corners", "cut-pipe", "last-look"}


@pytest.fixture
def keys(a_design):
    return tuple(draft.key for draft in drafts_of(a_design))


@pytest.fixture
def views(a_design, keys):
    return step_views(a_design, keys)


def layers(group):
    return {shape.layer for shape in group.shapes}


def words(design, view):
    """Return all that is written on a picture, as a person reads it."""
    svg = write_svg(fitted(design, view, 0.06, 0.03))
    return [re.sub("<[^>]*>", "", t) for t in re.findall(r"<text.*?</text>", svg)]


def test_every_step_has_its_picture_and_no_other(keys, views):
    told = TOLD_BESIDE | ({"battens"} if "wrapped-sheet" in keys else set())

    assert set(views) == set(keys) - told
    assert list(views) == [key for key in keys if key in views]


def test_a_picture_says_what_it_shows_and_has_its_number(a_design, views):
    for key, view in views.items():
        assert view.description.endswith(".")
        if key not in ("tighten", "ridge", "panels", "mesh-below"):
            assert re.search(r"\d", " ".join(words(a_design, view))), key


def test_numbers_carry_their_unit(a_design, views):
    unit = "in|ft" if a_design.system.name == "us" else "mm"
    bare = re.compile(rf"\d(?! ?(\d|/|{unit}|st|nd|cords?|clips?| a leg))[^\d/ ]*$")
    for view in views.values():
        for text in words(a_design, view):
            assert not bare.search(text), text


def test_what_is_new_is_black_and_what_stands_is_grey(views):
    for key in ("stakes", "ridge", "rails", "lacing", "mesh-band"):
        if key not in views:
            continue
        groups = {g.name: g for g in views[key].items if isinstance(g, Group)}
        new = [name for name, group in groups.items() if Layer.STANDING not in layers(group)]
        held = {"rails": ["rail ties"], "ridge": ["braces"]}.get(key, [])
        assert new == [key.replace("-", " "), *(name for name in held if name in groups)]
        assert layers(groups["near boards"]) == {Layer.STANDING}
    assert STYLES[Layer.STANDING].color != STYLES[Layer.HOOPS].color


def test_a_later_step_shows_all_that_came_before(a_design, keys, views):
    """A hoop is drawn only once the pipes are in, and stays."""
    before, after = [keys.index(k) for k in ("mark", "bend")]
    for key, view in views.items():
        names = {item.name for item in view.items if isinstance(item, Group)}
        if "near boards" in names:
            assert ("hoops" in names) == (keys.index(key) >= after)
    assert before < after


def test_marks_and_straps_are_the_designs(a_design, views):
    say, leg = voice_of(a_design), a_design.hoop.leg
    first = a_design.system.on_tape(a_design.hoops[0].mark)
    assert say.tape(first) in words(a_design, views["mark"])
    if "top-straps" in views:
        assert say.tape(leg.board_top - leg.top_strap) in words(a_design, views["top-straps"])
    if "low-straps" in views:
        assert say.tape(leg.board_top - leg.low_strap) in words(a_design, views["low-straps"])


def test_the_pipe_on_its_way_has_the_length_of_the_pipe(a_design):
    line = a_design.hoop.centreline
    moved = half_bent(line, 0.84)

    def long(path):
        steps = path[1:] - path[:-1]
        return float(((steps**2).sum(axis=1) ** 0.5).sum())

    assert long(moved) == pytest.approx(long(line), rel=1e-12)
    assert long(moved) == pytest.approx(a_design.hoop.cut_length, rel=2e-3)
    assert half_bent(line, 1.0) == pytest.approx(line)


def test_words_are_ten_points_and_fit_the_place(a_design, keys, views):
    places = [(view, 0.06, 0.026) for view in views.values()]
    for view, wide, high in (*places, (finished_view(a_design, keys), 0.095, 0.05)):
        across, up = fitted(a_design, view, wide, high).paper
        assert across <= wide + 1e-9
        assert up <= high + 1e-9
        for item in view.items:
            if isinstance(item, Text):
                assert item.size >= 10 * 0.0254 / 72


def test_files_are_numbered_in_the_order_of_the_work(a_design, keys, tmp_path):
    written = write_step_pictures(a_design, keys, tmp_path / "steps")
    numbers = [int(path.name.split("-")[1]) for path in written]

    assert numbers == list(range(1, len(written) + 1))
    assert all("<desc" in path.read_text(encoding="utf-8") for path in written)


def test_the_skirt_is_one_number_in_picture_and_words(a_design, views):
    """What lies on the ground is part of the skirt, though the board is lower."""
    skirt = voice_of(a_design).tape(a_design.cover.skirt)
    for key in {"body", "wrapped-sheet"} & set(views):
        assert f"skirt {skirt}" in words(a_design, views[key])
        told = [draft.card for draft in drafts_of(a_design) if draft.key == key]
        assert skirt in told[0]
