"""The parallel lines that fill a cut shape."""

from __future__ import annotations

import math

from hoopwright.drawing.scene import Hatch, Layer, Line, Weight


def hatch_lines(hatch: Hatch, scale: float) -> tuple[Line, ...]:
    """Return the lines of a hatch, clipped to its shape by the even-odd rule.

    scale : of the view, since the spacing is kept on paper
    """
    angle = math.radians(hatch.angle)
    cosine, sine = math.cos(angle), math.sin(angle)
    turned = [(x * cosine + y * sine, -x * sine + y * cosine) for x, y in hatch.points]
    spacing = hatch.spacing * scale
    low = min(v for _, v in turned)
    high = max(v for _, v in turned)
    lines = []
    # Lines fall on whole multiples of the spacing, so that pieces side by side are ruled alike.
    for number in range(math.ceil(low / spacing), math.floor(high / spacing) + 1):
        v = number * spacing
        hits = sorted(
            u0 + (v - v0) / (v1 - v0) * (u1 - u0)
            for (u0, v0), (u1, v1) in zip(turned, turned[1:] + turned[:1], strict=True)
            if (v0 <= v) != (v1 <= v)
        )
        for u0, u1 in zip(hits[::2], hits[1::2], strict=False):
            start = (u0 * cosine - v * sine, u0 * sine + v * cosine)
            end = (u1 * cosine - v * sine, u1 * sine + v * cosine)
            lines.append(Line(start, end, Layer(hatch.layer), Weight.THIN))
    return tuple(lines)
