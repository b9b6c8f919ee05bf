"""The search timed on thousands of designs, and its front held to brute force on 200.

Brute force weighs each of 200 designs by itself: its own loaded hoop, its own order, its own year
under the cover and in the open, nothing shared; and takes the front by the definition.
"""

from __future__ import annotations

import time
from pathlib import Path

import numpy as np

from hoopwright import design_of, read_plan
from hoopwright.design.growing import (
    heat_bed_of,
    own_optics,
    schedule_of_plan,
    typical_year,
)
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.run import place_of, simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.plan.read import ReadPlan
from hoopwright.programme.advise import Space, Wish, advise, merged, scores, usual_space, weigh_all
from hoopwright.programme.changes import changed
from hoopwright.programme.front import front
from hoopwright.programme.weighing import growth_of

DEMO = Path(__file__).parents[1] / "tests" / "usual_bed.toml"


def main() -> None:
    """Print the time of the search and whether the fronts are the same."""
    read = read_plan(DEMO)
    design = design_of(read)
    space = usual_space(read, design)
    weather = typical_year(read.plan, read.weather_file)
    start = time.perf_counter()
    found = advise(read, space, Wish(), weather, workers=2)
    took = time.perf_counter() - start
    print(
        f"{found.searched:,} designs, ladder and a year each, 2 processes  {took:6.1f} s "
        "(asked: 3,000 under 60)"
    )
    print(f"on the front: {len(found.whole)}")

    pipes, spacings, heights, holds, covers, vents = space.axes
    small = Space((pipes[:5], spacings[1:3], heights[:2], holds[:5], covers[:2], vents[:1]))
    designs = list(small)
    start = time.perf_counter()
    shared = weigh_all(read, designs, weather)
    took = time.perf_counter() - start
    rows = scores([worth for worth in shared if worth is not None])
    start = time.perf_counter()
    alone = []
    for choices in designs:
        one = design_of(ReadPlan(changed(read.plan, merged(choices)), read.catalogue))
        careful = one.ladder.opens.told[0]
        bed = heat_bed_of(one)
        at = place_of(weather, bed)
        optics, march = own_optics(one), compiled_march()
        under = simulate(weather, bed, optics, schedule_of_plan(one.plan), at, march)
        bare = simulate(weather, bed, optics, Schedule.open_bed(), at, march)
        alone.append((one.order.total, -min(careful, 67.0), -growth_of(under, bare).degrees))
    slow = time.perf_counter() - start
    each = np.array(alone)
    apart = float(np.abs(rows - each).max())
    best = [
        n
        for n, row in enumerate(each)
        if not any(np.all(other <= row) and np.any(other < row) for other in each)
    ]
    ours = {tuple(rows[n].round(6)) for n in front(rows)}
    brute = {tuple(each[n].round(6)) for n in best}
    print(f"{len(designs)} designs: shared {took:.1f} s, each by itself {slow:.1f} s")
    print(f"greatest difference of any figure {apart:.1e}; fronts equal: {ours == brute}")
    print(f"front of {len(ours)}")
    assert ours == brute


if __name__ == "__main__":
    main()
