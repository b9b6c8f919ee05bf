"""What a pulled storm says and the odds' chart marks, on rungs made up to be counted."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.answers.glance import glance
from hoopwright.answers.ladder_words import when_it_snows
from hoopwright.answers.strength_words import chance_words
from hoopwright.answers.voice import sentence
from hoopwright.design import Design, design_of
from hoopwright.drawing.ladder_views import Bar, LadderAxis, ladder_chart
from hoopwright.drawing.odds_chart import odds_chart, share_by
from hoopwright.drawing.scene import Group, Line, Polyline, Text
from hoopwright.drawing.storm import _rung, passed, storm
from hoopwright.plan.read import read_plan_text
from hoopwright.units import US, show

MPH, INCH = 0.44704, 0.0254


def rung(name: str, careful: float, middle: float) -> SimpleNamespace:
    return SimpleNamespace(
        name=name, careful=careful, middle=middle, never=False, hazard="wind", kind="speed"
    )


@cache
def bed() -> Design:
    site = '[site]\ngust = "50 mph"\ngust_years = 10\nground_snow = "20 psf"\n'
    return design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n' + site))


def test_a_rung_is_passed_first_at_its_careful_end_and_then_at_the_half() -> None:
    """Film from 20 m/s (careful) and 30 (half); rails from 25 and 40. At 26 m/s both are beyond
    what to plan for; at 31 film has given way on half."""
    rungs = [rung("film-tears", 20.0, 30.0), rung("rails-lift", 25.0, 40.0)]
    calm, first, both, half = (passed(rungs, at, US) for at in (15.0, 21.0, 26.0, 31.0))
    assert calm.startswith("Nine beds in ten stand it whole. Next: ")
    assert first.startswith("Beyond what to plan for: ")
    assert "Next: " in first
    assert "Next: " not in both
    assert "half of the beds" not in both
    assert "Given way on half of the beds: " in half
    sent = _rung(rungs[0], "mph")
    assert (sent["careful"], sent["half"]) == (44.7, 67.1)


def test_a_storm_is_sent_with_its_gusts_and_depths_in_the_readers_units() -> None:
    sent = storm(bed())
    wind, snow = sent["wind"], sent["snow"]
    gusts = np.arange(0, wind["most"] + 1, wind["step"]) * MPH
    for name, head in (("opens", bed().ladder.opens), ("lost", bed().ladder.lost)):
        by_hand = [float((head.at <= gust).mean()) for gust in gusts]
        assert wind["odds"][name] == pytest.approx(by_hand, abs=6e-4)
    ten = next(one for one in wind["place"] if one["years"] == 10)
    assert ten["at"] == 50.0
    assert (snow["unit"], snow["step"], len(snow["told"])) == ("in", 1, snow["most"] + 1)
    wet = min(
        (one for one in bed().ladder.snow if one.name.endswith("-wet")), key=lambda r: r.careful
    )
    depth = int(np.ceil(wet.careful / INCH))
    assert "Nine beds in ten stand it whole" in snow["told"][depth - 1]
    assert "Nine beds in ten stand it whole" not in snow["told"][depth]


def test_the_chart_marks_the_gust_to_plan_for_and_counts_whole_beds() -> None:
    careful = float(np.quantile(bed().ladder.opens.at, 0.1))
    words = [item.text for item in odds_chart(bed()).items if isinstance(item, Text)]
    assert f"plan for {show(careful, 'speed', US)}" in words
    assert share_by(np.array([1.0, 2.0, 3.0, 4.0]), [0.5, 2.0, 9.0]).tolist() == [0.0, 0.5, 1.0]


def test_the_odds_of_losing_the_cover_are_not_those_of_its_opening() -> None:
    """50 mph once in ten years (ASCE 7 C26.5, from memory); an open cover is not yet lost."""
    fifty = 50 * MPH / (0.36 + 0.1 * np.log(120))
    whole, lost = glance(bed()).odds[:2]
    for row, at in ((whole, bed().ladder.opens.at), (lost, bed().ladder.lost.at)):
        years = np.exp((at / fifty - 0.36) / 0.1) / 12
        by_hand = [sentence(chance_words(float(np.exp(-n / years).mean()))) for n in (1, 4, 10)]
        assert list(row.through) == by_hand


def test_a_bar_stands_where_the_axis_has_its_value() -> None:
    """0 at the left edge and 100 at the right: 25 to 75 are the middle half of what lies between
    the marks of both ends."""
    axis = LadderAxis(100.0, 50.0, lambda value: f"{value:g}", "mph")
    view = ladder_chart("x", "X", [Bar("one", 25.0, 50.0, 75.0)], axis)
    (row,) = [item for item in view.items if isinstance(item, Group)]
    marks = [item.start[0] for item in view.items if isinstance(item, Line)]
    left, right = min(marks), max(marks)
    bar = next(shape for shape in row.shapes if isinstance(shape, Polyline))
    across = [(x - left) / (right - left) for x, _ in bar.points]
    assert (min(across), max(across)) == pytest.approx((0.25, 0.75))
    likely = next(shape for shape in row.shapes if isinstance(shape, Line))
    assert (likely.start[0] - left) / (right - left) == pytest.approx(0.5)


def test_snow_is_brushed_at_a_depth_that_can_be_waited_for() -> None:
    """A quarter of an inch (6 mm) and more; less is not to be left lying at all."""
    assert when_it_snows(0.05, US).startswith("Brush it off at 2 in of wet snow")
    assert when_it_snows(0.004, US).startswith("Let no wet snow lie on it")
