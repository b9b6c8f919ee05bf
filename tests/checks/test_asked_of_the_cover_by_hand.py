"""What a gust asks of the film's edge, its clips and the bed, against forces worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright import design_of
from hoopwright.checks.at_gust import Asked, at_gust
from hoopwright.checks.film_in_wind import crown_suction
from hoopwright.design import Design
from hoopwright.plan.read import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[hoops]\npipe = "pvc40-1/2"\n'
BED += '[cover]\nroll_up = "both"\n'
GUST = 20.0


@pytest.fixture(scope="module")
def design() -> Design:
    return design_of(read_plan_text(BED))


@pytest.fixture(scope="module")
def asked(design: Design) -> dict[str, Asked]:
    return {one.rung: one for one in at_gust(design.standing, design.ladder, GUST).asked}


def pressure(design: Design) -> np.ndarray:
    """rho (r V)^2 / 2 of each drawn bed [Pa]."""
    wind = design.standing.wind
    return 0.5 * wind.density * (GUST * wind.share(design.ladder.inputs.draws)) ** 2


def test_the_edge_at_a_hoop_pulls_with_pressure_times_radius_times_bay(design, asked) -> None:
    """Membrane: pull per metre of edge is p R; a hoop's share of the edge is a bay long."""
    found = design.ladder
    suction = crown_suction(found.followed, found.inputs, opened=False)
    pull = pressure(design) * suction * design.hoop.span / 2 * design.standing.bay
    edge = asked["rail-ties-give"]
    assert (edge.middle, edge.most) == pytest.approx(np.quantile(pull, (0.5, 0.9)), rel=1e-6)


def test_a_part_gives_way_where_more_is_asked_than_held(design) -> None:
    """At the gust that half of the beds stand, asked and held meet on the middle bed."""
    rungs = {rung.name: rung for rung in design.ladder.wind}
    for name in ("rail-ties-give", "end-hoops-lean"):
        rung = rungs[name]
        met = at_gust(design.standing, design.ladder, rung.middle)
        one = next(asked for asked in met.asked if asked.rung == name)
        assert one.holds is not None
        low, high = one.holds
        assert low < one.most
        assert one.middle < high


def test_tipping_is_what_holds_by_the_square_of_the_gust(design, asked) -> None:
    rung = next(one for one in design.ladder.wind if one.name == "bed-tips")
    one = asked["bed-tips"]
    assert one.holds is not None
    used = (GUST / np.median(rung.at)) ** 2
    assert one.middle == pytest.approx(used * np.sqrt(np.prod(one.holds)), rel=0.25)
