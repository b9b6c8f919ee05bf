"""What the ladder means for a plan: headlines, findings and doubts on rungs that are made up."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.checks.finding import Severity
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.judged import (
    brush_at,
    find_out_first,
    hail_finding,
    ridge_finding,
    snow_finding,
    wind_finding,
)
from hoopwright.checks.ladder import Ladder
from hoopwright.checks.rung import NO_FURTHER, Rung, by_care, first
from hoopwright.design import design_of
from hoopwright.odds.draws import Draws
from hoopwright.plan import read_plan_text

FINE, WATCH, CHANGE = Severity.FINE, Severity.WATCH, Severity.CHANGE
TEN = np.arange(10.0)


@pytest.fixture(scope="module")
def design():
    return design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'))


def rung(name: str, at, hazard="wind", harm="loss", brings="lost", case="", load=None) -> Rung:
    at = np.asarray(at, dtype=float)
    return Rung(name, hazard, at, name, harm, case, "do " + name, ("s",), {}, load, brings)


def ladder(design, wind=(), snow=(), hail=(), inputs=None) -> Ladder:
    return Ladder(
        wind, snow, hail, design.ladder.followed, inputs or Inputs(design.standing, Draws(count=10))
    )


def test_what_nine_half_and_one_in_ten_stand():
    """Of ten beds: the second least, the sixth, the greatest; unsorted all the same."""
    one = rung("a", [9, 0, 8, 1, 7, 2, 6, 3, 5, 4], load=2 * TEN)
    assert (one.careful, one.middle, one.strong, one.careful_load) == (1.0, 5.0, 9.0, 2.0)
    assert one.careful_load == 2.0
    assert not one.never
    never = rung("b", np.full(10, np.inf))
    assert never.never
    assert never.careful_load is None
    assert rung("c", TEN, case="x" + NO_FURTHER).at_least
    assert not one.at_least
    later = rung("d", np.maximum(TEN, 1.5), harm="nuisance")
    assert by_care([never, later, one]) == (one, later, never)
    assert first([never, replace(later, harm="repair")], "wind").name == "d"
    assert first([later, never], "wind") is never
    assert first([one], "snow") is None


def test_headlines_of_what_opens_loses_and_moves(design):
    """Ten beds. Opened at 10 + i by the edges, but lost at 14.5 by the clips: the edges come first
    in five, the clips in five; what moves the bed at 13 + 0.5 i counts where it is not lost."""
    wind = (
        rung("edges", 10 + TEN, harm="nuisance", brings="opens"),
        rung("clips", np.full(10, 14.5)),
        rung("slides", 13 + 0.5 * TEN, harm="hazard", brings="moves"),
        rung("lean", np.zeros(10), harm="nuisance", brings=""),
    )
    found = ladder(design, wind)
    assert found.opens.at == pytest.approx(np.minimum(10 + TEN, 14.5))
    shares = [(one.name, share) for one, share in found.opens.first]
    assert shares == [("edges", 0.5), ("clips", 0.5)]
    assert found.opens.told == (11.0, 14.5, 14.5)
    assert found.lost.told == (14.5, 14.5, 14.5)
    assert found.moves.at == pytest.approx([13, 13.5, 14, *[np.inf] * 7])
    assert [(one.name, share) for one, share in found.moves.first] == [("slides", 0.3)]
    assert found.first("wind").name == "slides"


@pytest.mark.parametrize(
    ("gust", "severity"),
    [(None, WATCH), (10.9, FINE), (11.0, FINE), (11.1, WATCH), (14.4, WATCH), (14.6, CHANGE)],
)
def test_the_gust_to_plan_for(design, gust, severity):
    """Careful 11, half 14.5 m/s as above: fine to 11, watched to 14.5, changed above."""
    wind = (
        rung("edges", 10 + TEN, harm="nuisance", brings="opens"),
        rung("clips", np.full(10, 14.5)),
    )
    standing = replace(design.standing, site=replace(design.standing.site, gust=gust))
    found = wind_finding(ladder(design, wind), standing)
    assert found.severity is severity
    assert (found.demand, found.capacity) == (gust, 11.0)
    assert (found.values["middle"], found.values["lost"]) == (14.5, 14.5)
    assert "before the cover opens" in found.says
    assert ("do edges" in found.do) is (severity is not FINE)
    # Where it is lost no later than it opens, within 2 %, that is what is told.
    for lost, told in ((11.2, 11.2), (11.3, 11.0)):
        second = wind_finding(ladder(design, (wind[0], rung("clips", np.full(10, lost)))), standing)
        assert second.capacity == pytest.approx(told)


@pytest.mark.parametrize(
    ("ground", "severity", "standard"),
    [(None, WATCH, "ASCE 7"), (1400.0, FINE, "ASCE 7"), (1440.0, CHANGE, "ASCE 7"),
     (1240.0, FINE, "EN 1991"), (1260.0, CHANGE, "EN 1991")],
)  # fmt: skip
def test_the_snow_to_plan_for(design, ground, severity, standard):
    """The first serious rung of wet snow: nine in ten bear 1000 Pa, 0.25 m. 0.7 of the ground's
    snow lies (0.8 by EN): 1428.6 (1250) Pa on the ground is just borne. Brush at half of 0.25 m."""
    load = np.array([900.0, 1000.0, *[2000.0] * 8])
    snow = (
        rung("sinks", load / 8000, "snow", "nuisance", "", "wet snow, even"),
        rung("dry", load / 10000, "snow", "loss", "", "settled snow"),
        rung("folds", load / 4000, "snow", "loss", "", "wet snow, even", load),
        rung("later", load / 2000, "snow", "loss", "", "wet snow, drifted", 2 * load),
    )
    standards = replace(design.standing.site.standard, name=standard)
    site = replace(design.standing.site, ground_snow=ground, standard=standards)
    standing = replace(design.standing, site=site)
    made = ladder(design, snow=snow)
    made = replace(made, inputs=replace(made.inputs, standing=standing))
    found = snow_finding(made, standing)
    assert found.severity is severity
    assert made.wet_snow.name == "folds"
    assert brush_at(made) == pytest.approx(0.125)
    share = 0.8 if standard == "EN 1991" else 0.7
    assert found.capacity == pytest.approx(1000.0 / share)
    assert found.demand == (None if ground is None else pytest.approx(ground))
    told = [found.values[name] for name in ("load", "careful", "middle", "brush")]
    assert told == pytest.approx([1000.0, 0.25, 0.5, 0.125])
    assert "Brush it off" in found.do
    thin = tuple(replace(one, at=one.at / 25) for one in snow)  # brushed at 5 mm: too thin to wait
    assert "Let no wet snow lie" in snow_finding(ladder(design, snow=thin), design.standing).do


def test_the_hail_it_stops(design):
    hail = (
        rung("hail-through-old", 0.01 + TEN / 1000, "hail", "repair", ""),
        rung("hail-through-new", 0.02 + TEN / 500, "hail", "repair", ""),
    )
    found = hail_finding(ladder(design, hail=hail))
    told = [found.values[name] for name in ("stops", "high", "old")]
    assert told == pytest.approx([0.022, 0.038, 0.011])
    assert found.severity is WATCH


@pytest.mark.parametrize(
    ("braced", "strut", "ridged", "says"),
    [(True, 10.0, True, None), (True, 0.0, True, "joins the hoops"),
     (False, 10.0, True, "joins the hoops"), (False, 0.0, False, "No ridge line")],
)  # fmt: skip
def test_the_ridge(design, braced, strut, ridged, says):
    standing = replace(design.standing, braced=braced, ridge_strut=strut, ridged=ridged)
    found = ridge_finding(standing)
    assert (found is None) is (says is None)
    if found is not None:
        assert found.severity is WATCH
        assert says in found.says
        assert ("Run a pipe" not in found.do) is (strut > 0)


def test_what_to_find_out_first(design):
    """An answer that rises with one drawn input and falls with another: ranks of a + 0.5 b of two
    apart have correlations of 0.894 and 0.447 (2 and 1 over the root of 5), about, by rank."""
    draws = Draws()
    inputs = Inputs(design.standing, draws)
    tie = design.standing.hold_down.rail_grip(draws)
    inputs.friction("board on soil")
    score = draws.score("tie of a rail at one hoop"), draws.score("board on soil")
    at = 20 + 2 * score[0] - score[1]
    found = ladder(design, (rung("a", at, brings="opens"),), inputs=inputs)
    doubts = {one.name: one.correlation for one in found.doubtful(at)}
    assert doubts["tie of a rail at one hoop"] == pytest.approx(0.886, abs=0.02)
    assert doubts["board on soil"] == pytest.approx(-0.43, abs=0.03)
    assert tie.size == at.size
    asked = find_out_first(found)
    assert asked is not None
    assert asked.name == "tie of a rail at one hoop"
    assert asked.correlation == pytest.approx(0.886, abs=0.02)
    # What no one can measure is passed over, and what matters little is not worth it.
    small = ladder(design, (rung("a", 0.05 * score[0] - score[1], brings="opens"),), inputs=inputs)
    assert small.doubtful(small.opens.at)[0].name == "board on soil"
    assert find_out_first(small) is None
