"""A view as SVG, one user unit a millimetre of paper, with words that stay words.

It stands alone, in a page and in a typeset document alike: every look is an attribute, so no
style sheet is needed; a page may still restyle a layer through its class.
"""

import base64
import math
import re
from cmath import phase
from collections.abc import Iterable, Iterator
from functools import lru_cache
from html import escape

from hoopwright.drawing.extent import text_corners
from hoopwright.drawing.font import FAMILY, runs
from hoopwright.drawing.layout import Layout
from hoopwright.drawing.scene import (
    Arc,
    Circle,
    Fill,
    Group,
    Hatch,
    Image,
    Layer,
    Leader,
    Line,
    Note,
    Point,
    RunningDimension,
    Shape,
    Text,
    Tone,
    Trace,
    Weight,
)
from hoopwright.drawing.style import INK, STYLES, TONES, WIDTHS, hatch_lines, width_of

FONT_STACK = f"'{FAMILY}', 'Source Sans 3', 'Noto Sans', Arial, sans-serif"
_CLASS = "hw"


def identifier(*words: str) -> str:
    """Return words joined into an id that is safe in a page."""
    return "-".join(re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-") for word in words)


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


#: What lies so near the line of its neighbours is not written [m of paper]: a tenth of the thinnest
#: line's width (a choice).
_NEAR = 0.1 * min(WIDTHS.values())
#: Lines of so few points are written as they are.
_FEW = 8


def _written(points: tuple[Point, ...], scale: float) -> tuple[Point, ...]:
    """Return what is written of a line at a scale; scales near one another share it."""
    return _thinned(points, _NEAR * 2.0 ** math.floor(math.log2(scale)))


@lru_cache(maxsize=256)
def _thinned(points: tuple[Point, ...], near: float) -> tuple[Point, ...]:
    """Return a line without points that lie within `near` of those that stay.

    From each point that stays as far as one straight line serves all between: Williams 1978, and
    Sklansky and Gonzalez 1980, from memory.
    """
    if len(points) <= _FEW:
        return points
    kept, last = [points[0]], points[0]
    anchor, base, low, high, far = complex(*points[0]), 0j, -math.pi, math.pi, 0.0
    for point in points[1:]:
        step = complex(*point) - anchor
        turn = phase(step / base) if base else 0.0
        if abs(step) < far or not low <= turn <= high:
            kept.append(last)
            anchor, base, low, high, turn = complex(*last), 0j, -math.pi, math.pi, 0.0
            step = complex(*point) - anchor
        base, far, last = base or step, abs(step), point
        if far > near:
            aside = math.asin(near / far)
            low, high = max(low, turn - aside), min(high, turn + aside)
    return (*kept, last)


class _Paper:
    """Turns places of the thing into millimetres of paper, y down."""

    def __init__(self, layout: Layout) -> None:
        self._left, self._top = layout.box.left, layout.box.top
        self._factor = 1000.0 / layout.view.scale

    def at(self, point: Point) -> tuple[float, float]:
        return (point[0] - self._left) * self._factor, (self._top - point[1]) * self._factor

    def length(self, value: float) -> float:
        return value * self._factor

    def path(self, points: Iterable[Point], *, closed: bool) -> str:
        left, top, factor = self._left, self._top, self._factor
        places = [
            f"{_number((x - left) * factor)} {_number((top - y) * factor)}" for x, y in points
        ]
        return "M" + "L".join(places) + ("Z" if closed else "")


def _stroke(layer: Layer, weight: Weight | None) -> str:
    style = STYLES[layer]
    written = f' stroke="{style.color}" stroke-width="{_number(1000 * width_of(layer, weight))}"'
    if style.dashes:
        dashes = " ".join(_number(1000 * length) for length in style.dashes)
        written += f' stroke-dasharray="{dashes}"'
    return written


def _fill(layer: Layer, tone: Tone | None) -> str:
    if tone is None:
        return ' fill="none"'
    if tone is Tone.INK:
        return f' fill="{STYLES[layer].color}"'
    return f' fill="{TONES[tone]}"'


def _class(layer: Layer) -> str:
    return f' class="{_CLASS}-{layer.value}"'


def _text(text: Text, paper: _Paper, scale: float) -> str:
    x, y = paper.at(text.base(scale))
    size = 1000 * text.size
    turn = (
        f' transform="rotate({_number(-text.angle)} {_number(x)} {_number(y)})"'
        if text.angle
        else ""
    )
    pieces, lifted = [], 0.0
    for characters, share, lift in runs(text.text):
        written = escape(characters, quote=False)
        shift = _number((lifted - lift) * size)
        lifted = lift
        if share == 1.0 and shift == "0":
            pieces.append(written)
            continue
        sized = f' font-size="{_number(share * size)}"' if share != 1.0 else ""
        moved = f' dy="{shift}"' if shift != "0" else ""
        pieces.append(f"<tspan{moved}{sized}>{written}</tspan>")
    color = STYLES[text.layer].color
    weight = ' font-weight="600"' if text.bold else ""
    cleared = ""
    if text.clear:
        corners = paper.path(text_corners(text, scale), closed=True)
        cleared = f'<path d="{corners}" fill="{TONES[Tone.PAPER]}" stroke="none"/>'
    return (
        f'{cleared}<text{_class(text.layer)} x="{_number(x)}" y="{_number(y)}"'
        f' text-anchor="{text.anchor.value}" font-size="{_number(size)}"{weight}'
        f' fill="{color}" stroke="none" xml:space="preserve"{turn}>{"".join(pieces)}</text>'
    )


def _arc_path(arc: Arc, paper: _Paper) -> str:
    sweep = (arc.end_angle - arc.start_angle) % 360 or 360.0
    ends = []
    for degrees in (arc.start_angle, arc.start_angle + sweep):
        turn = math.radians(degrees)
        place = (
            arc.centre[0] + arc.radius * math.cos(turn),
            arc.centre[1] + arc.radius * math.sin(turn),
        )
        ends.append(" ".join(map(_number, paper.at(place))))
    radius = _number(paper.length(arc.radius))
    return f"M{ends[0]}A{radius} {radius} 0 {int(sweep > 180)} 0 {ends[1]}"


def _trace(trace: Trace, paper: _Paper) -> str:
    paths = "".join(paper.path(path, closed=False) for path in trace.paths)
    width = _number(1000 * width_of(trace.layer, trace.weight))
    dashes = " ".join(_number(1000 * length) for length in trace.dashes)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path{_class(trace.layer)} stroke="{trace.color}" stroke-width="{width}"{dashed}'
        f' d="{paths}" fill="none"/>'
    )


