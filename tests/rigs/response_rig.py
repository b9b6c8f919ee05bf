"""Where a response passes a value, read between the points of a path: for tests of the solver."""

from __future__ import annotations

from math import hypot, sqrt

import numpy as np

from hoopwright.beam.panels import Array


def factor_where(factor: Array, values: Array, threshold: float) -> Array:
    """Load factor at which a value first grows past a threshold, one a case; NaN where it does not.

    Between path points, load and value are parabolas in the length of the curve that one makes over
    the other, so it holds where either stands still. With the default steps within about 0.5 %.
    """
    cases = factor.shape[0]
    out = np.full(cases, np.nan)
    for case in range(cases):
        used = np.isfinite(values[case])
        load, value = factor[case, used], values[case, used]
        over = np.flatnonzero(value >= threshold)
        if over.size == 0:
            continue
        after = int(over[0])
        if after == 0:
            out[case] = load[0]
            continue
        out[case] = _between(load, value, after, threshold)
    return out


def _between(load: Array, value: Array, after: int, threshold: float) -> float:
    """Load where the value reaches the threshold, between points `after` - 1 and `after`."""
    wide, tall = float(np.ptp(load)) or 1.0, float(np.ptp(value)) or 1.0
    near = range(max(after - 2, 0), min(after + 2, load.size))
    f, v = [float(load[i]) for i in near], [float(value[i]) for i in near]
    along = [0.0]
    for i in range(1, len(f)):
        along.append(along[-1] + hypot((f[i] - f[i - 1]) / wide, (v[i] - v[i - 1]) / tall))
    first = after - 1 - near[0]
    found = [
        _on_parabola(along[i : i + 3], f[i : i + 3], v[i : i + 3], first - i, threshold)
        for i in range(len(f) - 2)
    ]
    if not found:
        share = (threshold - v[first]) / (v[first + 1] - v[first])
        return f[first] + share * (f[first + 1] - f[first])
    return sum(found) / len(found)


def _on_parabola(
    along: list[float], load: list[float], value: list[float], first: int, threshold: float
) -> float:
    """Load where a parabola through three values reaches the threshold, from point `first` on."""

    def terms(of: list[float]) -> tuple[float, float, float]:
        slope = (of[1] - of[0]) / (along[1] - along[0])
        next_slope = (of[2] - of[1]) / (along[2] - along[1])
        return of[0], slope, (next_slope - slope) / (along[2] - along[0])

    def at(of: tuple[float, float, float], place: float) -> float:
        near, far = place - along[0], place - along[1]
        return of[0] + of[1] * near + of[2] * near * far

    _, slope, bend = terms(value)
    low, high = along[first], along[first + 1]
    # From the interval's start: constant + rise s + bend s^2 = 0, its least root on the way up.
    constant = value[first] - threshold
    rise = slope + bend * ((low - along[0]) + (low - along[1]))
    root = max(rise * rise - 4.0 * bend * constant, 0.0)
    size = rise + sqrt(root)
    share = -2.0 * constant / size if size > 0.0 else high - low
    return at(terms(load), low + min(max(share, 0.0), high - low))
