"""What the views draw: the things of one bed, already worked out; nothing is measured here."""

import math
from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from gettext import NullTranslations

import numpy as np
from numpy.typing import NDArray

from hoopwright import units
from hoopwright.answers.voice import Voice
from hoopwright.bed import Bed, Legs
from hoopwright.cover.assembly import Cover
from hoopwright.drawing.scene import Group, Item, Point, ScaleBar, Shape, rectangle
from hoopwright.frozen import Keeping, dataclass
from hoopwright.holding.choices import HoldDown
from hoopwright.hoop.outline import Outline
from hoopwright.hoop.shape import Hoop
from hoopwright.hoop.stations import HoopStation
from hoopwright.tables.constants import INCH
from hoopwright.tables.fittings import Screw, Strap
from hoopwright.tables.languages import ENGLISH
from hoopwright.tables.people import Reach

Place = tuple[float, float, float]
"""Along the bed from its left end, across it from its near side, and up [m]."""


@dataclass(frozen=True)
class Subject(Keeping):
    """One covered bed to draw.

    system : the reader's units
    strap  : what holds a leg; None draws none
    screw  : the screw of a strap
    batten_screw : the screw of a batten
    reach  : the person the bed is drawn for
    north  : [deg] clockwise from the bed's first end; None where nobody said
    decisions : name of each finding that needs a decision, and its word ("change" or "stop")
    words  : the language of the steps' pictures
    held   : what holds the bed down; ties: cords from board to board under the soil
    ridged, braced : a line runs under the crowns, and is tied back to the boards at both ends
    """

    name: str
    bed: Bed
    legs: Legs
    hoop: Hoop
    outline: Outline
    hoops: tuple[HoopStation, ...]
    cover: Cover
    system: units.System
    strap: Strap | None = None
    screw: Screw | None = None
    batten_screw: Screw | None = None
    reach: Reach | None = None
    north: float | None = None
    decisions: Mapping[str, str] = field(default_factory=dict)
    held: HoldDown = field(default_factory=HoldDown)
    ties: int = 0
    ridged: bool = False
    braced: bool = False
    words: NullTranslations = ENGLISH

    @property
    def outside(self) -> float:
        """Return the pipe's outside diameter [m]."""
        return self.hoop.pipe.outside_diameter

    @property
    def leg_at(self) -> float:
        """Return how far a leg's centreline is from the middle of the bed [m]."""
        return self.hoop.span / 2

    @property
    def top(self) -> float:
        """Return the height of the outside of the crown above the ground [m]."""
        return self.hoop.crown + self.outside

    @property
    def skirt_bottom(self) -> float:
        """Return the height at which the hanging film ends [m]; not below the ground."""
        return max(0.0, self.bed.height - max(0.0, self.cover.skirt))

    @property
    def strap_length(self) -> float:
        """Return a strap's length along the board [m]: over its holes, or twice the pipe."""
        if self.strap is None or self.strap.hole_spacing is None:
            return 2 * self.outside
        return self.strap.hole_spacing + 0.012

    @property
    def strap_levels(self) -> tuple[float, ...]:
        """Return the heights of a leg's straps, the top one first [m]."""
        leg = self.hoop.leg
        return (leg.top_strap, *(() if leg.low_strap is None else (leg.low_strap,)))

    @property
    def strap_half_width(self) -> float:
        """Return half of a strap's width up the board [m]; of one not chosen, a usual one's."""
        return self.strap.width / 2 if self.strap is not None else 0.01

    def strap_face(self, at: float, level: float) -> tuple[Point, ...]:
        """Return a strap as seen square to the board, its middle at a place."""
        half, high = self.strap_length / 2, self.strap_half_width
        return rectangle(at - half, level - high, at + half, level + high)

    @property
    def end_batten_low(self) -> float:
        """Return the height of the lower edge of the batten across an end [m]."""
        return max(0.01, self.bed.height - self.cover.body.skirt - self.cover.batten.width)

    @property
    def rolled(self) -> tuple[float, ...]:
        """Return the pieces of the rail on the side drawn, none where no side rolls up."""
        return self.cover.rails[-1] if self.cover.rails else ()

    @property
    def rail_ties(self) -> tuple[float, ...]:
        """Return the marks [m] at which the rail drawn is tied or clipped: at every hoop."""
        held = self.rolled and self.held.rail != "weight"
        return tuple(hoop.mark for hoop in self.hoops) if held else ()

    @property
    def rail_level(self) -> float:
        """Return the height of the middle of a rolled-down rail [m]."""
        return max(self.skirt_bottom, self.cover.rail.outside_diameter / 2)

    @property
    def ridge(self) -> tuple[Place, Place]:
        """Return both ends of the ridge line under the crowns."""
        middle, up = self.bed.outer_width / 2, self.hoop.crown - self.outside / 2
        return (self.hoops[0].mark, middle, up), (self.hoops[-1].mark, middle, up)

    @property
    def braces(self) -> tuple[tuple[Place, Place], ...]:
        """Return the cords from both ends of the ridge to the boards, as far in as they are high.

        None where the ridge is not tied back.
        """
        if not self.braced:
            return ()
        first, last = self.ridge
        far = min(self.hoop.crown_over_board, last[0] - first[0])
        return tuple(
            (end, (end[0] + way * far, across, self.bed.height))
            for end, way in ((first, 1), (last, -1))
            for across in (0.0, self.bed.outer_width)
        )

    @property
    def overhang(self) -> float:
        """Return how far the body sheet reaches past each board end [m]; 0 where it wraps."""
        if self.cover.style == "wrapped":
            return 0.0
        return (self.cover.body.length - self.bed.outer_length) / 2

    @cached_property
    def film_line(self) -> NDArray[np.float64]:
        """Return the film's line over the hoop, skirt to skirt, (n, 2) [m]."""
        above = self.outline.points[1:-1]
        bottom = self.skirt_bottom
        left, right = self.skirt_at
        falls = [[left, self.bed.height], [left, bottom]]
        rises = [[right, self.bed.height], [right, bottom]]
        return np.array([*reversed(falls), *above.tolist(), *rises])

    @property
    def film_over_hoop(self) -> NDArray[np.float64]:
        """Return the film's line from board top to board top, (n, 2) [m]."""
        return self.film_line[1:-1]

    @property
    def skirt_at(self) -> tuple[float, float]:
        """Return where the skirts hang across the bed [m]: outside the legs and the boards."""
        half = max(self.leg_at + self.outside / 2, self.bed.outer_width / 2)
        return -half, half

    def shown(self, value: float) -> str:
        """Return a length with its unit, for words on a drawing."""
        return units.show(value, "length", self.system)

    @property
    def say(self) -> Voice:
        """Return how the reader of a step's picture is spoken to."""
        return Voice(self.system, words=self.words)

    def mark(self, value: float) -> str:
        """Return a mark on the tape with its unit, for words on a drawing."""
        return units.show(value, "tape", self.system)

    def bar(self, width: float) -> ScaleBar:
        """Return a scale bar of a round length that suits a thing so wide [m]."""
        if self.system.name == "us":
            sizes = {INCH: "1 in", 2 * INCH: "2 in", 4 * INCH: "4 in"}
            sizes |= {12 * feet * INCH: f"{feet} ft" for feet in (1, 2, 4, 8)}
        else:
            sizes = {size / 1000: f"{size} mm" for size in (20, 40, 100, 200, 400)}
            sizes |= {1.0: "1 m", 2.0: "2 m"}
        length = max((size for size in sizes if size <= 0.45 * width), default=min(sizes))
        return ScaleBar(length, sizes[length])


