"""What screws, rods, stakes and rails hold, each worked by hand apart from the code."""

from __future__ import annotations

from dataclasses import astuple

import numpy as np
import pytest

from hoopwright.holding import anchor, film_edge, grip, screws, sleeve, straps
from hoopwright.tables.spread import Spread

INCH, PSI, POUND, G = 0.0254, 6894.757293168, 4.4482216153, 9.80665


def test_withdrawal_low_likely_and_high() -> None:
    """#10 (0.190 in), 1 1/4 in of thread, G 0.42. NDS: 2850 x 0.1764 x 0.19 x 1.25 = 119.4 lb, by
    1.6 x 0.7 for wind in a wet board 133.7 lb. Mean of tests: 15700 for 2850, wet: 460.4 lb; a
    quarter above. Snow: 1.15 for 1.6 in both. Hot boards: 0.8."""
    wind = screws.withdrawal(0.42, 0.19 * INCH, 1.25 * INCH, screws.Service())
    assert np.array(astuple(wind)) / POUND == pytest.approx([133.7, 460.4, 575.5], rel=1e-3)
    snow = screws.withdrawal(0.42, 0.19 * INCH, 1.25 * INCH, screws.Service(duration=1.15))
    assert np.array(astuple(snow)) / POUND == pytest.approx(
        [133.7 * 1.15 / 1.6, 460.4 * 1.15 / 1.6, 575.5 * 1.15 / 1.6], rel=1e-3
    )
    dry = screws.withdrawal(0.42, 0.19 * INCH, 1.25 * INCH, screws.Service(1.0, 1.0))
    assert dry.low / POUND == pytest.approx(119.4, rel=1e-3)
    hot = screws.withdrawal(0.42, 0.19 * INCH, 1.25 * INCH, screws.Service(1.6, 0.7, 0.8))
    assert astuple(hot) == pytest.approx([0.8 * value for value in astuple(wind)])


def test_all_six_yield_modes_against_the_standards_equations() -> None:
    """NDS 2018 table 12.3.1A in pounds and inches, D 0.152, Fyb 80 ksi, lm 1.464, ls 0.5 (wood
    side, so that every mode is its own), Fem 3364 psi, Fes 4637 psi, Rd 2.2:
    Re 0.7255, Rt 2.928; k1 0.7949, k2 0.9199, k3 1.2949."""
    d, fyb, lm, ls, fem, fes, rd = 0.152, 80000.0, 1.464, 0.5, 3364.0, 4637.0, 2.2
    re, rt = fem / fes, lm / ls
    k1 = ((re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) ** 0.5 - re * (1 + rt)) / (1 + re)
    k2 = -1 + (2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2)) ** 0.5
    k3 = -1 + (2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * ls**2)) ** 0.5
    pounds = {
        "Im": d * lm * fem / rd,
        "Is": d * ls * fes / rd,
        "II": k1 * d * ls * fes / rd,
        "IIIm": k2 * d * lm * fem / ((1 + 2 * re) * rd),
        "IIIs": k3 * d * ls * fem / ((2 + re) * rd),
        "IV": d**2 / rd * (2 * fem * fyb / (3 * (1 + re))) ** 0.5,
    }
    made = screws.yield_modes(
        d * INCH, fyb * PSI, lm * INCH, ls * INCH, fem * PSI, fes * PSI, reduction=rd
    )
    for name, value in made.by_name.items():
        assert value / POUND == pytest.approx(pounds[name], rel=1e-6), name
    assert made.governing[0] == min(pounds, key=lambda name: pounds[name])


@pytest.mark.parametrize(
    ("inches", "rd"), [(0.1, 2.2), (0.17, 2.2), (0.18, 2.3), (0.2, 2.5), (0.24, 2.9)]
)
def test_the_reduction_term(inches: float, rd: float) -> None:
    """NDS 2018 table 12.3.1B: 2.2 to 0.17 in, then 10 D + 0.5."""
    assert screws.reduction_term(inches * INCH) == pytest.approx(rd)


