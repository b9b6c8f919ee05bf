"""Rungs of the end hoops on a made-up response to the film's pull, and the pull's own sums.

Pipe 0.9 and film 1.2 times as stiff as nominal, r = 0.75. A value of a p / sqrt(r) at a pressure p
on the film meets c at 1.2 c sqrt(0.75) / a where it is a lean or a strain; a force a p meets c at
c / a whatever the film. Suction over the film: across 1.105 x 1.1 + 0.365 = 1.5805, along 0.765 x
1.1 + 0.365 = 1.2065.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import SOUND, Given, gust_of

from hoopwright.beam.out_of_plane import CROWN, gauss_shares, push_aside
from hoopwright.checks.drawn_ends import (
    RATIOS_IN_WIND,
    RATIOS_UNDER_SNOW,
    SLACKS,
    DrawnCase,
    DrawnEnds,
    drawn_ends,
)
from hoopwright.checks.end_hoop import (
    Drawn,
    EndHoops,
    EndSheets,
    end_strain,
    foot_turn,
    strap_force,
)
from hoopwright.checks.end_hoop_rungs import (
    end_hoops_in_snow,
    end_hoops_lean,
    end_hoops_pulled_over,
)
from hoopwright.checks.film import film_stiffness
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.hoop_in_wind import GUST_DAY
from hoopwright.checks.inputs import INSIDE, PRESSURE, Inputs
from hoopwright.cover.membrane import elastic_span
from hoopwright.design import design_of
from hoopwright.holding.choices import CLIP
from hoopwright.odds.draws import HIGH_SCORE
from hoopwright.plan import read_plan_text

ACROSS, ALONG = 1.5805, 1.2065
CLEAR, HALF, SPACING = 0.972527, 0.010668, 0.20955
PRESSURES = np.linspace(0.0, 20000.0, 20001)
STRAIN = "strain that 1/2 in PVC schedule 40 bears at {} °C"


@pytest.fixture(scope="module")
def made():
    return design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'))


def drawn_at(ratio: float, lean: float, bending: float, force: float, sheet: float = 0) -> Drawn:
    """Lean, bending and forces rising by these for each pascal; twist half of the bending; the feet
    take a moment [N m] of a tenth of the force."""
    p, softer = PRESSURES, ratio**-0.5
    bent = np.repeat((p * bending * softer)[:, None], gauss_shares()[0].size, axis=1)
    moved = lean * p * softer
    return Drawn(p, 0.0 * p, moved, bent, bent / 2, 0.1 * force * p, force * p, 0.0 * p, sheet * p)


def ends_of(lean: float, bending: float, force: float, sheet: float = 0.0) -> DrawnEnds:
    """The same in both closed cases and under snow; wind along draws half as hard. Without the end
    sheet that stays them the hoops answer twice as much, or four times as much to force."""

    def case(name: str, outside: float, state: str, ratios: tuple[float, ...], gain: float):
        a, b, c = lean * gain, bending * gain, force * gain
        stayed = tuple(drawn_at(r, a, b, c, sheet * gain) for r in ratios)
        alone = tuple(drawn_at(r, 2 * a, 2 * b, 4 * c) for r in ratios)
        return DrawnCase(name, outside, state, ratios, (stayed,) * len(SLACKS) + (alone,))

    closed = "closed with loose skirts"
    return DrawnEnds(
        (
            case("across", 1.105, closed, RATIOS_IN_WIND, 1.0),
            case("along", 0.765, closed, RATIOS_IN_WIND, 0.5),
        ),
        case("snow", 1.0, "", RATIOS_UNDER_SNOW, 1.0),
    )


def inputs_of(standing, **more: float) -> Inputs:
    nominal = standing.hoop.pipe.stuff.flexural_modulus.likely
    values = {
        PRESSURE: 1.1,
        "stiffness of the pipe": nominal,
        "warmth of the pipe in a gust": 0.9,
        "stiffness left under snow": 0.9,
        "stiffness of the film": 240e6,
        "film stiffness left under load that stays": 0.25,
        "lean at which film hangs slack": 0.12,
        "lean at which film tears loose": 0.4,
        "yield of a screw sideways over the formula": 1.2,
        "pinned or aged pipe over new in strain": 0.75,
        GUST_DAY: 1.0,
        SOUND: 1.0,
        STRAIN.format(23): 0.032,
        STRAIN.format(0): 0.018,
        "weight of wet snow": 400.0,
    }
    return Inputs(standing, Given(values=values | more, scores={INSIDE: HIGH_SCORE / 2}))


def test_end_hoops_are_seen_to_lean(made):
    """0.12 of 0.972527 m at 0.001 m/Pa: 116.70 x 1.2 x sqrt(0.75) = 121.28 Pa on the film; over
    1.5805 across, 76.7 Pa of wind; along half as hard, 242.6 / 1.2065."""
    standing = made.standing
    rung = end_hoops_lean(standing, inputs_of(standing), ends_of(1e-3, 1e-6, 1e-6))
    assert rung.at == pytest.approx([gust_of(standing, 121.28 / ACROSS)], rel=1e-3)
    assert (rung.name, rung.harm, rung.brings) == ("end-hoops-lean", "nuisance", "")
    assert rung.case == "across"
    assert rung.values["seen"] == pytest.approx(0.0972527, rel=1e-4)
    # With less inside than outside the least suction counts: 0.05.
    still = Inputs(standing, Given(values={PRESSURE: 0.5}, scores={INSIDE: -HIGH_SCORE}))
    ends = ends_of(1e-3, 1e-6, 1e-6)
    low = end_hoops_lean(standing, still, replace(ends, wind=ends.wind[1:]))
    assert low.at == pytest.approx([gust_of(standing, 194.505 / 0.05)], rel=1e-3)


def test_the_strain_of_an_end_hoop(made):
    """Crown bent 2.42435 1/m, 0.45 of it left: 1.09096; 0.8 across, twist 0.4: sqrt(1.19019 + 0.64
    + 0.16 / 3) = 1.37241 1/m x 0.010668 = 0.014641. A strap: 10 N + 1 N m / 0.20955 m = 14.77 N."""
    standing = made.standing
    drawn = drawn_at(1.0, 0.0, 1e-3, 0.0)
    assert end_strain(standing, drawn)[800] == pytest.approx(0.014641, rel=2e-3)
    drawn = drawn_at(1.0, 0.0, 0.0, 1e-2)
    assert strap_force(standing, drawn)[1000] == pytest.approx(14.77, rel=1e-3)
    hoop = replace(standing.hoop, leg=replace(standing.hoop.leg, low_strap=None))
    one = replace(standing, hoop=hoop)
    assert strap_force(one, drawn)[1000] == pytest.approx(10.0)


def by_bending(limit: float, bending: float) -> float:
    """Pressure at r = 1 where sqrt(1.19019 + (b p)^2 (1 + 1 / 12)) x half meets a strain."""
    return float(np.sqrt(((limit / HALF) ** 2 - 1.19019) / (13 / 12)) / bending)


@pytest.mark.parametrize(
    ("lean", "bending", "force", "pressure", "harm"),
    [
        (1e-3, 1e-6, 1e-6, 1.2 * 0.75**0.5 * 389.01, "repair"),
        (1e-6, 1e-2, 1e-6, 1.2 * 0.75**0.5 * by_bending(0.024, 1e-2), "loss"),
        (1e-6, 1e-6, 5.0, 1.2 * 1333 / (5.0 * (1 + 0.1 / SPACING)), "loss"),
    ],
)
def test_end_hoops_are_pulled_over(made, lean, bending, force, pressure, harm):
    """The first of three. Lean of 0.4 x 0.972527 = 0.38901 m. Strain 0.032 x 0.75. Straps: two #10
    screws aside, 1333 N (mode IIIs, worked with the strap screws), 1.2 of it."""
    standing = made.standing
    ends = ends_of(lean, bending, force)
    rung = end_hoops_pulled_over(standing, inputs_of(standing), ends)
    assert rung.at == pytest.approx([gust_of(standing, pressure / ACROSS)], rel=5e-3)
    assert (rung.name, rung.harm, rung.brings) == ("end-hoops-pulled-over", harm, "lost")
    assert rung.values["far"] == pytest.approx(0.972527 / 3, rel=1e-4)
    assert (rung.values["low"], rung.values["high"]) == (pytest.approx(0.027), pytest.approx(0.04))


@pytest.mark.parametrize(
    ("lean", "bending", "force", "load", "harm"),
    [
        (1e-3, 1e-6, 1e-6, 0.3 * 3.0**0.5 * 389.01, "nuisance"),
        (1e-6, 1e-2, 1e-6, 0.3 * 3.0**0.5 * by_bending(0.018, 1e-2), "loss"),
        (1e-6, 1e-6, 5.0, 1.2 * 1333 * 1.15 / 1.6 / (5.0 * (1 + 0.1 / SPACING)), "loss"),
    ],
)
def test_end_hoops_under_snow(made, lean, bending, force, load, harm):
    """Film crept to a quarter, 0.3 of nominal, pipe 0.9: r = 3, so 0.3 c sqrt(3) / a. Strain of the
    cold, 0.018, unworn; screws held for snow's duration, 1.15 / 1.6. Wet snow of 400 kg/m3."""
    standing = made.standing
    (rung,) = end_hoops_in_snow(
        standing, inputs_of(standing), ends_of(lean, bending, force), ["wet"]
    )
    assert rung.load == pytest.approx([load], rel=5e-3)
    assert rung.at == pytest.approx([load / 9.80665 / 400.0], rel=5e-3)
    assert (rung.name, rung.harm, rung.brings) == ("end-hoops-pulled-over-wet", harm, "")
    assert rung.values["high"] == pytest.approx(0.03)


