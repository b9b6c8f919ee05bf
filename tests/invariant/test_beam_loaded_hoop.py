"""What must hold of every loaded hoop: balance, mirror, scale, energy, convergence, good sense."""

from __future__ import annotations

import numpy as np
import pytest
from beam_rig import CLAMPED, point_load
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from response_rig import factor_where

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.equilibrium import equilibrium, residual_and_tangent, scaled_load
from hoopwright.beam.frame import GuyLine, HoopFrame, formed_frame, hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import Load, between, load, stack
from hoopwright.beam.out_of_plane import falls_along
from hoopwright.beam.path import EquilibriumPath, follow, follow_designs
from hoopwright.beam.response import _sharpest, respond, shape, states_at

FREE, TWO = Hold.one_strap(), Hold.two_straps(0.25)
# A usual hoop: 2.44 m of pipe over 1.22 m, EI of 3/4 in PVC, about 42 N m2.
LENGTH, SPAN, STIFFNESS = 2.44, 1.22, 42.0


def usual(hold: Hold = TWO, stiffness: float = STIFFNESS, **more: object) -> HoopFrame:
    return hoop_frame(bend_hoop(LENGTH, SPAN, hold), stiffness, **more)  # type: ignore[arg-type]


def wind(frame: HoopFrame, *quarters: float) -> Load:
    parts = (p * between(frame, i / 4, (i + 1) / 4) for i, p in enumerate(quarters))
    return load(frame, pressure=sum(parts))


def mirrored(one: Load) -> Load:
    return Load(
        one.down[::-1], -one.across[::-1], one.pressure[::-1], one.point_down[::-1],
        -one.point_across[::-1],
    )  # fmt: skip


def some_load(frame: HoopFrame, snow: float, push: float, gust: float, point: float) -> Load:
    return (
        load(frame, on_plan=snow * (0.3 + frame.rule.points), across=push)
        + wind(frame, gust, -gust, -0.5 * gust, -0.4 * gust)
        + point_load(frame, 0.25, down=point, across=0.5 * point)
    )


parts = st.tuples(
    st.floats(0.0, 60.0), st.floats(-15.0, 15.0), st.floats(-25.0, 25.0), st.floats(-15.0, 15.0)
)


@settings(derandomize=True, max_examples=25, deadline=None)
@given(parts, st.sampled_from([CLAMPED, FREE, TWO]))
def test_feet_carry_all_of_the_load(sizes: tuple[float, ...], hold: Hold) -> None:
    """Forces and moments of the whole hoop are in balance, worked out from its loaded shape."""
    frame = usual(hold)
    loads = some_load(frame, *sizes)
    path = follow(frame, loads, factor_limit=1.0)
    assume(np.nanmax(path.factor) == pytest.approx(1.0))
    response = respond(path)
    last = int(np.isfinite(path.factor[0]).sum()) - 1
    z = path.unknowns[0, last]
    count = frame.rule.points.size
    angle, weights = z[:count], frame.rule.weights * LENGTH
    x = frame.rule.running @ np.cos(angle) * LENGTH
    y = frame.rule.running @ np.sin(angle) * LENGTH
    across = loads.across + loads.pressure * np.sin(angle)
    up = -loads.down - loads.pressure * np.cos(angle)
    edge_x = frame.rule.to_edges @ np.cos(angle) * LENGTH
    edge_y = frame.rule.to_edges @ np.sin(angle) * LENGTH
    whole_x = weights @ across + loads.point_across.sum()
    whole_y = weights @ up - loads.point_down.sum()
    turn = weights @ (x * up - y * across)
    turn += (-edge_x * loads.point_down - edge_y * loads.point_across).sum()
    left, right = response.left, response.right
    size = 1.0 + sum(abs(s) for s in sizes)
    assert right.push[0, last] - left.push[0, last] == pytest.approx(whole_x, abs=1e-6 * size)
    assert left.lift[0, last] + right.lift[0, last] == pytest.approx(whole_y, abs=1e-6 * size)
    # About the left foot; the right foot's lift acts at the span, moments hoop-wise at both feet.
    feet = -SPAN * right.lift[0, last] + left.moment[0, last] - right.moment[0, last]
    assert feet + turn == pytest.approx(0.0, abs=1e-5 * size)


