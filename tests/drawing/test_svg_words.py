"""An SVG stands alone: its words stay words, its ids are its own, its strokes survive."""

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hoopwright
from hoopwright import units
from hoopwright.drawing.font import runs, text_width
from hoopwright.drawing.layout import lay_out, show_lengths
from hoopwright.drawing.scene import (
    Arc,
    Circle,
    Fill,
    Group,
    Hatch,
    Layer,
    Leader,
    Line,
    LinearDimension,
    NorthArrow,
    Polyline,
    RunningDimension,
    ScaleBar,
    Side,
    Tone,
    View,
)
from hoopwright.drawing.subject import points
from hoopwright.drawing.svg import write_svg

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(hoopwright.__file__).parent / "sheet" / "fonts"
SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


@pytest.fixture
def svg():
    items = (
        Group("board", "Side board <west> & all", (Polyline(SQUARE, Layer.BOARDS, closed=True),)),
        Group("hoop-1", "Hoop 1", (Arc((0.5, 0.0), 0.5, 0.0, 180.0, Layer.HOOPS),), "A pipe."),
        Fill(SQUARE, Layer.COVER, Tone.LIGHT),
        Hatch(SQUARE, Layer.BOARDS),
        Circle((0.5, 0.5), 0.1, Layer.STRAPS),
        Line((0.5, -0.1), (0.5, 1.1), Layer.CENTRE),
        LinearDimension((0.0, 0.0), (0.9525, 0.0), Side.BELOW),
        RunningDimension((0.0, 1.0), (0.25, 0.9), Side.ABOVE),
        Leader((0.5, 0.5), "strap & screws", Side.RIGHT, decision=True),
        ScaleBar(0.5, "20 in"),
        NorthArrow(30.0),
    )
    view = View("end", "End", "The end <of> it.", items, 10.0, "A note.")
    return write_svg(lay_out(view, show_lengths(units.US)))


def test_it_is_well_formed_and_its_ids_are_unique(svg):
    root = ElementTree.fromstring(svg)
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]

    assert len(ids) == len(set(ids))
    assert all(name == "end" or name.startswith("end-") for name in ids)
    assert {"end-board", "end-hoop-1"} <= set(ids)
    assert root.attrib["aria-labelledby"] == "end-title end-desc"
    assert root.find(f"{SVG}title").text == "End"
    assert root.find(f"{SVG}desc").text == "The end <of> it."
    for group in root.iter(f"{SVG}g"):
        assert group.attrib["role"] == "graphics-object"
        assert group.find(f"{SVG}title").text == group.attrib["aria-label"]


def test_a_line_written_with_fewer_points_stays_where_it_was():
    """A wavy line, back along it, out on a spur, half back: each point lies within a tenth of the
    thinnest line's width of what is written, whose ends are the line's own."""
    turn = np.linspace(0.0, 9.0, 1500)
    wave = np.column_stack([0.3 * turn, np.sin(turn) + 0.1 * np.sin(3.0 * turn)])
    spur = np.outer([*np.linspace(0.0, 1.0, 20), *np.linspace(1.0, 0.5, 10)], (-0.6, 0.8))
    line = np.vstack([wave, wave[::-1] + 0.02, wave[0] + 0.02 + spur])
    scale = 24.0
    view = View("wave", "Wave", "A wave.", (Polyline(points(line), Layer.HOOPS),), scale)
    layout = lay_out(view, str, titled=False)
    path = re.findall(r' d="M([^"]+)"', write_svg(layout))[-1]
    places = [tuple(map(float, place.split())) for place in path.split("L")]
    own = np.column_stack([line[:, 0] - layout.box.left, layout.box.top - line[:, 1]])
    own *= 1000.0 / scale
    written = np.array(places)
    assert len(written) < len(line) / 2
    assert np.allclose(written[[0, -1]], own[[0, -1]], atol=0.001)
    along = np.diff(written, axis=0)
    share = ((own[:, None] - written[:-1]) * along).sum(axis=2) / (along**2).sum(axis=1)
    nearest = written[:-1] + np.clip(share, 0.0, 1.0)[..., None] * along
    off = np.linalg.norm(own[:, None] - nearest, axis=2).min(axis=1)
    assert off.max() <= 0.0175 + 0.001


