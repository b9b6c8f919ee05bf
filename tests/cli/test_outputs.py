"""What commands write never lands on what they read; it is refused before any work."""

import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.cli.options import Misused
from hoopwright.writing import WouldOverwrite

PLAN = 'name = "A bed"\nprices = "mine.csv"\n'
PRICES = "thing,sold as,length [ft],price [USD],date\npvc40-1/2,stick,10,4.10,2026-03\n"


@pytest.fixture
def plan(tmp_path, monkeypatch):
    """A plan whose season would be worked out only against the test's will."""

    def never(*_):
        raise AssertionError("worked out before the outputs were checked")

    monkeypatch.setattr("hoopwright.cli.season.report_of", never)
    (tmp_path / "mine.csv").write_text(PRICES)
    file = tmp_path / "b.toml"
    file.write_text(PLAN)
    return file


@pytest.mark.parametrize(
    "words",
    [
        ["season", "{plan}", "--ics", "{plan}"],
        ["season", "{plan}", "--hours", "{folder}/mine.csv"],
        ["sheet", "{plan}", "--out", "{folder}/link.pdf"],
        ["readings", "report", "{plan}", "--out", "{plan}"],
    ],
)
def test_no_output_lands_on_an_input(plan, words):
    (plan.parent / "link.pdf").symlink_to(plan)
    filled = [word.format(plan=plan, folder=plan.parent) for word in words]
    found = CliRunner().invoke(app, filled)
    assert isinstance(found.exception, WouldOverwrite), found.exception
    assert plan.read_text() == PLAN
    assert (plan.parent / "mine.csv").read_text() == PRICES


def test_a_form_of_hours_that_cannot_be_written_is_refused_first(plan):
    found = CliRunner().invoke(app, ["season", str(plan), "--hours", str(plan.parent / "a.xls")])
    assert isinstance(found.exception, Misused)


def test_a_sweep_spares_its_sites(plan, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    sites = out / "results.csv"
    sites.write_text("name\nhere\n")
    words = ["sweep", "--plans", str(plan), "--sites", str(sites), "--out", str(out)]
    assert isinstance(CliRunner().invoke(app, words).exception, WouldOverwrite)
    assert sites.read_text() == "name\nhere\n"
