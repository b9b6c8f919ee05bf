"""The bars of the ladder: a lower bound is open at its end; what is left out is told."""

import dataclasses

from hoopwright.checks.rung import NO_FURTHER
from hoopwright.design import design_of
from hoopwright.drawing.ladder_views import (
    Bar,
    LadderAxis,
    ladder_chart,
    short_name,
    snow_chart,
    wind_chart,
)
from hoopwright.drawing.scene import Group, Line, Polyline, Text
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
AXIS = LadderAxis(100.0, 20.0, lambda value: f"{value:.0f}", "Gust")


def row(bar):
    view = ladder_chart("a", "A", [bar], AXIS)
    return view, next(item for item in view.items if isinstance(item, Group))


def test_a_lower_bound_is_open_and_has_no_likely_place():
    _, known = row(Bar("Hoop lies over", 20.0, 40.0, 60.0))
    view, bound = row(Bar("Hoop lies over", 20.0, 40.0, 60.0, at_least=True))
    assert sum(isinstance(shape, Line) for shape in known.shapes) == 1
    assert not any(isinstance(shape, Line) for shape in bound.shapes)
    open_ended = [s for s in bound.shapes if isinstance(s, Polyline) and not s.closed]
    assert open_ended
    assert not [s for s in known.shapes if isinstance(s, Polyline) and not s.closed]
    assert next(s for s in bound.shapes if isinstance(s, Text)).text.endswith(", at least")
    assert "at least 40" in view.description


def test_a_bound_of_the_ladder_is_marked_in_its_chart():
    """As where a path ends before its limit: the rung's case says so, and so does the bar."""
    design = design_of(read_plan_text(BED))
    bounded = tuple(
        dataclasses.replace(rung, case=rung.case + NO_FURTHER)
        if rung.name in ("hoop-lies-over", "bed-tips")
        else rung
        for rung in design.ladder.wind
    )
    assert "at least" not in wind_chart(design).description
    vars(design)["ladder"] = dataclasses.replace(design.ladder, wind=bounded)
    assert "Bed tips over: at least" in wind_chart(design).description


def test_rungs_left_out_are_counted_and_the_rest_is_drawn():
    design = design_of(read_plan_text(BED + '[hoops]\nridge = "pipe"\n[holding]\npin = true\n'))
    view = wind_chart(design)
    drawn = [item.title for item in view.items if isinstance(item, Group)]
    left = len(design.ladder.wind) - len(drawn)
    told = [item.text for item in view.items if isinstance(item, Text) and "beyond" in item.text]
    assert told == ([f"{left} more beyond 120 mph, nine beds in ten"] if left else [])
    assert short_name("end-hoops-pulled-over") in drawn


def test_the_snow_chart_has_rain_and_end_hoops_but_no_ice():
    names = snow_chart(design_of(read_plan_text(BED))).description
    assert "Rain on settled snow" in names
    assert "End hoops pulled over" in names
    assert "ice" not in names.lower()
