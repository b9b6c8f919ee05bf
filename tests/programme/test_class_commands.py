"""Class, compare, advise and sweep from the command line: what they print and write."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.programme.class_file import ClassError, read_class

RUN = CliRunner()
DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"
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
    """Order, station, a book, a card and a part list a bed, labels; and how much paper it is."""
    out = tmp_path / "sheets"
    done = RUN.invoke(app, ["class", str(file), "--out", str(out), "--format", "md"])
    assert done.exit_code == 0, done.output
    assert re.search(r"\d+ sheets of paper, front and back", done.output)
    names = {path.name for path in out.iterdir()}
    assert names == {
        "order.md",
        "cutting-station.md",
        "book-B.md",
        "card-A.pdf",
        "card-B.pdf",
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
    done = RUN.invoke(app, ["compare", str(DEMO), "--try", "spacing=2ft,3ft", "--no-climate"])
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
    assert "1 result, 0 of them from before" in first.output
    assert "1 of them from before" in RUN.invoke(app, [*asked, "--engine", "threads"]).output
    assert json.loads((out / "results.geojson").read_text())["type"] == "FeatureCollection"


def test_a_shelf_of_what_the_catalogue_does_not_know_is_refused(file: Path) -> None:
    """A slip of the pen would else count as nothing at hand, and be bought again."""
    slip = '\n[[shelf]]\nitem = "pvc40-1/3"\nlength = "10 ft"\n'
    file.write_text(CLASS + slip, encoding="utf-8")
    with pytest.raises(ClassError, match=r'shelf: "pvc40-1/3".*did you mean'):
        read_class(file)


def test_beds_come_from_a_spreadsheet_with_semicolons(tmp_path: Path) -> None:
    """As one with decimal commas writes it; a row with a cell too many is told, not cut."""
    table = tmp_path / "beds.csv"
    table.write_text(
        "\ufeffletter;household;bed.length\r\nA;Ash;6 ft\r\nB;Elm;8 ft\r\n", encoding="utf-8"
    )
    whole = tmp_path / "class.toml"
    whole.write_text('beds_file = "beds.csv"\n[template.bed]\nwidth = "3 ft"\n', encoding="utf-8")
    found = read_class(whole)
    assert [(bed.letter, bed.household) for bed in found.beds] == [("A", "Ash"), ("B", "Elm")]
    assert [bed.read.plan.bed.length for bed in found.beds] == pytest.approx([1.8288, 2.4384])
    table.write_text("letter,bed.length\nA,6 ft\nB,8 ft,9\n", encoding="utf-8")
    with pytest.raises(ClassError, match="line 3: more cells than columns"):
        read_class(whole)


def test_one_bed_is_one_bed(file: Path) -> None:
    """And JSON comes alone where sheets are written."""
    file.write_text("[[beds]]\nbed.length = '6 ft'\nbed.width = '3 ft'\n", encoding="utf-8")
    assert "1 bed:" in RUN.invoke(app, ["class", str(file)]).stdout
    out = file.with_name("sheets")
    words = ["class", str(file), "--out", str(out), "--format", "md", "--json"]
    files = json.loads(RUN.invoke(app, words).stdout)["files"]
    assert files
    assert all(Path(name).exists() for name in files)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("budget = 100", "budget = " + "9" * 5000),
        ("budget = 100", "[[shelf]]\nitem = 'x'\ncount = " + "9" * 5000),
    ],
)
def test_a_number_too_long_to_read_ends_in_words(file: Path, change: str, says: str) -> None:
    """Python refuses to read 4,300 digits with an error of its own, which was a traceback."""
    file.write_text(CLASS.replace(change, says), encoding="utf-8")
    with pytest.raises(ClassError, match="holds a number too long to read"):
        read_class(file)


@pytest.mark.parametrize("digits", ["9" * 5000, "\u00b2"])
def test_a_cell_of_digits_that_are_no_number_ends_in_words(tmp_path: Path, digits: str) -> None:
    path = tmp_path / "class.toml"
    path.write_text('name = "Class"\nbeds_file = "beds.csv"\n', encoding="utf-8")
    (tmp_path / "beds.csv").write_text(
        f"bed.length,bed.width,bed.courses\n8 ft,4 ft,{digits}\n", encoding="utf-8"
    )
    with pytest.raises(ClassError, match="courses"):
        read_class(path)


def test_names_and_rows_of_a_class_are_bounded(file: Path) -> None:
    file.write_text(CLASS.replace("Two beds", "a" * 81), encoding="utf-8")
    with pytest.raises(ClassError, match="longer than 80"):
        read_class(file)
    file.write_text(CLASS.replace("Household Alder", "a" * 81), encoding="utf-8")
    with pytest.raises(ClassError, match="shorten it"):
        read_class(file)
    row = "[[shelf]]\nitem = 'pvc40-1/2'\nlength = '10 ft'\n"
    file.write_text(CLASS + 201 * row, encoding="utf-8")
    with pytest.raises(ClassError, match="has 201 rows; at most 200"):
        read_class(file)
