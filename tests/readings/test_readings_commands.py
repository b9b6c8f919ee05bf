"""Readings from the command line: added, reported, fitted, adopted, one page written."""

from __future__ import annotations

import io
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from hoopwright import read_plan
from hoopwright.cli.main import app
from hoopwright.readings.text import ReadingsError

RUN = CliRunner()
PLAN = '# mine\nname = "Bed one"\n[bed]\nlength = "8 ft"\n[site]\nlongitude = "109.6 W"\n'


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan with readings of forty days beside it."""
    path = tmp_path / "bed.toml"
    path.write_text(PLAN, encoding="utf-8")
    rows = ["Time,Inside °C,Outside °C"]
    start = datetime(2026, 3, 1)
    for hour in range(24 * 40):
        when = start + timedelta(hours=hour)
        outside = 1.0 - 6.0 * np.cos(2 * np.pi * (hour - 5) / 24)
        inside = outside + 1.5 + 6.0 * max(0.0, np.sin(2 * np.pi * (hour - 7) / 24))
        rows.append(f"{when:%Y-%m-%d %H:%M},{inside:.2f},{outside:.2f}")
    rows[100] = rows[100].rsplit(",", 2)[0] + ",-127.0,1.0"
    (tmp_path / "log.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    return path


def test_a_log_is_added_with_what_is_wrong_in_it(plan: Path) -> None:
    """The error code is shown with its row; the rest is kept."""
    done = RUN.invoke(app, ["readings", "add", str(plan), str(plan.with_name("log.csv"))])
    assert done.exit_code == 0, done.output
    assert "row 101: -127.0 °C is no air temperature" in done.output
    assert "959 readings" in done.output
    assert plan.with_suffix(".readings.sqlite3").exists()


def test_the_report_fits_adopts_and_writes_the_page(plan: Path) -> None:
    """Months, the model, fitted numbers with intervals, and one page."""
    RUN.invoke(app, ["readings", "add", str(plan), str(plan.with_name("log.csv"))])
    page = plan.with_name("page.pdf")
    asked = ["readings", "report", str(plan), "--fit", "--adopt", "--out", str(page)]
    done = RUN.invoke(app, asked)
    assert done.exit_code == 0, done.output
    assert "Mar 2026" in done.output
    assert "held out" in done.output
    text = plan.read_text(encoding="utf-8")
    assert text.startswith("# mine")
    known = read_plan(plan).plan.measured
    if "Kept in" in done.output:
        assert known.leak != 1.0
    else:
        assert known.leak == 1.0
    pages = PdfReader(io.BytesIO(page.read_bytes())).pages
    assert len(pages) == 1
    words = pages[0].extract_text()
    assert "one bed" in words
    assert "2.7 °F" in words
    # The picture's own words: its title, and a month's nights beside its bar.
    assert "Warmer at the coldest of the night" in words
    assert "30 nights" in words


def test_questions_end_in_words(plan: Path) -> None:
    """A file whose columns say nothing asks for --inside or --outside."""
    odd = plan.with_name("odd.csv")
    odd.write_text("t,a,b\n" + "".join(f"2026-04-01 {h:02}:00,3.5,1.2\n" for h in range(20)))
    done = RUN.invoke(app, ["readings", "add", str(plan), str(odd)])
    assert isinstance(done.exception, ReadingsError)
    assert "--inside" in str(done.exception)
    asked = ["readings", "add", str(plan), str(odd), "--inside", "a", "--outside", "b"]
    assert RUN.invoke(app, [*asked, "--unit", "C"]).exit_code == 0
