"""Gaps in a row of figures, and totals over several hours: where they are, how they are filled."""

import numpy as np

from hoopwright.climate.weather import Series


def runs_of_missing(values: Series) -> list[tuple[int, int]]:
    """Return (first, one past last) of every run of NaN."""
    missing = np.concatenate([[False], ~np.isfinite(values), [False]])
    edges = np.flatnonzero(np.diff(missing.astype(np.int8)))
    return [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def draw_across(values: Series) -> Series:
    """Return values with NaN drawn straight between the known ones; held at the two ends."""
    known = np.isfinite(values)
    if known.all() or not known.any():
        return np.array(values, dtype=float)
    hours = np.arange(values.size)
    return np.interp(hours, hours[known], values[known])


def fill_direction(direction: Series, repairs: list[str], unknown: float = 270.0) -> Series:
    """Return wind direction [deg] with gaps held from the last known hour, and said.

    unknown : [deg] taken where the file has none at all: west, an assumption
    """
    missing = ~np.isfinite(direction)
    if not missing.any():
        return direction % 360.0
    if missing.all():
        repairs.append(f"Wind direction is not in the file; {unknown:.0f} deg was taken.")
        return np.full_like(direction, unknown)
    last = np.where(missing, -1, np.arange(direction.size))
    last = np.maximum.accumulate(last)
    first_known = int(np.flatnonzero(~missing)[0])
    last = np.where(last < 0, first_known, last)
    repairs.append(
        f"Wind direction: {int(missing.sum())} missing hours keep the last known direction."
    )
    return direction[last] % 360.0


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