@pytest.mark.parametrize(("pulls", "wind", "snow"), [(2.5, 267.84, 202.14), (5.0, 202.14, 133.92)])
def test_end_hoops_whose_sheet_lets_go(made, pulls, wind, snow):
    """Lean as above: 404.3 Pa with the sheet, half alone (202.1 and 101.1 of snow). The sheet zips
    out of its clips of 90 N at 90 e^(0.25 pi) / 0.29478 = 669.6 N/m, at 267.8 Pa where a pascal
    pulls 2.5 N/m (133.9 at 5): then it goes, or stands alone to where that goes."""
    standing = made.standing
    more = {CLIP: 90.0, "film on film": 0.25, "strength of the cover": 5000.0}
    inputs, ends = inputs_of(standing, **more), ends_of(1e-3, 1e-6, 1e-6, pulls)
    rung = end_hoops_pulled_over(standing, inputs, ends)
    assert rung.at == pytest.approx([gust_of(standing, wind / ACROSS)], rel=2e-3)
    (rung,) = end_hoops_in_snow(standing, inputs, ends, ["wet"])
    assert rung.load == pytest.approx([snow], rel=2e-3)


def test_what_a_gust_asks_of_the_ends(made):
    """100 Pa on the bed, 158.05 on the film, 131.71 over the film's stiffness: 0.001 x 131.71 at r
    = 0.75 is 0.15209 m; along 100.54 Pa at half the gain, 0.0580. A force: 0.5 x 158.05 N."""
    standing = made.standing
    inputs, ends = inputs_of(standing), ends_of(1e-3, 1e-6, 0.5)
    at = np.array([100.0])
    found = ends.demand(lambda drawn: drawn.lean, at, inputs, force=False)
    assert found == pytest.approx([0.15209], rel=1e-3)
    found = ends.demand(lambda drawn: drawn.foot_force, at, inputs, force=True)
    assert found == pytest.approx([79.03], rel=1e-3)


