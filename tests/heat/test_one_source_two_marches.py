"""The plain march and the compiled one are one source and one answer."""

from __future__ import annotations

import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from bench.plain_covers import cover_optics, perforated
from heat_rig import FILM, bed, box, real, stretch

from hoopwright.heat import compiled
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import InnerFabric, Soil, WaterJugs
from hoopwright.heat.run import Case, place_of, simulate, simulate_all
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


def test_side_by_side_is_the_same_as_one_by_one() -> None:
    """Blocks that are full, filled up, of one; lanes that freeze and open on their own days."""
    weather = stretch(real("Bozeman"), 24 * 70, 24 * 12)
    narrow = bed(enclosure=box(width=0.6, sides_that_open=1), soil=Soil(moisture=0.12))
    opener = Schedule((Season((1, 1), (12, 31), True, 0.3, opener_from=18.0),))
    kinds = [*CASES.values(), (narrow, FABRIC, opener), (narrow, FILM, Schedule.open_bed())]
    cases = [Case(*kind, place_of(weather, kind[0])) for kind in kinds]
    for case, fast in zip(cases, simulate_all(weather, cases, compiled_march()), strict=True):
        alone = simulate(weather, case.bed, case.optics, case.schedule, case.at)
        for name in ("air", "leaf", "surface", "cover", "soil", "opening", "jugs", "condensate"):
            apart = np.abs(getattr(alone, name) - getattr(fast, name)).max()
            assert apart < 1e-9, (case.optics.name, name, apart)
        assert fast.energy.stored == pytest.approx(alone.energy.stored, rel=1e-9, abs=1e-3)


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


def test_threads_that_ask_at_once_take_turns(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else one sets the compiler's place while another puts it back: a march was then compiled
    anew, and its code kept in the folder that one stood in."""
    inside: list[str] = []

    def made() -> str:
        assert not inside
        inside.append("one")
        time.sleep(0.02)
        inside.clear()
        return "march"

    monkeypatch.setattr(compiled, "_compiled", made)
    with ThreadPoolExecutor(4) as pool:
        assert set(pool.map(lambda _: compiled_march(), range(4))) == {"march"}
