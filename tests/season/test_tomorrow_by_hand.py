"""Tomorrow's advice on a bed whose heat is made up, so that every number is known."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from importlib import resources
from types import SimpleNamespace

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.forecast.form import ForecastPlace
from hoopwright.climate.forecast.global_forecast import read_global
from hoopwright.heat.enclosure import Enclosure, InnerFabric
from hoopwright.heat.run import BedInRun
from hoopwright.season import tomorrow
from hoopwright.season.opening import Limits
from hoopwright.season.tomorrow import Covering, Rules, advise, three_lines

PLACE = ForecastPlace("a made-up valley", 44.0, -110.0, time_zone="America/Denver")
DAY = date(2026, 5, 15)


@dataclass
class Asked:
    """What the made-up bed was asked to run."""

    plans: list


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    """Inside air 12 K over the outside from 9 to 17 h, less in proportion to the sides up to 0.4 m;
    leaves 2 K over the outside, 1.5 K more under fabric, 0.02 K less a W/m2 of the sky's error."""
    held = Asked([])

    def made_up(weather, bed, optics, plan, at, march):
        held.plans.append(plan)
        first = int((datetime(2026, 5, 15) - weather.start).total_seconds() // 3600)
        hour = np.arange(len(weather)) - first
        season = plan.seasons[0]
        sun = ((hour % 24 >= 9) & (hour % 24 < 17)) * 12.0
        opened = (hour >= plan.visits.morning) & (hour < plan.visits.evening)
        up = season.open_height if season.opened == "days" else 0.0
        air = weather.air_temperature + sun * (1 - up / 0.4 * opened)
        likely = BedInRun(bed.enclosure).coefficients
        leaf = weather.air_temperature + 2.0 + (1.5 if bed.fabric else 0.0)
        leaf -= 0.02 * (bed.coefficients.sky_error - likely.sky_error)
        return SimpleNamespace(air=air, leaf=leaf)

    monkeypatch.setattr(tomorrow, "simulate", made_up)
    return held


def ahead(night: float = 4.0):
    """10 degC, 13 from 9 h and 20 from 10 to 17 h; `night` in the hour that ends at 5 h after the
    day; cold in the hour before the night begins and after it ends, and hot in the hour after the
    day, which count for nothing."""
    text = resources.files("hoopwright.climate.forecast").joinpath("examples/global.json")
    found = read_global(text.read_text("utf-8"), PLACE, datetime(2026, 5, 14, 12, tzinfo=UTC))
    first = int((datetime(2026, 5, 15) - found.weather.start).total_seconds() // 3600)
    hour = np.arange(len(found.weather)) - first
    air = np.where((hour % 24 >= 9) & (hour % 24 < 17), 20.0, max(10.0, night))
    air[hour == 9] = 13.0
    air[hour == 28], air[hour == 17], air[hour == 33] = night, -9.0, -9.0
    air[hour == 24] = 70.0
    return replace(found, weather=replace(found.weather, air_temperature=air))


def covering(**more) -> Covering:
    bed = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))
    fabric = InnerFabric(cover_optics("film-6mil"))
    held = {"heights": (0.1, 0.2, 0.3), "fabric": fabric} | more
    return Covering(bed=bed, optics=cover_optics("film-6mil"), **held)


def test_a_day_that_must_be_opened(asked):
    """Shut 32 degC, over 28; over 24 from the hour that begins at 9: open at 8:30. Sides of 0.1 m
    leave 9 K of 12, 29; of 0.2 m 6 K, 26 degC. Shut again an hour and a half before sunset at 19:15
    or so. The night's leaves 4 + 2 degC; sky 0.02 x 15 K: sqrt(0.09 + 2.25 + 2.25) = 2.142 K."""
    found = advise(ahead(), covering(), Limits(28.0, 4.0), DAY)
    assert (found.opens, found.height, found.closes) == (8.5, 0.2, 18.0)
    assert (found.peak_shut, found.peak) == pytest.approx((32.0, 26.0))
    assert (found.outside, found.night_air, found.night_leaf) == pytest.approx((4.0, 4.0, 6.0))
    assert found.margin == pytest.approx(2.1424, abs=1e-3)
    assert found.fabric  # 6 - 2.14 lies under 4 degC
    assert found.with_fabric == pytest.approx(7.5)
    assert not found.too_hot
    said = three_lines(found, str, str, str, lambda when: f"{when:%d %H:%M}")
    assert "from 15 08:30, sides up 0.2, shut by 15 18:00: 26.0 inside at most, 32.0" in said[0]
    warm = advise(ahead(), covering(), Limits(28.0, 3.8), DAY)
    assert (warm.fabric, warm.with_fabric) == (False, None)
    bare = advise(ahead(), covering(fabric=None), Limits(28.0, 4.0), DAY)
    assert (bare.fabric, bare.with_fabric) == (True, None)


