"""A path that ends early is a lower bound, said to be one; never 'no limit'."""

import numpy as np
import pytest

from hoopwright.beam.path import follow
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.hoop_in_snow import crown_sinks, hoop_lies_over
from hoopwright.checks.hoop_in_wind import pipe_kinks
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Reader
from hoopwright.checks.rung import NO_FURTHER
from hoopwright.design import design_of
from hoopwright.odds.quantiles import weak_to_strong
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@pytest.fixture(scope="module")
def standing():
    return design_of(read_plan_text(BED)).standing


@pytest.fixture(scope="module")
def whole(standing):
    return follow_hoop(standing)


@pytest.fixture(scope="module")
def cut_short(standing):
    """The same, with only four points of path a case."""
    return follow_hoop(
        standing, lambda *given, **named: follow(*given, **named | {"most_points": 4})
    )


@pytest.mark.parametrize("width", ["2 ft", "3 ft", "5 ft"])
@pytest.mark.parametrize("pipe", ["pvc40-1/2", "pvc40-3/4", "pvc40-1"])
def test_usual_plans_are_followed_to_their_end(width, pipe):
    for straps in (1, 2):
        hoops = f'[hoops]\npipe = "{pipe}"\nstraps_per_leg = {straps}\n'
        one = design_of(read_plan_text(f'[bed]\nlength = "8 ft"\nwidth = "{width}"\n{hoops}'))
        assert not follow_hoop(one.standing).path.unfinished.any()


def test_unknowns_of_a_short_path_are_its_last_factor(cut_short):
    rows = cut_short.snow_rows
    gives, short = cut_short.gives_way(rows)
    assert short.all()
    assert gives == pytest.approx(np.nanmax(cut_short.path.factor[rows], axis=1))


def test_no_bound_where_the_path_is_whole(whole):
    every = list(range(whole.path.factor.shape[0]))
    assert not whole.gives_way(every)[1].any()


def test_rungs_of_a_short_path_are_bounds_and_say_so(standing, whole, cut_short):
    inputs = Inputs(standing)
    for work in (
        hoop_lies_over,
        lambda reader: crown_sinks(standing, reader),
        lambda reader: reader.lies_over(opened=False),
        lambda reader: pipe_kinks(standing, reader, opened=False),
    ):
        full, bound = work(Reader(whole, inputs)), work(Reader(cut_short, inputs))
        assert NO_FURTHER not in full.case
        less = np.median(bound.pressure) < np.median(full.pressure) * (1 - 1e-3)
        assert NO_FURTHER in bound.case or not less
        ends = zip(weak_to_strong(bound.pressure), weak_to_strong(full.pressure), strict=True)
        assert all(short <= long * (1 + 5e-3) for short, long in ends)
        assert np.all(np.isfinite(bound.pressure))
    assert NO_FURTHER in hoop_lies_over(Reader(cut_short, inputs)).case
