"""Workers end with the process that began them, however it ended.

Each holds the standard output of its parent open: the test reads its end when the last is gone,
so nothing here depends on the pace of the machine.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import subprocess
import sys
import threading
from multiprocessing.connection import Connection
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import hoopwright

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")

#: Seconds after which a test gives up and fails: a bound and not a measure.
PATIENCE = 300
#: Where a child finds the program under test and this file.
PLACES = (str(Path(hoopwright.__file__).parents[1]), str(Path(__file__).parent))


def stay(*_: Any) -> None:
    """Say that work began, then work for ever."""
    os.write(1, b"begun\n")
    while True:
        pass


def _web_worker(line: Connection) -> None:
    from hoopwright.web import processes, work_kinds

    work_kinds.TASKS = {"stay": stay}
    processes._work(line)


def _web_job(line: Connection) -> None:
    from hoopwright.web import work_queue

    work_queue.KINDS = {"stay": SimpleNamespace(work=stay)}
    work_queue._do(line, "stay", "", None)


def searches() -> None:
    """Be `advise` or `sweep`: a pool at work."""
    from hoopwright.programme.pools import pool

    with pool(2) as held:
        list(held.map(stay, range(2)))


def serves() -> None:
    """Be the server: a process that a page waits for, and a job's."""
    from hoopwright.web import processes

    processes._work = _web_worker
    ours, theirs = multiprocessing.get_context("spawn").Pipe()
    multiprocessing.get_context("spawn").Process(target=_web_job, args=(theirs,)).start()
    held = processes.Processes(1, float(PATIENCE))
    held.ask("stay")
    ours.close()


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
@pytest.mark.parametrize("parent", ["searches", "serves"])
def test_workers_end_with_their_parent(parent: str, how: signal.Signals) -> None:
    run = f"import test_workers_end as it\nif __name__ == '__main__':\n    it.{parent}()"
    child = subprocess.Popen(
        [sys.executable, "-c", run],
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(PLACES)},
    )
    late: list[bool] = []

    def give_up() -> None:
        late.append(True)
        with contextlib.suppress(ProcessLookupError):
            os.killpg(child.pid, signal.SIGKILL)

    clock = threading.Timer(PATIENCE, give_up)
    clock.start()
    try:
        assert child.stdout is not None
        assert [child.stdout.readline() for _ in range(2)] == ["begun\n"] * 2
        os.kill(child.pid, how)
        assert child.stdout.read() == ""
        assert not late, "workers outlived their parent"
        assert child.wait() == -how
    finally:
        clock.cancel()
        give_up()
