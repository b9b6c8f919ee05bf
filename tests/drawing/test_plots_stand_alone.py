"""A plot is one SVG that needs nothing else: in a file, in a page, in a typeset document."""

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import plot_samples
import pytest

import hoopwright
from hoopwright.drawing.plots.field import plot_svg
from hoopwright.units import METRIC, US

SVG = "{http://www.w3.org/2000/svg}"
FONTS = Path(hoopwright.__file__).parent / "sheet" / "fonts"


@pytest.mark.parametrize("make", plot_samples.ALL, ids=lambda m: m.__name__)
def test_it_is_well_formed_titled_described_and_small(make):
    view = make(US)
    svg = plot_svg(view)
    root = ElementTree.fromstring(svg)
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]

    assert len(ids) == len(set(ids))
    assert all(name == view.name or name.startswith(f"{view.name}-") for name in ids)
    assert root.find(f"{SVG}title").text == view.title
    assert re.search(r"\d", root.find(f"{SVG}desc").text)
    assert len(svg) < 150_000


@pytest.mark.parametrize("make", plot_samples.ALL, ids=lambda m: m.__name__)
def test_it_needs_nothing_from_outside(make):
    svg = plot_svg(make(METRIC))
    for forbidden in ("<style", "var(", "@import", "url(", "nan", "NaN", "inf "):
        assert forbidden not in re.sub(r"base64,[^\"]*", "", svg)
    for target in re.findall(r'href="([^"]{0,30})', svg):
        assert target.startswith("data:image/png;base64,")


def test_all_of_them_share_a_page_without_clashing():
    page = "".join(plot_svg(make(US)) for make in plot_samples.ALL)
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_the_finding_stands_on_the_plot_itself():
    words = "".join(ElementTree.fromstring(plot_svg(plot_samples.lines(US))).itertext())
    for part in ("Nights under the film", "under film", "station", "freezing", "°F", "Grey band"):
        assert part in words


def test_it_is_typeset_into_a_tagged_pdf(tmp_path):
    """typst refuses under PDF/UA-1 what has no words, and fails on an SVG it cannot read."""
    import pypdf
    import typst

    source = '#set document(title: "Plots")\n#set page(paper: "a4", margin: 15mm)\n'
    for make in plot_samples.ALL:
        view = make(METRIC)
        (tmp_path / f"{view.name}.svg").write_text(plot_svg(view), encoding="utf-8")
        source += f'#image("{view.name}.svg", alt: "{view.title}", width: 168mm)\n'
    (tmp_path / "page.typ").write_text(source, encoding="utf-8")
    typst.compile(
        str(tmp_path / "page.typ"),
        output=str(tmp_path / "page.pdf"),
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
        pdf_standards="ua-1",
    )
    pages = pypdf.PdfReader(tmp_path / "page.pdf").pages
    words = "".join(page.extract_text() for page in pages)
    for expected in ("under film", "frost days", "sweet potato", "sunrise 7:12", "Dry clear"):
        assert expected in words
    assert sum(len(page.images) for page in pages) >= 2
