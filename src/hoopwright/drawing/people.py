"""People in outline, so that sizes are felt: a standing figure and an arm that reaches in.

Our own simple outline. Proportions: eye, shoulder, hip and knee heights at about 0.94, 0.82,
0.53 and 0.29 of the stature (common practice in figure drawing, no source).
"""

from functools import cache

import numpy as np

from hoopwright.drawing.scene import Circle, Layer, Point, Polyline, Shape, Tone, part
from hoopwright.tables.reader import shipped


@cache
def outline(name: str) -> tuple[Point, ...]:
    """Return an outline of drawing/data/outlines.csv: (across, up) as shares of the stature; of an
    arm that points along +x, tip at 0, (along, across) [m]."""
    rows = [row.cells for row in shipped("outlines", "drawing/data")]
    return tuple((float(r["across"]), float(r["up"])) for r in rows if r["outline"] == name)


def smooth(corners: tuple[Point, ...], closed: bool, steps: int = 6) -> tuple[Point, ...]:
    """Return a smooth line through points (Catmull-Rom, centripetal form left out)."""
    p = np.array(corners)
    ring = np.vstack([p[-1:], p, p[:2]]) if closed else np.vstack([p[:1], p, p[-1:]])
    made = []
    for a, b, c, d in zip(ring, ring[1:], ring[2:], ring[3:], strict=False):
        for t in np.arange(steps) / steps:
            square, cube = 2 * a - 5 * b + 4 * c - d, 3 * b - a - 3 * c + d
            made.append(0.5 * (2 * b + (c - a) * t + square * t**2 + cube * t**3))
    if not closed:
        made.append(p[-1])
    return tuple((float(x), float(y)) for x, y in made)


#: How tall a standing figure is drawn [m].
STATURE = 1.70


def standing(at: float, ground: float = 0.0, stature: float = STATURE) -> tuple[Shape, ...]:
    """Return a standing figure whose feet are at (at, ground) [m]."""
    right = smooth(outline("half of a standing figure"), closed=False)
    whole = [*right, *((-x, y) for x, y in reversed(right))]
    body = tuple((at + stature * x, ground + stature * y) for x, y in whole)
    head = (at, ground + stature * 0.936)
    return (
        part(body, Layer.PERSON),
        Circle(head, 0.056 * stature, Layer.PERSON, Tone.PAPER),
    )


def reaching_arm(tip: Point, leftward: bool, drop: float = 0.25) -> tuple[Shape, ...]:
    """Return an arm that reaches to a place [m], coming down at a slope."""
    sign = -1.0 if leftward else 1.0
    arm = smooth(outline("arm"), closed=False)
    placed = tuple((tip[0] + sign * x, tip[1] + y - drop * x) for x, y in arm)
    return (Polyline(placed, Layer.PERSON, fill=None),)
