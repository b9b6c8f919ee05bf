"""What a gust asks of the film's edge, its clips and the bed, against forces worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright import design_of
from hoopwright.checks.at_gust import Asked, at_gust
from hoopwright.checks.bed_in_wind import BedInWind
from hoopwright.checks.end_hoop_rungs import LEAN_SEEN, SLACK_FROM
from hoopwright.checks.film_in_wind import crown_suction, end_strip_suction
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


def test_lift_of_a_bay_hangs_on_three_clips_once_its_edges_are_loose(design, asked) -> None:
    """Suction with the skirts open to the wind on a bay of roof; three clips hold it."""
    found, standing = design.ladder, design.standing
    suction = crown_suction(found.followed, found.inputs, opened=True)
    lift = pressure(design) * suction * standing.bay * standing.hoop.span
    clips = asked["inner-clips-open"]
    assert standing.inner_clips == 3
    assert (clips.middle, clips.most) == pytest.approx(np.quantile(lift, (0.5, 0.9)), rel=1e-6)
    held = np.quantile(3 * found.inputs.clip, (0.1, 0.9))
    assert clips.holds == pytest.approx(held, rel=1e-6)


def test_suction_on_the_film_with_its_sides_down(design, asked) -> None:
    found, film = design.ladder, asked["film-tears"]
    suction = pressure(design) * end_strip_suction(found.followed, found.inputs, opened=False)
    assert (film.middle, film.most) == pytest.approx(np.quantile(suction, (0.5, 0.9)), rel=1e-6)


def test_what_one_clip_of_an_end_is_asked_and_holds(design, asked) -> None:
    """The pull on an end is shared by the clips of both its hoops: of one is told what one holds,
    so that it is asked more than that on as many beds as its rung lets go."""
    found, clip = design.ladder, asked["clips-open"]
    assert design.standing.hoops_an_end == 2
    assert clip.holds == pytest.approx(np.quantile(found.inputs.clip, (0.1, 0.9)), rel=1e-6)
    rung = next(one for one in found.wind if one.name == "clips-open")
    assert (clip.most < clip.holds[0]) == ((rung.at < GUST).mean() < 0.1)


def test_the_bed_lifts_at_the_pressure_of_its_rung_while_it_is_shut(design, asked) -> None:
    """Each drawn bed is asked what holds it down times the pressure over that at which it lifts."""
    found, one = design.ladder, asked["bed-lifts"]
    bed = BedInWind(design.standing, found.followed, found.inputs)
    asks = pressure(design) / bed.lifts(opened=False).pressure * bed.holds_down
    assert (one.middle, one.most) == pytest.approx(np.quantile(asks, (0.5, 0.9)), rel=1e-6)


def test_a_lean_is_seen_from_a_share_of_the_height_over_the_boards(design, asked) -> None:
    """Film hangs slack from a lean of about a tenth of it, drawn."""
    lean, height = asked["end-hoops-lean"], design.standing.hoop.crown_over_board
    drawn = design.ladder.inputs.draws.of(SLACK_FROM, LEAN_SEEN)
    assert lean.holds == pytest.approx(np.quantile(drawn, (0.1, 0.9)) * height, rel=1e-6)
