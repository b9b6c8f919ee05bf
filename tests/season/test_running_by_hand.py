"""The ways tried to run a cover, on years of which each way's best is known."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.season.bed_years import BedYears, Digest
from hoopwright.season.crop_days import Habits, crop_days
from hoopwright.season.crops import crop
from hoopwright.season.losses import fates_of
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import Covered, Rule, _costs, best_halves, open_bed, tried

OFF, SHUT, DAYS, ALWAYS = (
    Opening("off"), Opening("closed"), Opening("days", 0.3), Opening("always", 0.3)
)  # fmt: skip


def digest(degrees) -> Digest:
    hours = np.repeat(np.broadcast_to(np.asarray(degrees, float), 365), 24)[None]
    return Digest(BedYears("lab", hours, hours, hours))


def made(warmer: float) -> Digest:
    """A year of 0 degC in winter and 20 from day 105 to 287, so much warmer."""
    day = np.arange(365)
    return digest(np.where((day >= 105) & (day < 288), 20.0, 0.0) + warmer)


def test_which_rules_are_tried():
    """The open bed by itself alone; of four ways the first three are kept up all the year, then
    comes the rule by dates, the same once the crop is up, and shut until it is up."""
    lettuce = crop("lettuce-leaf")
    alone = tried(lettuce, open_bed("open", made(0.0)), Habits())
    assert [rule for rule, _ in alone] == [Rule(None, ((0, OFF),))]
    cover = Covered(
        "film", (OFF, SHUT, DAYS, ALWAYS), (made(0.0), made(15.0), made(12.0), made(1.0))
    )
    found = tried(lettuce, cover, Habits())
    rules = [rule for rule, _ in found]
    assert rules[:3] == [Rule(None, ((0, way),)) for way in (OFF, SHUT, DAYS)]
    dated = rules[3]
    assert dated.seedbed is None
    assert len(dated.steps) > 1
    which = best_halves(
        _costs(lettuce, [crop_days(lettuce, one, Habits()) for one in cover.digests])
    )
    turns = [0, *(np.flatnonzero(np.diff(which)) + 1).tolist()]
    assert dated.steps == tuple((day, cover.ways[which[day]]) for day in turns)
    assert rules[4] == Rule(OFF, dated.steps)
    assert rules[5] == Rule(SHUT, ((0, OFF),))
    assert len(rules) == 6
    # Shut until it is up, then off: the first days are the warm bed's, the rest the open one's.
    days = [crop_days(lettuce, one, Habits()) for one in cover.digests]
    by_hand = fates_of(lettuce, days[1], days[0], Habits())
    assert np.array_equal(found[5][1].ripe, by_hand.ripe)
    planted = tried(crop("tomato"), cover, Habits())  # comes up in no bed: no way for its seed
    assert [rule.seedbed for rule, _ in planted].count(SHUT) == 0
    # Ways that are alike need no dates: off all the year, which is the first way again.
    same = Covered("film", (OFF, SHUT), (made(0.0), made(0.0)))
    steps = [rule.steps for rule, _ in tried(lettuce, same, Habits())]
    assert steps == [((0, OFF),), ((0, SHUT),), ((0, OFF),)]


def test_the_cheapest_ways_with_changes_that_cost():
    """Way 1 is 0.05 cheaper in half months 6 to 11 and way 2 by 0.03 in 12 to 13: two changes there
    and a third back, 0.002 each. A gain of less than two changes is not worth the walk."""
    costs = np.full((3, 24), 0.12)
    costs[0] = 0.1
    costs[1, 6:12] = 0.05
    costs[2, 12:14] = 0.07
    which = best_halves(costs)
    starts = [0, 90, 181, 212]
    assert [int(which[day]) for day in (89, 90, 180, 181, 211, 212, 364)] == [0, 1, 1, 2, 2, 0, 0]
    assert np.flatnonzero(np.diff(which)).tolist() == [one - 1 for one in starts[1:]]
    assert set(best_halves(costs, most=2).tolist()) == {0, 1}
    small = np.full((2, 24), 0.1)
    small[1] = 0.12
    small[1, 6] = 0.097
    assert set(best_halves(small).tolist()) == {0}
    small[1, 6] = 0.095
    assert set(best_halves(small).tolist()) == {0, 1}


def test_what_a_half_month_costs_a_plant():
    """Held at 20 degC lettuce grows (20 - base) x days over its sum, a fifth of which is saved;
    below its killing band a half month costs the whole plant, midway in it a half."""
    lettuce = crop("lettuce-leaf")
    warm = 20.0 - lettuce.degrees.base.middle
    needed = lettuce.thermal_time().middle
    calm = _costs(lettuce, [crop_days(lettuce, digest(20.0), Habits())])
    lengths = np.array([15, 16, 15, 13, 15, 16, 15, 15, 15, 16, 15, 15] * 2)
    lengths[12:] = [15, 16, 15, 16, 15, 15, 15, 16, 15, 15, 15, 16]
    assert calm[0] == pytest.approx(-0.2 * warm * lengths / needed, rel=1e-6)
    air = np.full(365, 20.0)
    air[100] = -40.0
    cold = _costs(lettuce, [crop_days(lettuce, digest(air), Habits())])
    assert cold[0, 6] == pytest.approx(1.0 - 0.2 * warm * 14 / needed, rel=1e-6)
    assert cold[0, 5] == pytest.approx(calm[0, 5])
