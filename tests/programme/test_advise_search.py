"""The search misses nothing: its front is that of weighing every design by itself.

The front's own rule is held against the definition of Pareto dominance, written out in full here.
The full space of 200 designs and the timing of thousands are in `python -m bench.advise`.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright import design_of, read_plan
from hoopwright.cli.advise import plan_text
from hoopwright.climate.demo import demo_weather
from hoopwright.climate.weather import Weather
from hoopwright.design.growing import heat_bed_of, own_optics, schedule_of_plan
from hoopwright.heat.run import place_of, simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.plan.read import ReadPlan, read_plan_text
from hoopwright.programme.advise import (
    Advice,
    Choice,
    Space,
    Wish,
    advise,
    merged,
    scores,
    usual_space,
    weigh_all,
)
from hoopwright.programme.changes import changed
from hoopwright.programme.front import front, spread_out
from hoopwright.programme.weighing import Worth, growth_of

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"
READ = read_plan(DEMO)


def small_space() -> Space:
    """Return a space of 12 designs in which each axis matters."""
    whole = usual_space(READ, design_of(READ))
    pipes, spacings, heights, holds, covers, _ = whole.axes
    return Space((pipes[:2], (spacings[1],), (heights[0],), holds[:3], covers[:2]))


def days() -> Weather:
    """Return days of the invented valley: enough to tell covers apart."""
    (year,) = demo_weather(1)
    return year.part(slice(24 * 8), year.start)


def by_itself(choices: tuple[Choice, ...], weather: Weather) -> tuple[float, float, float]:
    """Return cost, gust to plan for and degrees of one design, which shares nothing."""
    design = design_of(ReadPlan(changed(READ.plan, merged(choices)), READ.catalogue))
    careful = design.ladder.opens.told[0]
    bed = heat_bed_of(design)
    at = place_of(weather, bed)
    under = simulate(weather, bed, own_optics(design), schedule_of_plan(design.plan), at)
    bare = simulate(weather, bed, own_optics(design), Schedule.open_bed(), at)
    return design.order.total, -min(careful, 67.0), -growth_of(under, bare).degrees


def dominated(row: np.ndarray, others: np.ndarray) -> bool:
    """Return whether any other row is no worse in all aims and better in one."""
    return any(np.all(other <= row) and np.any(other < row) for other in others)


def test_the_front_is_that_of_every_design_weighed_by_itself() -> None:
    """Shared hoops, climates and cuts change neither numbers nor the front."""
    space, weather = list(small_space()), days()
    worths = weigh_all(READ, space, weather, compiled=False)
    assert all(worth is not None for worth in worths)
    found = scores([worth for worth in worths if worth is not None])
    alone = np.array([by_itself(choices, weather) for choices in space])
    np.testing.assert_allclose(found, alone, rtol=1e-9, atol=0.005)
    brute = {n for n, row in enumerate(alone) if not dominated(row, alone)}
    chosen = set(front(found).tolist())
    assert chosen <= brute
    # Of equal designs one stands for all.
    assert {tuple(np.round(alone[n], 6)) for n in brute} == {
        tuple(np.round(alone[n], 6)) for n in chosen
    }


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    st.lists(
        st.tuples(*[st.integers(0, 6).map(float)] * 3),
        min_size=0,
        max_size=60,
    )
)
def test_the_front_is_what_nothing_dominates(rows: list[tuple[float, ...]]) -> None:
    """Against the definition, with many ties."""
    points = np.array(rows, dtype=float).reshape(-1, 3)
    kept = front(points)
    best = {tuple(row) for row in points if not dominated(row, points)}
    assert {tuple(points[n]) for n in kept} == best
    assert len(kept) == len(best)


def test_the_few_hold_the_best_of_each_aim() -> None:
    """Thinning keeps cheapest, strongest and warmest."""
    chance = np.random.default_rng(4)
    points = chance.normal(size=(50, 3))
    few = spread_out(points, 6)
    assert len(few) == len(set(few.tolist())) == 6
    for aim in range(3):
        assert int(np.argmin(points[:, aim])) in few


def test_wishes_refuse_what_fails_them() -> None:
    """Each wish names itself."""
    (worth,) = weigh_all(READ, [()], None)
    assert isinstance(worth, Worth)
    assert Wish().unmet(worth) == ""
    assert Wish(hold=worth.wind + 1).unmet(worth) == "the gust"
    assert Wish(cost=worth.cost - 1).unmet(worth) == "the cost"
    assert Wish(days=1).unmet(worth) == "days gained"
    assert Wish(height=worth.height + 0.1).unmet(worth) == "the height"
    assert Wish().unmet(replace(worth, cost=float("inf"))) != ""
    assert Wish().unmet(replace(worth, stops=("bend-strain",))) == "a check says stop"


@pytest.fixture(scope="module")
def advice() -> Advice:
    """Return advice on the small space, without a climate."""
    return advise(READ, small_space(), Wish(), None, most=4)


def test_every_design_is_weighed_and_counted(advice: Advice) -> None:
    """Refused and fit add up."""
    assert advice.searched == len(small_space())
    assert len(advice.whole) + sum(advice.refused.values()) <= advice.searched
    assert all(option in advice.whole for option in advice.few)


def test_a_saved_plan_is_the_design_that_was_weighed(advice: Advice, tmp_path: Path) -> None:
    """Read back, it comes to the same cost and first rung."""
    for option in advice.few[:2]:
        text = plan_text(DEMO, READ, option, tmp_path)
        again = design_of(read_plan_text(text, folder=tmp_path))
        assert again.order.total == pytest.approx(option.worth.cost, abs=0.005)
        assert again.ladder.opens.told[0] == pytest.approx(option.worth.wind, rel=1e-6)
        assert "# What is on the shelf already." in text


def test_the_usual_space_holds_thousands() -> None:
    """As many as are asked of a search."""
    assert len(usual_space(READ, design_of(READ))) >= 3000
