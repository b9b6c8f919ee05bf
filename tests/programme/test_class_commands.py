"""Class, compare, advise and sweep from the command line: what they print and write."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.programme.class_file import ClassError

RUN = CliRunner()
DEMO = Path(__file__).parents[2] / "demo" / "high-valley.toml"
CLASS = """
name = "Two beds"
budget = 100
[template.bed]
length = "6 ft"
width = "3 ft"
[template.hoops]
stock_length = "8 ft"
[[beds]]
household = "Household Alder"
[[beds]]
bed.length = "8 ft"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Return a class of two beds."""
    path = tmp_path / "class.toml"
    path.write_text(CLASS, encoding="utf-8")
    return path


def test_class_prints_the_order_the_shares_and_the_budget(file: Path) -> None:
    """And names no household unless asked to."""
    done = RUN.invoke(app, ["class", str(file)])
    assert done.exit_code == 0, done.output
    assert "2 beds:" in done.output
    assert "Over the budget" in done.output
    assert "Alder" not in done.output
    assert "Alder" in RUN.invoke(app, ["class", str(file), "--names"]).output


def test_class_as_data_adds_up(file: Path) -> None:
    """Shares add up to the total, in JSON as on paper."""
    data = json.loads(RUN.invoke(app, ["class", str(file), "--json"]).output)
    assert sum(share["pays"] for share in data["shares"]) == pytest.approx(data["total"])
    assert data["alone"] - data["saving"] - data["shelf_worth"] == pytest.approx(data["total"])


def test_class_writes_its_sheets(file: Path, tmp_path: Path) -> None:
    """Order, station, one kit a bed, labels."""
    out = tmp_path / "sheets"
    done = RUN.invoke(app, ["class", str(file), "--out", str(out), "--format", "md"])
    assert done.exit_code == 0, done.output
    names = {path.name for path in out.iterdir()}
    assert names == {
        "order.md",
        "cutting-station.md",
        "kit-A.md",
        "kit-B.md",
        "labels.pdf",
        "labels.csv",
    }


def test_a_wrong_class_ends_in_words(tmp_path: Path) -> None:
    """Each problem with its bed."""
    path = tmp_path / "class.toml"
    path.write_text('[[beds]]\nbed.lenght = "8 ft"\n', encoding="utf-8")
    done = RUN.invoke(app, ["class", str(path)])
    assert isinstance(done.exception, ClassError)
    assert "bed A: bed.lenght" in str(done.exception)


def test_compare_prints_differences_and_a_chart() -> None:
    """A column for each plan, the best marked, bars below."""
    done = RUN.invoke(app, ["compare", str(DEMO), "--vary", "spacing=2ft,3ft", "--no-climate"])
    assert done.exit_code == 0, done.output
    assert "* best in that line" in done.output
    assert "####" in done.output
    assert "The same in all" in done.output


def test_compare_runs_a_year_for_each(tmp_path: Path) -> None:
    """With the climate, plans tell warmth too."""
    other = tmp_path / "other.toml"
    text = DEMO.read_text(encoding="utf-8")
    other.write_text(text.replace("film-6mil-uv4", "film-6mil-thermal"), encoding="utf-8")
    data = json.loads(RUN.invoke(app, ["compare", str(DEMO), str(other), "--json"]).output)
    warmth = next(one for one in data["figures"] if one["what"].startswith("Leaves warmer"))
    assert warmth["differs"]
    # A film that holds back long-wave is the warmer one at night.
    assert warmth["values"][1] > warmth["values"][0]


def test_sweep_writes_a_table_and_a_map(tmp_path: Path) -> None:
    """And goes on where it was."""
    sites = tmp_path / "sites.csv"
    sites.write_text("name,elevation\nhere,900 m\n", encoding="utf-8")
    out = tmp_path / "out"
    asked = ["sweep", "--plans", str(DEMO), "--sites", str(sites), "--out", str(out)]
    first = RUN.invoke(app, [*asked, "--engine", "threads"])
    assert first.exit_code == 0, first.output
    assert "1 results, 0 of them from before" in first.output
    assert "1 of them from before" in RUN.invoke(app, [*asked, "--engine", "threads"]).output
    assert json.loads((out / "results.geojson").read_text())["type"] == "FeatureCollection"
