"""The least stiffness of one hoop, as `firmness` finds it, without a library's eigenvalues."""

from __future__ import annotations

from math import acos, cos, pi, sqrt

import numpy as np

from hoopwright.beam.panels import Array

# How often the inverse of the tangent at rest is squared, and how often that is then applied.
SQUARINGS, ROUNDS_AT_REST = 1, 10


def least_stiffness_of(
    weights: Array, modes: Array, moved: Array, better: Array, small: Array
) -> float:
    """Least stiffness [EI / L^2] of the movements; `better` gets them improved, softest first.

    weights: integration weights. modes: three orthonormal movements tried, (3, points). moved: what
    the tangent's inverse, feet kept, makes of them. small: (3, 3) to write in.
    """
    count = weights.size
    for i in range(3):
        for j in range(3):
            total = 0.0
            for m in range(count):
                total += weights[m] * modes[i, m] * moved[j, m]
            small[i, j] = total
    stiffness, value = _softest(small)
    v0, v1, v2 = _vector(small, value)
    # The softest, and the two movements that make the least part of it.
    large = 0
    if abs(v1) > abs(v0):
        large = 1
    if abs(v2) > max(abs(v0), abs(v1)):
        large = 2
    for m in range(count):
        better[0, m] = v0 * moved[0, m] + v1 * moved[1, m] + v2 * moved[2, m]
        better[1, m] = moved[1, m] if large == 0 else moved[0, m]
        better[2, m] = moved[1, m] if large == 2 else moved[2, m]
    orthonormal_rows(weights, better)
    return stiffness


def orthonormal_rows(weights: Array, rows: Array) -> None:
    """Make movements orthonormal in the mean square along the arc, in place, in order.

    Gram and Schmidt's method, twice over.
    """
    for i in range(rows.shape[0]):
        for _ in range(2):
            for j in range(i):
                share = 0.0
                for m in range(weights.size):
                    share += weights[m] * rows[i, m] * rows[j, m]
                for m in range(weights.size):
                    rows[i, m] -= share * rows[j, m]
            size = 0.0
            for m in range(weights.size):
                size += weights[m] * rows[i, m] * rows[i, m]
            over = 1.0 / sqrt(size) if size > 0.0 else 0.0
            for m in range(weights.size):
                rows[i, m] *= over


def _softest(a: Array) -> tuple[float, float]:
    """Least -1 / eigenvalue of a (3, 3) matrix, and the eigenvalue (its real part where complex).

    Cardano's formula, in cosines where all three are real; then Newton's method on the cubic.
    """
    third = (a[0, 0] + a[1, 1] + a[2, 2]) / 3.0
    minors = a[0, 0] * a[1, 1] - a[0, 1] * a[1, 0] + a[0, 0] * a[2, 2] - a[0, 2] * a[2, 0]
    minors += a[1, 1] * a[2, 2] - a[1, 2] * a[2, 1]
    whole = a[0, 0] * (a[1, 1] * a[2, 2] - a[1, 2] * a[2, 1])
    whole -= a[0, 1] * (a[1, 0] * a[2, 2] - a[1, 2] * a[2, 0])
    whole += a[0, 2] * (a[1, 0] * a[2, 1] - a[1, 1] * a[2, 0])
    # With value = third + t: t^3 - 3 spread t - 2 turn = 0.
    spread = third * third - minors / 3.0
    turn = 0.5 * (whole - third * minors) + third**3
    if spread > 0.0 and turn * turn <= spread**3:
        root = sqrt(spread)
        angle = acos(min(1.0, max(-1.0, turn / (spread * root)))) / 3.0
        least, chosen = np.inf, 0.0
        for k in range(3):
            value = third + 2.0 * root * cos(angle - 2.0 * pi * k / 3.0)
            value = _polished(value, third, minors, whole)
            stiffness = -1.0 / value if abs(value) > 1e-14 else np.inf
            if k == 0 or stiffness < least:
                least, chosen = stiffness, value
        return least, chosen
    inner = sqrt(max(turn * turn - spread**3, 0.0))
    sign = 1.0 if turn >= 0.0 else -1.0
    first = sign * (abs(turn) + inner) ** (1.0 / 3.0)
    second = spread / first if first != 0.0 else 0.0
    value = _polished(third + first + second, third, minors, whole)
    stiffness = -1.0 / value if abs(value) > 1e-14 else np.inf
    # The other two are a pair; their product is the whole over this one.
    real = 0.5 * (3.0 * third - value)
    square = real * real + 0.75 * (first - second) ** 2
    paired = -real / square if square > 0.0 else np.inf
    return (stiffness, value) if stiffness <= paired else (paired, real)


