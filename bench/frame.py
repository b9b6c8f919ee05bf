"""The loaded hoop as `limits`, the server and `advise` ask for it, and the same in OpenSees.

The demo plan's hoop with its weight, through every load case of the ladder: wind to the strongest
gust followed, snow and ice to where the hoop gives way. Ours starts from the plan's finished parts;
`limits` and the server follow one hoop, `advise` the hoops of a search side by side and shares each
among the designs that differ in hold-down and vents alone. OpenSees starts from a straight pipe in
96 elements (its limit load is then within 0.1 %), bent once a case: its one model holds one hoop.
It has no pressure that turns with a beam, so its nodal forces are turned until they are in step.
Both find the least eigenvalue of the tangent under snow. Processor time; ratios are theirs over
ours.
"""

from __future__ import annotations

import os
import platform
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from hoopwright import design_of, read_plan
from hoopwright.beam.panels import reading
from hoopwright.checks.followed_hoop import FollowedHoop, follow_hoop, follow_hoops
from hoopwright.checks.standing import Standing
from hoopwright.plan.read import ReadPlan
from hoopwright.programme.advise import Choice, merged, usual_space
from hoopwright.programme.changes import changed

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "reference"))

DEMO = Path(__file__).parents[1] / "tests" / "usual_bed.toml"
ELEMENTS, BEND_STEPS, LEVELS = 96, 24, 20
ASKED_LADDER, ASKED_SEARCH, ASKED_ERROR = 15.0, 60.0, 0.5


def best(work: Callable[[], object], runs: int = 5) -> float:
    """Least processor time of several runs [ms]."""
    least = float("inf")
    for _ in range(runs):
        start = time.process_time()
        work()
        least = min(least, (time.process_time() - start) * 1e3)
    return least


def machine() -> str:
    """What this runs on, in one line: its kind, no brand."""
    versions = f"Python {platform.python_version()}, NumPy {np.__version__}"
    return f"{platform.machine()}, {os.cpu_count()} cores, {platform.system()}, {versions}"


def answered(followed: FollowedHoop) -> FollowedHoop:
    """Work out what every point of the paths means, as every rung asks."""
    assert followed.response is not None
    return followed


def searched(read: ReadPlan) -> tuple[list[Standing], int]:
    """The hoops of one height and cover of the usual search, and how many designs share them."""
    space = usual_space(read, design_of(read))
    pipes, spacings, heights, holds, covers, vents = space.axes
    fixed: tuple[Choice, ...] = (heights[0], holds[0], covers[0], vents[0])
    choices = [(pipe, spacing, *fixed) for pipe in pipes for spacing in spacings]
    plans = [changed(read.plan, merged(one)) for one in choices]
    standings = [design_of(ReadPlan(plan, read.catalogue)).standing for plan in plans]
    return standings, len(choices) * len(holds) * len(vents)


def scaled(followed: FollowedHoop, case: int) -> tuple[np.ndarray, np.ndarray]:
    """Pressure and dead load of a case at its end, and the weight, on each element: unit hoop."""
    path = followed.path
    frame = path.frame
    shares = (np.arange(ELEMENTS) + 0.5) / ELEMENTS
    at = reading(frame.rule, shares)[0] * frame.length**3 / frame.stiffness
    growing, steady = path.growing, path.steady
    return at @ growing.pressure[case], np.stack([at @ growing.down[case], at @ steady.down])


def their_case(followed: FollowedHoop, case: int) -> float:
    """Greatest shift of a node under wind at the last gust [arc's length], or the snow or ice load
    where it gives way."""
    import hoop_by_opensees as outside

    path = followed.path
    frame = path.frame
    spacing = frame.left.spacing / frame.length
    hoop = outside.bend_from_straight(
        frame.chord_x / frame.length, 3.0 / spacing if spacing else None, ELEMENTS, BEND_STEPS
    )
    pressure, (down, weight) = scaled(followed, case)
    steady = np.zeros((ELEMENTS + 1, 2))
    steady[:, 1] = -outside.lumped(hoop, weight)
    outside.load_to(hoop, steady, steps=1)
    if pressure.any():
        outside.press_to(hoop, pressure * np.nanmax(path.factor[case]), steps=8)
        return float(np.hypot(*hoop.moved().T).max())
    forces = np.zeros_like(steady)
    forces[:, 1] = -outside.lumped(hoop, down)
    if path.at_limit_point[case]:
        return their_limit(hoop, forces)
    most = float(path.critical_factor[case])
    levels, values = outside.least_eigenvalues(hoop, forces, 1.03 * most, LEVELS)
    after = int(np.argmax(values < 0.0)) if (values < 0.0).any() else values.size - 1
    slope = (values[after] - values[after - 1]) / (levels[after] - levels[after - 1])
    return float(levels[after] - values[after] / slope)


