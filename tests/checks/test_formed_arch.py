"""A pipe formed on a bender holds no bend: it presses nothing, and folds where it yields."""

import numpy as np
import pytest

from hoopwright.checks.bend import leg_hold
from hoopwright.checks.hoop_in_wind import counted_strain, side_forces
from hoopwright.checks.read_off import Reader
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

PLAN = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[hoops]\npipe = "{}"\n'


@pytest.fixture(scope="module")
def formed():
    return design_of(read_plan_text(PLAN.format("emt-1/2")))


def test_it_presses_nothing(formed):
    hoop = formed.hoop
    assert not hoop.pipe.springs
    assert (hoop.thrust(), hoop.foot_moment(), hoop.crown_moment()) == (0.0, 0.0, 0.0)
    assert side_forces(formed.standing) == [0.0, 0.0]
    assert "does not push" in leg_hold(hoop, 2).says
    sprung = design_of(read_plan_text(PLAN.format("pvc40-1/2"))).hoop
    assert sprung.thrust() > 0


def test_at_rest_it_strains_only_by_its_weight_and_the_films(formed):
    """The sprung conduit would carry fibre strain of its own bend, 1.7 % and more."""
    found = formed.ladder
    strain = counted_strain(Reader(found.followed, found.inputs), 1.0)
    assert np.nanmax(strain[:, 0]) < 3e-4
    assert formed.hoop.strain > 0.01


def test_its_limit_is_yield(formed):
    """Yield over modulus: 30 to 55 ksi over 29,000 ksi, the rows of the material table."""
    limit = formed.hoop.pipe.strain_under_load(23.0)
    assert limit.low == pytest.approx(30 / 29000, rel=0.05)
    assert limit.high == pytest.approx(55 / 29000, rel=0.05)
    rung = next(rung for rung in formed.ladder.wind if rung.name == "pipe-kinks")
    assert "yields" in rung.happens


def test_no_rung_gives_way_without_wind(formed):
    assert all(rung.careful > 0 for rung in formed.ladder.wind)