def test_nothing_is_ordered_that_the_plan_does_not_have(asked):
    """The same night with a fabric at hand, with none, and with one on the crop already."""

    def third(held):
        found = advise(ahead(), held, Limits(28.0, 4.0), DAY)
        assert found.fabric
        return three_lines(found, str, str, str, str)[2]

    fabric = InnerFabric(cover_optics("film-6mil"))
    assert third(covering()).startswith("Lay the fabric on before dark: leaves then 7.5")
    without = third(covering(fabric=None))
    assert "The plan has no fabric" in without
    lying = covering(fabric=None)
    # Leaves are 1.5 K warmer for it, so the night must be colder to want more.
    lying = replace(lying, bed=replace(lying.bed, fabric=fabric))
    found = advise(ahead(2.0), lying, Limits(28.0, 4.0), DAY)
    words = three_lines(found, str, str, str, str)[2]
    assert "even under its fabric" in words
    for said in (without, words):
        assert "ay the fabric" not in said
        assert "lay fabric" not in said


def test_the_least_height_and_one_that_is_too_little(asked):
    low = advise(ahead(), covering(heights=(0.05, 0.1)), Limits(28.0, 4.0), DAY)
    assert (low.height, low.too_hot) == (0.1, True)
    assert low.peak == pytest.approx(29.0)
    just = advise(ahead(), covering(), Limits(29.0, 4.0), DAY)
    assert (just.height, just.too_hot) == (0.1, False)
    shut = advise(ahead(), covering(), Limits(32.0, 4.0), DAY)
    assert (shut.opens, shut.closes, shut.height) == (None, None, 0.0)
    assert shut.peak == shut.peak_shut == pytest.approx(32.0)


def test_a_mild_night_is_left_open(asked):
    """From 15.5 degC of the night's least on."""
    for night, closed in ((15.5, False), (15.4, True)):
        found = advise(ahead(night), covering(), Limits(28.0, 4.0), DAY)
        assert (found.closes is not None) is closed
        assert found.opens == 8.5
    kept = [plan for plan in asked.plans if len(plan.seasons) > 2]
    assert kept
    assert kept[0].seasons[1].opened == "always"
    assert kept[0].seasons[1].first == kept[0].seasons[1].last == (5, 16)
    assert kept[0].seasons[0].first == kept[0].seasons[0].last == (5, 15)


def test_rules_of_ones_own(asked):
    """Open 13 K under the limit, over 15: at 8:30 all the same, it is that cold before; shut 3 h
    before sunset, at 16:30 or 16:00."""
    own = Rules(open_under=1.0, close_before=3.0, forecast_error=0.0, model_error=2.0, sky_error=50)
    found = advise(ahead(), covering(), Limits(28.0, 4.0), DAY, rules=own)
    assert found.margin == pytest.approx(np.hypot(1.0, 2.0))
    usual = advise(ahead(), covering(), Limits(28.0, 4.0), DAY)
    assert usual.closes - found.closes == 1.5
    assert found.opens == 9.5  # over 27 from 10 h on, over 24 from 9


def test_warnings_from_midnight_on(asked):
    """40 m/s in the first hour from midnight on counts, before it no more."""
    first = int((datetime(2026, 5, 15) - ahead().weather.start).total_seconds() // 3600)
    for hour, warned in ((-1, False), (0, True), (40, True)):
        forecast = ahead()
        gust = np.full(len(forecast.gust), 1.0)
        gust[first + hour] = 40.0
        weather = replace(forecast.weather, wind_speed=0.0 * gust)
        quiet = replace(forecast, gust=gust, weather=weather, thunder=0 * gust, hail=0 * gust)
        found = advise(
            quiet, covering(), Limits(28.0, 4.0), DAY, bearing=tomorrow.Bearing(gust=30.0)
        ).warnings
        assert bool(found) is warned, hour
        for one in found:
            assert one.when == datetime(2026, 5, 15) + timedelta(hours=hour + 1)
            assert (one.value, one.limit, one.grave) == (40.0, 30.0, True)


def test_thunder_and_hail_by_the_first_hour_they_are_named_for(asked):
    """Named for the hours that end at 4 and 9 h after midnight of the day: told at 4."""
    forecast = ahead()
    first = int((datetime(2026, 5, 15) - forecast.weather.start).total_seconds() // 3600)
    named = np.zeros(len(forecast.thunder))
    named[[first - 2, first + 3, first + 8]] = 0.3
    loud = replace(forecast, thunder=named, hail=named, gust=np.full(named.size, 1.0))
    found = advise(loud, covering(), Limits(28.0, 4.0), DAY).warnings
    told = [(one.kind, one.when, one.grave) for one in found if one.kind != "storm"]
    four = datetime(2026, 5, 15, 4)
    assert sorted(told) == [("hail", four, True), ("thunder", four, True)]
