"""The hoop on its bed against a curve solved apart from ours, and sizes worked by hand.

The bed: 12 ft x 3 ft of 2x12 boards (11 1/4 in), legs outside, half-inch PVC (0.840 in outside,
least wall 0.109 in, 380 ksi) of 10 ft, two straps a leg 1 1/2 in from the boards' edges.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, fsolve
from scipy.special import ellipe, ellipk

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.hold import Hold
from hoopwright.hoop.shape import hoop_of, leg_lift, leg_span, narrowest_span
from hoopwright.hoop.stations import HoopStation, stations, widest_bay, working_bay
from hoopwright.tables.catalogue import Catalogue

INCH, KSI = 0.0254, 6894757.293
UPRIGHT = Hold(turning=False)
PIPE = Catalogue().pipes["pvc40-1/2"]
SPAN = 36.84 * INCH
FREE, APART = (120 - 2 * 9.75) * INCH, (11.25 - 3.0) * INCH
STIFFNESS = 380 * KSI * np.pi / 64 * (0.840**4 - (0.840 - 0.218) ** 4) * INCH**4


def make(**more: object):  # type: ignore[no-untyped-def]
    words: dict[str, object] = {
        "span": SPAN, "board_top": 11.25 * INCH, "embed": 11.25 * INCH, "straps": 2,
        "legs": "outside", "cut_length": 120 * INCH,
    }  # fmt: skip
    return hoop_of(words.pop("pipe", PIPE), **(words | more))  # type: ignore[arg-type]


@cache
def solved() -> dict[str, float]:
    """Shoot the inextensible rod: EI angle' = M, M' = -H sin(angle), from foot to crown.

    Each foot is the end of a beam on two straps, which turns by M a / (3 EI).
    """

    def along(first: float, push: float):  # type: ignore[no-untyped-def]
        lean = np.pi / 2 - first * APART / 3

        def slope(_s: float, y: np.ndarray) -> list[float]:
            _, z, angle = y
            return [np.cos(angle), np.sin(angle), -(first + push * z)]

        return solve_ivp(slope, (0, FREE / 2), [0, 0, lean], rtol=1e-9, max_step=FREE / 800)

    def miss(guess: np.ndarray) -> list[float]:
        end = along(*guess).y[:, -1]
        return [end[0] - SPAN / 2, end[2]]

    first, push = fsolve(miss, [-0.4, 2.7], xtol=1e-12)
    path = along(first, push)
    rise = float(path.y[1, -1])
    return {
        "first": float(first),
        "push": float(push),
        "rise": rise,
        "crown": float(first + push * rise),
        "bulge": float(-path.y[0].min()),
    }


def test_the_curve_is_that_of_a_rod_solved_apart() -> None:
    known, hoop = solved(), make()
    assert hoop.curve.rise == pytest.approx(known["rise"], rel=1e-4)
    assert hoop.curve.bulge == pytest.approx(known["bulge"], rel=2e-3)
    assert hoop.thrust() == pytest.approx(STIFFNESS * known["push"], rel=1e-3)
    assert hoop.foot_moment() == pytest.approx(STIFFNESS * known["first"], rel=1e-3)
    assert hoop.crown_moment() == pytest.approx(STIFFNESS * known["crown"], rel=1e-3)


def test_sizes_of_the_hoop_by_hand() -> None:
    """Crown: 9.75 in strap + 40.21 in rise - 0.42 in = 49.54 in; less 11.25 in, 38.29 in over the
    board. Overall 36.84 + 2 x 0.603 + 0.84 = 38.89 in. Strain 0.42 in / 16.24 in = 2.586 %."""
    hoop = make()
    assert hoop.hold_height == pytest.approx(9.75 * INCH)
    assert hoop.curve.length == pytest.approx(100.5 * INCH)
    assert hoop.cut_length == pytest.approx(120 * INCH)
    assert hoop.crown / INCH == pytest.approx(49.54, abs=0.01)
    assert hoop.crown_over_board / INCH == pytest.approx(38.29, abs=0.01)
    assert hoop.overall_width / INCH == pytest.approx(38.89, abs=0.01)
    assert hoop.span_share == pytest.approx(36.84 / 100.5)
    assert hoop.strain == pytest.approx(0.42 * INCH * solved()["crown"], rel=1e-3)
    assert hoop.nominal_stress == pytest.approx(0.02586 * 380 * KSI, rel=1e-3)


def test_a_pipe_that_does_not_reach_the_ground() -> None:
    """8 in below the top: its end stands 3 1/4 in up, so of 96 in 96 - 2 x 6.5 = 83 in are free."""
    hoop = make(embed=8 * INCH, cut_length=96 * INCH)
    assert hoop.leg.foot == pytest.approx(3.25 * INCH)
    assert hoop.curve.length == pytest.approx(83 * INCH)
    assert hoop.cut_length == pytest.approx(96 * INCH)
    assert hoop.centreline[0, 1] == pytest.approx(3.25 * INCH)


def test_what_is_left_of_the_push_and_the_moments() -> None:
    hoop = make()
    for force in (hoop.thrust, hoop.foot_moment, hoop.crown_moment):
        assert force(0.45) == pytest.approx(0.45 * force())
    formed = replace(hoop, pipe=Catalogue().pipes["emt-1/2"])
    assert formed.thrust() == formed.foot_moment() == formed.crown_moment() == 0.0


def test_clear_width_between_the_pipes() -> None:
    """Below the straps' height the legs stand upright; widest where the hoop bulges most."""
    hoop = make()
    assert hoop.clear_width(0.1) == pytest.approx(36 * INCH)
    assert hoop.clear_width(hoop.hold_height) == pytest.approx(36 * INCH)
    half = hoop.hold_height + 0.5 * hoop.curve.rise
    x, y = hoop.curve.x, hoop.curve.y
    left = np.interp(0.5 * hoop.curve.rise, y[:91], x[:91])
    assert hoop.clear_width(half) == pytest.approx(SPAN - 2 * left - 0.84 * INCH, rel=1e-3)
    assert hoop.clear_width(hoop.crown) == 0.0
    assert hoop.clear_width(hoop.crown - 1e-3) > 0.0