def test_fractions_are_built_up_and_still_read_as_text(svg):
    root = ElementTree.fromstring(svg)
    texts = ["".join(element.itertext()) for element in root.iter(f"{SVG}text")]

    assert "37 1/2 in" in texts
    assert "Scale 1 : 10" in texts


def test_it_needs_nothing_from_outside(svg):
    for forbidden in ("<style", "var(", "href", "@import", "url("):
        assert forbidden not in svg


def test_line_widths_are_one_to_two_to_four(svg):
    root = ElementTree.fromstring(svg)
    widths = {float(e.attrib["stroke-width"]) for e in root.iter() if "stroke-width" in e.attrib}

    assert widths == {0.175, 0.35}
    from hoopwright.drawing.style import WIDTHS

    thin, medium, thick = WIDTHS.values()
    assert (medium / thin, thick / medium) == pytest.approx((2, 2))


def test_words_survive_typesetting_into_a_tagged_pdf(svg, tmp_path):
    """typst keeps SVG text as text only where it finds the font."""
    import pypdf
    import typst

    (tmp_path / "end.svg").write_text(svg, encoding="utf-8")
    source = '#set document(title: "End")\n#image("end.svg", alt: "End of the bed")\n'
    (tmp_path / "page.typ").write_text(source, encoding="utf-8")
    typst.compile(
        str(tmp_path / "page.typ"),
        output=str(tmp_path / "page.pdf"),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        pdf_standards="ua-1",
    )
    page = pypdf.PdfReader(tmp_path / "page.pdf").pages[0]

    words = page.extract_text()
    for expected in ("37 1/2 in", "strap & screws", "Scale 1 : 10", "A note."):
        assert expected in words
    used = {str(font.get_object()["/BaseFont"]) for font in _fonts(page)}
    assert used
    assert all("FiraSans" in name for name in used)


def _fonts(page):
    """Return every font of a page, those inside its drawings included."""
    found, waiting = [], [page["/Resources"].get_object()]
    while waiting:
        resources = waiting.pop()
        found += list(resources.get("/Font", {}).values())
        for form in resources.get("/XObject", {}).values():
            if "/Resources" in form.get_object():
                waiting.append(form.get_object()["/Resources"].get_object())
    return found


@settings(max_examples=50, derandomize=True, deadline=None)
@given(st.text(alphabet="0123456789/ ftin-", max_size=20))
def test_runs_put_together_are_the_text(text):
    assert "".join(characters for characters, _, _ in runs(text)) == text


def test_a_fraction_is_set_smaller_and_a_ratio_of_scale_is_not():
    assert ("1", 1.0, 0.0) not in list(runs("37 1/2 in"))
    assert list(runs("1 : 24")) == [("1 : 24", 1.0, 0.0)]
    assert text_width("37 1/2", 1.0) < sum(text_width(c, 1.0) for c in "37 1/2")


@pytest.mark.parametrize(("weight", "bold"), [("Regular", False), ("SemiBold", True)])
def test_widths_are_those_of_the_shipped_font(weight, bold):
    """The table is written by a script; here the font itself is asked, through fontTools."""
    from fontTools.ttLib import TTFont

    font = TTFont(FONTS / f"FiraSans-{weight}.ttf")
    names, advances = font.getBestCmap(), font["hmtx"]
    words = "Tape marks from the left end, Ø 21 mm × 6 ft"
    expected = sum(advances[names[ord(c)]][0] for c in words) / font["head"].unitsPerEm

    assert text_width(words, 1.0, bold=bold) == pytest.approx(expected, abs=1e-9)


def test_the_font_may_be_shipped():
    licence = (FONTS / "OFL.txt").read_text(encoding="utf-8")

    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "Reserved Font Name" not in licence.split("PREAMBLE")[0]
