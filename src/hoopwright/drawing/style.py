"""How each kind of line looks: its weight, its dashes, its DXF colour."""

from __future__ import annotations

from hoopwright.drawing.scene import Layer, Tone, Weight
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
