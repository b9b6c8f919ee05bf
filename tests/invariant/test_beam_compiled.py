"""One physics, two ways: the hoop condensed panel by panel, walked alone, against the batch's.

The plain source is held to `balance` state by state; compiled, to `follow` path by path. Nothing
outside the project is needed here: `follow` itself is held to published and outside truth.
"""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from hoopwright.beam.balance import balance, out_of_balance, spread_load
from hoopwright.beam.chained import PUSHED, read_answer, reduce_hoop
from hoopwright.beam.compiled import follow_compiled, follow_plainly, lone_hoop
from hoopwright.beam.condensed import LoneLoad, make_desk, sines_and_cosines
from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.firmness import least_stiffness
from hoopwright.beam.follow import Path, follow
from hoopwright.beam.frame import HoopFrame, Line, hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import Load, between, load, point_load, stack
from hoopwright.beam.lone_firmness import least_stiffness_of, orthonormal_rows
from hoopwright.beam.response import factor_where, respond, states_at

LENGTH, SPAN, STIFFNESS = 2.44, 1.22, 42.0
UNIT = STIFFNESS / LENGTH**3
LINES = (Line(0.25, -0.5, -0.1, 300.0, 3.0), Line(0.5, 1.0, 0.0, 200.0, 3.0))


def some_frame(**more: object) -> HoopFrame:
    given: dict[str, object] = {"breaks": (0.25, 0.5, 0.7)} | more
    curve = bend_hoop(LENGTH, SPAN, Hold.two_straps(0.25))
    return hoop_frame(curve, STIFFNESS, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"breaks": (0.25, 0.3, 0.5, 0.7, 0.8), "points_each": 6},
        {"axial_stiffness": 5000.0},
        {"lines": LINES},
    ],
)
@pytest.mark.parametrize("pressed", [False, True])
def test_condensed_equations_have_the_full_ones_answers(more: dict, pressed: bool) -> None:
    """Change, tangent and pushes out of balance, as by the whole matrix at once."""
    rng = np.random.default_rng(7)
    frame = some_frame(**more)
    points = frame.arc.size
    down = load(frame, down=3.0 + rng.random(points), across=1.0)
    gust = load(frame, pressure=5.0 * rng.standard_normal(points))
    growing = down + point_load(frame, 0.25, 3.0, 1.0) + gust * float(pressed)
    grows = spread_load(frame, growing, 0.0)
    stays = spread_load(frame, load(frame, down=2.0, pressure=float(pressed)), 1.0)
    z = np.append(frame.start, 0.3) + 0.01 * rng.standard_normal(points + 5)
    control = rng.random(points + 5)
    control[points : points + 4] = 0.0
    modes = rng.standard_normal((3, points))
    residual, matrix = out_of_balance(balance(frame), grows, stays, z[None])
    matrix[0, -1] = control
    right = np.zeros((points + 5, 5))
    right[:-1, 0], right[-1, 0], right[-1, 1], right[:points, 2:] = residual[0], 0.2, 1.0, modes.T
    wanted = np.linalg.solve(matrix[0], right)

    hoop = lone_hoop(frame)
    rows = [v[0] for one in (grows, stays) for v in (one.running_p, one.running_q, one.pressure)]
    lone = LoneLoad(*rows, pull=1.0, pull_growth=0.0, pressed=pressed)
    desk = make_desk(hoop.half.size, hoop.place.size, 3, len(frame.lines))
    reduce_hoop(hoop, lone, z, control, 0.2, modes, 3, desk)
    answer = np.zeros(points + 5)
    for which in range(5):
        read_answer(hoop, desk, which, answer)
        size = np.abs(wanted[:, which]).max()
        assert answer == pytest.approx(wanted[:, which], abs=1e-9 * size)
    assert PUSHED == 2


def test_sines_and_cosines() -> None:
    angle = np.random.default_rng(3).uniform(-4.0, 4.0, 4000)
    sine, cosine = np.zeros((2, angle.size))
    sines_and_cosines(angle, sine, cosine)
    assert sine == pytest.approx(np.sin(angle), rel=0, abs=4e-16)
    assert cosine == pytest.approx(np.cos(angle), rel=0, abs=4e-16)


