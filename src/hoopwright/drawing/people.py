"""People in outline, so that sizes are felt: a standing figure and an arm that reaches in.

Our own simple outline. Proportions: eye, shoulder, hip and knee heights at about 0.94, 0.82,
0.53 and 0.29 of the stature (common practice in figure drawing, no source).
"""

from __future__ import annotations

import numpy as np

from hoopwright.drawing.scene import Circle, Layer, Point, Polyline, Shape, Tone

#: Half of a standing figure from the neck down to the crotch: (across, up) as shares of stature.
_HALF = (
    (0.026, 0.885),
    (0.032, 0.845),
    (0.095, 0.815),
    (0.122, 0.790),
    (0.135, 0.700),
    (0.143, 0.620),
    (0.150, 0.540),
    (0.152, 0.470),
    (0.140, 0.440),
    (0.126, 0.470),
    (0.118, 0.560),
    (0.108, 0.640),
    (0.092, 0.730),
    (0.084, 0.640),
    (0.092, 0.540),
    (0.092, 0.430),
    (0.078, 0.290),
    (0.070, 0.150),
    (0.060, 0.045),
    (0.088, 0.012),
    (0.084, 0.000),
    (0.030, 0.000),
    (0.026, 0.030),
    (0.028, 0.150),
    (0.020, 0.290),
    (0.012, 0.430),
    (0.000, 0.470),
)

#: A hand and forearm that point along +x, tip at 0: (along, across) [m].
_ARM = (
    (-0.62, 0.062),
    (-0.44, 0.058),
    (-0.36, 0.050),
    (-0.20, 0.030),
    (-0.16, 0.034),
    (-0.10, 0.040),
    (-0.04, 0.030),
    (0.00, 0.008),
    (-0.004, -0.002),
    (-0.07, -0.006),
    (-0.075, -0.016),
    (-0.05, -0.034),
    (-0.065, -0.044),
    (-0.11, -0.036),
    (-0.16, -0.028),
    (-0.20, -0.028),
    (-0.36, -0.044),
    (-0.44, -0.050),
    (-0.62, -0.052),
)


def smooth(corners: tuple[Point, ...], closed: bool, steps: int = 6) -> tuple[Point, ...]:
    """Return a smooth line through points (Catmull-Rom, centripetal form left out)."""
    p = np.array(corners)
    ring = np.vstack([p[-1:], p, p[:2]]) if closed else np.vstack([p[:1], p, p[-1:]])
    made = []
    for a, b, c, d in zip(ring, ring[1:], ring[2:], ring[3:], strict=False):
        for t in np.arange(steps) / steps:
            made.append(
                0.5
                * (
                    2 * b
                    + (c - a) * t
                    + (2 * a - 5 * b + 4 * c - d) * t**2
                    + (3 * b - a - 3 * c + d) * t**3
                )
            )
    if not closed:
        made.append(p[-1])
    return tuple((float(x), float(y)) for x, y in made)


def standing(at: float, ground: float = 0.0, stature: float = 1.70) -> tuple[Shape, ...]:
    """Return a standing figure whose feet are at (at, ground) [m]."""
    right = smooth(_HALF, closed=False)
    outline = [*right, *((-x, y) for x, y in reversed(right))]
    body = tuple((at + stature * x, ground + stature * y) for x, y in outline)
    head = (at, ground + stature * 0.936)
    return (
        Polyline(body, Layer.PERSON, closed=True, fill=Tone.PAPER),
        Circle(head, 0.056 * stature, Layer.PERSON, Tone.PAPER),
    )


def reaching_arm(tip: Point, leftward: bool, drop: float = 0.25) -> tuple[Shape, ...]:
    """Return an arm that reaches to a place [m], coming down at a slope."""
    sign = -1.0 if leftward else 1.0
    outline = smooth(_ARM, closed=False)
    placed = tuple((tip[0] + sign * x, tip[1] + y - drop * x) for x, y in outline)
    return (Polyline(placed, Layer.PERSON, fill=None),)
