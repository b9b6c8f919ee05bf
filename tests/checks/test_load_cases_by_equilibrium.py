"""A bay of wind, snow and ice on the hoop, met by what its feet bear: forces in balance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.beam.response import respond, states_at
from hoopwright.checks.followed_hoop import follow_hoop, follow_hoops, is_opened
from hoopwright.checks.hoop_in_wind import lift
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
BAY, G = 0.8763, 9.80665
#: First and last of the film on the arc, and the likely and high pressure inside.
WIND = {
    "wind across, closed": (0.0, 1.0, 0.18, 0.55),
    "wind across, windward side up": (0.25, 1.0, 0.55, 0.72),
    "wind across, lee side up": (0.0, 0.75, -0.45, -0.18),
    "wind across, both sides up": (0.25, 0.75, 0.0, 0.30),
    "wind along, closed": (0.0, 1.0, 0.18, 0.55),
    "wind along, windward end open": (0.0, 1.0, 0.55, 0.72),
    "wind along, lee end open": (0.0, 1.0, -0.45, -0.18),
}


@pytest.fixture(scope="module")
def made():
    standing = design_of(read_plan_text(BED)).standing
    return standing, follow_hoop(standing)


def fine(standing) -> tuple[np.ndarray, ...]:
    """Shares, steps [m], places [m] and slopes [rad] of the hoop on a fine polygon."""
    curve, arc = standing.hoop.curve, np.linspace(0, 1, 40001)
    x, angle = (np.interp(arc * curve.length, curve.arc, one) for one in (curve.x, curve.angle))
    middle = 0.5 * (arc[1:] + arc[:-1])
    return middle, np.diff(arc) * curve.length, np.diff(x), 0.5 * (angle[1:] + angle[:-1])


def on_feet(followed) -> tuple[np.ndarray, np.ndarray]:
    """Up and to the lee on both feet [N] of each row, unloaded and at one pascal."""
    told = respond(states_at(followed.path, [0.0, 1.0]))
    return told.left.lift + told.right.lift, told.right.push - told.left.push


def test_weight_of_pipe_and_film(made):
    """2.5527 m of 0.23959 kg/m and of 0.8763 m of film of 0.140 kg/m2: 0.92477 kg, 9.069 N."""
    up, across = on_feet(made[1])
    assert up[:, 0] == pytest.approx(np.full(18, -9.069), rel=2e-3)
    assert across[:, 0] == pytest.approx(np.zeros(18), abs=1e-6)


def test_a_pascal_of_wind(made):
    """Each case of the table of coefficients on 0.8763 m of film, with the likely and with the high
    pressure inside: 0.714, -1.105 and -0.425 across (0.68 at least to windward of 60 degrees),
    along -0.765."""
    standing, followed = made
    middle, step, _, turn = fine(standing)
    up, across = on_feet(followed)
    assert [case.name for case in followed.cases] == list(WIND)
    for row, (name, (first, last, *inside)) in enumerate(WIND.items()):
        net = np.full(middle.size, -0.765)
        if "across" in name:
            net = np.where(middle > 0.75, -0.425, np.where(middle > 0.25, -1.105, 0.714))
            net = np.where((turn >= np.radians(60)) & (middle < 0.5), np.maximum(net, 0.68), net)
        for place, one in enumerate(inside):
            push = (net - one) * step * ((middle >= first) & (middle <= last)) * BAY
            found = up[2 * row + place], across[2 * row + place]
            lifted, pushed = -(push * np.cos(turn)).sum(), (push * np.sin(turn)).sum()
            assert found[0][1] - found[0][0] == pytest.approx(lifted, rel=0.01, abs=0.01), name
            assert found[1][1] - found[1][0] == pytest.approx(pushed, rel=0.01, abs=0.01), name
    assert [is_opened(case) for case in followed.cases] == ["closed" not in one for one in WIND]
    assert followed.wind_rows(False) == [0, 8]
    assert followed.wind_rows(True) == [2, 4, 6, 10, 12]


def test_a_pascal_of_snow_and_of_ice(made):
    """Even snow stays whole to 45 degrees and falls to none at 70; the half of it on the lee side;
    drifted 0.5 at the crown, 2 at 30 degrees and on to the eaves, none on the windward half (one
    point of it there once put 3 % on). Ice lies on the whole arc."""
    standing, followed = made
    middle, _, dx, turn = fine(standing)
    degrees = np.degrees(np.abs(turn))
    even = np.clip((70 - degrees) / 25, 0, 1)
    lee = middle > 0.5
    x = np.cumsum(dx) - 0.5 * dx
    thirty = np.interp(30.0, degrees[lee], x[lee])
    crown = standing.hoop.span / 2
    drifted = np.interp(x, [crown, thirty], [0.5, 2.0]) * lee
    up, _ = on_feet(followed)
    gained = up[:, 1] - up[:, 0]
    assert followed.snow_rows == [14, 15, 16]
    for row, share in zip(followed.snow_rows, (even, even * lee, drifted), strict=True):
        # Plan is the ground that each part covers.
        by_hand = -(share * np.maximum(dx, 0.0)).sum() * BAY
        assert gained[row] == pytest.approx(by_hand, rel=0.01), row
    assert followed.ice_row == 17
    assert gained[17] == pytest.approx(-standing.hoop.curve.length * BAY, rel=1e-6)


def test_how_far_it_is_followed(made):
    """To 67 m/s at the bed's likely share and to 4800 Pa of snow, no further."""
    standing, followed = made
    most = np.nanmax(followed.path.factor, axis=1)
    gust = 0.6125 * (67.0 * standing.wind.likely_share) ** 2
    for row in range(18):
        limit = gust if row < 14 else 4800.0
        if np.isnan(followed.path.critical_factor[row]):
            assert most[row] == pytest.approx(limit, rel=1e-6)
        else:
            assert most[row] <= limit * (1 + 1e-9)


def test_cords_from_the_shoulders(made):
    """Pegs 0.6096 m out of the legs on the ground, tied at a quarter of the arc: 8900 N over the
    cord's length, 20 N drawn tight."""
    standing = replace(made[0], guyed=True)
    curve = standing.hoop.curve
    shoulder = np.interp(0.25 * curve.length, curve.arc, curve.y) + 0.24765
    left, right = follow_hoop(standing).path.frame.lines
    assert (left.share, right.share) == (0.25, 0.75)
    assert (left.anchor_x, right.anchor_x) == pytest.approx((-0.6096, 0.935736 + 0.6096))
    assert (left.anchor_y, right.anchor_y) == pytest.approx((-0.24765, -0.24765))
    stiffness = 8900 / np.hypot(0.6096, shoulder)
    assert (left.stiffness, right.stiffness) == pytest.approx((stiffness, stiffness), rel=1e-4)
    assert (left.pull, right.pull) == (20.0, 20.0)


def test_several_hoops_side_by_side_are_each_as_alone(made):
    standing, followed = made
    steel = design_of(read_plan_text(BED + '[hoops]\nspacing = "2 ft"\n')).standing
    both = follow_hoops([standing, steel])
    for one, alone in zip(both, (followed, follow_hoop(steel)), strict=True):
        told, known = lift(one.response), lift(alone.response)
        rows = np.arange(18), np.isfinite(known).sum(axis=1) - 1
        assert told[rows] == pytest.approx(known[rows], rel=1e-3)
