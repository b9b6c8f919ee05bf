"""Braces and what holds the rails are drawn where they are built, and as long as they are cut."""

from __future__ import annotations

from math import dist
from pathlib import Path

import pytest

from hoopwright import design_of, read_plan
from hoopwright.design import Design
from hoopwright.drawing.scene import Group, View
from hoopwright.drawing.spatial import spatial
from hoopwright.drawing.steps.pictures import step_views
from hoopwright.drawing.views import subject_of, views
from hoopwright.materials.parts import CORD_FOR_KNOTS
from hoopwright.plan.read import read_plan_text

DEMO = Path(__file__).parents[2] / "demo" / "high-valley.toml"


@pytest.fixture(scope="module")
def demo() -> Design:
    return design_of(read_plan(DEMO))


def named(view: View) -> dict[str, Group]:
    return {item.name: item for item in view.items if isinstance(item, Group)}


def test_a_brace_is_drawn_as_long_as_it_is_cut(demo: Design) -> None:
    cut = [p.length for part in demo.parts.cut for p in part.pieces if p.name.startswith("brace")]
    drawn = [dist(a, b) for a, b in subject_of(demo).braces]
    assert len(cut) == len(drawn) == 4
    # The ridge hangs half a pipe under the crown; the cord is cut to the crown.
    for length, one in zip(cut, drawn, strict=True):
        assert one == pytest.approx(length - CORD_FOR_KNOTS, rel=0.02)
        assert one < length


def test_every_view_and_the_model_show_them(demo: Design) -> None:
    drawn = {view.name: named(view) for view in views(demo)}
    for name in ("bed", "plan", "side", "end"):
        assert "braces" in drawn[name], name
    assert "tie" in drawn["rail"]
    steps = step_views(demo, ["ridge", "rails"])
    assert "braces" in named(steps["ridge"])
    assert len(named(steps["rails"])["rail ties"].shapes) == len(demo.hoops)
    sent = spatial(demo)
    assert len(sent["braces"]) == 4
    assert sent["cover"]["ties"] == [hoop.mark for hoop in subject_of(demo).hoops]


def test_nothing_is_drawn_that_the_plan_has_not() -> None:
    text = '[bed]\nlength = "10 ft"\nwidth = "4 ft"\n[hoops]\nridge = "pipe"\n[cover]\n'
    text += 'roll_up = "both"\n[holding]\nrail = "weight"\n'
    design = design_of(read_plan_text(text))
    for view in views(design):
        assert not {"braces", "tie"} & named(view).keys()
    assert spatial(design)["cover"]["ties"] == []
