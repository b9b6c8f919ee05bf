"""How each kind of line looks: its weight, its dashes, its DXF colour; the lines of a hatch."""

import math

from hoopwright.drawing.scene import Hatch, Layer, Line, Tone, Weight
from hoopwright.frozen import dataclass

INK = "#1b1a19"
ACCENT = "#8f2d21"
TONES = {Tone.PAPER: "#ffffff", Tone.LIGHT: "#ececea", Tone.DARK: "#c9c8c5", Tone.INK: INK}

#: Line widths on paper [m], in the ratio 1 : 2 : 4 of ISO 128-2 (line group 0.35, from memory).
WIDTHS = {Weight.THIN: 0.000175, Weight.MEDIUM: 0.00035, Weight.THICK: 0.0007}

#: Dashes on paper [m]: ISO 128-2 asks 12 d dashes, 3 d gaps, and dots of half a width (from
#: memory); ours are shorter, in step with the small size of the sheet.
DASHED = (0.0018, 0.0008)
CHAIN = (0.006, 0.0009, 0.0006, 0.0009)
NONE: tuple[float, ...] = ()


@dataclass(frozen=True)
class Style:
    """The look of a layer.

    dashes    : [m of paper] on, off, ...
    dxf_color : DXF colour number, 7 for the ink of the device
    """

    weight: Weight
    dashes: tuple[float, ...] = NONE
    dxf_color: int = 7
    color: str = INK


STYLES: dict[Layer, Style] = {
    **{layer: Style(Weight.MEDIUM) for layer in Layer},
    **dict.fromkeys((Layer.DIMENSIONS, Layer.TEXT, Layer.SCALE), Style(Weight.THIN)),
    Layer.GROUND: Style(Weight.MEDIUM, dxf_color=8),
    Layer.COVER: Style(Weight.MEDIUM, dxf_color=5),
    Layer.PERSON: Style(Weight.THIN, dxf_color=8, color="#8a8883"),
    Layer.STANDING: Style(Weight.THIN, dxf_color=8, color="#8a8883"),
    Layer.HIDDEN: Style(Weight.THIN, DASHED),
    Layer.CENTRE: Style(Weight.THIN, CHAIN, dxf_color=8),
    Layer.CUT: Style(Weight.THICK),
    Layer.DECISION: Style(Weight.MEDIUM, dxf_color=1, color=ACCENT),
}


def width_of(layer: Layer, weight: Weight | None) -> float:
    """Return the width of a line on paper [m]."""
    return WIDTHS[weight or STYLES[layer].weight]


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
