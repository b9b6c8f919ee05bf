"""The bed that lifts, tips or slides, by sums made apart from the code on inputs that are given.

The bed: 12 ft x 3 ft of 2x12 boards full of bed mix, half-inch PVC. Inputs: outside pressures 1.1
times the standards', inside halfway from likely to high; soil of tangent 0.55, 0.4 and 250 Pa on
the boards, 1.1 times as heavy as its table, earth pressure 1.2 on the windward board.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import Given

from hoopwright.checks.at_gust import at_gust
from hoopwright.checks.bed_in_wind import BedInWind
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.inputs import INSIDE, PRESSURE, Inputs
from hoopwright.design import design_of
from hoopwright.odds.draws import HIGH_SCORE
from hoopwright.plan import read_plan_text
from hoopwright.tables.catalogue import Catalogue

LENGTH, WIDTH, BOARD = 3.6576, 0.9144, 0.28575
GIVEN = {
    PRESSURE: 1.1,
    "friction angle of the soil": 0.55,
    "soil on board": 0.4,
    "soil sticking to the boards": 250.0,
    "weight of the bed's soil over the table's": 1.1,
    "earth pressure on the windward board": 1.2,
    "board on soil": 0.45,
    "pull-out of a stake": 150.0,
    "side push on a stake": 200.0,
}
#: Pressure inside of each case: 0.365 leaking, 0.635 and -0.315 with a side up, 0.15 with both.
CASES = {
    "wind across, closed": (0.0, 1.0, 0.365),
    "wind across, windward side up": (0.25, 1.0, 0.635),
    "wind across, lee side up": (0.0, 0.75, -0.315),
    "wind across, both sides up": (0.25, 0.75, 0.15),
    "wind along, closed": (0.0, 1.0, 0.365),
    "wind along, windward end open": (0.0, 1.0, 0.635),
    "wind along, lee end open": (0.0, 1.0, -0.315),
}


@pytest.fixture(scope="module")
def made():
    text = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
    standing = design_of(read_plan_text(text)).standing
    return standing, follow_hoop(standing)


def of_bed(made, **held: object) -> BedInWind:
    standing = replace(made[0], hold_down=replace(made[0].hold_down, **held))
    drawn = Given(values=GIVEN, scores={INSIDE: HIGH_SCORE / 2})
    return BedInWind(standing, made[1], Inputs(standing, drawn))


def summed(standing, name: str) -> tuple[float, float, float]:
    """Lift, drag and tipping for a pascal on a fine polygon of the hoop.

    Across: 0.85 x 0.84 on the windward quarter, 0.85 x -1.3 over the crown, 0.85 x -0.5 on the lee
    quarter; 0.68 at least where the windward leg is steeper than 60 degrees; 0.85 (0.8 + 0.5) on
    the boards. Along: 0.85 x -0.9 all over.
    """
    first, last, inside = CASES[name]
    curve = standing.hoop.curve
    arc = np.linspace(0, 1, 40001)
    x, y, angle = (
        np.interp(arc * curve.length, curve.arc, one) for one in (curve.x, curve.y, curve.angle)
    )
    middle, step = 0.5 * (arc[1:] + arc[:-1]), np.diff(arc) * curve.length
    turn, across = 0.5 * (angle[1:] + angle[:-1]), 0.5 * (x[1:] + x[:-1])
    up = 0.5 * (y[1:] + y[:-1]) + standing.hoop.hold_height
    net, boards = np.full(middle.size, -0.765), 0.0
    if "across" in name:
        net = 0.85 * np.where(middle > 0.75, -0.5, np.where(middle > 0.25, -1.3, 0.84))
        net = np.where((turn >= np.radians(60)) & (middle < 0.5), np.maximum(net, 0.68), net)
        boards = 0.85 * 1.3 * BOARD * 1.1
    push = (1.1 * net - inside) * step * ((middle >= first) & (middle <= last))
    toe = (standing.hoop.span + WIDTH) / 2
    lift, drag = -(push * np.cos(turn)).sum(), (push * np.sin(turn)).sum() + boards
    tipping = (push * (np.sin(turn) * up - np.cos(turn) * (toe - across))).sum()
    return LENGTH * lift, LENGTH * drag, LENGTH * (tipping + boards * BOARD / 2)


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize(
    ("held", "down", "turns", "side"),
    [
        ({}, 1745.6, 1216.7, 0.0),
        ({"stakes": 4}, 1745.6 + 600, 1216.7 + 274.3, 800.0),
        ({"stakes": 4, "tied_to_soil": True}, 9314.6, 4258.6 + 274.3, 800.0),
        ({"tied_to_soil": True}, 9314.6, 4258.6, 0.0),
    ],
)
def test_lifts_tips_and_slides(made, opened, held, down, turns, side):
    """Boards 8.9916 m x 0.0381 x 0.28575 of 490.4 kg/m3 (wet), 7 hoops of 0.7303 kg, film 1.582 kg:
    54.70 kg, 536.4 N. Soil 3.5814 x 0.8382 x 0.26035 m of 1.1 x 1041.2 kg/m3: 8778 N. At rest 1 -
    0.4819 = 0.5181, active 0.3496; half w h^2 = 346.05 N/m; on the boards 0.4 of the thrust and
    250 x 0.26035: 136.8 N/m at rest, 231.2 windward. Lifts at 536.4 + 136.8 x 8.8392 = 1745.6 N;
    turns at 536.4 x 0.4572 + 231.2 x 3.6576 x 0.9144 + 2 x 136.8 x 0.8382 x 0.4572 + 0.8504 x
    346.05 x 3.6576 x 0.08678 = 1216.7 N m. Four stakes 600 N up, 800 N aside. Tied: frame and soil,
    9314 N, half the width as arm. Slides at 0.45 (9314 - lift) + stakes."""
    held = held | ({"stake": Catalogue().stakes["rebar-4"]} if "stakes" in held else {})
    bed = of_bed(made, **held)
    named = [name for name in CASES if ("closed" not in name) == opened]
    sums = {name: summed(made[0], name) for name in named}
    lifts = min(down / sums[name][0] for name in named)
    across = [name for name in named if "across" in name]
    tips = min(turns / sums[name][2] for name in across)
    slides = min((0.45 * 9314.6 + side) / (sums[n][1] + 0.45 * sums[n][0]) for n in across)
    assert bed.lifts(opened=opened).pressure == pytest.approx([lifts], rel=3e-3)
    assert bed.tips(opened=opened).pressure == pytest.approx([tips], rel=3e-3)
    assert bed.slides(opened=opened).pressure == pytest.approx([slides], rel=3e-3)
    assert bed.holds_down == pytest.approx([down], rel=1e-3)
    first = min(named, key=lambda name: down / sums[name][0])
    assert bed.lifts(opened=opened).case == first
    assert bed.tips(opened=opened).case == min(across, key=lambda name: turns / sums[name][2])
    assert bed.slides(opened=opened).case in across
    met = {"lifts": bed.lifts(opened=opened), "slides": bed.slides(opened=opened)}
    for rung, pressure in zip(bed.rungs(met), (lifts, slides), strict=True):
        gust = np.sqrt(2 * pressure / 1.225) / made[0].wind.likely_share
        assert rung.at == pytest.approx([gust], rel=3e-3)
        assert (rung.harm, rung.brings) == ("hazard", "moves")


def test_no_stakes_without_a_kind_and_a_number(made):
    rebar = Catalogue().stakes["rebar-4"]
    for held in ({"stakes": 4}, {"stake": rebar}, {"stake": rebar, "stakes": 0}):
        assert [float(one[0]) for one in of_bed(made, **held).stakes] == [0.0, 0.0]


def test_what_a_stake_is_drawn_from(made):
    """#4 bar, 14.3 mm, 0.4572 m deep, the top 0.1 m not counted: skin 0.016048 m2 under 1700 g
    0.2786 = 4645 Pa, 0.7 of it by beta 0.3 and 0.6: 15.65 to 31.31 N. Aside (Broms), pushed at half
    the board: 1700 g 0.0143 0.4572^3 Kp / (2 x 0.60008); Kp 2.480, 3.018, 3.691; half, whole,
    twice."""
    bed = of_bed(made, stake=Catalogue().stakes["rebar-4"], stakes=4)
    assert bed.stakes[0] == pytest.approx([600.0])
    used = bed.inputs.draws.used
    pull, side = used["pull-out of a stake"], used["side push on a stake"]
    ends = (15.65, np.sqrt(15.65 * 31.31), 31.31)
    assert (pull.low, pull.likely, pull.high) == pytest.approx(ends, rel=2e-3)
    unit = 1700 * 9.80665 * 0.0143 * 0.4572**3 / (2 * 0.600075)
    ends = (0.5 * 2.480 * unit, 3.018 * unit, 2 * 3.691 * unit)
    assert (side.low, side.likely, side.high) == pytest.approx(ends, rel=2e-3)


def test_a_tunnel_of_soil_has_the_range_of_its_table(made):
    used = of_bed(made)
    _ = used.soil
    tangent = used.inputs.draws.used["friction angle of the soil"]
    assert (tangent.low, tangent.likely, tangent.high) == (0.47, 0.58, 0.70)
    stuck = used.inputs.draws.used["soil sticking to the boards"]
    assert stuck.low < stuck.likely < stuck.high


def test_what_a_gust_asks_of_the_bed(made):
    """20 m/s in the open: the likely pressure at the bed times the greatest lift and drag of the
    closed cases; both in `at_gust` at every draw, here their middle and nine in ten."""
    ladder = design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n')).ladder
    rows = {one.what: one for one in at_gust(made[0], ladder, 20.0).asked}
    inputs = ladder.inputs
    speed = 20.0 * made[0].wind.share(inputs.draws)
    inside = inputs.inside("closed with loose skirts")
    across = np.abs(3.217 * inputs.pressure + 3.423 * inside)
    along = np.abs(2.6186 * inputs.pressure + 3.423 * inside)
    lift = np.maximum(across, along) * 0.6125 * speed**2
    drag = 4.7626 * inputs.pressure * 0.6125 * speed**2
    for name, values in (("Lift on the whole bed", lift), ("Sideways on the whole bed", drag)):
        row = rows[name]
        found = (row.middle, row.most)
        assert found == pytest.approx(np.quantile(values, (0.5, 0.9)), rel=2e-3)
        assert row.gone == 0.0
    held = rows["Lift on the whole bed"].holds
    down = BedInWind(made[0], made[1], inputs).holds_down
    assert held == pytest.approx(np.quantile(down, (0.1, 0.9)))