def _image(image: Image, paper: _Paper) -> str:
    left, bottom = paper.at(image.low)
    right, top = paper.at(image.high)
    inside = base64.b64encode(image.png).decode("ascii")
    return (
        f'<image{_class(image.layer)} x="{_number(left)}" y="{_number(top)}"'
        f' width="{_number(right - left)}" height="{_number(bottom - top)}"'
        ' preserveAspectRatio="none" image-rendering="optimizeSpeed"'
        f' href="data:image/png;base64,{inside}"/>'
    )


def _shape(shape: Shape, paper: _Paper, scale: float) -> str:
    if isinstance(shape, Text):
        return _text(shape, paper, scale)
    if isinstance(shape, Trace):
        return _trace(shape, paper)
    if isinstance(shape, Image):
        return _image(shape, paper)
    if isinstance(shape, Hatch):
        return "".join(_shape(line, paper, scale) for line in hatch_lines(shape, scale))
    if isinstance(shape, Fill):
        path = paper.path(_written(shape.points, scale), closed=True)
        return f'<path{_class(shape.layer)} d="{path}"{_fill(shape.layer, shape.tone)}/>'
    stroke = _class(shape.layer) + _stroke(shape.layer, shape.weight)
    if isinstance(shape, Line):
        (x1, y1), (x2, y2) = paper.at(shape.start), paper.at(shape.end)
        ends = f'x1="{_number(x1)}" y1="{_number(y1)}" x2="{_number(x2)}" y2="{_number(y2)}"'
        return f"<line{stroke} {ends}/>"
    if isinstance(shape, Circle):
        x, y = paper.at(shape.centre)
        radius = _number(paper.length(shape.radius))
        place = f'cx="{_number(x)}" cy="{_number(y)}" r="{radius}"'
        return f"<circle{stroke} {place}{_fill(shape.layer, shape.fill)}/>"
    if isinstance(shape, Arc):
        return f'<path{stroke} d="{_arc_path(shape, paper)}" fill="none"/>'
    path = paper.path(_written(shape.points, scale), closed=shape.closed)
    return f'<path{stroke} d="{path}"{_fill(shape.layer, shape.fill)}/>'


def _named(name: str, title: str, description: str, inside: Iterable[str], part: str) -> str:
    """Return a group a reader can point at, with its words for those who cannot see it."""
    heading = f"<title>{escape(title)}</title>"
    if description:
        heading += f"<desc>{escape(description)}</desc>"
    body = "\n".join(inside)
    return (
        f'<g id="{name}" data-part="{escape(part)}" role="graphics-object"'
        f' aria-label="{escape(title)}">{heading}\n{body}\n</g>'
    )


def _note_title(note: Note, texts: tuple[str, ...]) -> str:
    if isinstance(note, Leader):
        return " ".join(texts)
    if isinstance(note, RunningDimension):
        return "Tape marks: " + "; ".join(texts)
    return f"Size {texts[0]}"


def _body(layout: Layout, paper: _Paper) -> Iterator[str]:
    view, scale = layout.view, layout.view.scale
    for item in view.items:
        if isinstance(item, Group):
            yield _named(
                identifier(view.name, item.name),
                item.title,
                item.description,
                (_shape(shape, paper, scale) for shape in item.shapes),
                item.name,
            )
        elif isinstance(item, Shape):
            yield _shape(item, paper, scale)
    for number, placed in enumerate(layout.placed, start=1):
        name = f"note-{number}"
        title = _note_title(placed.note, placed.texts)
        shapes = (*placed.extension, *placed.shapes)
        inside = (_shape(shape, paper, scale) for shape in shapes)
        yield _named(identifier(view.name, name), title, "", inside, name)
    if layout.furniture:
        yield "\n".join(_shape(shape, paper, scale) for shape in layout.furniture)


def write_svg(layout: Layout) -> str:
    """Return a laid-out view as one SVG element, true to its scale when printed at full size.

    Ids begin with the view's name, so that several views may share a page.
    """
    view, paper = layout.view, _Paper(layout)
    width, height = (_number(1000 * length) for length in layout.paper)
    name = identifier(view.name)
    body = "\n".join(_body(layout, paper))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{name}" class="{_CLASS}-view"'
        f' width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
        f' role="graphics-document" aria-labelledby="{name}-title {name}-desc"'
        f' data-scale="{_number(view.scale)}"'
        f' font-family="{FONT_STACK}" color="{INK}" fill="none"'
        ' stroke-linejoin="round" stroke-linecap="butt">\n'
        f'<title id="{name}-title">{escape(view.title)}</title>\n'
        f'<desc id="{name}-desc">{escape(view.description)}</desc>\n{body}\n</svg>\n'
    )
