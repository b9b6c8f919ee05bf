"""A view with its dimensions, leaders, title and scale bar put in their places, at the scale that
fits a place on paper."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from hoopwright import units
from hoopwright.drawing.dimensions import place_leaders, place_linear, place_running
from hoopwright.drawing.extent import Box, extent
from hoopwright.drawing.font import text_height, text_width
from hoopwright.drawing.placing import SPACING, Frame, Placed, broken, text_box
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    TITLE_SIZE,
    Anchor,
    Circle,
    Fill,
    Layer,
    Leader,
    LinearDimension,
    NorthArrow,
    Note,
    Polyline,
    RunningDimension,
    ScaleBar,
    Shape,
    Show,
    Side,
    Text,
    Tone,
    View,
    Weight,
    rectangle,
    thin_part,
)
from hoopwright.frozen import dataclass

_LINE = 1.35 * TEXT_SIZE
_STEP_ASIDE = 0.002
_FARTHEST = 0.1


@dataclass(frozen=True)
class Layout:
    """A view ready to be written.

    placed    : its dimensions and leaders where they stand
    furniture : title, scale, scale bar, north arrow
    object    : the box round the thing itself [m]
    box       : the box round everything [m]
    """

    view: View
    placed: tuple[Placed, ...]
    furniture: tuple[Shape, ...]
    object: Box
    box: Box

    @property
    def paper(self) -> tuple[float, float]:
        """Return the width and height on paper [m]."""
        return self.box.width / self.view.scale, self.box.height / self.view.scale


def _place_side(
    notes: Sequence[Note], frame: Frame, show: Show, start: float = 0.0
) -> tuple[Placed, ...]:
    """Return every note of one side: lengths nearest, then stations, then words."""
    side = frame.side
    linear = [note for note in notes if isinstance(note, LinearDimension) and note.side is side]
    running = [note for note in notes if isinstance(note, RunningDimension) and note.side is side]
    leaders = [note for note in notes if isinstance(note, Leader) and note.side is side]
    first, reach = place_linear(linear, frame, show, start)
    placed = list(first)
    for note in running:
        one, reach = place_running(note, frame, show, reach)
        placed.append(one)
    words, _ = place_leaders(leaders, frame, reach)
    return (*placed, *words)


def _word_boxes(placed: Iterable[Placed], scale: float) -> list[Box]:
    return [
        text_box(shape, scale).grown(SPACING.cut_gap * scale)
        for note in placed
        for shape in note.shapes
        if isinstance(shape, Text)
    ]


def _place_sides(notes: Sequence[Note], thing: Box, scale: float, show: Show) -> list[Placed]:
    """Return the notes of all four sides; a side whose words meet another's moves outward."""
    placed: list[Placed] = []
    for side in Side:
        frame, start = Frame(side, thing, scale), 0.0
        standing = _word_boxes(placed, scale)
        trial = _place_side(notes, frame, show)
        while start < _FARTHEST and any(
            box.overlaps(other) for box in _word_boxes(trial, scale) for other in standing
        ):
            start += _STEP_ASIDE
            trial = _place_side(notes, frame, show, start)
        placed += trial
    return placed


def _break_extensions(placed: Sequence[Placed], scale: float) -> tuple[Placed, ...]:
    """Return the notes with extension lines broken wherever they would run through words."""
    boxes = _word_boxes(placed, scale)
    return tuple(
        replace(
            note,
            extension=tuple(piece for line in note.extension for piece in broken(line, boxes)),
        )
        for note in placed
    )


def _scale_bar(bar: ScaleBar, left: float, y: float, scale: float) -> list[Shape]:
    """Return a bar of alternate light and dark parts with its length at its ends."""
    thick = 0.0014 * scale
    step = bar.length / bar.parts
    shapes: list[Shape] = []
    for part in range(bar.parts):
        low, high = left + part * step, left + (part + 1) * step
        corners = rectangle(low, y, high, y + thick)
        tone = Tone.INK if part % 2 == 0 else Tone.PAPER
        shapes.append(thin_part(corners, Layer.SCALE, tone))
    room = (text_width("0", TEXT_SIZE) + text_width(bar.label, TEXT_SIZE)) / 2 + 0.001
    if bar.length < room * scale:
        beside = (left + bar.length + 0.0015 * scale, y - 0.0006 * scale)
        return [*shapes, Text(beside, bar.label, Layer.SCALE)]
    drop = (text_height(TEXT_SIZE)[1] + 0.0008) * scale
    ends = ((left, "0"), (left + bar.length, bar.label))
    for x, words in ends:
        shapes.append(Text((x, y - drop), words, Layer.SCALE, Anchor.MIDDLE))
    return shapes


def _north(arrow: NorthArrow, right: float, top: float, scale: float) -> list[Shape]:
    """Return a north arrow with its upper right corner near (right, top)."""
    size = 0.0055 * scale
    centre = (right - 1.6 * size, top + 1.8 * size)
    angle = math.radians(90 - arrow.bearing)

    def at(distance: float, turn: float) -> tuple[float, float]:
        return (
            centre[0] + distance * math.cos(angle + turn),
            centre[1] + distance * math.sin(angle + turn),
        )

    tip, tail = at(size, 0.0), at(0.45 * size, math.pi)
    left_foot, right_foot = at(size, math.radians(145)), at(size, math.radians(-145))
    letter = at(1.5 * size, 0.0)
    drop = 0.5 * text_height(TEXT_SIZE)[1] * scale
    return [
        Fill((tip, left_foot, tail), Layer.SCALE, Tone.INK),
        Polyline((tip, right_foot, tail), Layer.SCALE, closed=True, weight=Weight.THIN),
        Circle(centre, 1.12 * size, Layer.SCALE, weight=Weight.THIN),
        Text((letter[0], letter[1] - drop), "N", Layer.SCALE, Anchor.MIDDLE, bold=True),
    ]


