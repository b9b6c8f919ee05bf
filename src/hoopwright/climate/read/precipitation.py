"""Totals over several hours among hourly rain: shared out, never counted twice."""

from __future__ import annotations

import numpy as np

from hoopwright.climate.weather import Series


def share_out_totals(depth: Series, hours: Series) -> Series:
    """Return hourly precipitation [mm] from depths that may stand for several hours.

    depth : [mm], NaN where missing; hours : [h] that each depth covers, NaN taken as 1
    A total over several hours that overlaps hours with figures of their own is left out, as it
    repeats them; otherwise it is shared evenly over its hours (an assumption).
    """
    covered = np.where(np.isfinite(hours) & (hours >= 1), hours, 1.0)
    totals = np.flatnonzero(np.isfinite(depth) & (covered > 1))
    if totals.size == 0:
        return depth
    shared = np.array(depth, dtype=float)
    shared[totals] = np.nan
    for at in totals:
        first = max(0, int(at) - int(covered[at]) + 1)
        if not np.isfinite(shared[first : at + 1]).any():
            shared[first : at + 1] = depth[at] / (at + 1 - first)
    return shared