def test_the_legs_bear_what_the_film_and_the_end_sheet_pull(made):
    """Along the bed the four legs of a framed pair bear the pull over the arc and what the wind
    puts on the end sheet's edge. Across, the windward quarter is pressed and pulls nothing, the
    crown 1.285 all, the lee quarter (0.605 / 1.285)^(2/3) = 0.6052: 0.6513 of the arc (within 3 %:
    Gauss points do not see the edges of the quarters). Along, 0.945 all over, and 0.68 - 0.18 = 0.5
    on the sheet's area, spread over arc and foot."""
    standing = made.standing
    curve = standing.hoop.curve
    area = float(np.trapezoid(curve.y, curve.x)) - 0.0381 * 0.935736  # over the boards
    across, along = drawn_ends(standing, follow_hoop(standing)).wind
    assert (across.name, along.name) == ("wind across, closed", "wind along, closed")
    assert (across.outside, along.outside) == (pytest.approx(1.105), pytest.approx(0.765))
    one = across.drawn[-1][2]
    by_pull = one.pull * 0.6513 * curve.length / 4
    assert one.foot_force[10:30] == pytest.approx(by_pull[10:30], rel=0.03)
    for place, ratio in enumerate(RATIOS_IN_WIND):
        one = along.drawn[-1][place]
        sheet = 0.5 * area / (curve.length + curve.span) / 0.945 * one.pressure
        by_hand = (one.pull + sheet) * curve.length / 4
        assert one.foot_force[10:30] == pytest.approx(by_hand[10:30], rel=0.01), ratio


