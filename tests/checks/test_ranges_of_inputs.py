"""The ranges that a bed's inputs are drawn from, by hand from the rows of the tables."""

from __future__ import annotations

from dataclasses import replace

import pytest
from given import Given

from hoopwright.checks.inputs import Inputs
from hoopwright.checks.layout import legs_clear_of_ends
from hoopwright.design import design_of
from hoopwright.hoop.stations import HoopStation
from hoopwright.plan import read_plan_text

INCH = 0.0254


@pytest.fixture(scope="module")
def design():
    return design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\nlegs = "inside"\n'))


def test_stiffness_in_a_gust_and_under_snow(design):
    """PVC: 2.482 to 2.620 to 2.965 GPa; 0.68 of it hot, 1.05 cool. Snow: relaxed wholly 0.40 as the
    low end, overnight the root of the likely 0.45, 0.6708, at once 1. What is left of the bend:
    0.40, 0.45, 0.50. Film 140, 200 and 300 MPa."""
    draws = Given()
    inputs = Inputs(design.standing, draws)
    assert inputs.stiffness == pytest.approx([1.0])
    assert inputs.snow_stiffness == pytest.approx([0.67082], rel=1e-4)
    assert inputs.relaxed == pytest.approx([0.45])
    assert inputs.film == pytest.approx([1.0])
    for name, ends in {
        "stiffness of the pipe": (2.4821e9, 2.6200e9, 2.9647e9),
        "warmth of the pipe in a gust": (0.68, 1.0, 1.05),
        "stiffness left under snow": (0.40, 0.67082, 1.0),
        "share of the bend that is left": (0.40, 0.45, 0.50),
        "stiffness of the film": (140e6, 200e6, 300e6),
    }.items():
        value = draws.used[name]
        assert (value.low, value.likely, value.high) == pytest.approx(ends, rel=1e-4), name
    both = Given(values={"stiffness of the pipe": 2.4e9, "warmth of the pipe in a gust": 0.8})
    assert Inputs(design.standing, both).stiffness == pytest.approx([0.8 * 2.4 / 2.62], rel=1e-3)


def test_straps_inside_clear_either_end(design):
    """2.75 in wanted at the first hoop and at the last one of 144 in."""
    strap = design.fitted.strap
    assert strap is not None
    for first, last, found in ((3.0, 3.0, None), (2.5, 4.0, 2.5), (4.0, 2.6, 2.6)):
        hoops = (HoopStation(first * INCH, "end"), HoopStation((144 - last) * INCH, "end"))
        told = legs_clear_of_ends(design.bed, hoops, strap, "inside")
        assert (told and told.demand) == (found and pytest.approx(found * INCH))
    formed = replace(design.hoop, pipe=replace(design.hoop.pipe, bending="formed"))
    steel = Inputs(replace(design.standing, hoop=formed), Given())
    assert steel.relaxed == pytest.approx([0.0])
