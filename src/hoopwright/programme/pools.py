"""A pool of processes that stops at once when its work is stopped."""

from __future__ import annotations

import multiprocessing
import signal
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
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if start is not None:
        start(*given)
