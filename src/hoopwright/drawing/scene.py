"""What a drawing is made of, before anyone decides how it is written.

Every position is in metres of the real thing, x to the right and y up. Sizes of letters and
spacings of hatching are in metres of paper, since they do not shrink with the scale.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from enum import StrEnum

from hoopwright.frozen import dataclass

Point = tuple[float, float]
Show = Callable[[float], str]

#: Height of the letter body on paper [m]: capitals 2.5 mm high, the least of ISO 3098 series
#: for drawings (from memory), at Fira Sans' capital height of 0.689 of the body.
TEXT_SIZE = 0.0036
TITLE_SIZE = 0.0046
#: From one line of words to the next, as a share of the letter body.
LINE_PITCH = 1.18


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return the corners of an upright rectangle."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


class Layer(StrEnum):
    """What a line is of. The style of a line and its DXF layer follow from this alone."""

    GROUND = "ground"
    BOARDS = "boards"
    LEGS = "legs"
    HOOPS = "hoops"
    STRAPS = "straps"
    COVER = "cover"
    BATTENS = "battens"
    RAILS = "rails"
    CLIPS = "clips"
    PERSON = "person"
    STANDING = "standing"
    HIDDEN = "hidden"
    CENTRE = "centre"
    CUT = "cut"
    DIMENSIONS = "dimensions"
    TEXT = "text"
    SCALE = "scale"
    DECISION = "decision"


class Tone(StrEnum):
    """What fills a shape: paper, or one of the two greys, or the accent's own pale tint."""

    PAPER = "paper"
    LIGHT = "light"
    DARK = "dark"
    INK = "ink"


class Weight(StrEnum):
    """The width of a line in the ratio 1 : 2 : 4 of ISO 128."""

    THIN = "thin"
    MEDIUM = "medium"
    THICK = "thick"


class Side(StrEnum):
    """Where a dimension stands, seen from the object."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"

    @property
    def horizontal(self) -> bool:
        """Return whether lengths on this side are measured along x."""
        return self in (Side.ABOVE, Side.BELOW)


class Anchor(StrEnum):
    """Which end of a text stands at its position."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    layer: Layer
    weight: Weight | None = None


@dataclass(frozen=True)
class Polyline:
    """A line through points, closed or not; a closed one may be filled."""

    points: tuple[Point, ...]
    layer: Layer
    closed: bool = False
    fill: Tone | None = None
    weight: Weight | None = None


def part(
    points: tuple[Point, ...], layer: Layer, fill: Tone = Tone.PAPER, weight: Weight | None = None
) -> Polyline:
    """Return a part of the thing: an outline with a tone within it."""
    return Polyline(points, layer, closed=True, fill=fill, weight=weight)


def thin_part(points: tuple[Point, ...], layer: Layer, fill: Tone) -> Polyline:
    """Return a part of the thing as a tone within a thin outline."""
    return part(points, layer, fill, Weight.THIN)


@dataclass(frozen=True)
class Fill:
    """A filled shape without an outline."""

    points: tuple[Point, ...]
    layer: Layer
    tone: Tone = Tone.LIGHT


@dataclass(frozen=True)
class Hatch:
    """A shape ruled with thin parallel lines, as cut timber is.

    angle   : [deg] of the lines from x
    spacing : [m] of paper between them
    """

    points: tuple[Point, ...]
    layer: Layer
    angle: float = 45.0
    spacing: float = 0.0016


