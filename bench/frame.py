"""The loaded hoop, here and in OpenSees, in one run; and a whole ladder of load cases.

Both start from a straight pipe, have 32 pieces along the arc (here: points), settle angles to about
1e-9 and find the least eigenvalue of the tangent at every load level. OpenSees must bend the pipe
step by step; it has no pressure that turns with a beam, so its nodal forces are turned until they
are in step (no eigenvalue there). It is compiled throughout. Ours is timed compiled, one hoop
alone, and by NumPy, alone and in a ladder's and a design search's batch (NumPy pays its calls once
a batch). The loaded part is timed by itself too, the bent pipe ready. Ratios are theirs over ours,
the best of many runs of each, in bursts in turn in one process after warm-up; the machine is
printed.
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

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.frame import HoopFrame, hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import Load, between, load, point_load, stack
from hoopwright.beam.path import follow, follow_designs
from hoopwright.beam.response import respond

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "reference"))

SHARE, SPACING = 0.5, 0.1
ELEMENTS, FINE_ELEMENTS, LEVELS, BEND_STEPS = 32, 96, 20, 12
WIND = (0.84, -1.3, -1.3, -0.5)
GUST = 80.0
BURST = 0.03


def best(work: Callable[[], object], runs: int = 7) -> float:
    """Shortest of several runs [ms]."""
    return in_turn([work], runs)[0]


def in_turn(works: list[Callable[[], object]], rounds: int) -> list[float]:
    """Shortest run of each [ms]: bursts of one after the other, so a busy machine is so to all.

    A burst is as many runs as fit into BURST, one at least; its first runs warm the caches.
    """
    shortest = [float("inf")] * len(works)
    for _ in range(rounds):
        for index, work in enumerate(works):
            end = time.perf_counter() + BURST
            while True:
                start = time.perf_counter()
                work()
                shortest[index] = min(shortest[index], (time.perf_counter() - start) * 1e3)
                if time.perf_counter() > end:
                    break
    return shortest


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


def machine() -> str:
    """What this runs on, in one line: its kind, no brand."""
    versions = f"Python {platform.python_version()}, NumPy {np.__version__}"
    return f"{platform.machine()}, {os.cpu_count()} cores, {platform.system()}, {versions}"


def half_snow(made: HoopFrame) -> Load:
    return load(made, on_plan=between(made, 0.0, 0.5))


def ours_dead() -> float:
    made = frame()
    return float(follow(made, half_snow(made)).critical_factor[0])


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


def their_bend(elements: int) -> Any:
    import hoop_by_opensees as outside

    return outside.bend_from_straight(SHARE, 3.0 / SPACING, elements, BEND_STEPS)


def their_dead(elements: int) -> float:
    """Bend, then half-span snow by displacement control, least eigenvalue at each level."""
    import hoop_by_opensees as outside
    import openseespy.opensees as ops

    hoop = their_bend(elements)
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

    hoop = their_bend(elements)
    outside.press_to(hoop, GUST * np.repeat(WIND, elements // 4), steps=8)


def line(what: str, value: float, unit: str = "ms", note: str = "") -> None:
    print(f"{what:<58}{value:9.3f} {unit} {note}".rstrip())


def main() -> None:
    """Print times and ratios."""
    print(machine())
    ours_alone()
    try:
        import hoop_by_opensees  # noqa: F401
    except (ImportError, RuntimeError) as problem:
        print(f"OpenSees is not here, nothing to compare with: {problem}")
        return
    for elements in (ELEMENTS, FINE_ELEMENTS):
        beside_theirs(elements)


def ours_alone() -> None:
    """Ladders, and one hoop in batches."""
    bent = frame()
    cases, steady = ladder(bent), load(bent, down=0.5)
    followed = best(lambda: follow(bent, cases, steady, factor_limit=400.0), 20)
    line("12 cases of a ladder followed", followed)
    line("  with bend and all answers", best(ours_ladder, 20))
    for count in (1, 20):
        each = best(lambda n=count: ours_designs(n), 5) / count
        line(f"  each of {count} designs in a batch", each)


def beside_theirs(elements: int) -> None:
    """One hoop here and in OpenSees, in turn."""
    off = their_dead(elements) / ours_dead() - 1.0
    print(f"OpenSees, {elements} elements (limit {100 * off:+.2f} % from ours)")
    theirs, whole, batch_12, batch_240 = in_turn(
        [
            lambda: their_dead(elements),
            ours_dead,
            lambda: ours_dead_batch(12),
            lambda: ours_dead_batch(240),
        ],
        15,
    )
    their_gust, gust = in_turn([lambda: their_wind(elements), ours_wind], 7)
    line("  half-span snow to failure, OpenSees", theirs)
    for what, time_taken in (
        ("one hoop", whole),
        ("each of 12 in a batch", batch_12 / 12),
        ("each of 240 in a batch", batch_240 / 240),
    ):
        line(f"    {what}", time_taken, note=f"{theirs / time_taken:8.1f} x")
    line("  wind on the film to a gust, OpenSees", their_gust)
    line("    one hoop, with all answers", gust, note=f"{their_gust / gust:8.1f} x")


if __name__ == "__main__":
    main()