def _furnish(view: View, box: Box) -> list[Shape]:
    """Return the title block under a drawing: title, note, scale, bar; and north above it."""
    scale = view.scale
    shapes: list[Shape] = []
    for item in view.items:
        if isinstance(item, NorthArrow):
            shapes += _north(item, box.right, box.top, scale)
    y = box.bottom - (0.006 + TITLE_SIZE * 0.7) * scale
    shapes.append(Text((box.left, y), view.title, Layer.TEXT, size=TITLE_SIZE, bold=True))
    for words in view.note.split("\n") if view.note else ():
        y -= _LINE * scale
        shapes.append(Text((box.left, y), words))
    y -= _LINE * 1.15 * scale
    ratio = f"Scale 1 : {scale:g}" if scale >= 1 else f"Scale {1 / scale:g} : 1"
    ratio += f", {view.sizes}" if view.sizes else ""
    shapes.append(Text((box.left, y), ratio, Layer.SCALE))
    for item in view.items:
        if isinstance(item, ScaleBar):
            start = box.left + (text_width(ratio, TEXT_SIZE) + 0.006) * scale
            shapes += _scale_bar(item, start, y + 0.0006 * scale, scale)
    return shapes


@dataclass(frozen=True)
class Solid:
    """What is the same of a view at every scale: the box round all but words [m], and the words."""

    box: Box
    words: tuple[Text, ...]


def solid_of(view: View) -> Solid:
    """Return what a view that is tried at many scales has in common."""
    words = tuple(shape for shape in view.shapes() if isinstance(shape, Text))
    return Solid(extent((s for s in view.shapes() if not isinstance(s, Text)), 1.0), words)


def lay_out(
    view: View,
    show: Show,
    *,
    titled: bool = True,
    margin: float = 0.002,
    solid: Solid | None = None,
) -> Layout:
    """Return a view with everything in its place.

    show   : writes a length [m] in the reader's units
    titled : whether title, scale and scale bar stand under the drawing
    margin : [m of paper] left clear all round
    solid  : of the view, where it is known
    """
    if solid is None:
        thing = extent(view.shapes(), view.scale)
    elif solid.words:
        thing = _joined([solid.box, extent(solid.words, view.scale)])
    else:
        thing = solid.box
    notes = tuple(view.notes())
    placed = _place_sides(notes, thing, view.scale, show) if notes else []
    whole = _break_extensions(placed, view.scale)
    drawn = [shape for note in whole for shape in (*note.shapes, *note.extension)]
    boxes = [thing] + ([extent(drawn, view.scale)] if drawn else [])
    box = _joined(boxes)
    furniture = _furnish(view, box) if titled else []
    if furniture:
        box = _joined([box, extent(furniture, view.scale)])
    return Layout(view, whole, tuple(furniture), thing, box.grown(margin * view.scale))


def _joined(boxes: Sequence[Box]) -> Box:
    return Box(
        min(box.left for box in boxes),
        min(box.bottom for box in boxes),
        max(box.right for box in boxes),
        max(box.top for box in boxes),
    )


#: ISO 5455 (from memory): 1, 2, 5 and their tens; 15, 25, 30 and 40 between them are joiners' use.
METRIC_SCALES = (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200)
#: 12, 6, 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16, 1/8 and 1/16 inch to the foot: common practice,
#: as on a three-sided architect's scale.
FOOT_SCALES = (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 192)


def show_lengths(system: units.System) -> Show:
    """Return a writer of lengths: feet and inches with sixteenths, or plain millimetres.

    A metric drawing leaves the unit out, as ISO 129-1 does; the scale line says it once.
    """
    if system.name == "us":
        return lambda value: units.show(value, "length", system)
    return lambda value: f"{round(value * 1000)}"


def show_marks(system: units.System) -> Show:
    """Return a writer of tape marks: inches all the way, as a tape counts them, or millimetres.

    So the marks on a drawing read as those of the tape-mark table, which leads with inches.
    """
    if system.name == "us":
        return lambda value: units.show(value, "tape", system)
    return show_lengths(system)


def scales(system: units.System) -> tuple[int, ...]:
    """Return the series of drawing scales a reader of these units expects."""
    return FOOT_SCALES if system.name == "us" else METRIC_SCALES


class DoesNotFitError(ValueError):
    """No scale of the series is small enough."""


def fit(
    view: View,
    width: float,
    height: float,
    show: Show,
    scales: Sequence[float] = METRIC_SCALES,
    *,
    titled: bool = True,
) -> Layout:
    """Return a view laid out at the largest scale of a series that fits a place on paper.

    width, height : [m] of paper
    scales        : how many times smaller than the thing, rising
    """
    solid = solid_of(view)
    # What is drawn is no smaller than the thing itself.
    least = 0.999 * max(solid.box.width / width, solid.box.height / height)
    for scale in (one for one in scales if one >= least):
        layout = lay_out(view.at_scale(float(scale)), show, titled=titled, solid=solid)
        across, up = layout.paper
        if across <= width + 1e-9 and up <= height + 1e-9:
            return layout
    raise DoesNotFitError(
        f"{view.title}: {width * 1000:.0f} x {height * 1000:.0f} mm of paper is too small for it "
        f"even at 1 : {scales[-1]:g}; give it more room"
    )
