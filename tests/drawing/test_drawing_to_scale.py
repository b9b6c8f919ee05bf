"""A bar of a known length measures that length on paper and in the DXF."""

import xml.etree.ElementTree as ElementTree

import pytest

from hoopwright.drawing.dxf import INCHES, MILLIMETRES, make_dxf
from hoopwright.drawing.layout import lay_out
from hoopwright.drawing.scene import (
    Layer,
    Line,
    LinearDimension,
    RunningDimension,
    Side,
    View,
)
from hoopwright.drawing.svg import write_svg

SVG = "{http://www.w3.org/2000/svg}"


def millimetres(value):
    return f"{value * 1000:.4f}"


def bar(scale, length=1.0):
    items = (
        Line((0.0, 0.0), (length, 0.0), Layer.HOOPS),
        LinearDimension((0.0, 0.0), (length, 0.0), Side.BELOW),
        RunningDimension((0.0, 0.0), (0.25 * length, 0.6 * length, length), Side.ABOVE),
        RunningDimension((0.0, 0.0), (0.1 * length, 0.3 * length), Side.LEFT),
        LinearDimension((0.0, 0.0), (0.0, 0.3 * length), Side.RIGHT),
    )
    return lay_out(View("bar", "Bar", "A bar.", items, scale), millimetres)


@pytest.mark.parametrize(("scale", "paper"), [(10.0, 100.0), (24.0, 1000 / 24), (5.0, 200.0)])
def test_a_metre_bar_is_to_scale_in_the_svg(scale, paper):
    """1 m at 1:10 is 100.00 mm, in user units that the viewBox ties to millimetres."""
    root = ElementTree.fromstring(write_svg(bar(scale)))
    width = float(root.attrib["width"].removesuffix("mm"))

    assert root.attrib["viewBox"].split()[2] == str(root.attrib["width"].removesuffix("mm"))
    assert width > paper
    line = next(e for e in root.iter(f"{SVG}line") if e.attrib["class"] == "hw-hoops")
    assert float(line.attrib["x2"]) - float(line.attrib["x1"]) == pytest.approx(paper, abs=0.002)


@pytest.mark.parametrize("unit", [MILLIMETRES, INCHES])
def test_every_dxf_dimension_measures_what_the_svg_says(unit):
    """ezdxf measures its own geometry; the SVG layout carries its own numbers."""
    layout = bar(10.0)
    document = make_dxf([layout], unit)

    measured = []
    for entity in document.modelspace().query("DIMENSION"):
        value = entity.get_measurement()
        if not isinstance(value, float):
            value = value.x if entity.dxf.dimtype & 64 else value.y
        measured.append((value * unit.length, entity.dxf.text))
    ours = [
        (value, text)
        for placed in layout.placed
        for value, text in zip(placed.measured, placed.texts, strict=True)
    ]

    assert len(measured) == len(ours) == 7
    for (dxf_value, dxf_text), (value, text) in zip(sorted(measured), sorted(ours), strict=True):
        assert dxf_value == pytest.approx(value, abs=1e-9)
        assert dxf_text == text
        assert float(text) / 1000 == pytest.approx(dxf_value, abs=1e-7)


def test_the_dxf_bar_measures_100_mm_and_passes_its_audit():
    document = make_dxf([bar(1.0, 0.1)], MILLIMETRES)
    line = next(e for e in document.modelspace().query("LINE") if e.dxf.layer == "hoops")

    assert line.dxf.start.distance(line.dxf.end) == pytest.approx(100.0, abs=1e-9)
    assert document.dxfversion == "AC1032"
    assert document.header["$INSUNITS"] == 4
    assert not document.audit().has_errors
    assert {layer.value for layer in Layer} <= {layer.dxf.name for layer in document.layers}


def test_a_dxf_survives_writing_and_reading(tmp_path):
    from ezdxf.filemanagement import readfile

    path = tmp_path / "bar.dxf"
    make_dxf([bar(10.0)], INCHES).saveas(path)
    again = readfile(path)

    assert not again.audit().has_errors
    assert again.header["$INSUNITS"] == 1
    assert len(again.modelspace().query("DIMENSION")) == 7


def test_the_bar_is_to_scale_in_a_typeset_page(tmp_path):
    """1 m at 1:10, placed at the layout's own width, is 100.00 mm in the PDF (pypdf reads it)."""
    import pypdf
    import typst

    layout = bar(10.0)
    (tmp_path / "bar.svg").write_text(write_svg(layout), encoding="utf-8")
    width = layout.paper[0] * 1000
    source = f'#set page(width: 300mm)\n#image("bar.svg", width: {width}mm, alt: "Bar")\n'
    (tmp_path / "page.typ").write_text(source, encoding="utf-8")
    pdf = typst.compile(str(tmp_path / "page.typ"), ignore_system_fonts=True)
    (tmp_path / "page.pdf").write_bytes(pdf)

    lengths = drawn_lengths(pypdf.PdfReader(tmp_path / "page.pdf").pages[0])
    points = [length for length in lengths if abs(length - 100 / 25.4 * 72) < 0.01]
    assert points, sorted(lengths)[-5:]


def drawn_lengths(page):
    """Return the length [pt] of every straight stroke on a page, drawings inside it included."""
    import numpy as np
    from pypdf.generic import ContentStream

    found = []

    def walk(stream, resources, matrix):
        stack, here = [], matrix
        start = None
        for operands, operator in ContentStream(stream, page.pdf).operations:
            if operator == b"q":
                stack.append(here)
            elif operator == b"Q":
                here = stack.pop()
            elif operator == b"cm":
                a, b, c, d, e, f = map(float, operands)
                here = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ here
            elif operator in (b"m", b"l"):
                place = (np.array([*map(float, operands), 1.0]) @ here)[:2]
                if operator == b"l":
                    found.append(float(np.hypot(*(place - start))))
                start = place
            elif operator == b"Do":
                form = resources["/XObject"][operands[0]].get_object()
                if form["/Subtype"] == "/Form":
                    a, b, c, d, e, f = map(float, form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                    inner = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ here
                    walk(form, form.get("/Resources", resources), inner)

    walk(page["/Contents"].get_object(), page["/Resources"], np.eye(3))
    return found
