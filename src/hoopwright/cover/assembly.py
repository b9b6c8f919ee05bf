"""The whole cover of one bed: sheets, panels, rails, battens and clips from the one hoop."""

import math
from collections.abc import Sequence

from hoopwright.bed import Bed, Legs
from hoopwright.cover.fastening import batten_lengths, clip_positions, rail_pieces
from hoopwright.cover.pieces import Allowances, BodySheet, Edge, EndPanel, Style
from hoopwright.frozen import dataclass
from hoopwright.hoop.outline import Outline
from hoopwright.hoop.stations import HoopStation
from hoopwright.tables.covers import CoverMaterial
from hoopwright.tables.fittings import Clip, Rail
from hoopwright.tables.wood import Batten

#: Clips on a hoop that only carries the sheet: the crown and each shoulder (an assumption).
CLIPS_ON_INNER_HOOP = 3


@dataclass(frozen=True)
class BattenRun:
    """A line of battens: where it clamps film, and its pieces [m]."""

    name: str
    pieces: tuple[float, ...]


@dataclass(frozen=True)
class Cover:
    """The cover of one bed.

    edges       : what ends the two long edges of the body sheet (left, right)
    roll_width  : [m] narrowest roll sold that the body sheet fits, or None
    end_panel   : pattern of one end (two are cut), or None for a wrapped cover
    rails       : the pieces of each roll-up rail [m], in order from the first board end
    clip_arc    : positions [m] of the clips along the arch of a fully clipped hoop
    clips       : number in all
    mesh_band   : [m] height of mesh left standing when a side is opened; 0 for none
    """

    material: CoverMaterial
    style: Style
    edges: tuple[Edge, Edge]
    body: BodySheet
    roll_width: float | None
    end_panel: EndPanel | None
    rails: tuple[tuple[float, ...], ...]
    rail: Rail
    batten: Batten
    battens: tuple[BattenRun, ...]
    clip: Clip | None
    clip_arc: tuple[float, ...]
    clips: int
    mesh_band: float
    allowances: Allowances

    @property
    def clip_spacing(self) -> float | None:
        """Return the spacing [m] of the clips along a fully clipped hoop; None below two clips."""
        arc = self.clip_arc
        return arc[1] - arc[0] if self.clip is not None and len(arc) > 1 else None

    @property
    def skirt(self) -> float:
        """Return the skirt below each board top [m] on the roll chosen, else as wished."""
        return self.body.skirt if self.roll_width is None else self.body.skirt_from(self.roll_width)


@dataclass(frozen=True)
class CoverWishes:
    """What a person asks of the cover, lengths in [m]."""

    material: CoverMaterial
    style: Style
    edges: tuple[Edge, Edge]
    skirt: float
    rail: Rail
    batten: Batten
    clip: Clip | None
    clip_spacing: float
    mesh_band: float
    allowances: Allowances


def cover_of(
    wishes: CoverWishes, bed: Bed, outline: Outline, hoops: Sequence[HoopStation], legs: Legs
) -> Cover:
    """Return every piece of the cover over this outline of this bed."""
    body = body_sheet(wishes, bed, outline, legs)
    fits = [roll.width for roll in wishes.material.rolls if roll.width >= body.width - 1e-6]
    arc = clip_positions(body.over_hoops, wishes.clip_spacing, wishes.allowances.turn / 2)
    clipped = sum(1 for station in hoops if station.role != "inner")
    clips = clipped * len(arc) + (len(hoops) - clipped) * CLIPS_ON_INNER_HOOP
    return Cover(
        material=wishes.material,
        style=wishes.style,
        edges=wishes.edges,
        body=body,
        roll_width=min(fits) if fits else None,
        end_panel=end_panel(wishes, outline) if wishes.style == "framed" else None,
        rails=_rails(wishes, body, bed, hoops),
        rail=wishes.rail,
        batten=wishes.batten,
        battens=_battens(wishes, bed),
        clip=wishes.clip,
        clip_arc=arc,
        clips=clips if wishes.clip else 0,
        mesh_band=wishes.mesh_band,
        allowances=wishes.allowances,
    )


def body_sheet(wishes: CoverWishes, bed: Bed, outline: Outline, legs: Legs) -> BodySheet:
    """Return the sheet that goes over the hoops, with all that its width is made of."""
    # A wrapped sheet falls at each end from the crown to its batten, batten roll included.
    fall = outline.clear_rise + _foot(wishes)
    extra = 2 * (fall if wishes.style == "wrapped" else wishes.allowances.end_overlap)
    diameter = wishes.rail.outside_diameter
    return BodySheet(
        over_hoops=outline.length,
        over_boards=2 * bed.wall if legs == "inside" else 0.0,
        skirt=wishes.skirt,
        edges=(
            wishes.allowances.edge(wishes.edges[0], diameter, bed.height, wishes.skirt),
            wishes.allowances.edge(wishes.edges[1], diameter, bed.height, wishes.skirt),
        ),
        length=bed.outer_length + extra,
    )


def end_panel(wishes: CoverWishes, outline: Outline) -> EndPanel:
    """Return the flat pattern of one end: the outside of the arch above the board top."""
    finished = outline.points - [0.0, outline.foot]
    return EndPanel(finished, wishes.allowances.turn, _foot(wishes))


def _foot(wishes: CoverWishes) -> float:
    """Return the film of an end below the board top [m]: its overlap and the batten roll."""
    return wishes.skirt + wishes.allowances.batten_roll


def _rails(
    wishes: CoverWishes, body: BodySheet, bed: Bed, hoops: Sequence[HoopStation]
) -> tuple[tuple[float, ...], ...]:
    sold = max(wishes.rail.stock_lengths)
    length = bed.outer_length + 2 * wishes.allowances.end_overlap
    marks = [station.mark + wishes.allowances.end_overlap for station in hoops]
    rolled = [edge == "rail" for edge in wishes.edges]
    return tuple(
        rail_pieces(length, sold, marks, mirrored=side == 1)
        for side, is_rolled in enumerate(rolled)
        if is_rolled
    )


def _battens(wishes: CoverWishes, bed: Bed) -> tuple[BattenRun, ...]:
    """Return the battens: one line on each end board, one on each side that does not open.

    A batten is cut no longer than the bed is wide, or 4 ft where it is wider, so that it can be
    handled, pre-drilled and got from short stock (common practice, no source).
    """
    longest = min(1.2192, max(wishes.batten.stock_lengths))
    ends = batten_lengths(bed.outer_width, longest)
    runs = [BattenRun("first end batten", ends), BattenRun("last end batten", ends)]
    sides = batten_lengths(bed.outer_length, longest)
    for name, edge in zip(("left", "right"), wishes.edges, strict=True):
        if edge == "batten":
            runs.append(BattenRun(f"{name} side batten", sides))
    return tuple(runs)


#: Lap of each taped seam [m] (common practice, no source).
SEAM_LAP = 0.1524


def seam_widths(needed: float, sold: Sequence[float]) -> tuple[float, int]:
    """Return the roll width and number of strips that make one wide sheet, least film first.

    needed, sold : [m]
    """
    choices = []
    for width in sold:
        if width > SEAM_LAP:
            strips = max(1, math.ceil((needed - SEAM_LAP) / (width - SEAM_LAP) - 1e-9))
            choices.append((strips * width, strips, width))
    _, strips, width = min(choices)
    return width, strips
