"""A few processes that do tasks, one at a time each, and are ended where one takes too long."""

import multiprocessing
import queue
import signal
import threading
from multiprocessing.connection import Connection
from typing import Any

from hoopwright.programme.pools import end_with_parent

#: Seconds that a new process waits for a task before it warms up.
_QUIET = 0.8
_SPAWN = multiprocessing.get_context("spawn")


class TooLong(RuntimeError):
    """A task was ended because it ran longer than it may."""


class WorkFailed(RuntimeError):
    """A task ended with an error that nobody foresaw."""


def _work(line: Connection) -> None:
    """Do what is asked down the line until it closes."""
    end_with_parent()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # The first page goes first; then what a design needs is loaded before it is asked for.
    asked = line.poll(_QUIET)
    from hoopwright.web.work_kinds import TASKS, warm_up

    if not asked:
        warm_up()
    while True:
        try:
            name, arguments = line.recv()
        except (EOFError, OSError):
            return
        try:
            answer = (True, TASKS[name](*arguments))
        except Exception as error:
            answer = (False, f"{type(error).__name__}: {error}")
        try:
            line.send(answer)
        except (BrokenPipeError, OSError):
            return


class _Process:
    def __init__(self) -> None:
        self.line, theirs = _SPAWN.Pipe()
        self.process = _SPAWN.Process(target=_work, args=(theirs,), daemon=True)
        self.process.start()
        theirs.close()

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.line.close()


class Processes:
    """Processes that do tasks by name."""

    def __init__(self, count: int, seconds: float) -> None:
        """Start `count` processes; a task may take `seconds`."""
        self._seconds = seconds
        # Last in, first out: whoever worked last remembers the bed that is asked of next.
        self._idle: queue.LifoQueue[_Process] = queue.LifoQueue()
        self._all: set[_Process] = set()
        self._turn = threading.Lock()
        self._open = True
        for _ in range(count):
            self._begin()

    def _begin(self) -> None:
        with self._turn:
            if self._open:
                worker = _Process()
                self._all.add(worker)
                self._idle.put(worker)

    def ask(self, task: str, *arguments: Any, seconds: float | None = None) -> Any:
        """Return what a task gives, waiting for a process that is free.

        Raises TooLong or WorkFailed.
        """
        allowed = self._seconds if seconds is None else seconds
        try:
            worker = self._idle.get(timeout=allowed)
        except queue.Empty:
            raise TooLong("all processes are busy") from None
        try:
            worker.line.send((task, arguments))
            if not worker.line.poll(allowed):
                raise TooLong(f"{task} took longer than {allowed:.0f} s and was ended")
            done, answer = worker.line.recv()
        except (EOFError, OSError) as error:
            self._replace(worker)
            raise WorkFailed(f"{task}: the process ended ({error})") from None
        except BaseException:
            self._replace(worker)
            raise
        self._idle.put(worker)
        if not done:
            raise WorkFailed(f"{task}: {answer}")
        return answer

    def _replace(self, worker: _Process) -> None:
        with self._turn:
            self._all.discard(worker)
        worker.end()
        self._begin()

    def close(self) -> None:
        """End all processes."""
        with self._turn:
            self._open = False
            for worker in self._all:
                worker.end()
            self._all.clear()