@settings(derandomize=True, max_examples=15, deadline=None)
@given(parts)
def test_mirrored_load_gives_mirrored_answer(sizes: tuple[float, ...]) -> None:
    frame = usual()
    one = some_load(frame, *sizes)
    path = follow(frame, stack([one, mirrored(one)]), factor_limit=1.0)
    response = respond(path)
    last = int(np.isfinite(path.factor[0]).sum()) - 1
    for name in ("push", "lift", "moment"):
        ours, theirs = getattr(response.left, name), getattr(response.right, name)
        assert ours[0, last] == pytest.approx(theirs[1, last], abs=1e-5)
    assert response.crown_sway[0, last] == pytest.approx(-response.crown_sway[1, last], abs=1e-7)
    assert response.crown_drop[0, last] == pytest.approx(response.crown_drop[1, last], abs=1e-7)


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.floats(0.3, 3.0), st.floats(0.2, 5.0))
def test_scale(longer: float, stiffer: float) -> None:
    """A spread load that fells a hoop goes with EI / length^3."""
    small = usual()
    large = hoop_frame(
        bend_hoop(LENGTH * longer, SPAN * longer, Hold.two_straps(0.25 * longer)),
        STIFFNESS * stiffer,
    )
    falls = [
        follow(f, load(f, on_plan=between(f, 0.0, 0.5))).critical_factor[0] for f in (small, large)
    ]
    assert falls[1] == pytest.approx(falls[0] * stiffer / longer**3, rel=1e-6)


def full_derivative(frame: HoopFrame, growing: Load, steady: Load, pulls: float) -> float:
    """Largest difference between the derivative and finite differences, over its own size."""
    made = equilibrium(frame)
    grows, stays = scaled_load(frame, growing, 0.0), scaled_load(frame, steady, pulls)
    shake = np.random.default_rng(3).normal(0.0, 0.02, frame.start.size)
    z = (np.append(frame.start, 0.7) + np.append(shake, 0.0))[None]
    exact = residual_and_tangent(made, grows, stays, z)[1][0, :-1]
    step = 1e-6
    worst = 0.0
    for column in range(z.shape[1]):
        move = np.zeros_like(z)
        move[0, column] = step
        high, low = (residual_and_tangent(made, grows, stays, z + s * move)[0][0] for s in (1, -1))
        rough = (high - low) / (2.0 * step)
        worst = max(worst, np.abs(rough - exact[:, column]).max() / (1.0 + np.abs(rough).max()))
    return worst


def test_derivative_is_the_change_of_the_residual() -> None:
    """Newton's method needs it; the least stiffness is read from it."""
    lines = (GuyLine(0.25, -1.0, 0.0, 400.0, 20.0), GuyLine(0.75, 2.2, 0.0, 300.0, 30.0))
    tied = usual(lines=lines)
    for frame in (usual(), tied):
        growing = some_load(frame, 40.0, 5.0, 30.0, 10.0)
        steady = some_load(frame, 10.0, -3.0, 12.0, 4.0)
        assert full_derivative(frame, growing, steady, 1.0) < 1e-6


def energy(path: EquilibriumPath) -> np.ndarray:
    """Bending energy [J] at each point of a clamped hoop's path."""
    out = []
    for point in range(int(np.isfinite(path.factor[0]).sum())):
        state = shape(path, 0, point)
        out.append(np.trapezoid(state.moment**2, state.arc) / (2.0 * STIFFNESS))
    return np.array(out)


def test_work_of_the_load_is_stored_as_bending() -> None:
    """Dead load on one half: its work along the path is the gain of bending energy.

    Both by the trapezoid rule on the path's and the shape's own points, hence 0.5 %.
    """
    frame = usual(CLAMPED)
    loads = load(frame, on_plan=between(frame, 0.0, 0.5))
    path = follow(frame, loads, factor_limit=1200.0, step=0.25)
    used = int(np.isfinite(path.factor[0]).sum())
    sine = np.sin(path.unknowns[0, :used, : frame.rule.points.size])
    height = sine @ frame.rule.running.T * LENGTH
    fallen = ((height[0] - height) * loads.down) @ frame.rule.weights * LENGTH
    work = np.trapezoid(path.factor[0, :used], fallen)
    gained = np.diff(energy(path)[[0, -1]])[0]
    assert work > 1.0
    assert gained == pytest.approx(work, rel=5e-3)


