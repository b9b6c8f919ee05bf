"""Views as a DXF drawing for a shop: true size, real dimensions, a layer for each kind of line.

Dimensions are DIMENSION entities that measure the geometry themselves; their words are ours, so
that they read as on the sheet. ezdxf is brought in only when a DXF is asked for.
"""

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from hoopwright import writing
from hoopwright.drawing.font import text_height
from hoopwright.drawing.layout import Layout
from hoopwright.drawing.placing import SPACING, Placed
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Arc,
    Circle,
    Fill,
    Group,
    Hatch,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Point,
    Polyline,
    RunningDimension,
    Shape,
    Text,
    Tone,
)
from hoopwright.drawing.style import NONE, STYLES, width_of
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import INCH


@dataclass(frozen=True)
class DxfUnit:
    """The unit a DXF file counts in.

    length : [m] of one unit
    code   : $INSUNITS of the DXF reference
    """

    name: str
    length: float
    code: int


MILLIMETRES = DxfUnit("millimetres", 0.001, 4)
INCHES = DxfUnit("inches", INCH, 1)

#: Lineweights a DXF knows [1/100 mm], those near our three (DXF reference, group code 370).
_LINEWEIGHTS = {0.000175: 18, 0.00035: 35, 0.0007: 70}
_GREYS = {Tone.LIGHT: (236, 236, 234), Tone.DARK: (201, 200, 197), Tone.PAPER: (255, 255, 255)}
_GAP = 0.3


class _Sheet:
    """One view in model space, moved to its own place beside the others."""

    def __init__(self, document: Any, layout: Layout, unit: DxfUnit, shift: Point) -> None:
        self.document, self.space = document, document.modelspace()
        self.layout, self.unit, self.shift = layout, unit, shift
        self.scale = layout.view.scale

    def at(self, point: Point) -> Point:
        x, y = point[0] + self.shift[0], point[1] + self.shift[1]
        return x / self.unit.length, y / self.unit.length

    def length(self, value: float) -> float:
        return value / self.unit.length

    def paper(self, value: float) -> float:
        return value * self.scale / self.unit.length


def _attributes(shape: Line | Polyline | Circle | Arc) -> dict[str, Any]:
    weight = _LINEWEIGHTS[width_of(shape.layer, shape.weight)]
    return {"layer": shape.layer.value, "lineweight": weight}


def _solid(sheet: _Sheet, layer: Layer, tone: Tone) -> Any:
    """Return a solid hatch that has no boundary yet."""
    hatch = sheet.space.add_hatch(dxfattribs={"layer": layer.value})
    hatch.set_solid_fill(color=STYLES[layer].dxf_color)
    if tone is not Tone.INK:
        hatch.rgb = _GREYS[tone]
    return hatch


def _filled(sheet: _Sheet, points: Sequence[Point], layer: Layer, tone: Tone) -> None:
    hatch = _solid(sheet, layer, tone)
    hatch.paths.add_polyline_path([sheet.at(p) for p in points], is_closed=True)


def _words(sheet: _Sheet, text: Text) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = {
        Anchor.START: TextEntityAlignment.LEFT,
        Anchor.MIDDLE: TextEntityAlignment.CENTER,
        Anchor.END: TextEntityAlignment.RIGHT,
    }[text.anchor]
    style = "HOOPWRIGHT-BOLD" if text.bold else "HOOPWRIGHT"
    looks = {"layer": text.layer.value, "style": style}
    # DXF text height is that of the capitals.
    height = sheet.paper(0.7 * text.size)
    entity = sheet.space.add_text(text.text, height=height, rotation=text.angle, dxfattribs=looks)
    entity.set_placement(sheet.at(text.base(sheet.scale)), align=align)


