"""The bed in space as numbers: the same bed as the design's, and a storm that the ladder tells."""

import re
from pathlib import Path

import numpy as np
import pytest

from hoopwright.beam.response import shape, states_at
from hoopwright.design import design_of
from hoopwright.drawing.ladder_views import overnight_load, short_name
from hoopwright.drawing.spatial import POINTS, spatial
from hoopwright.drawing.storm import GUSTS, seen_as, storm
from hoopwright.loads.snow import snow_kinds
from hoopwright.plan import read_plan

MPH = 0.44704
ROOT = Path(__file__).parents[2]
#: Rungs that only words tell: no part of the bed is drawn otherwise for them.
ONLY_WORDS = {"rain-on-settled", "ice-on-cover"}


@pytest.fixture(scope="module")
def demo():
    return design_of(read_plan(ROOT / "demo" / "high-valley.toml"))


def test_the_pipe_sent_is_as_long_as_the_one_cut(demo):
    line = np.array(spatial(demo)["hoops"]["line"])
    assert line.shape == (POINTS + 2, 2)
    sent = np.hypot(*np.diff(line, axis=0).T).sum()
    # Chords of a curve are a little short.
    assert 0.995 * demo.hoop.cut_length < sent <= demo.hoop.cut_length


def test_box_marks_and_fastenings_are_the_designs_own(demo):
    bed = spatial(demo)
    assert (bed["box"]["length"], bed["box"]["width"]) == (
        demo.bed.outer_length,
        demo.bed.outer_width,
    )
    assert len(bed["hoops"]["marks"]) == len(demo.hoops)
    assert bed["hoops"]["straps"] == [demo.hoop.leg.top_strap, demo.hoop.leg.low_strap]
    assert bed["cover"]["edges"] == list(demo.cover.edges)
    assert "5 hoops" in bed["description"]


def test_a_shape_in_a_gust_is_the_followed_hoops_at_that_gusts_pressure(demo):
    unit, _, step = MPH, *GUSTS["us"][1:]
    sent = np.array(storm(demo)["wind"]["closed"][8])
    followed = demo.ladder.followed
    gust = 8 * step * unit
    state = states_at(followed.path, np.array([demo.standing.wind.pressure(gust)]))
    bent = shape(state, followed.wind_rows(opened=False)[0], 0)
    lean = bent.x - demo.hoop.span / 2
    middle = sent[POINTS // 2]
    assert middle[0] == pytest.approx(np.interp(0.5, bent.arc / bent.arc[-1], lean), abs=0.002)
    assert middle[1] > demo.hoop.leg.board_top


def test_the_odds_sent_are_the_share_of_the_drawn_beds(demo):
    unit, most, step = MPH, *GUSTS["us"][1:]
    odds = storm(demo)["wind"]["odds"]["opens"]
    at = demo.ladder.opens.at
    assert len(odds) == most / step + 1
    assert odds == sorted(odds)
    assert odds[14] == pytest.approx(np.count_nonzero(at <= 14 * step * unit) / at.size, abs=6e-4)


def test_the_gusts_marked_are_those_of_the_place(demo):
    by_years = {one["years"]: one["at"] for one in storm(demo)["wind"]["place"]}
    # The plan's own: 50 mph once in ten years.
    assert by_years[10] == pytest.approx(50.0, abs=0.06)
    assert by_years[1] < by_years[10] < by_years[50]


def test_what_is_told_of_a_gust_is_each_rungs_own_careful_and_half(demo):
    """Past its careful end, one bed in ten, it is beyond what to plan for; past the half, given way
    on half of the beds: by quantiles of the drawn beds, the careful ones told first."""
    told = storm(demo)["wind"]["told"]
    ends = {r.name: np.quantile(r.at, (0.1, 0.5), method="lower") for r in demo.ladder.wind}
    seen = set()
    for words, gust in zip(told, np.arange(len(told)) * GUSTS["us"][2] * MPH, strict=True):
        near, gone = (
            [short_name(name).lower() for name, (low, half) in ends.items() if when(low, half)]
            for when in (lambda a, b, g=gust: a <= g < b, lambda a, b, g=gust: b <= g)
        )
        parts = dict(
            re.findall(r"(Beyond what to plan for|Given way on half[^:]*): ([^.]*)\.", words)
        )
        wanted = {"Beyond what to plan for": near, "Given way on half of the beds": gone}
        assert {key: one.split("; ") for key, one in parts.items()} == {
            key: one for key, one in wanted.items() if one
        }
        seen |= set(parts)
    assert len(seen) == 2


def test_snow_that_lies_overnight_finds_a_pipe_partly_relaxed(demo):
    """A new pipe bent as one of the root of its relaxed share of stiffness: 10 cm of snow, its
    density times g, over that root."""
    left = np.sqrt(demo.hoop.pipe.stuff.relaxation.likely)
    assert 0.4 < left < 0.95
    by_hand = 0.1 * snow_kinds()["wet"].likely * 9.80665 / left
    assert overnight_load(demo, 0.1) == pytest.approx(by_hand, rel=1e-9)


def test_every_rung_that_can_fail_is_drawn_failed():
    plans = sorted((ROOT / "tests" / "unchanged" / "plans").glob("*.toml"))
    assert plans
    untold = set()
    for path in plans:
        found = design_of(read_plan(path)).ladder
        names = [rung.name for rung in found.wind]
        names += [rung.name for rung in found.snow if rung.name.endswith("-wet")]
        untold |= {name for name in names if not seen_as(name)}
    assert untold <= ONLY_WORDS
