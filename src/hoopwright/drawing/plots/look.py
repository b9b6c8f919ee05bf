"""How lines of a plot tell themselves apart without colour: by width and dashes."""

from __future__ import annotations

from hoopwright.drawing.scene import Point, Trace, Weight
from hoopwright.drawing.style import ACCENT, CHAIN, DASHED, INK
from hoopwright.frozen import dataclass

GRID = "#d4d3d0"
GREY = "#77756f"


@dataclass(frozen=True)
class Look:
    """Colour, width and dashes of a line."""

    color: str
    weight: Weight
    dashes: tuple[float, ...] = ()

    def trace(self, *paths: tuple[Point, ...]) -> Trace:
        """Return lines that look so."""
        return Trace(paths, self.color, self.weight, self.dashes)


#: The thing the plot is about.
CHANGED = Look(ACCENT, Weight.THICK)
PLAIN = Look(INK, Weight.MEDIUM)
DASHES = Look(INK, Weight.MEDIUM, DASHED)
DASHES_AND_DOTS = Look(INK, Weight.MEDIUM, CHAIN)
HEAVY = Look(INK, Weight.THICK)
RULE = Look(GRID, Weight.THIN)
MONTH = Look("#a9a8a4", Weight.THIN)
HATCH = Look(GREY, Weight.THIN)
HALO = Look("#ffffff", Weight.THICK)
EDGE = Look(INK, Weight.THIN)
#: Where water freezes: dotted, as no other line is.
FREEZING = Look(INK, Weight.MEDIUM, (0.0003, 0.0010))