def test_order_of_dead_loads_does_not_matter() -> None:
    frame = usual()
    snow, push = load(frame, on_plan=80.0), load(frame, across=10.0)
    ends = [
        states_at(follow(frame, one, other, factor_limit=1.0), [1.0]).unknowns[0, 0, :-1]
        for one, other in ((snow, push), (push, snow), (snow + push, None))
    ]
    assert ends[0] == pytest.approx(ends[1], abs=1e-7)
    assert ends[0] == pytest.approx(ends[2], abs=1e-7)


@pytest.mark.parametrize("hold", [CLAMPED, FREE, TWO])
def test_more_points_do_not_move_the_answer(hold: Hold) -> None:
    """8 points a panel against 16: loads where the hoop gives way within 3e-4."""
    falls = []
    for points in (8, 16):
        frame = usual(hold, points_each=points)
        cases = stack(
            [
                load(frame, on_plan=1.0),
                load(frame, on_plan=between(frame, 0.0, 0.5)),
                load(frame, pressure=1.0),
                point_load(frame, 0.25, down=1.0),
            ]
        )
        falls.append(follow(frame, cases, factor_limit=60.0 * STIFFNESS).critical_factor)
    assert falls[0] == pytest.approx(falls[1], rel=3e-4, nan_ok=True)
    assert np.isfinite(falls[0][:3]).all()


def test_smaller_steps_do_not_move_the_answer() -> None:
    frame = usual()
    cases = stack([load(frame, on_plan=1.0), load(frame, on_plan=between(frame, 0.0, 0.5))])
    coarse, fine = follow(frame, cases), follow(frame, cases, step=0.25, most_points=200)
    assert coarse.critical_factor == pytest.approx(fine.critical_factor, rel=1e-4)
    drops = [factor_where(p.factor, respond(p).crown_drop, 0.05) for p in (coarse, fine)]
    assert drops[0] == pytest.approx(drops[1], rel=5e-3, nan_ok=True)


def test_states_at_factors_lie_on_the_path() -> None:
    frame = usual()
    path = follow(frame, wind(frame, 1.0, -1.3, -1.3, -0.5), factor_limit=60.0)
    used = int(np.isfinite(path.factor[0]).sum())
    back = states_at(path, path.factor[0, 1:used:3])
    assert back.unknowns[0] == pytest.approx(path.unknowns[0, 1:used:3], abs=1e-6)
    assert not path.unfinished[0]
    assert np.isnan(states_at(path, [61.0]).factor[0, 0])


@settings(derandomize=True, max_examples=15, deadline=None)
@given(st.floats(0.3, 0.6), st.floats(0.03, 0.25))
def test_two_straps_hold_more_than_one(share: float, spacing: float) -> None:
    falls = []
    for hold in (FREE, Hold.two_straps(spacing), CLAMPED):
        frame = hoop_frame(bend_hoop(1.0, share, hold), 1.0)
        falls.append(follow(frame, load(frame, on_plan=1.0)).critical_factor[0])
    assert falls[0] < falls[1] < falls[2]


@settings(derandomize=True, max_examples=10, deadline=None)
@given(st.floats(1.2, 4.0))
def test_stiffer_pipe_sways_less(more: float) -> None:
    sways = []
    for stiffness in (STIFFNESS, more * STIFFNESS):
        frame = usual(stiffness=stiffness)
        path = follow(frame, wind(frame, 1.0, -1.0, -1.0, -0.5), factor_limit=50.0)
        response = respond(path)
        sways.append(np.nanmax(np.abs(response.crown_sway)))
    assert sways[1] < sways[0]


def test_more_gust_more_uplift() -> None:
    frame = usual()
    path = follow(frame, wind(frame, 0.84, -1.3, -1.3, -0.5), factor_limit=80.0)
    response = respond(path)
    lift = (response.left.lift + response.right.lift)[0]
    assert np.all(np.diff(lift[np.isfinite(lift)]) > 0.0)


def test_taut_side_lines_hold_the_hoop_up() -> None:
    """A pair of taut lines to the ground doubles what even snow the hoop bears, or better."""
    lines = (GuyLine(0.4, -1.5, 0.0, 2000.0, 40.0), GuyLine(0.6, 2.72, 0.0, 2000.0, 40.0))
    falls = []
    for given_lines in ((), lines):
        frame = usual(FREE, breaks=(0.25, 0.4, 0.5, 0.6, 0.75), lines=given_lines)
        falls.append(follow(frame, load(frame, on_plan=1.0)).critical_factor[0])
    assert falls[1] > 1.5 * falls[0]