def _polished(value: float, third: float, minors: float, whole: float) -> float:
    for _ in range(2):
        error = ((value - 3.0 * third) * value + minors) * value - whole
        slope = (3.0 * value - 6.0 * third) * value + minors
        change = error / slope if slope != 0.0 else 0.0
        if abs(change) < 1e-3 * abs(value):
            value -= change
    return value


def _vector(a: Array, value: float) -> tuple[float, float, float]:
    """Eigenvector of a (3, 3) matrix: the cross product of two rows that is longest."""
    best, v0, v1, v2 = 0.0, 1.0, 0.0, 0.0
    for skipped in range(3):
        i, j = (skipped + 1) % 3, (skipped + 2) % 3
        r0, r1, r2 = a[i, 0], a[i, 1], a[i, 2]
        s0, s1, s2 = a[j, 0], a[j, 1], a[j, 2]
        r0, r1, r2 = (r0 - value, r1, r2) if i == 0 else (r0, r1, r2)
        r1 = r1 - value if i == 1 else r1
        r2 = r2 - value if i == 2 else r2
        s0 = s0 - value if j == 0 else s0
        s1 = s1 - value if j == 1 else s1
        s2 = s2 - value if j == 2 else s2
        c0, c1, c2 = r1 * s2 - r2 * s1, r2 * s0 - r0 * s2, r0 * s1 - r1 * s0
        size = c0 * c0 + c1 * c1 + c2 * c2
        if size > best:
            over = 1.0 / sqrt(size)
            best, v0, v1, v2 = size, c0 * over, c1 * over, c2 * over
    return v0, v1, v2


def softest_of_inverse(weights: Array, inverse: Array, modes: Array) -> float:
    """Least stiffness at rest, and the three softest movements into `modes`, softest first.

    inverse: (points, points), row by row what the tangent's inverse makes of a push at each point;
    it is written over.
    """
    count = weights.size
    power, product = inverse.copy(), np.zeros((count, count))
    for _ in range(SQUARINGS):
        product[:, :] = 0.0
        for i in range(count):
            for j in range(count):
                share = power[i, j]
                for m in range(count):
                    product[i, m] += share * power[j, m]
        power[:, :] = product
    for m in range(count):
        along = (m + 0.5) / count
        for mode in range(3):
            modes[mode, m] = (
                cos(pi * (mode + 1) * along) + 0.3 * cos(pi * mode * along) + 0.1 * along
            )
    orthonormal_rows(weights, modes)
    moved, small, least = np.zeros((3, count)), np.zeros((3, 3)), 0.0
    for turn in range(ROUNDS_AT_REST + 1):
        # The last round with the inverse itself, whose eigenvalues are wanted.
        by = inverse if turn == ROUNDS_AT_REST else power
        moved[:, :] = 0.0
        for mode in range(3):
            for j in range(count):
                for m in range(count):
                    moved[mode, m] += modes[mode, j] * by[j, m]
        if turn < ROUNDS_AT_REST:
            modes[:, :] = moved
            orthonormal_rows(weights, modes)
        else:
            better = np.zeros((3, count))
            least = least_stiffness_of(weights, modes, moved, better, small)
            modes[:, :] = better
    return least
