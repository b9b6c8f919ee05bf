"""Ladders that share parts are those worked out alone; so are costs told without cuts."""

from __future__ import annotations

import pickle
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.ladder import ladder
from hoopwright.checks.ladders import Ladders
from hoopwright.cutting.sheets import cost_of_one_roll, cut_sheets
from hoopwright.cutting.stock import Roll, Sheet
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "8 ft"\nwidth = "3 ft"\n'
PLANS = {
    "plain": "",
    "high": '[site]\nelevation = "9000 ft"\nexposure = "open"\n',
    "stouter": '[hoops]\npipe = "pvc40-3/4"\n',
    "tall": "courses = 2\n",
    "one side": '[cover]\nroll_up = "one"\n',
    "pinned": "[holding]\npin = true\n",
    "staked": '[holding]\npin = true\ntied_to_soil = true\nstakes = "corners"\n',
    "ridge": '[hoops]\nridge = "pipe"\n',
    "braced": '[hoops]\nridge = "pipe"\nbrace = true\n',
    "film": '[cover]\nmaterial = "film-6mil-thermal"\n',
}


def told(found):
    """What a search goes by."""
    rung = found.wet_snow
    return [*found.opens.told, *found.lost.told, rung.careful], found.opens.first[0][0].name


@cache
def standing_of(more):
    """The bed with some lines more."""
    return design_of(read_plan_text(BED + more)).standing


@cache
def alone(more):
    """Its ladder, worked out for itself."""
    return ladder(standing_of(more), follow_hoop(standing_of(more)))


@pytest.mark.parametrize("whole", [False, True])
def test_each_ladder_is_what_it_is_alone(whole):
    """Place, pipe, boards, edges, pins, stakes, ridge, brace and film in turn: what is shared is no
    other's. A whole one has every rung; one that is not may be that of other edges."""
    shared = Ladders(whole=whole)
    shared.prepare(map(standing_of, PLANS.values()))
    for more in PLANS.values():
        found = shared.of(standing_of(more))
        numbers, first = told(found)
        own, own_first = told(alone(more))
        near = 1e-9 if whole or "roll_up" not in more else 1e-4
        assert numbers == pytest.approx(own, rel=near)
        assert first == own_first
        if whole:
            rungs = [(rung.name, rung.case, rung.careful) for rung in found.rungs]
            for rung, lone in zip(rungs, alone(more).rungs, strict=True):
                assert rung == (lone.name, lone.case, pytest.approx(lone.careful, rel=1e-9))


def test_beds_of_a_class_share_a_ladder_where_all_that_it_rests_on_is_alike():
    """A bed that stands already is as strong as one of new boards; a lashing of cord is its own."""
    shared = Ladders()
    plans = ["", 'box = "standing"\n', "[cover]\nlacing = true\n"]
    one, other, laced = (design_of(read_plan_text(BED + more), shared) for more in plans)
    assert one.ladder is other.ladder
    assert laced.ladder is not one.ladder
    assert laced.ladder.inputs.standing.laced


def test_a_ladder_sent_to_another_process_tells_the_same():
    """What is left behind to keep it small is worked out anew."""
    found = design_of(read_plan_text(BED)).ladder
    sent = pickle.dumps(found)
    assert len(sent) < 2.5e6
    came = pickle.loads(sent)
    assert told(came) == told(found)
    assert came.lost_by_age == pytest.approx(found.lost_by_age, rel=1e-12)
    opens = [one.name for one in found.doubtful(found.opens.at)]
    assert [one.name for one in came.doubtful(came.opens.at)] == opens


def test_one_roll_told_without_cutting_costs_what_cutting_finds():
    """Random sheets on three rolls: where the cost is told it is the cheapest; where a cheaper roll
    might do with sheets side by side it is not told."""
    draw = np.random.default_rng(5)
    rolls = [
        Roll("short", 2.0, 4.0, 20.0),
        Roll("long", 2.0, 9.0, 38.0),
        Roll("wide", 3.5, 9.0, 60.0),
    ]
    plain = 0
    for _ in range(12):
        sheets = [
            Sheet(str(n), *draw.uniform((0.5, 0.5), (3.4, 4.0)).tolist(), may_turn=bool(n % 2))
            for n in range(int(draw.integers(1, 4)))
        ]
        cost = cost_of_one_roll(sheets, rolls)
        if cost is not None:
            plain += 1
            assert cost == cut_sheets(sheets, rolls).cost
    assert plain > 4
    side_by_side = [Sheet("a", 1.0, 3.0), Sheet("b", 1.0, 3.0)]
    assert cost_of_one_roll(side_by_side, rolls) is None
    assert cut_sheets(side_by_side, rolls).cost == 20.0
    assert cost_of_one_roll(side_by_side, [replace(rolls[1], price=19.0), *rolls[:1]]) == 19.0