@pytest.mark.parametrize("twist", [0.0, 0.02, 3.0])
def test_least_stiffness_of_three_movements(twist: float) -> None:
    """Against the library's eigenvalues, symmetric and not, real and complex pairs."""
    rng = np.random.default_rng(11)
    weights = np.full(12, 1.0 / 12.0)
    for _ in range(40):
        modes = rng.standard_normal((3, 12))
        orthonormal_rows(weights, modes)
        square = rng.standard_normal((3, 3))
        inner = square + square.T + twist * (square - square.T)
        moved = inner.T @ modes
        better, small = np.zeros((3, 12)), np.zeros((3, 3))
        found = least_stiffness_of(weights, modes, moved, better, small)
        wanted, movements = least_stiffness(weights, modes.T[None], moved.T[None])
        assert found == pytest.approx(wanted[0], rel=1e-9)
        assert (better * weights) @ better.T == pytest.approx(np.eye(3), abs=1e-12)
        if np.all(np.isreal(np.linalg.eigvals(inner))):
            along = (better[0] * weights) @ movements[0, :, 0]
            assert abs(along) == pytest.approx(1.0, abs=1e-9)


def test_the_plain_source_walks_as_follow_does() -> None:
    """The compiled walk's own source, uncompiled."""
    frame = some_frame()
    half = load(frame, on_plan=UNIT * between(frame, 0.0, 0.5))
    steady = load(frame, down=2.0)
    batch, lone = follow(frame, half, steady), follow_plainly(frame, half, steady)
    assert lone.gives_way == pytest.approx(batch.gives_way, rel=1e-8)
    assert lone.unknowns == pytest.approx(batch.unknowns, abs=1e-6)
    assert lone.firmness == pytest.approx(batch.firmness, abs=1e-6)


def some_cases(frame: HoopFrame, rng: np.random.Generator, breaks: tuple[float, ...]) -> Load:
    """Snow even, half and drifted; winds; weight aslant; load at the crown; even pressure."""
    unit = frame.stiffness / frame.length**3
    left, right = between(frame, 0.0, 0.5), between(frame, 0.5, 1.0)
    edges = (0.0, *breaks, 1.0)

    def wind() -> Load:
        pieces = zip(edges[:-1], edges[1:], rng.uniform(-1.5, 1.2, len(edges) - 1), strict=True)
        return load(frame, pressure=sum(unit * p * between(frame, a, b) for a, b, p in pieces))

    aslant = point_load(frame, 0.5, unit * frame.length, unit * frame.length * rng.uniform(-1, 1))
    return stack(
        [
            load(frame, on_plan=unit),
            load(frame, on_plan=unit * left),
            load(frame, on_plan=unit * (left + 0.4 * right)),
            *(wind() for _ in range(3)),
            load(frame, down=0.3 * unit, across=unit * rng.uniform(-0.5, 0.5)),
            aslant,
            load(frame, pressure=unit),
        ]
    )


def some_design(
    rng: np.random.Generator,
) -> tuple[HoopFrame, Load, Load | None, int]:
    """A hoop, its cases, a steady load or none, and points to follow past a greatest load."""
    length, share = rng.uniform(1.5, 5.0), rng.uniform(0.25, 0.85)
    holds = Hold.clamped(), Hold.one_strap(), Hold.two_straps(rng.uniform(0.05, 0.4))
    breaks = ((0.25, 0.5, 0.75), (0.2, 0.4, 0.5, 0.6, 0.8), (0.3, 0.5, 0.7))[rng.integers(3)]
    stiffness, kind = rng.uniform(10.0, 200.0), rng.integers(6)
    curve = bend_hoop(length, share * length, holds[rng.integers(3)])
    lines: tuple[Line, ...] = ()
    axial = np.inf
    if kind == 0:
        axial = stiffness / length**2 * 10.0 ** rng.uniform(3.0, 5.0)
    if kind == 1:
        pull, taut = rng.uniform(0.0, 5.0), 10.0 ** rng.uniform(1.0, 3.0)
        outer = share * length + 0.4
        lines = (
            Line(breaks[0], -0.4, -0.1, taut, pull),
            Line(breaks[-1], outer, -0.1, taut, pull),
        )
    frame = hoop_frame(curve, stiffness, breaks, lines=lines, axial_stiffness=axial)
    unit = stiffness / length**3
    pushed = rng.uniform(-2.0, 2.0) * unit * rng.integers(2)
    steady = load(frame, down=unit * rng.uniform(0.2, 3.0), pressure=pushed)
    given = None if rng.integers(3) == 0 else steady
    return frame, some_cases(frame, rng, breaks), given, 6 * int(rng.integers(2))