def _draw(sheet: _Sheet, shape: Shape) -> None:
    """Draw a shape; the traces and images of plots have no place in a file for a shop."""
    space = sheet.space
    if isinstance(shape, Text):
        _words(sheet, shape)
    elif isinstance(shape, Fill):
        _filled(sheet, shape.points, shape.layer, shape.tone)
    elif isinstance(shape, Hatch):
        hatch = space.add_hatch(dxfattribs={"layer": shape.layer.value, "lineweight": 18})
        spacing, turn = sheet.paper(shape.spacing), math.radians(shape.angle)
        aside = -spacing * math.sin(turn), spacing * math.cos(turn)
        hatch.set_pattern_fill("RULED", scale=1.0, definition=[[shape.angle, (0, 0), aside, []]])
        hatch.paths.add_polyline_path([sheet.at(p) for p in shape.points], is_closed=True)
    elif isinstance(shape, Line):
        space.add_line(sheet.at(shape.start), sheet.at(shape.end), dxfattribs=_attributes(shape))
    elif isinstance(shape, Circle):
        centre, radius = sheet.at(shape.centre), sheet.length(shape.radius)
        if shape.fill is not None:
            disc = _solid(sheet, shape.layer, shape.fill)
            disc.paths.add_edge_path().add_arc(centre, radius, 0, 360)
        space.add_circle(centre, radius, dxfattribs=_attributes(shape))
    elif isinstance(shape, Arc):
        centre, radius = sheet.at(shape.centre), sheet.length(shape.radius)
        angles = shape.start_angle, shape.end_angle
        space.add_arc(centre, radius, *angles, dxfattribs=_attributes(shape))
    elif isinstance(shape, Polyline):
        if shape.fill is not None and shape.closed:
            _filled(sheet, shape.points, shape.layer, shape.fill)
        points = [sheet.at(p) for p in shape.points]
        space.add_lwpolyline(points, close=shape.closed, dxfattribs=_attributes(shape))


def _dimension_style(sheet: _Sheet) -> str:
    """Return the dimension style of a view; its paper sizes grow with the scale."""
    name = f"HOOPWRIGHT-{sheet.scale:g}".replace(".", "_")
    if name not in sheet.document.dimstyles:
        sizes = {
            "dimtxt": 0.7 * TEXT_SIZE,
            "dimasz": SPACING.arrow,
            "dimexo": SPACING.feature_gap,
            "dimexe": SPACING.overshoot,
            "dimgap": SPACING.text_gap,
        }
        fixed = {"dimtad": 1, "dimtih": 0, "dimtoh": 0, "dimtmove": 2, "dimdec": 3}
        drawn = {"dimscale": 1.0, "dimlfac": 1.0, "dimlwd": 18, "dimlwe": 18}
        on_paper = {key: sheet.paper(size) for key, size in sizes.items()}
        style = sheet.document.dimstyles.new(name)
        style.update_dxf_attribs({"dimtxsty": "HOOPWRIGHT", **on_paper, **fixed, **drawn})
    return name


def _linear(sheet: _Sheet, placed: Placed, note: LinearDimension, style: str) -> None:
    words = next(shape for shape in placed.shapes if isinstance(shape, Text))
    # DXF hangs a dimension's words by the middle of the letters.
    half = 0.35 * words.size * sheet.scale
    x, y = words.position
    dimension = sheet.space.add_linear_dim(
        base=sheet.at(placed.base),
        p1=sheet.at(note.start),
        p2=sheet.at(note.end),
        angle=0 if note.side.horizontal else 90,
        text=placed.texts[0],
        location=sheet.at((x, y + half) if note.side.horizontal else (x - half, y)),
        dimstyle=style,
        dxfattribs={"layer": Layer.DIMENSIONS.value},
    )
    dimension.render()


def _foot_of(words: Text, scale: float) -> Point:
    """Return where the line to a station's number ends: the middle of its letters' near edge."""
    down, up = text_height(words.size)
    half = (up - down) / 2 * scale
    x, y = words.position
    if words.angle:
        return x - half, y
    return (x, y) if words.anchor is Anchor.MIDDLE else (x, y + half)


