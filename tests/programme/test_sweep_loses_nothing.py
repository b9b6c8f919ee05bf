"""A sweep whose workers or whose own process is killed midway: every row there, and once.

The pieces are slow on purpose and told apart by a count of their own, so that "midway" is a
matter of what is written and not of the machine's pace: a kill comes after the first pieces lie
in the folder and while others are still held back.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from hoopwright.programme import engines
from hoopwright.programme.sweep import Sweep, SweepTask, pieces, read_sites, run, weigh_piece

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "tests" / "usual_bed.toml"
SITES = "name,elevation\n" + "".join(f"site {n},{900 + 100 * n} m\n" for n in range(3))
PATIENCE = 300.0


def sweep_in(folder: Path) -> Sweep:
    """Return a sweep of two plans at six sites, nothing done yet."""
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / "sites.csv"
    file.write_text(SITES, encoding="utf-8")
    text = DEMO.read_text(encoding="utf-8")
    plans = [
        ("one", text, DEMO.parent),
        ("two", text.replace('spacing = "3 ft"', 'spacing = "2 ft"'), DEMO.parent),
    ]
    return Sweep(folder / "out", tuple(pieces(plans, read_sites(file))))


def wait_for(what: Callable[[], bool], child: subprocess.Popen[bytes] | None = None) -> None:
    """Wait until something is so; a machine may be slow, but not for ever."""
    end = time.monotonic() + PATIENCE
    while not what():
        assert time.monotonic() < end, "it never came"
        assert child is None or child.poll() is None, "the sweep ended before it could be killed"
        time.sleep(0.02)


def log(name: str) -> None:
    """Write down that a piece was begun: one short line, appended whole."""
    with Path(os.environ["HOOPWRIGHT_TEST_GATE"], "begun").open("a", encoding="utf-8") as file:
        file.write(f"{os.getpid()} {name}\n")


def gated(piece: SweepTask) -> dict[str, object]:
    """Weigh a piece; but the last ones wait until the gate is opened."""
    gate = Path(os.environ["HOOPWRIGHT_TEST_GATE"])
    log(piece.digest)
    end = time.monotonic() + PATIENCE
    while piece.plan == "two" and not (gate / "open").exists():
        if time.monotonic() > end:
            raise TimeoutError("the gate was never opened")
        time.sleep(0.02)
    return weigh_piece(piece)


@pytest.fixture
def gate(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder in which a test lets the held pieces go, known to child processes."""
    folder = tmp_path / "gate"
    folder.mkdir()
    monkeypatch.setenv("HOOPWRIGHT_TEST_GATE", str(folder))
    before = os.environ.get("PYTHONPATH", "")
    paths = [str(Path(__file__).parent), str(ROOT / "src"), before]
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(filter(None, paths)))
    return folder


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, object]]:
    """Return the rows of the sweep when nothing happens to it."""
    whole = sweep_in(tmp_path_factory.mktemp("undisturbed"))
    run(whole, engines.threads(2))
    return whole.rows()


def pieces_of(whole: Sweep) -> list[Path]:
    """Return the finished pieces; a name with a dot before it is one still being written."""
    return list((whole.folder / "pieces").glob("[!.]*.json"))


def finished(whole: Sweep) -> int:
    """Return how many pieces lie in the folder."""
    return len(pieces_of(whole))


def test_a_dask_worker_killed_midway_loses_nothing_and_doubles_nothing(
    tmp_path: Path,
    gate: Path,
    monkeypatch: pytest.MonkeyPatch,
    undisturbed: list[dict[str, object]],
) -> None:
    """Two worker processes; the one holding a piece back is killed, then the gate opens."""
    distributed = pytest.importorskip("distributed")
    monkeypatch.setattr(engines, "weigh_piece", gated)
    whole = sweep_in(tmp_path)
    given: list[str] = []
    killed: list[int] = []

    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
    ) as cluster:
        pids = {worker.process.process.pid for worker in cluster.workers.values()}

        def watch(done: int, total: int) -> None:
            if done == 3:
                # All of plan one is written; both workers now hold a piece of plan two.
                held = {piece.digest for piece in whole.pieces if piece.plan == "two"}

                def both_hold() -> bool:
                    begun = (gate / "begun").read_text(encoding="utf-8").splitlines()
                    return len({line.split()[0] for line in begun if line.split()[1] in held}) == 2

                wait_for(both_hold)
                lines = (gate / "begun").read_text(encoding="utf-8").splitlines()
                victim = next(int(p) for p, name in map(str.split, lines) if name in held)
                assert victim in pids
                os.kill(victim, signal.SIGKILL)
                killed.append(victim)
                (gate / "open").write_text("x", encoding="utf-8")

        engine = engines.dask(cluster.scheduler_address, patience=PATIENCE)

        def counted(waiting):  # type: ignore[no-untyped-def]
            for piece, row in engine(waiting):
                given.append(piece.digest)
                yield piece, row

        assert run(whole, counted, watch) == 6
    assert killed
    assert sorted(given) == sorted(piece.digest for piece in whole.pieces)
    assert finished(whole) == 6
    assert whole.rows() == undisturbed
    begun = [line.split()[1] for line in (gate / "begun").read_text("utf-8").splitlines()]
    assert len(begun) > len(set(begun)) == 6, "the killed worker's piece was begun again"


STOPPED = """
import sys
from pathlib import Path
import test_sweep_loses_nothing as here
from hoopwright.programme import engines
from hoopwright.programme.sweep import run
engines.weigh_piece = here.gated
run(here.sweep_in(Path(sys.argv[1])), engines.threads(2))
"""


@pytest.mark.skipif(os.name != "posix", reason="kills a process as POSIX does")
def test_a_sweep_killed_midway_goes_on_to_the_same_rows(
    tmp_path: Path,
    gate: Path,
    monkeypatch: pytest.MonkeyPatch,
    undisturbed: list[dict[str, object]],
) -> None:
    """The whole process is killed with half the pieces written; a second run does the rest."""
    whole = sweep_in(tmp_path)
    child = subprocess.Popen([sys.executable, "-c", STOPPED, str(tmp_path)], cwd=tmp_path)
    try:
        wait_for(lambda: finished(whole) == 3, child)
    finally:
        child.kill()
        child.wait()
    kept = {path.name: path.read_bytes() for path in pieces_of(whole)}
    assert len(kept) == 3
    asked: list[str] = []
    engine = engines.threads(2)

    def counted(waiting):  # type: ignore[no-untyped-def]
        for piece, row in engine(waiting):
            asked.append(piece.digest)
            yield piece, row

    assert run(whole, counted) == 3
    assert not set(asked) & {name.removesuffix(".json") for name in kept}
    assert whole.rows() == undisturbed
    again = {name: (whole.folder / "pieces" / name).read_bytes() for name in kept}
    assert again == kept, "what was finished is left as it was"
    rows = [json.dumps(row, sort_keys=True) for row in whole.rows()]
    assert len(rows) == len(set(rows)) == 6
