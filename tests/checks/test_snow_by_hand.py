"""Snow that tears the film or lays hoops along the bed, and hail, by hand on given inputs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import Given
from scipy.optimize import brentq

from hoopwright.beam.out_of_plane import falls_along
from hoopwright.checks.end_sheet import SLACK, TOO_FAR, sheet_area, sheet_holds
from hoopwright.checks.film_in_snow import film_tears_under, tearing_load
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.hoop_in_snow import falls_aside, falls_aside_rung, sheets_hold
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rain_and_ice import stone_through
from hoopwright.checks.read_off import Reader
from hoopwright.design import design_of
from hoopwright.holding.choices import CLIP
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
BAY, CLEAR = 0.8763, 0.972527
HOLDS = "share of the film's shear that keeps hoops upright"


@pytest.fixture(scope="module")
def made():
    standing = design_of(read_plan_text(BED)).standing
    return standing, follow_hoop(standing)


def test_film_tears_under_snow(made):
    """1500 N/m of which half is left; film 1.2 x 0.25 of 30 480 N/m, 9144 N/m: stretch 0.08202;
    half angle h of h / sin h = 1.08202; 750 x 2 sin h / 0.8763 Pa, of wet snow 400 kg/m3."""
    standing = made[0]
    given = {
        "strength of the cover": 1500.0,
        "film strength left under load that stays": 0.5,
        "film stiffness left under load that stays": 0.25,
        "stiffness of the film": 240e6,
        "weight of wet snow": 400.0,
    }
    inputs = Inputs(standing, Given(values=given))
    half = brentq(lambda h: h / np.sin(h) - 1 - 750 / 9144, 0.01, 3.0)
    by_hand = 750 * 2 * np.sin(half) / BAY
    load = tearing_load(standing, inputs)
    assert load == pytest.approx([by_hand], rel=2e-3)
    rung = film_tears_under(standing, inputs, "wet", load)
    assert rung.at == pytest.approx([by_hand / 9.80665 / 400], rel=2e-3)
    assert (rung.name, rung.harm, rung.brings) == ("film-tears-wet", "repair", "")
    fabric = design_of(read_plan_text(BED + '[cover]\nmaterial = "fabric-1.5"\n')).standing
    inputs = Inputs(fabric, Given(values=given))
    strength = fabric.cover.material.strength
    stretch = 1500 / (strength.break_force.likely / strength.break_strain.likely)
    half = brentq(lambda h: h / np.sin(h) - 1 - stretch, 0.01, 3.0)
    by_hand = 1500 * 2 * np.sin(half) / fabric.bay
    assert tearing_load(fabric, inputs) == pytest.approx([by_hand], rel=5e-3)


@pytest.mark.parametrize("pinned", [False, True])
@pytest.mark.parametrize("hold", [25.0, 60.0, 110.0])
def test_hoops_fall_along_the_bed(made, pinned, hold):
    """End sheets that have leaned by a quarter of their height are stretched by sqrt(1.0625) - 1 -
    0.03 = 0.000776: they hold 0.856 N/m (see below). The film's shear at a hoop, two panels of 30
    480 x 1.2 / 2.9 x 0.8763 / 0.972527 N/m, of which the share is chosen so that it holds the crown
    by `hold` x EI / L^3 of a pipe 0.945 as stiff. What the rod out of its plane (against finite
    elements: tests/reference) then bears, 0.945 and the 0.85 of a crooked row of it. Feet: 3 EI
    over the straps' 0.20955 m; spin free or pinned."""
    standing = made[0]
    if pinned:
        held = replace(standing.hold_down, pin=standing.batten_screw)
        standing = replace(standing, hold_down=held)
    pipe, curve = standing.hoop.pipe, standing.hoop.curve
    stiffness = pipe.bending_stiffness
    unit = stiffness / curve.length**3
    panels = 2 * 30480 * 1.2 / 2.9 * BAY / CLEAR
    given = {
        "stiffness of the pipe": 1.05 * pipe.stuff.flexural_modulus.likely,
        "stiffness left under snow": 0.9,
        "stiffness of the film": 240e6,
        "crooked hoops over straight ones along the bed": 0.85,
        HOLDS: (hold * unit * 0.945 - 0.856) / panels,
        TOO_FAR: 0.25,
        SLACK: 0.03,
        "film stiffness left under load that stays": 0.25,
        "weight of wet snow": 400.0,
    }
    inputs = Inputs(standing, Given(values=given))
    alone = falls_along(
        made[1].path,
        [14],
        foot_turn=3 * stiffness / 0.20955,
        foot_twist=(1e4 if pinned else 0.01) * stiffness / curve.length,
        torsion_share=1 / 1.38,
        crown_hold=hold * unit,
    )
    by_hand = 0.945 * 0.85 * float(alone[0])
    load = falls_aside(standing, Reader(made[1], inputs))
    assert load == pytest.approx([by_hand], rel=2e-3)
    rung = falls_aside_rung(standing, inputs, "wet", load)
    assert rung.at == pytest.approx([by_hand / 9.80665 / 400], rel=2e-3)
    assert (rung.name, rung.harm) == ("hoops-fall-along-wet", "loss")


