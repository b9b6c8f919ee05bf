"""What must hold of every hoop curve, whatever its proportions."""

from __future__ import annotations

import numpy as np
import pytest
from beam_rig import CLAMPED, cantilever_tip, strut_after_buckling
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.beam.elastica import HoopCurve, bend_hoop, length_for_rise, width_at
from hoopwright.beam.hold import Hold

holds = st.one_of(
    st.just(CLAMPED),
    st.just(Hold.one_strap()),
    st.floats(0.02, 0.5).map(Hold.two_straps),
)
lengths = st.floats(0.3, 8.0)
shares = st.floats(0.22, 0.97)


def any_curve(length: float, share: float, hold: Hold) -> HoopCurve:
    return bend_hoop(length, share * length, hold, points=401)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(lengths, shares, holds)
def test_length_is_kept_and_feet_are_where_they_stand(
    length: float, share: float, hold: Hold
) -> None:
    curve = any_curve(length, share, hold)
    # Chords of a smooth curve fall short of the arc by about (curvature step)^2 / 24.
    chords = np.hypot(np.diff(curve.x), np.diff(curve.y)).sum()
    slack = (np.abs(curve.curvature).max() * length / 400) ** 2
    assert chords <= length * (1 + 1e-9)
    assert chords == pytest.approx(length, rel=slack + 1e-9)
    assert (curve.x[0], curve.y[0], curve.x[-1], curve.y[-1]) == (0.0, 0.0, curve.span, 0.0)
    assert np.abs(np.diff(curve.x)).max() < length / 390


@settings(derandomize=True, max_examples=40, deadline=None)
@given(lengths, shares, holds)
def test_both_halves_mirror_and_the_crown_is_highest(
    length: float, share: float, hold: Hold
) -> None:
    curve = any_curve(length, share, hold)
    assert curve.x + curve.x[::-1] == pytest.approx(np.full(401, curve.span), abs=1e-9 * length)
    assert curve.y == pytest.approx(curve.y[::-1], abs=1e-9 * length)
    assert int(np.argmax(curve.y)) == 200
    assert curve.rise == pytest.approx(curve.y[200], abs=1e-9 * length)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(lengths, st.floats(0.22, 0.93), st.floats(0.005, 0.04), holds)
def test_rise_falls_as_span_grows(length: float, share: float, more: float, hold: Hold) -> None:
    narrow = bend_hoop(length, share * length, hold)
    wide = bend_hoop(length, (share + more) * length, hold)
    assert wide.rise < narrow.rise


@settings(derandomize=True, max_examples=40, deadline=None)
@given(lengths, st.floats(0.25, 0.97), holds)
def test_inverse_solves_return_their_input(length: float, share: float, hold: Hold) -> None:
    curve = bend_hoop(length, share * length, hold)
    assert length_for_rise(curve.span, curve.rise, hold) == pytest.approx(length, rel=1e-9)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(lengths, shares, holds)
def test_moment_balances_thrust_at_every_point(length: float, share: float, hold: Hold) -> None:
    """Moment = foot moment + thrust * height: equilibrium, with the slope of the angle as check."""
    curve = any_curve(length, share, hold)
    moment = curve.foot_curvature + curve.thrust_per_stiffness * curve.y
    assert curve.curvature == pytest.approx(moment, abs=1e-9 / length)
    step = curve.arc[1]
    by_angle = -(curve.angle[2:] - curve.angle[:-2]) / (2.0 * step)
    middle = slice(1, -1)
    third = np.abs(curve.thrust_per_stiffness) * np.abs(curve.curvature).max()
    assert by_angle == pytest.approx(curve.curvature[middle], abs=third * step**2 + 1e-6 / length)


@settings(derandomize=True, max_examples=30, deadline=None)
@given(st.floats(0.25, 0.9), st.floats(0.01, 0.4))
def test_two_straps_lie_between_one_and_a_clamp(share: float, spacing: float) -> None:
    feet = [
        bend_hoop(1.0, share, hold).foot_angle
        for hold in (CLAMPED, Hold.two_straps(spacing), Hold.one_strap())
    ]
    assert sorted(feet) in (feet, feet[::-1])


def test_bulge_is_where_the_width_is_greatest() -> None:
    curve = bend_hoop(3.0, 0.9, CLAMPED, points=4001)
    assert curve.bulge == pytest.approx(-curve.x.min(), rel=1e-5)
    assert curve.bulge > 0.03
    assert bend_hoop(3.0, 1.5, CLAMPED).bulge == 0.0


def test_width_at_heights() -> None:
    curve = bend_hoop(1.0, 2.0 / np.pi, CLAMPED)
    radius = 1.0 / np.pi
    heights = np.array([0.0, 0.1, 0.2, 0.3, 0.31830])
    assert width_at(curve, heights) == pytest.approx(2 * np.sqrt(radius**2 - heights**2), abs=2e-6)
    assert width_at(curve, [0.4, -0.1]) == pytest.approx([0.0, curve.span])
    assert np.shape(width_at(curve, 0.1)) == ()


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: bend_hoop(1.0, 1.0, CLAMPED), "must be shorter"),
        (lambda: bend_hoop(1.0, 0.001, CLAMPED), "span over length"),
        (lambda: bend_hoop(-1.0, 0.5, CLAMPED), "length of a hoop"),
        (lambda: bend_hoop(1.0, float("nan"), CLAMPED), "span of a hoop"),
        (lambda: bend_hoop(1.0, 0.5, CLAMPED, points=10), "odd number"),
        (lambda: length_for_rise(1.0, 60.0, Hold.one_strap()), "outside|no curve"),
        (lambda: Hold.two_straps(0.0), "greater than zero"),
    ],
)
def test_impossible_hoops_are_refused_in_words(call, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=words):
        call()


def test_more_points_do_not_move_the_answer() -> None:
    """The solver's own points: 24 and 48 agree to 1e-9 where 32 is the default."""
    assert cantilever_tip(10.0, points=24) == pytest.approx(
        cantilever_tip(10.0, points=48), abs=1e-9
    )
    assert strut_after_buckling(2.0, points=24) == pytest.approx(
        strut_after_buckling(2.0, points=48), abs=1e-9
    )