def test_snow_draws_as_far_as_the_roof_is_level(made):
    """Snow on plan presses the film with its cosine squared, none from 70 degrees (Cs from 45); the
    pull goes with two thirds of that power. Summed on a fine arc; no end sheet bears it."""
    standing = made.standing
    curve = standing.hoop.curve
    ends = drawn_ends(standing, follow_hoop(standing))
    arc = np.linspace(0, curve.length, 20001)
    slope = np.degrees(np.abs(np.interp(arc, curve.arc, curve.angle)))
    field = np.clip((70 - slope) / 25, 0, 1) * np.maximum(np.cos(np.radians(slope)), 0)
    share = float(np.trapezoid((field / field.max()) ** (2 / 3), arc))
    one = ends.snow.drawn[-1][1]
    assert one.foot_force[10:30] == pytest.approx(one.pull[10:30] * share / 4, rel=0.02)


@pytest.mark.parametrize(
    ("ridge", "share", "sheets"),
    [
        ("", 0.8, EndSheets()),
        ("", 0.8, EndSheets(0.05, 0.03)),
        ('[hoops]\nridge = "pipe"\n', 0.8, EndSheets(0.05, 0.03)),
        ('[hoops]\nridge = "pipe"\n[cover]\nstyle = "wrapped"\n', 1.3, EndSheets(0.02, 0.04)),
    ],
)
def test_film_ends_and_ridge_in_balance(ridge, share, sheets):
    """Each state made again from the hoop's answers to one newton of each pull (a for the film, e
    even, c at the crown), 1 / share of them. Inward the ends come by T a + w p e - R c and T a - l
    p e - R c; the film over all bays is shorter by both means and must pull T there. The ridge
    bears R = (T a + (w - l) p e / 2) / c at the crown till it bows at its Euler load, share of it;
    all hoops on it share what pushes both ends alike, (w + l) p e / 2 / c, of which the end keeps
    its part."""
    text = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n' + ridge
    standing = design_of(read_plan_text(text)).standing
    shape = np.linspace(0.5, 1.0, gauss_shares()[0].size)
    ends = EndHoops(standing, shape[None])
    film, aside = film_stiffness(standing), ends.aside
    (drawn,) = ends.drawn(0, film, (share,), sheets)
    (a, e, c), crown = aside.lean / share, CROWN
    weight = aside.weight * shape / (aside.weight @ shape)
    bears = share * np.pi**2 * standing.ridge_strut / standing.bay**2
    hoops = len(standing.hoops)
    others = 1 - 2 * standing.hoops_an_end / hoops if ridge else 0.0
    seen = set()
    for at in range(5, min(60, drawn.pressure.size), 6):
        p, pull = drawn.pressure[at], drawn.pull[at]
        odd = (sheets.windward - sheets.lee) * p
        whole = (pull * a[crown] + odd * e[crown] / 2) / c[crown]
        push = min(whole, bears)
        seen.add(bool(whole > bears))
        assert drawn.strut[at] == pytest.approx(push, rel=1e-6, abs=1e-9)
        closer = 2 * pull * (weight @ a) + odd * (weight @ e) - 2 * push * (weight @ c)
        left = standing.bay - closer / standing.bays
        made = elastic_span(p, left, film, slack=standing.bay / left - 1)
        assert float(made.pull) == pytest.approx(pull, rel=1e-5)
        alike = (sheets.windward + sheets.lee) / 2 * p * e[crown] / c[crown] * others
        loads = np.array([pull, sheets.windward * p, -push - alike])
        assert drawn.lean[at] == pytest.approx(np.abs(loads @ aside.lean).max() / share, rel=1e-6)
        moment = np.abs(loads @ aside.foot_moment).max()
        assert drawn.foot_moment[at] == pytest.approx(moment, rel=1e-6)
        length = standing.hoop.curve.length
        force = abs(loads @ [length * (aside.weight @ shape), length, 1.0])
        assert drawn.foot_force[at] == pytest.approx(force / 2 / standing.hoops_an_end, rel=1e-6)
        assert drawn.bending[at] == pytest.approx(loads @ aside.bending / share, rel=1e-6)
        assert drawn.twist[at] == pytest.approx(loads @ aside.twist / share, rel=1e-6)
    assert seen == ({False, True} if ridge else {True})