def test_the_centreline_runs_from_foot_to_foot() -> None:
    line = make().centreline
    assert line[0] == pytest.approx([-SPAN / 2, 0.0])
    assert line[-1] == pytest.approx([SPAN / 2, 0.0])
    assert np.hypot(*np.diff(line, axis=0).T).sum() == pytest.approx(120 * INCH, rel=1e-4)
    assert line[:, 1].max() == pytest.approx(9.75 * INCH + solved()["rise"], rel=1e-4)


def test_the_height_asked_for_is_had_with_one_strap_and_two() -> None:
    for straps in (1, 2):
        hoop = make(cut_length=None, crown_over_board=0.8, straps=straps)
        assert hoop.crown_over_board == pytest.approx(0.8, abs=1e-6)
        assert hoop.curve.length == pytest.approx(hoop.cut_length - 2 * 9.75 * INCH)


def test_legs_inside_lean_on_the_boards_edge() -> None:
    """Span 36 - 3 - 0.84 in; a hoop that bulges is held at the edge, 1 1/2 in over its strap."""
    span = leg_span(36 * INCH, 1.5 * INCH, 0.84 * INCH, "inside")
    assert span == pytest.approx(32.16 * INCH)
    assert leg_span(36 * INCH, 1.5 * INCH, 0.84 * INCH, "outside") == pytest.approx(SPAN)
    inside = make(span=span, legs="inside")
    assert inside.on_the_edge
    assert inside.hold_height == pytest.approx(11.25 * INCH)
    assert inside.curve.length == pytest.approx((120 - 22.5) * INCH)
    assert inside.curve.hold.spacing == pytest.approx(9.75 * INCH)
    # One strap: the edge and that strap hold it together.
    one = make(span=span, legs="inside", straps=1)
    assert one.curve.hold.spacing == pytest.approx(1.5 * INCH)
    assert not make(span=span, legs="inside", cut_length=72 * INCH).on_the_edge
    assert not make().on_the_edge


def test_a_leg_over_a_rod_turns_on_its_tip() -> None:
    """No straps: the pipe stands on the ground and is held a foot up, at the rod's end."""
    hoop = make(straps=0)
    assert hoop.curve.hold == Hold.one_strap()
    assert hoop.hold_height == pytest.approx(12 * INCH)
    assert hoop.curve.length == pytest.approx(96 * INCH)


def test_a_pipe_that_cannot_cross_is_refused() -> None:
    with pytest.raises(ValueError, match="too short"):
        make(cut_length=SPAN + 2 * 9.75 * INCH)
    assert make(cut_length=1.1 * SPAN + 2 * 9.75 * INCH).curve.rise > 0


