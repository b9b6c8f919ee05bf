"""The loaded hoop, here and in OpenSees, in one run; and a whole ladder of load cases.

Both start from a straight pipe, have 32 pieces along the arc (here: points), settle angles to about
1e-9 and find the least eigenvalue of the tangent at every load level. OpenSees must bend the pipe
step by step; it has no pressure that turns with a beam, so its nodal forces are turned until they
are in step (no eigenvalue there). It is compiled throughout; ours is NumPy and pays its calls once
a batch, so it is timed alone, in a ladder's batch and in a design search's batch. Ratios are theirs
over ours, best of several runs of each, side by side on the same machine.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.follow import follow, follow_designs
from hoopwright.beam.frame import HoopFrame, hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import Load, between, load, point_load, stack
from hoopwright.beam.response import respond

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "reference"))

SHARE, SPACING = 0.5, 0.1
ELEMENTS, FINE_ELEMENTS, LEVELS, BEND_STEPS = 32, 96, 20, 12
WIND = (0.84, -1.3, -1.3, -0.5)
GUST = 80.0


def best(work: Callable[[], object], runs: int = 7) -> float:
    """Shortest of several runs [ms]."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times) * 1e3


def frame(share: float = SHARE) -> HoopFrame:
    return hoop_frame(bend_hoop(1.0, share, Hold.two_straps(SPACING)), 1.0)


def quarters(made: HoopFrame, parts: tuple[float, ...]) -> Load:
    return load(
        made, pressure=sum(p * between(made, i / 4, (i + 1) / 4) for i, p in enumerate(parts))
    )


def ladder(made: HoopFrame) -> Load:
    """Twelve cases: even, half, drifted and central snow, weight, crown load, six winds."""
    left, right = between(made, 0.0, 0.5), between(made, 0.5, 1.0)
    return stack(
        [
            load(made, on_plan=1.0),
            load(made, on_plan=left),
            load(made, on_plan=left + 0.5 * right),
            load(made, on_plan=between(made, 0.25, 0.75)),
            load(made, down=1.0),
            point_load(made, 0.5, down=1.0),
            *(quarters(made, tuple(p + inside for p in WIND)) for inside in (-0.55, 0.0, 0.55)),
            quarters(made, (0.8, -0.9, -0.9, -0.5)),
            quarters(made, (-0.5, -0.9, -0.9, -0.5)),
            quarters(made, (1.0, 1.0, 1.0, 1.0)),
        ]
    )


def ours_dead() -> float:
    made = frame()
    return float(follow(made, load(made, on_plan=between(made, 0.0, 0.5))).gives_way[0])


def ours_dead_batch(cases: int) -> None:
    """As many half-span loads, each a little different, as one batch."""
    made = frame()
    left, right = between(made, 0.0, 0.5), between(made, 0.5, 1.0)
    follow(
        made, stack([load(made, on_plan=left + s * right) for s in np.linspace(0.0, 0.5, cases)])
    )


def ours_wind() -> None:
    made = frame()
    respond(follow(made, quarters(made, WIND), factor_limit=GUST))


def ours_ladder() -> None:
    """The pipe bent, twelve cases followed to failure or limit, and all answers worked out."""
    made = frame()
    respond(follow(made, ladder(made), load(made, down=0.5), factor_limit=400.0))


def ours_designs(count: int) -> None:
    """A ladder for each of several designs, in one batch."""
    made = [frame(share) for share in np.linspace(0.4, 0.6, count)]
    paths = follow_designs(
        made, [ladder(m) for m in made], [load(m, down=0.5) for m in made], 400.0, step=1.5
    )
    for path in paths:
        respond(path)


def their_dead(elements: int) -> float:
    """Bend, then half-span snow by displacement control, least eigenvalue at each level."""
    import hoop_by_opensees as outside
    import openseespy.opensees as ops

    hoop = outside.bend_from_straight(SHARE, 3.0 / SPACING, elements, BEND_STEPS)
    plan = np.maximum(np.diff(hoop.rest[:, 0]), 0.0) * elements
    forces = np.zeros((elements + 1, 2))
    forces[:, 1] = -outside.lumped(hoop, np.where(np.arange(elements) < elements // 2, plan, 0.0))
    for node in range(1, elements + 2):
        ops.mass(node, 1.0, 1.0, 1e-6)
    greatest = 0.0
    outside.start_pull(hoop, forces)
    ops.integrator("DisplacementControl", hoop.node(0.25), 2, -0.01)
    for _ in range(LEVELS):
        ops.analyze(1)
        greatest = max(greatest, float(ops.getTime()))
        ops.eigen(1)
    return greatest


def their_wind(elements: int) -> None:
    import hoop_by_opensees as outside

    hoop = outside.bend_from_straight(SHARE, 3.0 / SPACING, elements, BEND_STEPS)
    outside.press_to(hoop, GUST * np.repeat(WIND, elements // 4), steps=8)


def main() -> None:
    """Print times and ratios."""
    ours_ladder()
    single, wind = best(ours_dead), best(ours_wind)
    batches = {cases: best(lambda n=cases: ours_dead_batch(n), 5) / cases for cases in (12, 240)}
    print(f"half-span snow to failure, alone        {single:8.2f} ms")
    for cases, each in batches.items():
        print(f"the same, each of {cases:4d} in a batch       {each:8.2f} ms")
    print(f"wind on the film to a gust, alone       {wind:8.2f} ms")
    print(f"ladder of 12 cases, one plan            {best(ours_ladder):8.2f} ms (asked: under 80)")
    for count in (1, 20):
        each = best(lambda n=count: ours_designs(n), 3) / count
        print(f"ladder, each of {count:2d} designs in a batch  {each:8.2f} ms (asked: under 20)")
    try:
        import hoop_by_opensees  # noqa: F401
    except (ImportError, RuntimeError) as problem:
        print(f"OpenSees is not here, nothing to compare with: {problem}")
        return
    exact = ours_dead()
    for elements in (ELEMENTS, FINE_ELEMENTS):
        theirs, theirs_wind = (
            best(lambda n=elements: their_dead(n)),
            best(lambda n=elements: their_wind(n), 3),
        )
        off = their_dead(elements) / exact - 1.0
        print(f"OpenSees, {elements} elements (limit {100 * off:+.2f} % from ours)")
        print(f"  half-span snow                        {theirs:8.2f} ms")
        print(f"    over ours alone                     {theirs / single:8.1f} x")
        for cases, each in batches.items():
            print(f"    over ours in a batch of {cases:4d}        {theirs / each:8.1f} x")
        print(f"  wind on the film                      {theirs_wind:8.2f} ms")
        print(f"    over ours alone                     {theirs_wind / wind:8.1f} x")


if __name__ == "__main__":
    main()