def test_a_screw_sideways_gives_its_yield_back_the_reduction() -> None:
    """Mode IIIs of tests/holding/test_screws_and_cautions: 97.3 lb before factors, D 0.152 (Rd
    2.2). Low: 97.3 x 1.12 = 109.0; likely 97.3 x 2.2 x 0.7 = 149.8; high half as much again."""
    held = screws.lateral(
        0.152 * INCH, 80e3 * PSI, 1.464 * INCH, 0.42, 0.036 * INCH, 61850 * PSI, screws.Service()
    )
    assert np.array(astuple(held)) / POUND == pytest.approx([109.0, 149.8, 224.8], rel=4e-3)
    always = screws.lateral(
        0.152 * INCH, 80e3 * PSI, 1.464 * INCH, 0.42, 0.036 * INCH, 61850 * PSI,
        screws.Service(duration=0.9),
    )  # fmt: skip
    assert always.likely == pytest.approx(held.likely * 0.9 / 1.6)
    assert always.low == pytest.approx(97.3 * 0.63 * POUND, rel=4e-3)


def test_a_short_stake_pushed_sideways() -> None:
    """Broms: w b L^3 Kp / (2 (e + L)). 0.04 m wide, 0.5 m deep, pushed 0.1 m up, Kp of tangents
    0.47, 0.58 and 0.70 (25.2, 30.1, 35.0 deg): 2.480, 3.014, 3.690; halved and doubled."""
    held = anchor.stake_side_capacity(0.04, 0.5, 0.1, Spread(0.47, 0.58, 0.70))
    unit = 1700 * G * 0.04 * 0.125 / (2 * 0.6)
    assert held.low == pytest.approx(0.5 * unit * 2.480, rel=1e-3)
    assert held.likely == pytest.approx(unit * 3.014, rel=1e-3)
    assert held.high == pytest.approx(2 * unit * 3.690, rel=1e-3)
    soaked = anchor.stake_side_capacity(0.04, 0.5, 0.1, Spread(0.47, 0.58, 0.70), density=850.0)
    assert soaked.likely == pytest.approx(held.likely / 2)


def test_pulling_a_rod_out_of_the_ground() -> None:
    """1/2 in rod 0.5 m deep, 0.1 m of it not counted: skin pi x 0.0127 x 0.4 = 0.01596 m2; mean
    overburden 1700 g (0.1 + 0.5)/2 = 5001 Pa. Sand: beta 0.30 to 0.60: 0.7 x 0.01596 x 1500 = 16.8
    N, twice that, and the geometric mean. Clay adds 5 and 25 kPa. Soaked: 700 for 1700 kg/m3 and
    no adhesion in the low end."""
    sand, clay = sleeve.soil_frictions()["sand"], sleeve.soil_frictions()["clay"]
    dry = sleeve.rod_pull_out(0.0127, 0.5, sand)
    assert astuple(dry) == pytest.approx([16.76, 23.70, 33.52], rel=1e-3)
    wet = sleeve.rod_pull_out(0.0127, 0.5, sand, soaked=True)
    assert astuple(wet) == pytest.approx([value * 7 / 17 for value in astuple(dry)], rel=1e-6)
    stiff = sleeve.rod_pull_out(0.0127, 0.5, clay)
    assert stiff.low == pytest.approx(0.7 * 0.01596 * (0.23 * 5001 + 5000), rel=1e-3)
    assert stiff.high == pytest.approx(0.7 * 0.01596 * (0.40 * 5001 + 25000), rel=1e-3)
    assert stiff.likely == pytest.approx(np.sqrt(stiff.low * stiff.high))
    soft = sleeve.rod_pull_out(0.0127, 0.5, clay, soaked=True)
    assert soft.low == pytest.approx(0.7 * 0.01596 * 0.23 * 2059, rel=1e-3)
    assert soft.high == pytest.approx(0.7 * 0.01596 * (0.40 * 2059 + 25000), rel=1e-3)
    assert sleeve.rod_pull_out(0.0127, 0.09, sand).high == 0.0


def test_a_leg_leaves_its_rod_at_its_weight() -> None:
    assert sleeve.sleeve_uplift(1.5) == pytest.approx(1.5 * G)


