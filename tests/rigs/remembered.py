"""Ladders and orders worked out once for each design, however many tests and commands ask.

Both follow from what they are given and nothing else, and what they are given is compared whole, as
bytes. For rooms whose tests change nothing of the program while it runs.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from hoopwright.design import flow

MOST = 40  # [-] of each: a ladder with its draws takes four megabytes


def remembered(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a function that works each answer out once."""
    held: dict[bytes, Any] = {}

    def ask(*given: Any) -> Any:
        key = pickle.dumps(given)
        if key not in held:
            if len(held) >= MOST:
                del held[next(iter(held))]
            held[key] = function(*given)
        return held[key]

    return ask


LADDER, ORDER = remembered(flow.ladder), remembered(flow.order_of)


@contextmanager
def once() -> Iterator[None]:
    """Remember, while this is open, ladders and orders of this and earlier times."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flow, "ladder", LADDER)
        patch.setattr(flow, "order_of", ORDER)
        yield