def test_the_narrowest_span_of_a_hoop_in_single_straps() -> None:
    """Feet that turn freely: the inflectional elastica, whose crown curvature times length is
    4 k K(k) and whose span over length is 2 E / K - 1 (Love, art. 262-263; SciPy's integrals)."""
    length, strain = 2.4, 0.02
    bend = length * 2 * strain / (0.84 * INCH)
    k = brentq(lambda k: 4 * k * ellipk(k * k) - bend, 0.01, 0.999)
    span = length * (2 * ellipe(k * k) / ellipk(k * k) - 1)
    assert narrowest_span(PIPE, length, Hold.one_strap(), strain) == pytest.approx(span, rel=1e-3)
    assert narrowest_span(PIPE, length, Hold.one_strap(), 1e-4) is None
    widest = narrowest_span(PIPE, length, Hold.one_strap(), 0.5)
    assert widest == pytest.approx(0.12 * length)


def test_the_narrowest_span_between_upright_feet() -> None:
    """A turn of pi in the length L: never gentler than the half circle's radius L / pi, at a span
    of 2/pi; a twentieth sharper leaves some room below it."""
    length = 2.4
    half_circle = 0.42 * INCH * np.pi / length
    assert narrowest_span(PIPE, length, UPRIGHT, 0.99 * half_circle) is None
    found = narrowest_span(PIPE, length, UPRIGHT, 1.05 * half_circle)
    assert found is not None
    assert found < 2 / np.pi * length
    at = bend_hoop(length, found, UPRIGHT).least_radius
    assert at == pytest.approx(length / np.pi / 1.05, rel=1e-3)
    assert bend_hoop(length, 0.99 * found, UPRIGHT).least_radius < at


def test_raising_the_legs_brings_a_low_crown_level() -> None:
    """Half an inch low: raise both legs by e, the free arc grows by 2 e, and the crown by half an
    inch; solved by trial on the curve itself."""
    drop = 0.5 * INCH
    lift = leg_lift(FREE, SPAN, Hold.two_straps(APART), drop)
    before = bend_hoop(FREE, SPAN, Hold.two_straps(APART)).rise
    after = bend_hoop(FREE + 2 * lift, SPAN, Hold.two_straps(APART)).rise
    assert after - before == pytest.approx(drop, rel=0.01)
    small = leg_lift(FREE, SPAN, Hold.two_straps(APART), 1e-4)
    assert small / 1e-4 == pytest.approx(lift / drop, rel=0.01)


def test_marks_of_a_framed_and_a_plain_bed() -> None:
    """144 in with 3 in at each end leave 138 in: 36 in bays make four of 34 1/2 in; the pairs
    stand 4 in inside. 2 ft bays: six of 23 in, worked in at 19 in."""
    words = {"first_offset": 3 * INCH, "last_offset": 3 * INCH, "pair_gap": 4 * INCH}
    plain = stations(144 * INCH, greatest=36 * INCH, framed=False, **words)
    assert [s.mark / INCH for s in plain] == pytest.approx([3, 37.5, 72, 106.5, 141])
    assert [s.role for s in plain] == ["end", "inner", "inner", "inner", "end"]
    framed = stations(144 * INCH, greatest=36 * INCH, framed=True, **words)
    assert [s.mark / INCH for s in framed] == pytest.approx([3, 7, 37.5, 72, 106.5, 137, 141])
    assert [s.role for s in framed] == [
        "panel", "end", "inner", "inner", "inner", "end", "panel",
    ]  # fmt: skip
    assert widest_bay(framed) == pytest.approx(34.5 * INCH)
    assert working_bay(framed) == pytest.approx(30.5 * INCH)
    closer = stations(144 * INCH, greatest=24 * INCH, framed=True, **words)
    assert widest_bay(closer) == pytest.approx(23 * INCH)
    assert working_bay(closer) == pytest.approx(19 * INCH)
    exactly = stations(144 * INCH, greatest=34.5 * INCH, framed=False, **words)
    assert len(exactly) == 5
    uneven = stations(144 * INCH, greatest=60 * INCH, framed=False, first_offset=0.0,
                      last_offset=24 * INCH, pair_gap=0.1)  # fmt: skip
    assert [s.mark / INCH for s in uneven] == pytest.approx([0, 60, 120])


def test_two_panels_alone_are_worked_in_between() -> None:
    assert working_bay((HoopStation(0.1, "panel"), HoopStation(0.9, "panel"))) == pytest.approx(0.8)
    pair = (
        HoopStation(0.1, "panel"),
        HoopStation(0.2, "end"),
        HoopStation(0.7, "end"),
        HoopStation(0.9, "panel"),
    )
    assert working_bay(pair) == pytest.approx(0.5)
