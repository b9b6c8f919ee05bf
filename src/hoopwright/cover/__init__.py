"""Film, fabric or mesh over the hoops: pieces, sizes, rails and clips."""

from hoopwright.cover.assembly import BattenRun, Cover, CoverWishes, cover_of, seam_widths
from hoopwright.cover.fastening import batten_screws
from hoopwright.cover.pieces import Allowances, Edge, Style

__all__ = [
    "Allowances",
    "BattenRun",
    "Cover",
    "CoverWishes",
    "Edge",
    "Style",
    "batten_screws",
    "cover_of",
    "seam_widths",
]
