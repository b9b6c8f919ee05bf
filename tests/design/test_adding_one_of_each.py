"""One more cover, pipe, rung of the wind ladder and page, added to a copy in memory: each is seen
wherever its like is, or refused in words. CONTRIBUTING.md names the files each takes."""

import dataclasses
import datetime

import pytest

from hoopwright.answers.data import rung_data
from hoopwright.answers.ladder_words import ladder_words
from hoopwright.checks.ladder import Ladder
from hoopwright.design import design_of
from hoopwright.drawing.ladder_views import wind_chart
from hoopwright.drawing.scene import Text
from hoopwright.heat.covers import fabric_leak, optics_of
from hoopwright.plan import PlanError, read_plan_text
from hoopwright.programme.advise import _covers
from hoopwright.programme.station import tool_for
from hoopwright.sheet import document as document_file
from hoopwright.sheet.cautions import cautions_for
from hoopwright.sheet.content import Paragraph, Part
from hoopwright.sheet.document import document_of
from hoopwright.sheet.html import to_html
from hoopwright.sheet.markdown import to_markdown
from hoopwright.sheet.traits import traits_of
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.overlay import OwnFile

TODAY = datetime.date(2026, 3, 1)

COVER = """
[[cover]]
key = "my-film"
name = "Clear five-year film"
like = "film-6mil-uv4"
weighed = "yes"

[[roll]]
cover = "my-film"
"width [ft]" = 12
"length [ft]" = 50

[[price]]
thing = "my-film"
"sold as" = "roll"
"width [ft]" = 12
"length [ft]" = 50
"price [USD]" = 80
"""
FABRIC = """
[[cover]]
key = "my-fabric"
name = "Knitted cloth"
like = "fabric-1.5"
"optics family" = "pe"
"""
#: High-density polyethylene; the figures are stand-ins, for only the kind matters here.
PIPE = """
[[pipe]]
key = "hdpe-1/2"
name = "1/2 in HDPE pipe"
like = "pex-1/2"
material = "hdpe"
"""


def hdpe_rows():
    rows = []
    for name, figure in vars(Catalogue().pipe_materials["pex"]).items():
        if name == "key" or figure is None:
            continue
        unit = {"flexural_modulus": "Pa", "tensile_modulus": "Pa", "strength": "Pa"}.get(name)
        unit = unit or {"density": "kg/m3", "thermal_expansion": "1/K"}.get(name)
        unit = unit or ("degC" if "temperature" in name else "-")
        unit = "degC" if name in ("coldest_bending", "hottest_service") else unit
        rows.append(
            f'[[pipe_material]]\nof = "hdpe"\nproperty = "{name.replace("_", " ")}"\n'
            f'likely = {figure.likely}\nlow = {figure.low}\nhigh = {figure.high}\nunit = "{unit}"\n'
        )
    return "\n".join(rows)


def read_with(rows, plan):
    beside = (OwnFile("mine.toml", rows),)
    return read_plan_text('catalogue = "mine.toml"\n' + plan, beside=beside)


def words_of(design):
    document = document_of(design, TODAY)
    return to_html(document), to_markdown(document)


def test_a_cover_is_seen_everywhere():
    read = read_with(COVER, '[cover]\nmaterial = "my-film"\n')
    design = design_of(read)

    assert optics_of(design.cover.material).name == "Clear five-year film"
    assert "my-film" in [line.thing for line in design.order.lines]
    assert design.ladder.first("hail") is not None
    assert "my-film" in [choice.sets["cover.material"] for choice in _covers(read_with(COVER, ""))]
    assert all("Clear five-year film" in page for page in words_of(design))


@pytest.mark.parametrize(
    "plan",
    [
        '[cover]\nmaterial = "my-fabric"\n',
        '[season]\ninner_fabric = "my-fabric"\n',
        '[season]\nbeside = ["my-fabric"]\n',
    ],
)
def test_a_fabric_without_its_leak_is_refused_and_not_airtight(plan):
    with pytest.raises(PlanError, match="no air change is known through a fabric"):
        read_with(FABRIC, plan)


def test_a_cover_without_a_roll_is_said_to_be_unmet():
    without = COVER.partition("[[roll]]")[0]
    design = design_of(read_with(without, '[cover]\nmaterial = "my-film"\n'))
    assert [says for says in design.order.unmet if "Clear five-year film" in says]


def test_every_fabric_of_ours_has_its_leak():
    fabrics = [one for one in Catalogue().covers.values() if one.kind == "fabric"]
    assert all(fabric_leak(one.optics_family)[0] > 0 for one in fabrics)


def test_a_pipe_of_a_new_plastic_has_all_that_plastic_has():
    read = read_with(PIPE + hdpe_rows(), '[hoops]\npipe = "hdpe-1/2"\n')
    design = design_of(read)

    traits = traits_of(design)
    assert "plastic pipe" in traits
    assert set(cautions_for(traits)) == set(cautions_for(traits_of(design_with("pex-1/2"))))
    assert tool_for("hdpe-1/2", read.catalogue) == "pipe cutter"
    assert "hdpe-1/2" in [cuts.thing for cuts in design.order.sticks]
    assert design.ladder.first("wind") is not None
    assert all("1/2 in HDPE pipe" in page for page in words_of(design))


def design_with(pipe):
    return design_of(read_plan_text(f'[hoops]\npipe = "{pipe}"\n'))


def test_metal_and_glass_are_no_plastic():
    plastic = {key for key, one in Catalogue().pipe_materials.items() if one.is_plastic}
    assert plastic == {"pvc", "pex"}


def test_a_rung_of_the_wind_ladder_is_seen_everywhere():
    design = design_of(read_plan_text(""))
    found = design.ladder
    extra = dataclasses.replace(found.wind[0], name="lid-blows-open", happens="The lid opens.")
    more = {field.name: getattr(found, field.name) for field in dataclasses.fields(Ladder)}
    design.__dict__["ladder"] = Ladder(**{**more, "wind": (extra, *found.wind)})
    told = [rung.happens for part in ladder_words(design) for rung in part.rows]

    texts = [shape.text for shape in wind_chart(design).shapes() if isinstance(shape, Text)]
    assert "Lid blows open" in texts
    assert rung_data(extra)["name"] == "lid-blows-open"
    assert "The lid opens." in told


@pytest.mark.slow
def test_a_page_of_the_sheet_is_seen_in_every_form(monkeypatch):
    monkeypatch.setattr(document_file, "worked_changes", lambda *_: ())  # not what it is about
    document = document_of(design_of(read_plan_text("")), TODAY)
    page = dataclasses.replace(
        document.sections[-1],
        key="lids",
        title="Lids and hinges",
        parts=(Part("", (Paragraph("Oil the hinges."),)),),
    )
    more = dataclasses.replace(document, sections=(*document.sections, page))

    for words in (to_html(more), to_markdown(more)):
        assert "Lids and hinges" in words
        assert "Oil the hinges." in words