def test_film_rolled_round_a_batten() -> None:
    """2 mu N exp(2 pi mu n): friction 0.20, 0.35, 0.60 at one turn under 100 N/m: 40 x 3.514 =
    140.6; 70 x 9.017 = 631.2; 120 x 43.38 = 5206. Two turns cap the gain at 50."""
    friction = np.array([0.20, 0.35, 0.60])
    held = film_edge.rolled_batten(1.0, 100.0, friction)
    assert held == pytest.approx([140.6, 631.2, 5206.0], rel=1e-3)
    twice = film_edge.rolled_batten(2.0, 100.0, friction)
    assert twice == pytest.approx([40 * 12.35, 70 * 50, 120 * 50], rel=1e-3)
    assert film_edge.batten_clamp(900.0, 0.45, share=0.5) == pytest.approx(1000.0)


def test_a_rail_on_sloping_film() -> None:
    """0.35 kg/m is 3.432 N/m; film 30 deg from level pulls twice that before the rail stirs.
    Level film never lifts it by its pull."""
    assert film_edge.rail_ballast(0.35, np.radians(30)) == pytest.approx(6.865, rel=1e-3)
    assert film_edge.rail_ballast(0.35, 0.0) == np.inf


def test_grip_of_two_straps() -> None:
    """Two straps pushed 60 and -40 N: (2 x 2 x squeeze + 100) relaxed x friction: (0 + 100) 0.4 x
    0.15 = 6 N; (600 + 100) 0.5 x 0.25 = 87.5; (2400 + 100) 0.8 x 0.40 = 800."""
    held = grip.strap_grip(
        [60.0, -40.0],
        friction=np.array([0.15, 0.25, 0.40]),
        squeeze=np.array([0.0, 150.0, 600.0]),
        relaxed=np.array([0.4, 0.5, 0.8]),
    )
    assert held == pytest.approx([6.0, 87.5, 800.0])


def test_pins_three_ways() -> None:
    """3.33 mm pin, two walls of 2.87 mm, 40 mm from the end, 50 MPa: bearing d t 2 x (0.5, 1, 1.3)
    x 50 MPa = 477.9, 955.7, 1242.4 N; shear 0.6 x 400 MPa x 8.709 mm2 x 2 = 4180 N; tear 2 x 40 x
    2.87 x 2 mm2 at half of the bearing: 5740, 11480, 14924 N."""
    pin = grip.through_pin(3.33e-3, 2.87e-3, 0.04, 50e6, np.array([0.5, 1.0, 1.3]))
    assert pin.pipe_bearing == pytest.approx([477.9, 955.7, 1242.4], rel=1e-3)
    assert pin.pin_shear == pytest.approx(4180.4, rel=1e-3)
    assert pin.tear_to_end == pytest.approx([5740.0, 11480.0, 14924.0], rel=1e-3)
    assert pin.holds == pytest.approx(pin.pipe_bearing)
    one = grip.through_pin(3.33e-3, 2.87e-3, 0.04, 50e6, 2.0, walls=1)
    assert float(one.pipe_bearing) == pytest.approx(955.7, rel=1e-3)


def test_where_the_straps_sit() -> None:
    """11 1/4 in board, pipe to the ground: straps 1 1/2 in from both edges, 8 1/4 in apart. Pipe
    to 8 in below the top: the lower strap stands an inch above its end, 4 1/4 in up."""
    whole = straps.leg_beside(11.25 * INCH, 11.25 * INCH, straps=2)
    assert (whole.foot, whole.straps) == (0.0, 2)
    assert whole.top_strap == pytest.approx(9.75 * INCH)
    assert whole.low_strap == pytest.approx(1.5 * INCH)
    assert whole.strap_spacing == pytest.approx(8.25 * INCH)
    assert whole.embed == pytest.approx(11.25 * INCH)
    short = straps.leg_beside(11.25 * INCH, 8 * INCH, straps=2)
    assert short.low_strap == pytest.approx(4.25 * INCH)
    one = straps.leg_beside(11.25 * INCH, 8 * INCH, straps=1)
    assert (one.straps, one.strap_spacing, one.low_strap) == (1, 0.0, None)
    assert straps.strap_room(11.25 * INCH, 8 * INCH) == pytest.approx(5.5 * INCH)
    assert straps.strap_room(11.25 * INCH, 1.5 * INCH) == pytest.approx(-1.0 * INCH)
    rod = straps.leg_on_rod(11.25 * INCH)
    assert (rod.foot, rod.top_strap, rod.straps) == (0.0, pytest.approx(12 * INCH), 1)