@pytest.mark.parametrize("pinned", [False, True])
def test_the_pipes_torsion_and_how_its_feet_spin(made, pinned):
    """GJ over EI is 1 / (1 + 0.38) for PVC; feet tilt against 3 x 18.639 / 0.20955 N m and spin
    freely unless a screw pins them; 0.45 of the bend is left; two hoops share each load."""
    standing = made.standing
    pin = standing.batten_screw if pinned else None
    standing = replace(standing, hold_down=replace(standing.hold_down, pin=pin))
    shape = np.ones((1, gauss_shares()[0].size))
    found = EndHoops(standing, shape).aside
    alone = push_aside(
        standing.hoop.curve,
        18.639,
        np.vstack([shape, shape, 0 * shape]) / 2,
        np.array([0.0, 0.0, 0.5]),
        foot_turn=3 * 18.639 / 0.20955,
        foot_twist=1e4 * 18.639 / 2.5527 if pinned else 0.0,
        torsion_share=1 / 1.38,
        bend_left=0.45,
    )
    assert found.lean == pytest.approx(alone.lean, rel=1e-3, abs=1e-9)
    assert found.foot_moment == pytest.approx(alone.foot_moment, rel=1e-3, abs=1e-9)
    assert found.twist == pytest.approx(alone.twist, rel=2e-3, abs=1e-3 * np.abs(alone.twist).max())
    # A pin keeps the foot from spinning: as much torque there as it takes; else none.
    torque = np.abs(found.foot_torque).max()
    assert torque == pytest.approx(np.abs(alone.foot_torque).max(), rel=1e-3, abs=1e-9)
    assert bool(torque > 1e-3) is pinned


def test_what_holds_a_leg_against_tilting(made):
    """On a rod, 0.3048 m from its tip to the ground: 3 x 18.639 / 0.3048; two straps 0.20955 m
    apart; 4 N m/rad in one."""
    standing = made.standing
    rod = design_of(
        read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[holding]\nlegs = "sleeve"\n')
    ).standing
    assert foot_turn(rod) == pytest.approx(3 * 18.639 / 0.3048, rel=1e-3)
    assert foot_turn(standing) == pytest.approx(3 * 18.639 / 0.20955, rel=1e-3)
    one = replace(standing.hoop, leg=replace(standing.hoop.leg, low_strap=None))
    assert foot_turn(replace(standing, hoop=one)) == 4.0