@dataclass(frozen=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float
    layer: Layer
    fill: Tone | None = None
    weight: Weight | None = None


@dataclass(frozen=True)
class Arc:
    """Part of a circle, counter-clockwise from start_angle to end_angle [deg]."""

    centre: Point
    radius: float
    start_angle: float
    end_angle: float
    layer: Layer
    weight: Weight | None = None


@dataclass(frozen=True)
class Text:
    """One line of words.

    size  : [m] of paper, the letter body
    angle : [deg] counter-clockwise
    clear : whether what lies behind is cleared, so that no line runs through the letters
    line  : how many lines of words further down it stands, for words of several lines
    """

    position: Point
    text: str
    layer: Layer = Layer.TEXT
    anchor: Anchor = Anchor.START
    size: float = TEXT_SIZE
    angle: float = 0.0
    bold: bool = False
    clear: bool = False
    line: int = 0

    def base(self, scale: float) -> Point:
        """Return where the line of words starts at a scale [m of the thing]."""
        x, y = self.position
        return x, y - self.line * LINE_PITCH * self.size * scale


@dataclass(frozen=True)
class LinearDimension:
    """A length along x (above, below) or along y (left, right), placed outside the object.

    label : the words round the number; {} is the number
    """

    start: Point
    end: Point
    side: Side
    label: str = "{}"

    @property
    def length(self) -> float:
        """Return what it measures [m]."""
        axis = 0 if self.side.horizontal else 1
        return abs(self.end[axis] - self.start[axis])


@dataclass(frozen=True)
class RunningDimension:
    """Stations from one end, as a tape gives them.

    origin   : where the tape's zero lies
    stations : [m] from the origin along +x (above, below) or +y (left, right), rising
    texts    : what to write at each, or none: the drawing's own way of writing lengths
    """

    origin: Point
    stations: tuple[float, ...]
    side: Side
    texts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Leader:
    """Words outside the object with a line to the thing they name.

    text     : lines parted by a line feed
    decision : whether the reader has to decide something here (then it takes the accent)
    """

    tip: Point
    text: str
    side: Side
    decision: bool = False


@dataclass(frozen=True)
class ScaleBar:
    """A bar of a known length under the view, in equal parts; the label says the length."""

    length: float
    label: str
    parts: int = 4


@dataclass(frozen=True)
class NorthArrow:
    """Which way north lies in a plan: [deg] clockwise from up on the page."""

    bearing: float


@dataclass(frozen=True)
class Trace:
    """Lines of a plot that belong together and look alike, whatever layer they are of.

    paths  : one row of points for each unbroken piece
    dashes : [m of paper] on, off, ...
    """

    paths: tuple[tuple[Point, ...], ...]
    color: str
    weight: Weight = Weight.MEDIUM
    dashes: tuple[float, ...] = ()
    layer: Layer = Layer.SCALE

    @property
    def points(self) -> tuple[Point, ...]:
        """Return every point."""
        return tuple(point for path in self.paths for point in path)


@dataclass(frozen=True)
class Image:
    """A picture of coloured cells between two corners, lower left and upper right.

    png : the bytes of a PNG file
    """

    low: Point
    high: Point
    png: bytes
    layer: Layer = Layer.SCALE

    @property
    def points(self) -> tuple[Point, ...]:
        """Return the two corners."""
        return (self.low, self.high)


Shape = Line | Polyline | Fill | Hatch | Circle | Arc | Text | Trace | Image
Note = LinearDimension | RunningDimension | Leader
Furniture = ScaleBar | NorthArrow


@dataclass(frozen=True)
class Group:
    """The lines of one thing, so that a reader can point at it.

    name  : short and unique within its view; becomes the id on the page
    title : what it is, in words
    """

    name: str
    title: str
    shapes: tuple[Shape, ...]
    description: str = ""


Item = Group | Shape | Note | Furniture


@dataclass(frozen=True)
class View:
    """One drawing of one thing to one scale.

    scale : how many times smaller than the thing it is drawn (24 for 1 : 24)
    note  : words under the title, such as what the tape starts from; lines parted by a line feed
    sizes : what the numbers are in, where they do not say so themselves
    """

    name: str
    title: str
    description: str
    items: tuple[Item, ...]
    scale: float
    note: str = ""
    sizes: str = ""

    def at_scale(self, scale: float) -> View:
        """Return the same view to another scale."""
        return replace(self, scale=scale)

    def shapes(self) -> Iterator[Shape]:
        """Return every drawn line, fill and text, groups opened, notes left out."""
        for item in self.items:
            if isinstance(item, Group):
                yield from item.shapes
            elif isinstance(item, Shape):
                yield item

    def notes(self) -> Iterator[Note]:
        """Return every dimension and leader."""
        for item in self.items:
            if isinstance(item, LinearDimension | RunningDimension | Leader):
                yield item
