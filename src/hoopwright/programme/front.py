"""The trade-off front: the designs that none beats in everything at once."""

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]


def front(scores: Numbers) -> NDArray[np.int64]:
    """Return the rows that no other row dominates, in the order given.

    scores : shape (designs, aims), each aim the less the better. A row dominates another where it
             is no worse in every aim and better in one; of equal rows the first is kept.
    """
    if scores.shape[0] == 0:
        return np.zeros(0, dtype=np.int64)
    # Whoever dominates a row comes before it in this order, so one pass suffices.
    order = np.lexsort([np.arange(len(scores)), *scores.T[::-1]])
    kept: list[int] = []
    for row in order:
        held = scores[kept]
        if kept and bool(np.any(np.all(held <= scores[row], axis=1))):
            continue
        kept.append(int(row))
    return np.sort(np.array(kept, dtype=np.int64))


def balance(scores: Numbers) -> Numbers:
    """Return how far each row is from the best in every aim at once, each scaled to its range."""
    return np.asarray(np.sqrt((_scaled(scores) ** 2).sum(axis=1)))


def _scaled(scores: Numbers) -> Numbers:
    low, high = scores.min(axis=0), scores.max(axis=0)
    return np.asarray((scores - low) / np.where(high > low, high - low, 1.0))


def spread_out(scores: Numbers, most: int) -> NDArray[np.int64]:
    """Return a few rows that stand for all: the best in each aim, then the farthest from those.

    Distances are taken with each aim scaled to its own range.
    """
    count = scores.shape[0]
    if count <= most:
        return np.arange(count)
    scaled = _scaled(scores)
    chosen = list(dict.fromkeys(int(np.argmin(scaled[:, aim])) for aim in range(scores.shape[1])))
    middle = int(np.argmin(balance(scores)))
    if middle not in chosen:
        chosen.append(middle)
    while len(chosen) < most:
        near = np.min(np.linalg.norm(scaled[:, None, :] - scaled[None, chosen, :], axis=2), axis=1)
        chosen.append(int(np.argmax(near)))
    return np.array(chosen[:most])
