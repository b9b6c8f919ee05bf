"""What stands on the sheet's pages: nothing cut off at the foot, no page left all but empty."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest
from printed import pages_of

from hoopwright import design_of, read_plan
from hoopwright.design.growing import place_years
from hoopwright.design.season_report import SeasonReport, season_report
from hoopwright.drawing.scene import Group, Trace
from hoopwright.drawing.season_plots import season_views
from hoopwright.heat.compiled import compiled_march
from hoopwright.plan.read import ReadPlan, read_plan_text
from hoopwright.sheet import write
from hoopwright.sheet.content import Diagram
from hoopwright.sheet.season_pages import season_parts
from hoopwright.units import US

DEMO = Path(__file__).parents[2] / "demo" / "high-valley.toml"
#: Letter less the margins of the sheet's template, the lower of the two papers [m].
ROOM = 0.2794 - 0.011 - 0.014
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[site]\ngust = "90 mph"\n[season]\nyears = 5\n'


@pytest.fixture(scope="module")
def read() -> ReadPlan:
    """Return a usual bed; all crops of the table, few years."""
    return read_plan_text(BED)


@pytest.fixture(scope="module")
def report(read: ReadPlan) -> SeasonReport:
    """Return its season."""
    return season_report(
        design_of(read), place_years(read.plan, read.weather_file), compiled_march()
    )


def test_every_chart_of_the_season_stands_whole_on_a_page(report: SeasonReport) -> None:
    """All crops are on the sowing charts, and no chart is taller than the paper has room."""
    parts = season_parts(report, US)
    charts = [block for part in parts for block in part.blocks if isinstance(block, Diagram)]
    assert all(chart.height <= ROOM - 0.02 for chart in charts), [c.height for c in charts]
    said = " ".join(chart.alt for chart in charts if chart.name.startswith("sowing"))
    names = [crop.name for crop in report.crops.values()]
    assert len(names) > 50
    missing = [name for name in names if name.split()[0].lower() not in said.lower()]
    assert not missing


def test_no_page_is_left_all_but_empty(
    read: ReadPlan, report: SeasonReport, tmp_path: Path
) -> None:
    """A page holds a drawing or a paragraph at least; only a section's last may be short."""
    out = tmp_path / "bed.pdf"
    write(design_of(read), out, format="pdf", date=datetime.date(2026, 11, 25), season=report)
    pages = [page.text for page in pages_of(out.read_bytes())]
    # Page one names the season in its contents.
    first = next(text for text in pages[1:] if "The season" in text)
    assert "start under the cover" in first.lower(), first
    storm = next(text for text in pages if "Before a storm" in text)
    assert len(storm) > 600, storm


def test_no_two_lines_of_a_plot_differ_by_colour_only(report: SeasonReport) -> None:
    """A copier knows no colour: each line of a plot has a width and dashes of its own."""
    told = 0
    for view in season_views(report, US):
        lines = [
            item for item in view.items if isinstance(item, Group) and item.name[:5] == "line-"
        ]
        first = [next(s for s in line.shapes if isinstance(s, Trace)) for line in lines]
        looks = [(trace.weight, trace.dashes) for trace in first]
        assert len(set(looks)) == len(looks), (view.name, looks)
        told += len(looks) > 1
    assert told


def test_the_demos_book_with_its_season_is_16_pages(tmp_path: Path) -> None:
    """Of Letter, the lower paper; each is full, or its section ends there."""
    read = read_plan(DEMO)
    season = season_report(
        design_of(read), place_years(read.plan, read.weather_file), compiled_march()
    )
    out = tmp_path / "book.pdf"
    write(design_of(read), out, format="pdf", date=datetime.date(2026, 11, 25), season=season)
    pages = [page.text for page in pages_of(out.read_bytes())]
    assert len(pages) <= 16
    assert min(map(len, pages)) > 300, list(map(len, pages))
