"""The half minute on wind, snow and hail: its odds counted anew, its page and its picture."""

from __future__ import annotations

import datetime
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from scipy.stats import norm

from hoopwright import design_of, read_plan
from hoopwright.answers.glance import YEARS, glance
from hoopwright.answers.strength_words import chance_words
from hoopwright.answers.voice import sentence
from hoopwright.design import Design
from hoopwright.drawing.odds_chart import HEIGHT, marked_gusts, odds_chart
from hoopwright.drawing.scene import Text, Trace
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet import write
from hoopwright.units import US, show

DEMO = Path(__file__).parents[2] / "demo" / "high-valley.toml"
MPH = 0.44704


@pytest.fixture(scope="module")
def demo() -> Design:
    return design_of(read_plan(DEMO))


def test_the_odds_are_the_mean_over_the_beds_of_standing_each_year(demo: Design) -> None:
    """ASCE 7 C26.5: V_T / V_50 = 0.36 + 0.1 ln(12 T), from memory; 50 mph once in ten years."""
    fifty = 50 * MPH / (0.36 + 0.1 * np.log(120))
    for row, at in zip(
        glance(demo).odds, (demo.ladder.opens.at, demo.ladder.lost.at), strict=False
    ):
        between = np.exp((at / fifty - 0.36) / 0.1) / 12
        for years, words in zip(YEARS, row.through, strict=True):
            assert words == sentence(chance_words(float(np.exp(-years / between).mean())))


def test_the_careful_figure_stands_before_the_half(demo: Design) -> None:
    read = glance(demo)
    assert [one.what for one in read.headlines][:3] == [
        "The cover opens",
        "The cover is lost",
        "The bed moves",
    ]
    for one, at in zip(read.headlines, (demo.ladder.opens, demo.ladder.lost), strict=False):
        careful, half = float(one.careful.split()[0]), float(one.half.split()[0])
        assert careful == pytest.approx(np.quantile(at.at, 0.1) / MPH, rel=0.03)
        assert careful < half
    assert read.plan_for.startswith(f"Plan for gusts up to {read.headlines[0].careful};")


def test_the_odds_of_snow_are_the_mean_over_the_beds_of_bearing_each_winter() -> None:
    """A log-normal yearly greatest with a spread of 0.7, whose 20 psf comes once in 50 winters
    (ASCE 7 C7.2, from memory): Phi(Phi^-1(0.98) + ln(load / 20 psf) / 0.7), by SciPy."""
    assert YEARS == (1, 4, 10)
    snowy = design_of(read_plan_text(DEMO.read_text().replace('"5 psf"', '"20 psf"')))
    row = glance(snowy).odds[-1]
    assert row.what.startswith("It bears the snow")
    ratio = snowy.ladder.snow_on_ground / (20 * 47.88026)
    below = norm.cdf(norm.ppf(0.98) + np.log(ratio) / 0.7)
    by_hand = [float((below**years).mean()) for years in YEARS]
    assert 0.1 < by_hand[-1] < by_hand[0] < 0.95
    assert row.through == tuple(sentence(chance_words(one)) for one in by_hand)


def test_the_smaller_snow_and_the_smaller_stone_are_said_first(demo: Design) -> None:
    """The depth and the stone that one bed in ten does not stand, then that of half of the beds;
    hail at the end of the cover's life before hail on a new one."""
    snow, hail = glance(demo).headlines[3:]
    wet = demo.ladder.wet_snow
    aged = next(one for one in demo.ladder.hail if one.name.endswith("-old"))
    (new,) = (one for one in demo.ladder.hail if one is not aged)
    for told, rung, kind in ((snow, wet, "depth"), (hail, aged, "tape")):
        low, half = (show(float(np.quantile(rung.at, q)), kind, US) for q in (0.1, 0.5))
        assert (told.careful, told.half) == (low, half)
    assert aged.careful < new.careful
    assert f"new from {show(new.careful, 'tape', US)} on" in hail.first


def test_a_place_without_gust_or_snow_is_asked_for_them() -> None:
    read = glance(design_of(read_plan_text('[bed]\nlength = "10 ft"\nwidth = "4 ft"\n')))
    assert read.odds == ()
    assert "site.gust" in read.place
    assert "site.ground_snow" in read.place


def test_the_picture_draws_the_share_of_beds_by_gust(demo: Design) -> None:
    view = odds_chart(demo)
    share = float((demo.ladder.opens.at <= 50 * MPH).mean())
    assert view.title.endswith(f"{round(10 * share)} beds in ten")
    lines = [
        max(shape.paths, key=len)
        for group in view.items
        if hasattr(group, "shapes")
        for shape in group.shapes
        if isinstance(shape, Trace)
    ]
    for line, head in zip(lines, (demo.ladder.opens, demo.ladder.lost), strict=True):
        for gust in (40, 60, 80):
            x, y = line[gust]
            assert (x - line[0][0]) / (line[-1][0] - line[0][0]) == pytest.approx(gust / 120)
            assert y / HEIGHT == pytest.approx(float((head.at <= gust * MPH).mean()), abs=1e-9)
    words = [item.text for item in view.items if isinstance(item, Text)]
    assert {"1", "10", "50", "here once in, years", "mph"} <= set(words)


def test_the_place_s_gusts_stand_at_their_years(demo: Design) -> None:
    """V_T / V_50 = 0.36 + 0.1 ln(12 T) (ASCE 7 C26.5, from memory), 50 mph once in ten years."""
    share = {years: 0.36 + 0.1 * np.log(12 * years) for years in (1, 10, 50)}
    by_hand = {years: 50 * MPH * one / share[10] for years, one in share.items()}
    assert marked_gusts(demo) == pytest.approx(by_hand)


def test_without_a_gust_the_picture_says_the_careful_end_first() -> None:
    bare = design_of(read_plan_text('[bed]\nlength = "10 ft"\nwidth = "4 ft"\n'))
    careful, half = (f"{np.quantile(bare.ladder.opens.at, q) / MPH:.0f} mph" for q in (0.1, 0.5))
    assert odds_chart(bare).title == f"One bed in ten is open by {careful}, half by {half}"
    assert marked_gusts(bare) == {}


@pytest.mark.parametrize("units", ["us", "metric"])
def test_it_stands_on_one_page(units: str, tmp_path: Path) -> None:
    read = read_plan_text(DEMO.read_text().replace('units = "us"', f'units = "{units}"'))
    out = tmp_path / "book.pdf"
    write(design_of(read), out, format="pdf", date=datetime.date(2026, 11, 26), season=None)
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(out).pages]
    first = next(
        text for text in pages[1:] if "Plan for gusts up to" in text and "Nine in ten" in text
    )
    for words in (
        "The bed moves",
        "How often it gets through",
        "Find out first",
        "Local codes rule",
    ):
        assert words in first