def _running(sheet: _Sheet, placed: Placed, note: RunningDimension, style: str) -> None:
    """Return stations as ordinate dimensions, the DXF form of running dimensions."""
    origin = sheet.at(note.origin)
    numbers = [shape for shape in placed.shapes if isinstance(shape, Text)]
    for station, text, words in zip(note.stations, placed.texts, numbers, strict=True):
        if note.side.horizontal:
            feature = sheet.at((note.origin[0] + station, note.origin[1]))
            add = sheet.space.add_ordinate_x_dim
        else:
            feature = sheet.at((note.origin[0], note.origin[1] + station))
            add = sheet.space.add_ordinate_y_dim
        end = sheet.at(_foot_of(words, sheet.scale))
        add(
            feature_location=feature,
            offset=(end[0] - feature[0], end[1] - feature[1]),
            origin=origin,
            text=text,
            dimstyle=style,
            override={"dimtad": 0},
            dxfattribs={"layer": Layer.DIMENSIONS.value},
        ).render()


def _note(sheet: _Sheet, placed: Placed, style: str) -> None:
    note = placed.note
    if isinstance(note, LinearDimension):
        _linear(sheet, placed, note, style)
    elif isinstance(note, RunningDimension):
        _running(sheet, placed, note, style)
    elif isinstance(note, Leader):
        for shape in placed.shapes:
            _draw(sheet, shape)


def _new_document(unit: DxfUnit) -> Any:
    from ezdxf.filemanagement import new

    document: Any = new("R2018", setup=False)
    document.header["$INSUNITS"] = unit.code
    document.header["$MEASUREMENT"] = 0 if unit is INCHES else 1
    document.header["$LTSCALE"] = 1.0
    for style, font in (("HOOPWRIGHT", "Regular"), ("HOOPWRIGHT-BOLD", "SemiBold")):
        document.styles.new(style, dxfattribs={"font": f"FiraSans-{font}.ttf"})
    return document


def _add_layers(document: Any, unit: DxfUnit, scale: float) -> None:
    """Make a layer for every kind of line, its dashes sized for the scale of the first view."""
    for layer, style in STYLES.items():
        linetype = "CONTINUOUS"
        if style.dashes != NONE:
            linetype = f"HOOPWRIGHT-{layer.value.upper()}"
            lengths = [length * scale / unit.length for length in style.dashes]
            signed = [-v if i % 2 else v for i, v in enumerate(lengths)]
            document.linetypes.add(linetype, pattern=[sum(lengths), *signed])
        document.layers.add(
            layer.value,
            color=style.dxf_color,
            linetype=linetype,
            lineweight=_LINEWEIGHTS[width_of(layer, None)],
        )


def make_dxf(layouts: Sequence[Layout], unit: DxfUnit = MILLIMETRES) -> Any:
    """Return an ezdxf document (R2018) with the views side by side in model space, at true size.

    Raises ValueError where ezdxf finds the document wanting.
    """
    document = _new_document(unit)
    _add_layers(document, unit, layouts[0].view.scale if layouts else 1.0)
    left = 0.0
    for layout in layouts:
        sheet = _Sheet(document, layout, unit, (left - layout.box.left, -layout.box.bottom))
        left += layout.box.width + _GAP
        style = _dimension_style(sheet)
        for item in layout.view.items:
            if isinstance(item, Group):
                for shape in item.shapes:
                    _draw(sheet, shape)
            elif isinstance(item, Line | Polyline | Fill | Hatch | Circle | Arc | Text):
                _draw(sheet, item)
        for placed in layout.placed:
            _note(sheet, placed, style)
        for shape in layout.furniture:
            _draw(sheet, shape)
    auditor = document.audit()
    if auditor.has_errors:
        raise ValueError("; ".join(error.message for error in auditor.errors))
    return document


def write_dxf(layouts: Sequence[Layout], path: Path, unit: DxfUnit = MILLIMETRES) -> None:
    """Write views to a DXF file (see make_dxf)."""
    with writing.whole(path) as part:
        make_dxf(layouts, unit).saveas(part)