def test_what_end_sheets_hold_a_crown_with(made):
    """Leaned by 0.4 of its height a sheet is sqrt(1.16) - 1.015 = 0.06203 longer than its slack;
    crept film 1.2 x 0.25 x 30 480 = 9144 N/m; area over the boards 0.8229 m2 (0.8586 over the upper
    straps less 0.0381 x 0.9357); 9144 x 0.8229 x 0.06203 / 1.07703 / 0.972527^2 on seven hoops:
    65.4 N/m, twice with a ridge. Clips of 9 N let go at 66.96 N/m, a strain of 0.007323: 7.73
    N/m."""
    standing = made[0]
    given = {
        "stiffness of the film": 240e6, "film stiffness left under load that stays": 0.25,
        "strength of the cover": 5000.0, TOO_FAR: 0.4, SLACK: 0.015, "film on film": 0.25,
    }  # fmt: skip
    assert sheet_area(standing) == pytest.approx(0.8229, rel=1e-3)
    for clip, holds in ((90.0, 65.4), (9.0, 7.73)):
        inputs = Inputs(standing, Given(values=given | {CLIP: clip}))
        assert sheet_holds(standing, inputs) == pytest.approx([7.44 * clip], rel=1e-3)
        assert sheets_hold(standing, inputs) == pytest.approx([holds], rel=2e-3)
        ridged = replace(standing, ridge_strut=10.0)
        assert sheets_hold(ridged, inputs) == pytest.approx([2 * holds], rel=2e-3)
    wrapped = replace(standing, cover=replace(standing.cover, end_panel=None))
    single = replace(wrapped, hoops=tuple(h for h in standing.hoops if h.role != "panel"))
    # The body sheet's own clips on each hoop; the batten and the film hold more.
    inputs = Inputs(standing, Given(values=given | {CLIP: 90.0}))
    assert sheet_holds(wrapped, inputs) == pytest.approx([610.6], rel=1e-3)
    assert sheet_holds(single, inputs) == pytest.approx([305.3], rel=1e-3)
    weak = Inputs(standing, Given(values=given | {"strength of the cover": 200.0}))
    assert sheet_holds(standing, weak) == pytest.approx([200.0])


def test_a_ridge_tied_back_keeps_them(made):
    reader = Reader(made[1], Inputs(made[0], Given()))
    for braced, strut, stands in ((True, 10.0, True), (True, 0.0, False), (False, 10.0, False)):
        standing = replace(made[0], braced=braced, ridge_strut=strut)
        assert bool(np.isinf(falls_aside(standing, reader)[0])) is stands


@pytest.mark.parametrize(("aged", "share"), [(False, 1.0), (True, 0.5)])
def test_a_stone_through_the_film(made, aged, share):
    """A dart of 0.255 kg from 0.66 m, 1.6504 J new, half of it at the end of its life; as drawn,
    1.2 of that. At 2042 m air of 0.9563 kg/m3: energy of a stone pi / 12 x 915 d^3 x 4 g 915 d / (3
    x 0.5 x 0.9563), so d^4 = E / 5.994e6. A mesh stops what is larger than its opening, say 30
    mm."""
    site = replace(made[0].site, elevation=2042.0)
    standing = replace(made[0], site=site)
    energy = 1.6504 * share
    given = Given(values={"energy that the cover stands": 1.2 * energy})
    rung = stone_through(standing, Inputs(standing, given), aged)
    assert rung.at == pytest.approx([(1.2 * energy / 5.994e6) ** 0.25], rel=2e-3)
    drawn = given.used["energy that the cover stands"]
    ends = (drawn.low, drawn.likely, drawn.high)
    assert ends == pytest.approx((0.5 * energy, energy, 1.5 * energy), rel=1e-3)
    assert rung.name == ("hail-through-old" if aged else "hail-through-new")
    mesh = replace(standing.cover.material, opening=0.03)
    netted = replace(standing, cover=replace(standing.cover, material=mesh))
    assert stone_through(netted, Inputs(netted, given), aged).at == pytest.approx([0.03])
