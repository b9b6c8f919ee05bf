"""Hoops that wind along the bed leans together, and screws in boards of any age, by hand.

The bed: 12 ft x 3 ft, seven hoops of half-inch PVC, 2.5527 m long over the straps and 0.935736 m
wide; boards of a perishable wood.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import SOUND, Given, gust_of

from hoopwright.answers.strength_words import gust_words, strength_words
from hoopwright.beam.out_of_plane import falls_along
from hoopwright.checks.end_hoop import foot_turn
from hoopwright.checks.end_sheet import TOO_FAR
from hoopwright.checks.hoop_in_snow import SPIN_FREE, crown_held
from hoopwright.checks.hoop_in_wind import OUTWARD, SIDEWAYS, sound_wood, straps_draw
from hoopwright.checks.hoops_along import DRAG, given_way, leans_along, leans_along_rung
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.ladder import AGES, SCREWED, _Edges, ladder
from hoopwright.checks.ladder import _wind as wind_rungs
from hoopwright.checks.read_off import Reader
from hoopwright.design import design_of
from hoopwright.odds.quantiles import weak_to_strong
from hoopwright.plan import read_plan_text
from hoopwright.units import US

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@pytest.fixture(scope="module")
def made():
    design = design_of(read_plan_text(BED))
    return design.standing, design.ladder


def test_all_hoops_lean_together(made):
    """End walls 0.85 (0.8 + 0.2) on the part of an end that its hoop bears, 2.5527 / (2.5527 +
    0.9357); drag 0.02 over 2.5527 x 3.6576 m. Seven hoops lean a third of the crown's height, each
    against its own give and what holds its crown."""
    standing, _ = made
    inputs = Inputs(standing, Given(values={TOO_FAR: 1 / 3, DRAG: 0.02}))
    hoop, curve = standing.hoop, standing.hoop.curve
    end = np.trapezoid(curve.y + hoop.hold_height - hoop.leg.board_top, curve.x)
    area = 0.85 * end * 2.5527 / (2.5527 + 0.935736) + 0.02 * 2.5527 * 3.6576
    spread, crown = given_way(standing)
    lean = hoop.crown_over_board / 3
    # Seven pushes alike lean each hoop so far, of which its crown's hold takes its part back.
    held = float(crown_held(standing, inputs)[0])
    pushes = lean * (1 + held * crown) / spread * 2.5527
    by_hand = 7 * pushes / area
    assert leans_along(standing, inputs) == pytest.approx([by_hand], rel=2e-3)
    rung = leans_along_rung(standing, inputs)
    assert rung.at == pytest.approx([gust_of(standing, by_hand)], rel=2e-3)
    assert (rung.name, rung.brings, rung.harm) == ("hoops-lean-along", "lost", "repair")
    braced = replace(standing, braced=True, ridge_strut=5.0)
    assert np.isinf(leans_along(braced, inputs)).all()


def test_no_wind_makes_an_upright_hoop_fall_along_the_bed(made):
    """With nothing at the crown even: up to 150 mph suction stretches it, as finite elements in
    space have it (tests/reference/test_falls_along_opensees.py); snow makes it fall."""
    standing, found = made
    pipe, curve = standing.hoop.pipe, standing.hoop.curve
    held = {
        "foot_turn": foot_turn(standing),
        "foot_twist": SPIN_FREE * pipe.bending_stiffness / curve.length,
        "torsion_share": 1 / (1 + pipe.stuff.poisson_ratio.likely),
    }
    rows = [*found.followed.wind_rows(opened=False), *found.followed.wind_rows(opened=True)]
    assert np.isnan(falls_along(found.followed.path, rows, **held)).all()
    assert np.isfinite(falls_along(found.followed.path, found.followed.snow_rows[:1], **held)).all()


def test_a_longer_bed_has_more_hoops_and_more_drag(made):
    """Drag grows with the bed as its hoops do, the ends' push stays: a longer bed stands more."""
    standing, _ = made
    inputs = Inputs(standing)
    twice = replace(
        standing,
        bed=replace(standing.bed, outer_length=2 * standing.bed.outer_length),
        hoops=2 * standing.hoops,
    )
    assert (leans_along(twice, Inputs(twice)) > 0.9 * leans_along(standing, inputs)).all()


@pytest.mark.parametrize(("years", "left"), [(0.0, 1.0), (5.0, 0.7), (10.0, 0.49), (2.5, 0.83666)])
def test_the_hold_of_a_board_by_its_years(made, years, left):
    """Seven tenths left after five years: half of that again goes by ten, 0.7^2; all when new."""
    standing, found = made
    given = Given(values={SOUND: 0.7, OUTWARD: 1.0, SIDEWAYS: 1.0})
    inputs = Inputs(standing, given, years)
    assert sound_wood(inputs) == pytest.approx([left], rel=1e-4)
    # Strap screws draw out at the pressure that sound wood of so much less hold would bear.
    met = straps_draw(standing, Reader(found.followed, inputs), opened=True)
    same = Given(values={SOUND: 1.0, OUTWARD: left, SIDEWAYS: left})
    sound = straps_draw(standing, Reader(found.followed, Inputs(standing, same)), opened=True)
    assert met is not None
    assert sound is not None
    assert met.pressure == pytest.approx(sound.pressure, rel=1e-4)


def test_rot_is_told_where_it_changes_the_headline(made):
    _, found = made
    standing = found.inputs.standing
    held = replace(standing, hold_down=design_of(read_plan_text(BED + PINNED)).standing.hold_down)
    pinned = ladder(held, found.followed)
    new, five, ten = pinned.lost_by_age
    assert AGES == (0.0, 5.0, 10.0)
    assert new >= five >= ten > 0.8 * new
    assert five == pytest.approx(pinned.lost.told[0])
    design = design_of(read_plan_text(BED + PINNED))
    told = strength_words(design).ageing
    if ten <= 0.95 * new:
        words = [gust_words(one, US) for one in (ten, five, new)]
        assert [told.index(word) for word in words] == sorted(told.index(word) for word in words)
        assert told in strength_words(design).told
    else:
        assert told == ""


@pytest.mark.parametrize("pipe", ["pvc40-1/2", "pvc40-3/4"])
def test_the_rungs_of_screws_alone_change_with_the_boards(pipe):
    """Only they are worked out for another age; the whole ladder at that age gives the same, rung
    by rung and for the headline, which screws decide under the thin pipe and share under the stout.
    """
    found = design_of(read_plan_text(f'{BED}{PINNED}[hoops]\npipe = "{pipe}"\n')).ladder
    aged = Reader(found.followed, replace(found.inputs, years=10.0))
    rungs = wind_rungs(found.inputs.standing, aged, found.ends, _Edges(aged), True)
    lost = [one for one in rungs if one.brings == "lost"]
    before = {one.name: one.at for one in found.wind}
    changed = {one.name for one in lost if not np.array_equal(one.at, before[one.name])}
    assert changed <= set(SCREWED)
    careful = weak_to_strong(np.min([one.at for one in lost], axis=0))[0]
    assert found.lost_by_age[-1] == pytest.approx(careful)
    assert careful < found.lost.told[0]


PINNED = "[holding]\npin = true\n"
