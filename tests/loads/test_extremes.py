"""Gusts and snows of a record as an extreme-value distribution."""

import json
from datetime import date, timedelta

import numpy as np
import pytest
from scipy import stats
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.loads.extremes import Extremes, TooFewYears, fitted, yearly_greatest

DAYS = np.arange("1990-01-01", "2020-01-01", dtype="datetime64[D]")


def test_the_greatest_of_each_whole_year():
    values = np.ones(DAYS.size)
    values[100], values[400] = 30.0, 20.0
    values[800:1000] = np.nan
    found = yearly_greatest(values, DAYS, winters=False)
    assert found[:2].tolist() == [30.0, 20.0]
    assert found.size == 29  # 1992 has 200 days without a value
    assert yearly_greatest(values, DAYS, winters=True).size == 27  # two winters of the gap


@pytest.mark.slow
def test_a_fit_finds_the_distribution_it_was_drawn_from():
    """500 years of a Gumbel of place 25 and scale 3: once in ten 25 + 3 x 2.2504 = 31.75."""
    drawn = stats.gumbel_r.rvs(25, 3, size=500, random_state=3)
    low, middle, high = fitted(drawn).once_in(10)
    assert middle == pytest.approx(31.75, abs=0.6)
    assert low < middle < high
    few = fitted(drawn[:20]).once_in(10)
    assert few[2] - few[0] > 2 * (high - low)


def test_years_are_drawn_anew_by_hand():
    """Gumbel (shape 0) at its place: e^-1 a year; two years e^-2."""
    one = Extremes(np.array([[0.0, 25.0, 3.0]]), 30)
    assert one.gets_through(np.array([25.0]), 2) == pytest.approx(np.exp(-2))


def test_too_few_years_are_refused():
    with pytest.raises(TooFewYears):
        fitted(np.arange(5.0))


@pytest.mark.slow
def test_limits_by_a_record(tmp_path):
    random = np.random.default_rng(5)
    rows, day = [], date(2000, 1, 1)
    while day < date(2012, 1, 1):
        stamp = day.strftime("%Y%m%d")
        snow = int(random.integers(0, 120)) if day.month in (12, 1, 2) else 0
        gust = int(60 + 40 * random.gumbel())
        for name, value in (
            ("TMIN", 0),
            ("TMAX", 90),
            ("SNOW", snow),
            ("SNWD", 2 * snow),
            ("WSFG", max(gust, 0)),
        ):
            rows.append(f"XX000000001,{stamp},{name},{value},,,S,")
        day += timedelta(days=1)
    record, plan = tmp_path / "days.csv", tmp_path / "bed.toml"
    record.write_text("\n".join(rows) + "\n")
    plan.write_text('[bed]\nlength = "12 ft"\n[wishes]\nbrushed = "weekly"\n')
    asked = ["limits", str(plan), "--no-changes", "--record", str(record)]
    done = CliRunner().invoke(app, asked)
    assert done.exit_code == 0, done.output
    assert "fitted to 12 years" in " ".join(done.output.split())
    told = json.loads(CliRunner().invoke(app, [*asked, "--json"]).stdout)["record"]
    assert "once in ten winters" in told["Snow by it"]
