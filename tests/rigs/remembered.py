"""Ladders, orders and what would help, worked out once for a design however many tests ask.

They follow from what they are given and nothing else, and what they are given is compared whole, as
bytes. For rooms whose tests change nothing of the program while it runs.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from hoopwright.design import flow
from hoopwright.sheet import document

MOST = 40  # [-] of each: a ladder with its draws takes four megabytes


def remembered(
    function: Callable[..., Any], what: Callable[..., Any] = lambda *given: given
) -> Callable[..., Any]:
    """Return a function that works each answer out once; `what` picks what the answer rests on."""
    held: dict[bytes, Any] = {}

    def ask(*given: Any) -> Any:
        key = pickle.dumps(what(*given))
        if key not in held:
            if len(held) >= MOST:
                del held[next(iter(held))]
            held[key] = function(*given)
        return held[key]

    return ask


LADDER, ORDER = remembered(flow.ladder), remembered(flow.order_of)
CHANGES = remembered(document.worked_changes, lambda read, _: (read.plan, read.catalogue))


@contextmanager
def once() -> Iterator[None]:
    """Remember, while this is open, ladders and orders of this and earlier times."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flow, "ladder", LADDER)
        patch.setattr(flow, "order_of", ORDER)
        patch.setattr(document, "worked_changes", CHANGES)
        yield
