"""The card's own drawings: the ruler of tape marks across the page, and bars cut small."""

from collections.abc import Sequence

from hoopwright.answers.voice import Voice
from hoopwright.cutting.stock import CutRoll
from hoopwright.design import Design
from hoopwright.drawing.font import text_width
from hoopwright.drawing.layout import lay_out, show_lengths, show_marks
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Group,
    Hatch,
    Layer,
    Line,
    Polyline,
    Shape,
    Text,
    Tone,
    View,
    Weight,
    part,
    rectangle,
    thin_part,
)
from hoopwright.sheet.card_pack import SIZE
from hoopwright.sheet.content import Diagram
from hoopwright.sheet.cut_drawings import shown_length
from hoopwright.sheet.cuts import CutGroup, group_words
from hoopwright.sheet.pictures import diagram_of

#: On paper [m]: a bar's height, the ruler's, and the tallest a roll is drawn.
_BAR, _RULER, _ROLL = 0.0048, 0.006, 0.012
#: Words may stand a little past the board's ends.
_BESIDE = 0.012
#: Ticks of the ruler [m]: long and short ones.
_TICKS = {"us": (0.3048, 0.0762), "metric": (0.5, 0.1)}


def ruler(design: Design, width: float, say: Voice) -> Diagram:
    """Return the tape along a board with every hoop's mark, as wide as the page [m]."""
    length, system = design.bed.outer_length, design.system
    scale = length / (width - _BESIDE)
    marks = [system.on_tape(station.mark) for station in design.hoops]
    tall = _RULER * scale
    shapes: list[Shape] = [thin_part(rectangle(0.0, 0.0, length, tall), Layer.SCALE, Tone.PAPER)]
    for step, share in zip(_TICKS[system.name], (0.5, 0.25), strict=True):
        for n in range(1, int(length / step + 1e-6) + 1):
            shapes.append(
                Line((n * step, tall), (n * step, (1 - share) * tall), Layer.SCALE, Weight.THIN)
            )
    last = -1.0
    for number, mark in enumerate(marks, start=1):
        shapes.append(Line((mark, -0.3 * tall), (mark, tall), Layer.CUT))
        # Two hoops side by side at an end: their numbers part to the two sides.
        crowded = last >= 0 and (mark - last) / scale < 2.2 * SIZE
        anchor = Anchor.START if crowded else Anchor.MIDDLE
        shapes.append(Text((mark, 1.25 * tall), str(number), Layer.TEXT, anchor, bold=True))
        last = mark
    show = show_marks(system)
    unit = "" if system.name == "us" else " mm"
    texts = [f"{show(at)}{unit}" for at in marks]
    rows = _rows(marks, texts, scale)
    lows = [-(0.35 + 0.75 * row) * tall for row in rows]
    # All lines first: words stand clear over the line of a mark written further down.
    shapes += [
        Line((at, 0.0), (at, low), Layer.SCALE, Weight.THIN)
        for at, low in zip(marks, lows, strict=True)
    ]
    for at, words, low in zip(marks, texts, lows, strict=True):
        place = (at, low - 0.85 * SIZE * scale)
        shapes.append(Text(place, words, anchor=Anchor.MIDDLE, clear=True))
    alt = say.tell(
        "Tape marks of hoops 1 to {last} from the first end: {marks}.",
        last=str(len(marks)),
        marks=", ".join(texts),
    )
    group = Group("ruler", "The tape along the board", tuple(shapes))
    view = View("ruler", "Tape marks", alt, (group,), scale)
    return diagram_of(lay_out(view, show, titled=False, margin=0.0003))


def _rows(stations: Sequence[float], texts: Sequence[str], scale: float) -> list[int]:
    """Return in which row each mark is written, so that no two of a row meet."""
    ends: list[float] = []
    rows = []
    for at, words in zip(stations, texts, strict=True):
        half = (text_width(words, TEXT_SIZE) / 2 + 0.0012) * scale
        row = next((n for n, end in enumerate(ends) if at - half >= end), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = at + half
        rows.append(row)
    return rows


def bar(
    name: str, group: CutGroup, kerf: float, longest: float, width: float, say: Voice
) -> Diagram:
    """Return one stick as it is cut, to the scale at which the longest takes the width [m]."""
    scale = longest / width
    tall = _BAR * scale
    shapes: list[Shape] = []
    at = 0.0
    for length in group.lengths:
        end = min(at + length, group.stick_length)
        if length / scale > 0.0009:
            shapes.append(Line((end, 0.0), (end, tall), Layer.BOARDS, Weight.THIN))
        size = say.length(length)
        if text_width(size, SIZE) + 0.001 < length / scale:
            base = 0.5 * tall - 0.34 * SIZE * scale
            shapes.append(Text(((at + end) / 2, base), size, anchor=Anchor.MIDDLE))
        at = end + kerf
    if group.left > 1e-6:
        rest = rectangle(min(at, group.stick_length), 0.0, group.stick_length, tall)
        shapes.append(Hatch(rest, Layer.BOARDS, spacing=0.0014))
    shapes.append(
        Polyline(rectangle(0.0, 0.0, group.stick_length, tall), Layer.BOARDS, closed=True)
    )
    alt = say.tell("Stick drawn to scale in length. {cut}", cut=group_words(group, say))
    view = View(name, "Cut", alt, (Group("bar", "Stick", tuple(shapes)),), scale)
    return diagram_of(lay_out(view, show_lengths(say.system), titled=False, margin=0.0003))


def small_roll(name: str, cut: CutRoll, width: float, words: str) -> Diagram:
    """Return one roll from its free end with its sheets where they are cut, small [m of paper]."""
    scale = max(shown_length(cut) / width, cut.roll.width / _ROLL)
    outline = rectangle(0.0, 0.0, shown_length(cut), cut.roll.width)
    shapes: list[Shape] = [thin_part(outline, Layer.COVER, Tone.LIGHT)]
    for number, placed in enumerate(cut.sheets, start=1):
        left, low = placed.y, placed.x
        corners = rectangle(left, low, left + placed.length, low + placed.width)
        shapes.append(part(corners, Layer.COVER))
        middle = (left + placed.length / 2, low + placed.width / 2 - 0.34 * SIZE * scale)
        shapes.append(Text(middle, str(number), anchor=Anchor.MIDDLE, bold=True))
    view = View(name, "Roll", words, (Group("roll", "Roll", tuple(shapes)),), scale)
    return diagram_of(lay_out(view, str, titled=False, margin=0.0003))
