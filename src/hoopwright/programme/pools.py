"""Processes that stop when their work is stopped, and end with the process that began them."""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from typing import Any


@contextmanager
def pool(
    workers: int, start: Callable[..., None] | None = None, given: tuple[Any, ...] = ()
) -> Iterator[ProcessPoolExecutor]:
    """Give a pool of fresh processes; where the work ends in an error, they end with it.

    A pool left to itself would do all that waits first: a minute after the person gave up.
    start, given : what each process runs as it starts
    """
    others = set(multiprocessing.active_children())
    context = multiprocessing.get_context("spawn")
    held = ProcessPoolExecutor(workers, context, _begin, (start, given))
    try:
        yield held
    except BaseException:
        held.shutdown(wait=False, cancel_futures=True)
        for process in set(multiprocessing.active_children()) - others:
            process.terminate()
        raise
    held.shutdown()


def _begin(start: Callable[..., None] | None, given: tuple[Any, ...]) -> None:
    """Leave the keyboard's stop to the process that asked, then start."""
    end_with_parent()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if start is not None:
        start(*given)


def end_with_parent() -> None:
    """End this process when the one that began it is gone, however that ended.

    A killed parent can tell nobody; but what only it held open closes: on POSIX a pipe's other
    end, elsewhere its handle. A thread waits for that. (Linux's parent-death signal would come
    too early: it follows the thread that began the process.)
    """
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_await, args=(parent,), daemon=True, name="parent").start()


def _await(parent: multiprocessing.process.BaseProcess) -> None:
    parent.join()
    os._exit(1)