def test_slack_line_does_nothing_until_pulled() -> None:
    line = (GuyLine(0.25, -1.0, 0.0, 3000.0),)
    for push, effect in ((60.0, True), (-60.0, False)):
        ends = []
        for lines in ((), line):
            frame = usual(lines=lines)
            path = follow(frame, load(frame, across=1.0) * push, factor_limit=1.0)
            ends.append(respond(path).crown_sway[0, -1])
        assert bool(abs(ends[1]) < 0.9 * abs(ends[0])) is effect
        if not effect:
            assert ends[1] == pytest.approx(ends[0], rel=3e-3)


def test_a_load_that_is_too_much_from_the_start_is_said_so() -> None:
    frame = usual(FREE)
    path = follow(frame, load(frame, across=1.0), load(frame, on_plan=2000.0), factor_limit=1.0)
    assert path.critical_factor[0] == 0.0


def test_strap_forces_are_the_couple_of_the_foot_moment() -> None:
    frame = usual(TWO)
    response = respond(follow(frame, load(frame, on_plan=1.0), factor_limit=50.0))
    left = response.left
    assert left.lower_strap * 0.25 == pytest.approx(left.moment)
    assert left.upper_strap - left.lower_strap == pytest.approx(left.push)
    assert np.isnan(
        respond(follow(usual(CLAMPED), load(frame), factor_limit=1.0)).left.lower_strap
    ).all()


def test_unloaded_hoop_asks_what_its_curve_says() -> None:
    curve = bend_hoop(LENGTH, SPAN, TWO)
    frame = hoop_frame(curve, STIFFNESS)
    response = respond(follow(frame, load(frame, on_plan=1.0), factor_limit=1.0))
    assert response.left.push[0, 0] == pytest.approx(curve.thrust_per_stiffness * STIFFNESS)
    assert response.right.push[0, 0] == pytest.approx(curve.thrust_per_stiffness * STIFFNESS)
    assert response.right.moment[0, 0] == pytest.approx(curve.foot_curvature * STIFFNESS)
    assert response.greatest_curvature[0, 0] == pytest.approx(1.0 / curve.least_radius, rel=1e-5)
    assert response.rise[0, 0] == pytest.approx(curve.rise, rel=1e-9)
    assert response.crown_drop[0, 0] == pytest.approx(0.0, abs=1e-9)


def test_formed_pipe_has_no_prestress() -> None:
    """Straight legs and a bent crown, as a bender makes it: nothing to hold until it is loaded."""

    def angle(share: np.ndarray) -> np.ndarray:
        return np.pi / 2.0 * (1.0 - 4.0 * np.clip(share - 0.25, 0.0, 0.5))

    frame = formed_frame(2.0, angle, (TWO, TWO), 100.0)
    response = respond(follow(frame, load(frame, on_plan=1.0), factor_limit=100.0))
    assert response.left.push[0, 0] == pytest.approx(0.0, abs=1e-7)
    assert response.greatest_curvature[0, 0] == pytest.approx(0.0, abs=1e-7)
    assert response.left.push[0, -1] > 1.0


def test_factor_where_reads_between_points() -> None:
    factor = np.array([[0.0, 1.0, 2.0, 3.0, np.nan], [0.0, 1.0, 2.0, 3.0, 4.0]])
    values = factor**2
    assert factor_where(factor, values, 2.0) == pytest.approx(np.sqrt([2.0, 2.0]), abs=0.05)
    assert np.isnan(factor_where(factor, values, 10.0)[0])
    assert factor_where(factor, values, 0.0) == pytest.approx([0.0, 0.0])


def test_frames_refuse_what_they_cannot_do() -> None:
    with pytest.raises(ValueError, match="no break"):
        point_load(usual(), 0.3, down=1.0)
    with pytest.raises(ValueError, match="greater than zero"):
        usual(stiffness=0.0)


