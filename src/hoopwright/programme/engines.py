"""Where a sweep's pieces are worked out: threads, processes, or a Dask cluster."""

import re
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from hoopwright.programme.pools import pool
from hoopwright.programme.sweep import Engine, Row, SweepError, SweepTask, weigh_piece

#: A piece that took down so many workers is given up on.
MOST_LOSSES = 3
ADDRESS = re.compile(r"(tcp|tls|ws|wss)://[^\s/:]+:\d{1,5}|(tcp|tls)://\[[0-9a-fA-F:]+\]:\d{1,5}")


def threads(workers: int) -> Engine:
    """Return an engine of threads: quick to start, for a few pieces."""

    def engine(pieces: Sequence[SweepTask]) -> Iterator[tuple[SweepTask, Row]]:
        with ThreadPoolExecutor(workers) as held:
            waiting = {held.submit(weigh_piece, piece): piece for piece in pieces}
            for future in as_completed(waiting):
                yield waiting[future], future.result()

    return engine


def processes(workers: int) -> Engine:
    """Return an engine of processes; one that dies costs only the pieces in hand."""

    def engine(pieces: Sequence[SweepTask]) -> Iterator[tuple[SweepTask, Row]]:
        left = {piece.digest: piece for piece in pieces}
        losses = 0
        while left:
            before = len(left)
            try:
                yield from _pooled(workers, left)
            except BrokenProcessPool:
                # The pool falls with its worker; what it had given back is kept.
                losses = losses + 1 if len(left) == before else 0
                if losses >= MOST_LOSSES:
                    names = ", ".join(f"{p.plan} at {p.site}" for p in list(left.values())[:3])
                    raise SweepError(
                        f"worker processes keep dying, at {names}; try --engine threads or fewer "
                        "--workers"
                    ) from None

    return engine


def _pooled(workers: int, left: dict[str, SweepTask]) -> Iterator[tuple[SweepTask, Row]]:
    """Yield pieces as one pool finishes them, taking each out of what is left."""
    with pool(workers) as held:
        waiting = {held.submit(weigh_piece, piece): piece for piece in left.values()}
        broken: BrokenProcessPool | None = None
        for future in as_completed(waiting):
            try:
                row = future.result()
            except BrokenProcessPool as error:
                broken = error
                continue
            piece = waiting[future]
            del left[piece.digest]
            yield piece, row
        if broken is not None:
            raise broken


def dask(address: str, patience: float = 20.0) -> Engine:
    """Return an engine of a Dask cluster by its scheduler's address, as "tcp://host:8786".

    The cluster does a lost worker's pieces again elsewhere. Workers must find the weather files
    under the same paths.
    patience : [s] to wait for the scheduler
    """
    if not ADDRESS.fullmatch(address):
        raise SweepError(f'"{address}" is no address of a scheduler; write it as tcp://host:8786')
    try:
        import distributed
    except ImportError:
        raise SweepError(
            'Dask is not installed; install the extra "batch", or leave --scheduler out'
        ) from None
    room: Any = distributed

    def engine(pieces: Sequence[SweepTask]) -> Iterator[tuple[SweepTask, Row]]:
        try:
            client = room.Client(address, timeout=patience)
        except OSError as error:
            raise SweepError(f"no Dask scheduler answers at {address}: {error}") from None
        with client:
            waiting = {}
            for piece in pieces:
                key = f"hoopwright-{piece.digest}"
                waiting[client.submit(weigh_piece, piece, key=key, retries=2)] = piece
            for future in room.as_completed(list(waiting)):
                yield waiting[future], future.result()
                future.release()

    return engine
