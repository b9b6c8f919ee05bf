"""A sweep of 50 designs at 5 real sites: threads, processes and a local Dask cluster, one killed.

The sites are the typical years that HOOPWRIGHT_SHARED holds. The numbers must be identical on
every engine; on the cluster one of two workers is killed midway, and nothing may be lost or come
twice.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from pathlib import Path
from typing import Any

from hoopwright.programme import engines
from hoopwright.programme.sweep import Engine, Sweep, pieces, read_sites, run
from hoopwright.programme.variants import variants

ROOT = Path(__file__).parents[1]
DEMO = ROOT / "tests" / "usual_bed.toml"
VARY = [
    "spacing=18 in,24 in,30 in,36 in,48 in",
    "pipe=pvc40-1/2,pvc40-3/4,pvc40-1,pvc80-1/2,pvc80-3/4",
    "pin=no,yes",
]


def sweep_in(folder: Path, weather: list[Path]) -> Sweep:
    """Return the sweep, nothing done yet."""
    table = folder / "sites.csv"
    rows = [f"{path.stem[:24]},{path}" for path in weather]
    table.write_text("name,weather\n" + "\n".join(rows) + "\n", encoding="utf-8")
    plans = [(one.name, one.text, DEMO.parent) for one in variants(DEMO, VARY)]
    return Sweep(folder / "out", tuple(pieces(plans, read_sites(table))))


def timed(name: str, weather: list[Path], engine: Engine) -> list[dict[str, Any]]:
    """Run the sweep on an engine and print how long it took."""
    folder = Path(tempfile.mkdtemp())
    whole = sweep_in(folder, weather)
    start = time.perf_counter()
    done = run(whole, engine)
    rows = whole.rows()
    took = time.perf_counter() - start
    print(f"{name:<28}{took:8.1f} s   {done} done, {len(rows)} rows")
    shutil.rmtree(folder)
    return rows


def cluster_with_a_loss(weather: list[Path]) -> list[dict[str, Any]]:
    """Run on two worker processes; kill one when a third of the pieces are done."""
    from distributed import LocalCluster

    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
        folder = Path(tempfile.mkdtemp())
        whole = sweep_in(folder, weather)
        worker = next(iter(cluster.workers.values()))
        victim = worker.process.process.pid
        third, killed = len(whole.pieces) // 3, []

        def watch(done: int, total: int) -> None:
            if done == third:
                os.kill(victim, 9)
                killed.append(victim)

        start = time.perf_counter()
        done = run(whole, engines.dask(cluster.scheduler_address), watch)
        rows = whole.rows()
        took = time.perf_counter() - start
        print(
            f"{'Dask, 2 workers, 1 killed':<28}{took:8.1f} s   {done} done, {len(rows)} rows, "
            f"{len(killed)} killed"
        )
        shutil.rmtree(folder)
        return rows


def main() -> None:
    """Run all engines and hold their numbers against each other."""
    shared = Path(os.environ.get("HOOPWRIGHT_SHARED", ROOT.parent / "shared")) / "weather"
    weather = sorted(shared.glob("*.epw"))
    if len(weather) < 5:
        print(f"no five weather years in {shared}: set HOOPWRIGHT_SHARED")
        return
    first = timed("threads, 2", weather, engines.threads(2))
    second = timed("processes, 2", weather, engines.processes(2))
    third = cluster_with_a_loss(weather)
    print(f"identical: processes {first == second}, Dask {first == third}")
    assert first == second == third
    assert len(first) == len({(row["plan"], row["site"]) for row in first}) == 250


if __name__ == "__main__":
    main()
