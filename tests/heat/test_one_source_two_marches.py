"""The plain march and the compiled one are one source and one answer."""

from __future__ import annotations

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from heat_rig import FILM, bed, real, stretch

from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.covers import cover_optics, perforated
from hoopwright.heat.enclosure import InnerFabric, WaterJugs
from hoopwright.heat.run import simulate
from hoopwright.heat.schedule import Schedule, Season

FABRIC = cover_optics("fabric-0.55")
CASES = {
    "closed": (bed(), FILM, Schedule.closed()),
    "open bed": (bed(), FILM, Schedule.open_bed()),
    "opener": (bed(), FILM, Schedule((Season((1, 1), (12, 31), True, 0.3, opener_from=18.0),))),
    "perforated": (bed(), perforated(FILM, 0.02), Schedule.closed()),
    "jugs": (bed(jugs=WaterJugs(0.08, 1.2, 0.3)), FILM, Schedule.closed()),
    "fabric inside": (bed(fabric=InnerFabric(FABRIC)), FILM, Schedule.closed()),
}


@pytest.mark.parametrize("case", CASES)
def test_plain_and_compiled_agree(case: str) -> None:
    weather = stretch(real("Bozeman"), 24 * 70, 24 * 12)  # March: freezing and thawing
    which, optics, schedule = CASES[case]
    plain = simulate(weather, which, optics, schedule)
    fast = simulate(weather, which, optics, schedule, march=compiled_march())
    for name in ("air", "leaf", "surface", "cover", "soil", "opening", "jugs", "upper_air"):
        apart = np.abs(getattr(plain, name) - getattr(fast, name)).max()
        assert apart < 1e-9, (name, apart)
    assert fast.energy.light == pytest.approx(plain.energy.light, rel=1e-9)


def test_a_plain_run_never_loads_the_compiler() -> None:
    code = (
        "import sys; import hoopwright.heat.run, hoopwright.heat.compare, hoopwright.heat.compiled,"
        " hoopwright.heat.uncertainty; print('numba' in sys.modules, 'scipy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]


def test_threads_give_the_same_as_one() -> None:
    weather = stretch(real("Bozeman"), 0, 24 * 60)
    march = compiled_march()

    def run(_: int) -> float:
        return float(simulate(weather, bed(), FILM, Schedule.closed(), march=march).air.sum())

    alone = run(0)
    with ThreadPoolExecutor(2) as pool:
        assert set(pool.map(run, range(8))) == {alone}