def their_limit(hoop: Any, forces: np.ndarray) -> float:
    """Greatest load by displacement control, with the least eigenvalue at each level."""
    import hoop_by_opensees as outside
    import openseespy.opensees as ops

    for node in range(1, hoop.elements + 2):
        ops.mass(node, 1.0, 1.0, 1e-6)
    outside.start_pull(hoop, forces)
    # The loaded side goes down: the quarter that sinks most under a little of the load.
    side = 0.25 if forces[: ELEMENTS // 2, 1].sum() < forces[ELEMENTS // 2 :, 1].sum() else 0.75
    ops.integrator("DisplacementControl", hoop.node(side), 2, -0.01)
    greatest = [0.0]
    for _ in range(3 * LEVELS):
        if ops.analyze(1) != 0 or ops.getTime() < greatest[-1]:
            break
        greatest.append(float(ops.getTime()))
        ops.eigen(1)
    # The top of a parabola through the last three levels and the one past the greatest.
    last = [*greatest[-2:], float(ops.getTime())]
    bend = last[0] - 2.0 * last[1] + last[2]
    return last[1] - (last[2] - last[0]) ** 2 / (8.0 * bend) if bend < 0.0 else last[1]


def our_shift(followed: FollowedHoop, case: int, point: int) -> float:
    """Greatest shift of the places where OpenSees has its nodes, in lengths of the arc."""
    path = followed.path
    integral = reading(path.frame.rule, np.linspace(0.0, 1.0, ELEMENTS + 1))[1]
    count = path.frame.rule.points.size
    there, rest = path.unknowns[case, point, :count], path.at_rest[:count]
    turned = np.stack([np.cos(there) - np.cos(rest), np.sin(there) - np.sin(rest)])
    return float(np.hypot(*(turned @ integral.T)).max())


def deviation(followed: FollowedHoop, case: int, theirs: float) -> float:
    """Theirs from ours [-]."""
    path = followed.path
    if path.growing.pressure[case].any():
        last = int(np.isfinite(path.factor[case]).sum()) - 1
        return theirs / our_shift(followed, case, last) - 1.0
    return theirs / float(path.critical_factor[case]) - 1.0


def line(what: str, value: float, note: str = "") -> None:
    print(f"{what:<66}{value:9.2f} ms {note}".rstrip())


def main() -> None:
    """Print times, ratios and deviations."""
    print(machine())
    read = read_plan(DEMO)
    standing = design_of(read).standing
    followed = answered(follow_hoop(standing))
    one = best(lambda: answered(follow_hoop(standing)))
    hoops, designs = searched(read)
    every = best(lambda: [answered(hoop) for hoop in follow_hoops(hoops)], 3)
    cases = followed.path.factor.shape[0]
    print(f"{cases} load cases a ladder; a search of {designs} designs on {len(hoops)} hoops")
    try:
        import hoop_by_opensees  # noqa: F401
    except (ImportError, RuntimeError) as problem:
        print(f"OpenSees is not here, nothing to compare with: {problem}")
        theirs = float("nan")
    else:
        theirs = beside_theirs(followed)
    for what, own, asked in (
        ("one ladder's cases, as limits and the server ask", one, ASKED_LADDER),
        ("  each hoop of a search, side by side", every / len(hoops), None),
        ("  each design of the search, which share hoops", every / designs, ASKED_SEARCH),
    ):
        note = f"{theirs / own:8.1f} x" + ("" if asked is None else f" (asked: {asked:g} x)")
        line(what, own, note)


def beside_theirs(followed: FollowedHoop) -> float:
    """All cases in OpenSees: time [ms]; prints the deviations."""
    apart: dict[str, list[float]] = {"wind": [], "snow and ice": []}
    total = 0.0
    their_case(followed, 0)
    for case in range(followed.path.factor.shape[0]):
        kind = "wind" if followed.path.growing.pressure[case].any() else "snow and ice"
        start = time.process_time()
        theirs = their_case(followed, case)
        total += (time.process_time() - start) * 1e3
        apart[kind].append(100.0 * deviation(followed, case, theirs))
    for kind, found in apart.items():
        what = "greatest shift" if kind == "wind" else "load where it gives way"
        told = ", ".join(f"{one:+.2f}" for one in found)
        print(f"OpenSees from ours, {kind}, {what} [%]: {told} (asked: within {ASKED_ERROR})")
    line(f"one ladder's cases, OpenSees, {ELEMENTS} elements", total)
    return total


if __name__ == "__main__":
    main()
