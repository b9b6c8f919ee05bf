"""Ladders that share parts are those worked out alone; so are costs told without cuts."""

from __future__ import annotations

import pickle
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.ladder import ladder
from hoopwright.cutting import Roll, Sheet, cost_of_one_roll, cut_sheets
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text
from hoopwright.programme.ladders import Ladders

BED = '[bed]\nlength = "8 ft"\nwidth = "3 ft"\n'
PLANS = {
    "plain": "",
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


@pytest.mark.parametrize("whole", [False, True])
def test_each_ladder_is_what_it_is_alone(whole):
    """Pins, stakes, ridge, brace and film in turn: what is shared is no other's."""
    shared = Ladders(whole=whole)
    standings = [design_of(read_plan_text(BED + more)).standing for more in PLANS.values()]
    shared.prepare(standings)
    for standing in standings:
        numbers, first = told(shared.of(standing))
        alone, alone_first = told(ladder(standing, follow_hoop(standing)))
        assert numbers == pytest.approx(alone, rel=1e-9)
        assert first == alone_first


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
