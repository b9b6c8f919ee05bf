"""Rungs of wind that hang on a fastening, each worked by hand from inputs that are given.

The bed: 12 ft x 3 ft, half-inch PVC in two straps, bays of 0.8763 m, hoops 0.935736 m wide whose
crown stands 0.972527 m over the boards; 6 mil film of 200 MPa and 0.14 kg/m2. Outside pressures are
1.1 times the standards'; inside halfway from the likely to the high value: 0.365 closed, 0.635
filled. Suction over the crown 0.85 (0.7 + 0.6) 1.1 + 0.365 = 1.5805, filled 1.8505.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import SOUND, Given, gust_of
from scipy.optimize import brentq

from hoopwright.checks.drawn_ends import RATIOS_IN_WIND, SLACKS, DrawnCase, DrawnEnds
from hoopwright.checks.end_hoop import Drawn
from hoopwright.checks.end_sheet import battens_pull, end_sheet_zips
from hoopwright.checks.film_in_wind import (
    AT_HOLES,
    CORD_LEFT,
    END_STRIP,
    clips_open,
    clips_rung,
    crown_suction,
    edges_loose,
    edges_rung,
    film_tears,
    film_tears_rung,
    inner_clips_open,
    inner_clips_rung,
)
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.hoop_in_wind import leg_capacity
from hoopwright.checks.inputs import INSIDE, PRESSURE, Inputs
from hoopwright.checks.standing import Standing
from hoopwright.design import design_of
from hoopwright.holding.choices import CLIP, RAIL_CLIP, TIE
from hoopwright.holding.grip import PullTest
from hoopwright.odds.draws import HIGH_SCORE, Draws
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
BAY, SPAN, CLEAR, FILM = 0.8763, 0.935736, 0.972527, 200e6 * 0.0001524
CLOSED, FILLED = 1.5805, 1.8505
WEAK = {"strength of the cover": 1500.0, "stiffness of the film": 240e6}


@pytest.fixture(scope="module")
def made():
    standing = design_of(read_plan_text(BED)).standing
    return standing, follow_hoop(standing)


def given(standing: Standing, **values: float) -> Inputs:
    """The bed with outside and inside pressures as above and some inputs more."""
    known = {PRESSURE: 1.1, AT_HOLES: 1.0, SOUND: 1.0, END_STRIP: 1.0}
    known |= {name.replace("_", " "): one for name, one in values.items()}
    return Inputs(standing, Given(values=known, scores={INSIDE: HIGH_SCORE / 2}))


def pressure_at(pull: float, span: float, stiffness: float = FILM) -> float:
    """Film on firm lines that pulls so hard: with half angle h, h / sin h = 1 + T / (E t) and
    p = T 2 sin h / span."""
    half = brentq(lambda h: h / np.sin(h) - 1 - pull / stiffness, 1e-6, 3.0)
    return float(pull * 2 * np.sin(half) / span)


def test_suction_closed_and_filled(made):
    inputs = given(made[0])
    assert crown_suction(made[1], inputs, opened=False) == pytest.approx([CLOSED], rel=1e-4)
    assert crown_suction(made[1], inputs, opened=True) == pytest.approx([FILLED], rel=1e-4)
    low = Inputs(made[0], Given(scores={INSIDE: -HIGH_SCORE}))  # 1.105 - 0.55
    assert crown_suction(made[1], low, opened=False) == pytest.approx([0.555], rel=1e-4)


@pytest.mark.parametrize(
    ("way", "name", "tie"),
    [("weight", "rails-lift", 0.0), ("tied", "rail-ties-give", 200.0),
     ("clipped", "rail-ties-give", 100.0)],
)  # fmt: skip
def test_rails_lift_or_their_ties_give(made, way, name, tie):
    """Film leaves the rail at 1 rad, sine 0.84147. Rail 0.31847 kg/m and a twentieth of 2.9652 m of
    film of 0.140 kg/m2, 0.02076: 3.327 N/m. Tie over bay: 228.2 N/m at 200 N. (3.327 + 228.2) /
    0.84147 / (0.935736 / 2) / 1.5805 = 372.1 Pa; by weight 5.346; at 100 N 188.7."""
    standing, followed = made
    angle = standing.hoop.curve.angle.copy()
    angle[0] = 1.0
    hoop = replace(standing.hoop, curve=replace(standing.hoop.curve, angle=angle))
    held = replace(standing.hold_down, rail=way)
    standing = replace(standing, hoop=hoop, hold_down=held)
    inputs = given(standing, **{TIE: 200.0, RAIL_CLIP: 100.0})
    found = edges_loose(standing, followed, inputs)
    by_hand = (3.327 + tie / BAY) / 0.84147 / (SPAN / 2) / CLOSED
    assert found == pytest.approx([by_hand], rel=1e-3)
    rung = edges_rung(standing, inputs, found)
    assert rung is not None
    assert (rung.name, rung.brings, rung.harm) == (name, "opens", "nuisance")
    assert rung.at == pytest.approx([gust_of(standing, by_hand)], rel=1e-3)
    shut = replace(standing, cover=replace(standing.cover, edges=("batten", "bury")))
    assert np.isinf(edges_loose(shut, followed, inputs)).all()
    assert edges_rung(shut, inputs, found) is None


def test_film_tears_between_hoops(made):
    """Yield 1500 N/m, film 1.2 times as stiff: 36 576 N/m. 1500 / 36576 = 0.04101 of stretch, half
    angle 0.4889: 1500 x 2 x 0.4697 / 0.8763 = 1608 Pa on the film, over 1.5805 (1.8505)."""
    standing, followed = made
    inputs = given(standing, **WEAK)
    for opened, suction in ((False, CLOSED), (True, FILLED)):
        found = film_tears(standing, followed, inputs, opened=opened)
        assert found == pytest.approx([1608 / suction], rel=2e-3)
        rung = film_tears_rung(standing, inputs, found)
        assert rung.at == pytest.approx([gust_of(standing, 1608 / suction)], rel=2e-3)
    assert (rung.name, rung.brings, rung.harm) == ("film-tears", "lost", "loss")
    # In the strip at the ends 1.2 times the outside suction, 1.2155 x 1.2 + 0.365 = 1.8236.
    strip = given(standing, **{**WEAK, END_STRIP: 1.2})
    ended = film_tears(standing, followed, strip, opened=False)
    assert ended == pytest.approx([1608 / 1.8236], rel=2e-3)
    # From a clip that leaves 0.8 of it, 1500 N/m tear as 1200 do.
    holed = {**WEAK, AT_HOLES: 0.8}
    weaker = film_tears(standing, followed, given(standing, **holed), opened=False)
    assert weaker == pytest.approx([pressure_at(1200, BAY, 1.2 * FILM) / CLOSED], rel=2e-3)
    assert pressure_at(1500, BAY, 1.2 * FILM) == pytest.approx(1608, rel=1e-3)


def test_strength_of_a_cover(made):
    """Film: 9.2 and 9.2 MPa to first yield, 17 MPa at break, x 0.1524 mm = 1402, 1402, 2591 N/m. A
    fabric goes by its break force and stands in no modulus."""
    standing, followed = made
    inputs = Inputs(standing, Given())
    film_tears(standing, followed, inputs, opened=False)
    value = inputs.draws.used["strength of the cover"]
    ends = (value.low, value.likely, value.high)
    assert ends == pytest.approx((1402.1, 1402.1, 2590.8), rel=1e-4)
    other = design_of(read_plan_text(BED + '[cover]\nmaterial = "fabric-1.5"\n')).standing
    strength = other.cover.material.strength
    assert strength.modulus is None
    bare = Inputs(other, Given(values={AT_HOLES: 1.0, END_STRIP: 1.0}))
    found = film_tears(other, follow_hoop(other), bare, opened=False)
    pull = strength.break_force.likely
    on_film = pressure_at(pull, BAY, pull / strength.break_strain.likely)
    assert found == pytest.approx([on_film / 1.285], rel=5e-3)


def test_inner_clips_let_go_once_the_edges_are_loose(made):
    """Three clips of 70 N on a bay: 210 / (0.8763 x 0.935736 x 1.8505) = 138.4 Pa."""
    standing, followed = made
    inputs = given(standing, **{CLIP: 70.0})
    found = inner_clips_open(standing, followed, inputs)
    assert found == pytest.approx([138.4], rel=1e-3)
    rung = inner_clips_rung(inputs, found)
    assert rung.at == pytest.approx([gust_of(standing, 138.4)], rel=1e-3)
    assert (rung.name, rung.brings, rung.harm) == ("inner-clips-open", "lost", "loss")
    # A cord whose ends hold 150 N each, slack by a third: 200 N more.
    cord = {CLIP: 70.0, CORD_LEFT: 2 / 3, "anchor of a lacing cord": 150.0}
    laced = inner_clips_open(replace(standing, laced=True), followed, given(standing, **cord))
    assert laced == pytest.approx([138.4 * 410 / 210], rel=1e-3)
    bare = replace(standing, cover=replace(standing.cover, clip=None))
    assert inner_clips_open(bare, followed, inputs) is None


def test_an_end_sheet_draws_from_under_its_batten(made):
    """Screw #8 (0.164 in, 1.0 in of thread, 1 1/2 in long) through a batten of 3/4 in: 3/4 in
    bites. NDS mean of tests 15700 G^2 D lb/in of thread, wet 0.7, of spruce-pine-fir G 0.42: 15700
    x 0.1764 x 0.164 x 0.75 x 0.7 = 238.4 lb = 1061 N, doubted 1.2: 1273 N. A batten of 36 in has
    two gaps of 18 in: clamp 0.3 x 1273 / 0.4572 = 835.1 N/m; film rolled once at friction 0.3: 2 x
    0.3 x 835.1 x e^(0.6 pi) = 3300 N/m, or 1300 where it tears before. Net on the sheet, four times
    as long as wide: windward 0.85 x 0.8 x 1.1 - 0.365 = 0.383; lee 0.85 x 0.2 x 1.1 + 0.365 =
    0.552."""
    standing = made[0]
    grip, net = 3300.0, 0.552
    for strength in (1300.0, 1e6):
        inputs = given(
            standing,
            **{
                "withdrawal of a screw over the mean of tests": 1.2,
                "film on wood": 0.3,
                "strength of the cover": strength,
                "stiffness of the film": 160e6,
            },
        )
        on_sheet = pressure_at(min(grip, strength), CLEAR, 0.8 * FILM)
        rung = battens_pull(standing, inputs)
        assert rung is not None
        assert rung.at == pytest.approx([gust_of(standing, on_sheet / net)], rel=3e-3)
    assert 1300 < grip < 1e6
    assert (rung.name, rung.brings, rung.harm) == ("battens-let-go", "opens", "repair")
    assert battens_pull(replace(standing, batten_screw=None), inputs) is None


def test_an_end_sheet_zips_out_of_its_clips(made):
    """Clips of 90 N 0.29478 m apart, half a turn round the pipe at friction 0.25: 90 e^(0.25 pi) /
    0.29478 = 669.6 N/m across the narrower way, 0.935736 m; net pressure as above."""
    standing = made[0]
    inputs = given(standing, **{CLIP: 90.0, "film on film": 0.25, "stiffness of the film": 160e6})
    rung = end_sheet_zips(standing, inputs)
    assert rung is not None
    on_sheet = pressure_at(669.6, SPAN, 0.8 * FILM)
    assert rung.at == pytest.approx([gust_of(standing, on_sheet / 0.552)], rel=2e-3)
    assert (rung.name, rung.brings, rung.harm) == ("end-sheet-zips", "opens", "repair")
    for change in ({"clip": None}, {"end_panel": None}, {"clip_arc": (0.1,)}):
        bare = replace(standing, cover=replace(standing.cover, **change))
        assert end_sheet_zips(bare, inputs) is None


def test_a_leg_in_its_straps(made):
    """New, the bend presses thrust T outward and moment M over straps 0.20955 m apart: T + M / s
    and M / s on the two (EI = 18.64 N m2, T = 51.73 N, M = -7.64 N m). Each strap squeezes 100 N on
    two faces: 0.3 x 0.6 x (2 x 2 x 100 + 15.3 + 36.5) = 81.3 N; one strap 0.18 x 251.7 = 45.3 N."""
    standing = made[0]
    hoop = standing.hoop
    inputs = given(
        standing,
        steel_strap_on_plastic_pipe=0.3,
        squeeze_of_a_snug_strap=100.0,
        share_left_after_relaxing=0.6,
    )
    assert leg_capacity(standing, inputs)[0] == pytest.approx([81.3], rel=2e-3)
    single = replace(standing, hoop=replace(hoop, leg=replace(hoop.leg, low_strap=None)))
    assert leg_capacity(single, inputs)[0] == pytest.approx([45.3], rel=2e-3)


def test_a_leg_with_a_pin_and_on_a_rod(made):
    """#8 root 0.131 in = 3.327 mm, two walls of 2.7686 mm, PVC 51.366 MPa, bearing 0.9: 0.9 x
    51.366 x 3.327 x 2.7686 x 2 = 851.7 N; two shears of 0.6 x 400 MPa x 8.695 mm2: 4174 N; tear
    over half of 0.24765 m: far more. A leg on a rod weighs 3.048 / 2 x 0.23959 kg = 3.581 N."""
    standing = made[0]
    pin = standing.batten_screw
    doubt = {"bearing_of_a_pin_over_the_pipe's_strength": 0.9}
    bare = leg_capacity(standing, given(standing))[0]
    pinned = replace(standing, hold_down=replace(standing.hold_down, pin=pin))
    found = leg_capacity(pinned, given(pinned, **doubt))[0]
    assert found - bare == pytest.approx([851.7], rel=1e-3)
    rod = replace(standing, hold_down=replace(standing.hold_down, leg="sleeve"))
    assert leg_capacity(rod, given(rod))[0] == pytest.approx([3.581], rel=1e-3)
    both = replace(standing, hold_down=replace(standing.hold_down, leg="sleeve", pin=pin))
    assert leg_capacity(both, given(both, **doubt))[0] == pytest.approx([855.3], rel=1e-3)
    # Near the pipe's end two strips tear: 0.9 x 0.5 x 51.366 x 2 x 2 mm x 2.7686 x 2 = 512 N.
    hoop = replace(standing.hoop, leg=replace(standing.hoop.leg, foot=0.24765 - 0.004))
    near = replace(both, hoop=hoop)
    weight = 9.80665 * near.hoop.cut_length / 2 * near.hoop.pipe.mass_per_length
    assert leg_capacity(near, given(near, **doubt))[0] == pytest.approx([512.0 + weight], rel=1e-3)


def test_a_pull_test_in_place_of_the_default_grip(made):
    """Two straps tried where the leg has two, 200 and 300 N; conjugate by hand on the default's
    middle and high, m and h: spread ln(h^2 / m^2) / (2 x 1.645); a second of n / 0.25^2."""
    standing = made[0]
    test = PullTest((200.0, 300.0), straps=1)
    held = replace(standing, hold_down=replace(standing.hold_down, pull_test=test))
    draws = Draws()
    holds = leg_capacity(held, Inputs(held, draws))[0]
    inputs = Inputs(standing, Draws())
    fresh = leg_capacity(standing, inputs)[0] / inputs.friction("share left after relaxing")
    middle, high = np.quantile(fresh, (0.5, 0.95))
    spread = np.log(high / middle) / HIGH_SCORE
    known, given_by = 1 / spread**2, 2 / 0.25**2
    mean = (known * np.log(middle) + given_by * np.log([400, 600]).mean()) / (known + given_by)
    aged = inputs.friction("share left after relaxing")
    assert np.median(holds / aged) == pytest.approx(np.exp(mean), rel=2e-3)
    old = replace(held, hold_down=replace(held.hold_down, pull_test=replace(test, aged=True)))
    thought = leg_capacity(standing, inputs)[0]
    middle, high = np.quantile(thought, (0.5, 0.95))
    known = (HIGH_SCORE / np.log(high / middle)) ** 2
    mean = (known * np.log(middle) + given_by * np.log([400, 600]).mean()) / (known + given_by)
    found = leg_capacity(old, Inputs(old, Draws()))[0]
    assert np.median(found) == pytest.approx(np.exp(mean), rel=2e-3)


def test_clips_of_the_end_hoops(made):
    """Film that pulls 3 p^(2/3) r^(1/4) N/m at a pipe r times as stiff, the pressure on it p; two
    hoops' clips of 60 N 0.29478 m apart bear 407.1 N/m. Film 1.2 and pipe 0.9 times nominal: 407.1
    / 1.2 = 339.2 = 3 p^(2/3) (0.75)^(1/4), p = (121.5)^1.5 = 1340, times 1.2 = 1608 Pa."""
    standing, followed = made
    pressure = np.geomspace(1.0, 1e5, 4000)
    none = 0.0 * pressure
    cases = []
    for name, outside, gain in (("a", 1.105, 3.0), ("b", 0.765, 3.1)):
        drawn = tuple(
            Drawn(pressure, gain * pressure ** (2 / 3) * r**0.25, *[none] * 7)
            for r in RATIOS_IN_WIND
        )
        cases.append(
            DrawnCase(
                name,
                outside,
                "closed with loose skirts",
                RATIOS_IN_WIND,
                (drawn,) * (len(SLACKS) + 1),
            )
        )
    ends = DrawnEnds(tuple(cases), cases[0])
    inputs = given(
        standing,
        **{
            CLIP: 60.0,
            "stiffness of the film": 240e6,
            "stiffness of the pipe": standing.hoop.pipe.stuff.flexural_modulus.likely,
            "warmth of the pipe in a gust": 0.9,
        },
    )
    a = 1.2 * (407.1 / 1.2 / 3.0 / 0.75**0.25) ** 1.5
    b = 1.2 * (407.1 / 1.2 / 3.1 / 0.75**0.25) ** 1.5
    least = min(a / (1.105 * 1.1 + 0.365), b / (0.765 * 1.1 + 0.365))
    at = clips_open(standing, followed, inputs, ends)
    closed, opened = at(False), at(True)
    assert closed == pytest.approx([least], rel=2e-3)
    assert opened == pytest.approx([least * CLOSED / FILLED], rel=2e-3)
    # In the strip at the ends 1.2 times the outside suction.
    strip = replace(
        inputs, draws=replace(inputs.draws, values=inputs.draws.values | {END_STRIP: 1.2})
    )
    ended = clips_open(standing, followed, strip, ends)(False)
    assert ended == pytest.approx([least * CLOSED / 1.8236], rel=2e-3)
    rung = clips_rung(inputs, closed)
    assert rung.at == pytest.approx([gust_of(standing, least)], rel=2e-3)
    assert (rung.name, rung.brings, rung.harm) == ("clips-open", "lost", "loss")