@pytest.mark.parametrize("seed", range(24))
def test_compiled_paths_are_follows(seed: int) -> None:
    """Random designs, nine cases each: giving way, states and foot forces at given factors."""
    frame, cases, steady, beyond = some_design(np.random.default_rng(seed))
    limit = 100.0
    batch = follow(frame, cases, steady, limit, points_beyond=beyond)
    lone = follow_compiled(frame, cases, steady, limit, points_beyond=beyond)
    assert list(np.isfinite(lone.gives_way)) == list(np.isfinite(batch.gives_way))
    assert lone.gives_way == pytest.approx(batch.gives_way, rel=1e-6, nan_ok=True)
    assert list(lone.by_greatest_load) == list(batch.by_greatest_load)
    assert list(lone.unfinished) == list(batch.unfinished)
    assert lone.at_rest == pytest.approx(batch.at_rest, abs=1e-9 * np.abs(batch.at_rest).max())
    reach = np.nanmax(batch.factor, axis=1)
    factors = reach[:, None] * np.array([0.2, 0.5, 0.9])
    one, other = states_at(lone, factors), states_at(batch, factors)
    assert one.unknowns == pytest.approx(other.unknowns, rel=1e-6, abs=1e-6, nan_ok=True)
    _same_answers(lone, batch)


def _same_answers(lone: Path, batch: Path) -> None:
    """Foot forces along the paths, and the factors at which each reaches half its greatest."""
    one, other = respond(lone), respond(batch)
    for mine, theirs in (
        (one.left.push, other.left.push),
        (one.left.lift, other.left.lift),
        (one.right.lift, other.right.lift),
        (one.crown_sway, other.crown_sway),
        (one.greatest_curvature, other.greatest_curvature),
    ):
        size = float(np.nanmax(np.abs(theirs)))
        assert mine == pytest.approx(theirs, abs=1e-6 * size, nan_ok=True)
        for case in range(theirs.shape[0]):
            least, most = float(np.nanmin(theirs[case])), float(np.nanmax(theirs[case]))
            # What hardly changes (the sway of an even hoop) reaches no half of anything.
            if most - least > 1e-3 * size:
                half, reach = 0.5 * (least + most), float(np.nanmax(batch.factor[case]))
                mine_at = factor_where(lone.factor[[case]], mine[[case]], half)
                theirs_at = factor_where(batch.factor[[case]], theirs[[case]], half)
                assert mine_at == pytest.approx(theirs_at, abs=1e-5 * reach, nan_ok=True)


def test_a_batch_is_its_cases_alone() -> None:
    frame, cases, _, _ = some_design(np.random.default_rng(5))
    whole = follow_compiled(frame, cases, factor_limit=100.0)
    for case in (0, 4):
        alone = Load(
            cases.down[case],
            cases.across[case],
            cases.pressure[case],
            cases.point_down[case],
            cases.point_across[case],
        )
        found = follow_compiled(frame, alone, factor_limit=100.0)
        assert found.gives_way[0] == pytest.approx(whole.gives_way[case], rel=0, nan_ok=True)


def test_steady_load_alone_too_much_gives_way_at_nothing() -> None:
    frame = some_frame()
    for way in (follow, follow_compiled):
        path = way(frame, load(frame, pressure=1.0), load(frame, on_plan=40.0 * 150.0))
        assert path.gives_way[0] == 0.0
        assert not path.unfinished[0]


def test_a_command_does_not_start_the_compiler() -> None:
    """Importing, and following by NumPy, must not load numba."""
    code = (
        "import sys, hoopwright.beam.compiled, hoopwright.checks.ladder as l;"
        "from hoopwright import design_of; from hoopwright.plan import read_plan_text;"
        'design_of(read_plan_text(\'[bed]\\nlength = "8 ft"\\nwidth = "3 ft"\\n\')).ladder;'
        "sys.exit('numba' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
