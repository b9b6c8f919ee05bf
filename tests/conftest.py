"""What holds for every test: one thread of linear algebra, and one place for compiled code."""

import os
from pathlib import Path

import pytest

#: The rooms whose files take longest, begun first so that all workers end together.
LONG_ROOMS = ("reference", "web", "programme", "invariant", "unchanged", "sheet")


def pytest_configure() -> None:
    """Set what processes that a test starts get too.

    The matrices here are small: threads that wait for each other on them take more processor time
    than the work. Compiled code is kept under the fingerprint of its sources for all processes of a
    run, also for those that keep their answers in a folder of their own.
    """
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    from hoopwright.caching import ROOT, folder, program_print

    compiled: Path = folder() / "compiled" / program_print(ROOT / "heat")[:16]
    os.environ.setdefault("NUMBA_CACHE_DIR", str(compiled))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the long rooms first, each in its own order."""
    place = {room: at for at, room in enumerate(LONG_ROOMS)}
    items.sort(key=lambda item: place.get(item.path.parent.name, len(place)))