def test_designs_followed_together_are_as_each_alone() -> None:
    """Hoops of different size, hold and stiffness in one batch, some with a load from the start."""
    frames = [
        hoop_frame(bend_hoop(2.0, 1.0, CLAMPED), 30.0),
        hoop_frame(bend_hoop(3.0, 1.2, FREE), 55.0),
        hoop_frame(bend_hoop(2.4, 1.4, TWO), 42.0),
    ]
    growing = [stack([load(f, on_plan=1.0), load(f, on_plan=between(f, 0.0, 0.5))]) for f in frames]
    growing[1] = wind(frames[1], 1.0, -1.0, -1.0, -0.5)
    steady = [None, load(frames[1], down=2.0), load(frames[2], down=5.0)]
    limits = [np.array([np.inf, 500.0]), np.array(30.0), np.array(np.inf)]
    together = follow_designs(frames, growing, steady, limits)
    for index, path in enumerate(together):
        alone = follow(frames[index], growing[index], steady[index], limits[index])
        assert path.critical_factor == pytest.approx(alone.critical_factor, rel=1e-6, nan_ok=True)
        for ours, theirs in zip(
            states_at(path, [20.0]).unknowns, states_at(alone, [20.0]).unknowns, strict=True
        ):
            assert ours == pytest.approx(theirs, abs=1e-7, nan_ok=True)
    other = usual(points_each=6)
    with pytest.raises(ValueError, match="same breaks"):
        follow_designs([frames[0], other], [growing[0], load(other, down=1.0)], [None, None])


def test_a_batch_is_its_cases_alone() -> None:
    """Cases of a batch go their own ways: each as it goes by itself."""
    made = hoop_frame(bend_hoop(3.0, 0.5, Hold.two_straps(0.15)), 60.0)
    several = [
        load(made, on_plan=between(made, 0.0, 0.5)),
        load(made, pressure=1.0),
        load(made, on_plan=1.0),
    ]
    weight = load(made, down=1.0)
    whole = follow(made, stack(several), weight, factor_limit=60.0)
    for case, one in enumerate(several):
        alone = follow(made, one, weight, factor_limit=60.0)
        assert alone.critical_factor[0] == pytest.approx(
            whole.critical_factor[case], rel=1e-9, nan_ok=True
        )
        used = int(np.isfinite(alone.factor[0]).sum())
        assert alone.factor[0] == pytest.approx(whole.factor[case, :used], rel=1e-9)


def test_a_hoop_of_any_size_and_stiffness_falls_along_the_bed_alike() -> None:
    """Of a hoop twice as large of a pipe five times as stiff, on feet and a crown held alike: what
    turns a foot goes by EI / L (5/2), what holds a crown by EI / L^3 and so does the load (5/8)."""

    def falls(length: float, stiffness: float) -> float:
        hoop = bend_hoop(length, 0.5 * length, Hold.two_straps(0.1 * length))
        frame = hoop_frame(hoop, stiffness)
        found = falls_along(
            follow(frame, load(frame, on_plan=1.0)), [0],
            foot_turn=30 * stiffness / length, foot_twist=10 * stiffness / length,
            torsion_share=0.7, crown_hold=25 * stiffness / length**3,
        )  # fmt: skip
        return float(found[0])

    assert falls(2.0, 5.0) == pytest.approx(falls(1.0, 1.0) * 5 / 8, rel=1e-6)


def test_what_is_told_of_the_crown_and_the_bend_is_what_is_drawn() -> None:
    """Snow from the left half: the middle of the pipe sinks and sways as the drawn shapes have it,
    and unloaded the bend is that at rest."""
    frame = usual()
    path = follow(frame, load(frame, down=40.0 * between(frame, 0.0, 0.5)))
    told, rest, now = respond(path), shape(path, 0, 0), shape(path, 0, 3)
    middle = int(np.argmin(np.abs(rest.arc - LENGTH / 2)))
    assert path.factor[0, 0] == 0.0
    assert told.crown_drop[0, 3] == pytest.approx(rest.y[middle] - now.y[middle], abs=1e-9)
    assert told.crown_sway[0, 3] == pytest.approx(now.x[middle] - rest.x[middle], abs=1e-9)
    assert min(told.crown_drop[0, 3], abs(told.crown_sway[0, 3])) > 1e-4
    assert told.bend_at_rest == pytest.approx(told.bend[0, 0], abs=1e-9)


def test_the_peak_between_places_is_that_of_a_parabola() -> None:
    """2 - (k - 0.3)^2 has 0.31, 1.91 and 1.51 at places -1, 0 and 1 and its peak, 2, between."""
    places = np.arange(13.0) - 5.0
    assert _sharpest((2 - (places - 0.3) ** 2).clip(0.0)[None])[0] == pytest.approx(2.0)


def test_a_hoop_is_bent_sharpest_where_it_is_said_to_be() -> None:
    curve = bend_hoop(LENGTH, SPAN, TWO)
    bent = np.abs(np.gradient(curve.angle, curve.arc))
    assert curve.arc[bent.argmax()] == pytest.approx(curve.least_radius_arc, abs=0.02 * LENGTH)