def stiffened(ridge: tuple[Shape, ...], braces: tuple[Shape, ...]) -> list[Item]:
    """Return the ridge and what ties it back, as a view draws them; neither where it has none."""
    groups = (
        Group("ridge", "Ridge under the crowns", ridge),
        Group("braces", "Cords from the ridge to the boards", braces),
    )
    return [group for group in groups if group.shapes]


def beside(line: NDArray[np.float64], distance: float) -> NDArray[np.float64]:
    """Return a line at a distance [m] to the left of an open line, corners mitred."""
    given = np.diff(line, axis=0)
    line = line[np.append(True, np.hypot(given[:, 0], given[:, 1]) > 1e-9)]
    steps = np.diff(line, axis=0)
    directions = steps / np.hypot(steps[:, 0], steps[:, 1])[:, None]
    before = np.vstack([directions[:1], directions])
    after = np.vstack([directions, directions[-1:]])
    normals = np.column_stack([-(before + after)[:, 1], (before + after)[:, 0]])
    lengths = np.hypot(normals[:, 0], normals[:, 1])
    # Where the line turns straight back, as a hoop does that is seen edge on, the way on decides.
    back = lengths < 1e-9
    normals[back], lengths[back] = np.column_stack([-after[:, 1], after[:, 0]])[back], 1.0
    normals /= lengths[:, None]
    # At a corner the mitre is longer by the cosine of half the turn.
    cosine = np.sum(before * after, axis=1)
    stretch = np.sqrt(2 / (1 + np.clip(cosine, -0.5, 1.0)))
    moved: NDArray[np.float64] = line + distance * stretch[:, None] * normals
    return moved


def band(line: NDArray[np.float64], radius: float) -> tuple[Point, ...]:
    """Return the outline of a pipe along a line."""
    return points(np.vstack([beside(line, radius), beside(line, -radius)[::-1]]))


def points(array: NDArray[np.float64]) -> tuple[Point, ...]:
    """Return an (n, 2) array as points."""
    return tuple((x, y) for x, y in array.tolist())


def along_line(line: NDArray[np.float64], distance: float) -> tuple[Point, float]:
    """Return the place at a distance [m] along a line, and the line's direction there [rad]."""
    steps = np.diff(line, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    ends = np.cumsum(lengths)
    index = min(int(np.searchsorted(ends, distance)), len(steps) - 1)
    share = (distance - (ends[index] - lengths[index])) / lengths[index]
    x, y = line[index] + share * steps[index]
    return (float(x), float(y)), math.atan2(steps[index, 1], steps[index, 0])
