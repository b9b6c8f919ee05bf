"""Tomorrow's advice from a forecast and the heat model, and its warnings."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from importlib import resources
from types import SimpleNamespace

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.forecast.form import ForecastPlace
from hoopwright.climate.forecast.global_forecast import read_global
from hoopwright.climate.forecast.national_forecast import read_grid
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure, InnerFabric
from hoopwright.heat.run import BedInRun
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.opening import Limits
from hoopwright.season.storms import Bearing, gusts, storm_warnings
from hoopwright.season.tomorrow import (
    STAYS_OPEN,
    Covering,
    Rules,
    _closing_hour,
    _opening_hour,
    advise,
    joined,
    three_lines,
)

EXAMPLES = resources.files("hoopwright.climate.forecast").joinpath("examples")
PLACE = ForecastPlace("a made-up valley", 44.0, -110.0, time_zone="America/Denver")
NOW = datetime(2026, 5, 14, 12, tzinfo=UTC)
DAY = date(2026, 5, 15)
LIMITS = Limits(too_hot=28.0, too_cold=0.0)


@pytest.fixture(scope="module")
def forecast():
    return read_global(EXAMPLES.joinpath("global.json").read_text("utf-8"), PLACE, NOW)


@pytest.fixture(scope="module")
def grid():
    return read_grid(EXAMPLES.joinpath("national_grid.json").read_text("utf-8"), PLACE, NOW)


@pytest.fixture(scope="module")
def covering():
    return Covering(
        bed=BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6))),
        optics=cover_optics("film-6mil"),
        heights=(0.05, 0.1, 0.2, 0.3),
        fabric=InnerFabric(cover_optics("film-6mil")),
    )


@pytest.fixture(scope="module")
def march():
    return compiled_march()


def warmer(forecast, shift: float):
    weather = forecast.weather
    return replace(
        forecast,
        weather=replace(
            weather,
            air_temperature=weather.air_temperature + shift,
            dew_point=weather.dew_point + shift,
        ),
    )


def test_a_sunny_day_is_opened_before_the_heat_and_shut_before_dark(forecast, covering, march):
    found = advise(forecast, covering, LIMITS, DAY, march=march)
    assert found.peak_shut > LIMITS.too_hot
    assert found.opens is not None
    assert 6 <= found.opens <= 12
    assert found.closes is not None
    assert 15 <= found.closes <= 19
    assert found.height in covering.heights
    assert found.peak < found.peak_shut
    assert found.peak <= LIMITS.too_hot or found.too_hot
    assert found.margin >= 2.1  # forecast and model alone


def test_the_least_height_that_does_is_taken(forecast, covering, march):
    found = advise(forecast, covering, LIMITS, DAY, march=march)
    higher = advise(forecast, covering, replace(LIMITS, too_hot=33.0), DAY, march=march)
    assert higher.height <= found.height


def test_a_cold_dull_day_stays_shut_and_the_night_wants_fabric(forecast, covering, march):
    dull = warmer(forecast, -12.0)
    dull = replace(
        dull,
        weather=replace(
            dull.weather,
            global_horizontal=0.15 * dull.weather.global_horizontal,
            direct_normal=0 * dull.weather.direct_normal,
            diffuse_horizontal=0.15 * dull.weather.global_horizontal,
        ),
    )
    found = advise(dull, covering, LIMITS, DAY, march=march)
    assert found.opens is None
    assert found.closes is None
    assert found.height == 0.0
    assert found.fabric
    assert found.with_fabric is not None
    lines = three_lines(
        found,
        lambda c: f"{c:.0f} °C",
        lambda k: f"{k:.0f} K",
        lambda m: f"{m} m",
        lambda t: f"{t:%H:%M}",
    )
    assert lines[0].startswith("Keep it shut")
    assert "fabric" in lines[2]


def test_a_mild_night_stays_open(forecast, covering, march):
    found = advise(warmer(forecast, 18.0), covering, LIMITS, DAY, march=march)
    assert found.opens is not None
    assert found.closes is None
    assert not found.fabric


def test_visits_bind_the_hours(forecast, covering, march):
    bound = replace(covering, visits=(7.0, 12.5, 17.0))
    found = advise(forecast, bound, LIMITS, DAY, march=march)
    assert found.opens in bound.visits
    assert found.closes in bound.visits


def test_animals_bind_the_height(forecast, covering, march):
    bound = replace(covering, heights=(0.0254,))
    found = advise(forecast, bound, LIMITS, DAY, march=march)
    assert found.height == 0.0254


def test_a_wider_error_asks_for_fabric_sooner(forecast, covering, march):
    sure = advise(forecast, covering, LIMITS, DAY, march=march)
    unsure = advise(forecast, covering, LIMITS, DAY, rules=Rules(forecast_error=6.0), march=march)
    assert unsure.margin > sure.margin
    assert unsure.night_leaf == pytest.approx(sure.night_leaf)


def test_past_days_are_joined_without_a_seam(forecast, covering, march):
    weather = forecast.weather

    def part(first, last):
        return weather.part(slice(first, last), weather.start + timedelta(hours=first))

    past, ahead = part(0, 49), part(49, 120)
    whole = joined(past, ahead)
    assert whole.air_temperature == pytest.approx(weather.air_temperature)
    overlap = joined(part(0, 60), ahead)
    assert overlap.air_temperature == pytest.approx(weather.air_temperature)
    hole = joined(part(0, 40), ahead)
    assert len(hole) == 120
    assert hole.air_temperature[40:49] == pytest.approx(weather.air_temperature[16:25])
    assert len(joined(part(0, 10), ahead)) == len(ahead)
    split = replace(
        forecast,
        weather=ahead,
        **{
            name: getattr(forecast, name)[49:]
            for name in ("gust", "snowfall", "rain_chance", "thunder", "hail")
        },
    )
    a = advise(split, covering, LIMITS, DAY, past=past, march=march)
    b = advise(forecast, covering, LIMITS, DAY, march=march)
    assert a.night_leaf == pytest.approx(b.night_leaf, abs=1e-9)


def test_a_day_beyond_the_forecast_is_refused(forecast, covering, march):
    with pytest.raises(SeasonError, match="does not hold the whole"):
        advise(forecast, covering, LIMITS, date(2026, 6, 1), march=march)


def test_lines_name_hours_and_figures(forecast, covering, march):
    found = advise(forecast, covering, LIMITS, DAY, march=march)
    lines = three_lines(
        found,
        lambda c: f"{c:.1f} °C",
        lambda k: f"{k:.1f} K",
        lambda m: f"{m * 100:.0f} cm",
        lambda t: f"{t:%H:%M}",
    )
    assert lines[0].startswith("Open from ")
    assert f"sides up {found.height * 100:.0f} cm" in lines[0]
    assert f"give or take {found.margin:.1f} K" in lines[1]
    assert len(lines) == 3


def test_storm_snow_and_hail_are_warned_of_against_what_the_bed_bears(grid):
    midnight = datetime(2026, 5, 15)
    blow = float(gusts(grid).max())
    bears_less = Bearing(gust=0.9 * blow, snow=0.018, gives_in_wind="the film")
    found = {w.kind: w for w in storm_warnings(grid, bears_less, midnight, 48)}
    assert set(found) == {"storm", "snow", "hail", "thunder"}
    assert found["storm"].grave
    assert found["storm"].value == pytest.approx(blow)
    assert found["storm"].when.date() == date(2026, 5, 15)
    said = found["storm"].sentence(lambda v: f"{v:.0f} m/s", lambda m: f"{m:.2f} m", str)
    assert "the film gives" in said
    assert "before the wind rises, two people" in said
    assert "Never handle it in a gale" in said
    # The file names it from 23:00 UTC on, which is 16:00 by the valley's standard time.
    told = found["thunder"].sentence(str, str, lambda at: f"{at:%A} about {at:%H:%M}")
    assert told.startswith("Thunder is named for Friday about 16:00: ")
    assert "half an hour after the last" in told
    assert found["snow"].value == pytest.approx(0.020)

    bears_more = Bearing(gust=1.2 * blow, snow=1.0, hail=True)
    near = storm_warnings(grid, bears_more, midnight, 48)
    assert [(w.kind, w.grave) for w in near] == [("storm", False), ("thunder", True)]
    calm = replace(grid, thunder=np.zeros(len(grid.thunder)))
    assert storm_warnings(calm, Bearing(hail=True), midnight, 48) == ()
    assert storm_warnings(grid, bears_less, midnight + timedelta(days=30), 48) == ()


def test_gusts_from_the_mean_where_the_service_is_silent(grid):
    silent = replace(grid, gust=np.full(len(grid.weather), np.nan))
    assert gusts(silent) == pytest.approx(1.7 * grid.weather.wind_speed)


def test_snow_is_summed_over_a_day_and_hail_counts_from_any(grid):
    """A millimetre an hour for two days: 24 mm in the worst day."""
    midnight = grid.weather.start
    none = np.zeros(len(grid.hail))
    even = replace(grid, snowfall=np.full(len(none), 0.001), hail=none, thunder=none)
    for bears, warned, grave in ((0.033, False, False), (0.031, True, False), (0.023, True, True)):
        found = storm_warnings(even, Bearing(snow=bears), midnight, 48)
        assert [(w.kind, w.grave) for w in found] == ([("snow", grave)] if warned else [])
        for warning in found:
            assert warning.value == pytest.approx(0.024)
            assert midnight + timedelta(hours=24) <= warning.when <= midnight + timedelta(hours=48)
    one = np.zeros(len(grid.hail))
    one[5] = 0.5
    found = storm_warnings(replace(even, hail=one), Bearing(), midnight, 48)
    assert [(w.kind, w.when) for w in found] == [("hail", midnight + timedelta(hours=6))]


def test_a_near_storm_is_told_from_a_grave_one(grid):
    """20 m/s: bearing 26.7 is 0.75 times neared, 27 not; 20 is grave."""
    still = replace(
        grid, gust=np.full(len(grid.weather), 20.0), thunder=np.zeros(len(grid.thunder))
    )
    still = replace(still, weather=replace(still.weather, wind_speed=np.full(len(grid.hail), 5.0)))
    for bears, grave in ((27.0, None), (26.6, False), (20.1, False), (20.0, True)):
        found = storm_warnings(still, Bearing(gust=bears, hail=True), grid.weather.start, 48)
        assert [w.grave for w in found] == ([] if grave is None else [grave])


def test_hours_to_open_and_to_shut_by_hand():
    """Over 26 degC first in the hour that ends at 11: up half an hour before it begins, at 9:30.
    Shut an hour and a half before sunset at 19.3, to the half hour: 18:00; visits bind both."""
    air = np.where(np.arange(24) == 10, 27.0, 20.0)
    shut = SimpleNamespace(air=air)
    here = SimpleNamespace(daylight=np.arange(24), sunset=19.3)
    for visits, opens in (((), 9.5), ((7.0, 9.0, 12.0), 9.0), ((11.0, 13.0), 11.0)):
        assert _opening_hour(shut, here, 26.0, visits) == opens
    assert _opening_hour(shut, here, 28.0, ()) == 11.5
    for visits, opened, closes in (
        ((), 9.0, 18.0), ((), 17.5, 18.5), ((7.0, 12.0, 17.0, 21.0), 9.0, 17.0),
        ((7.0, 12.0, 21.0), 9.0, 21.0), ((7.0, 9.5), 9.0, STAYS_OPEN), ((10.5,), 9.0, 10.5),
    ):  # fmt: skip
        assert _closing_hour(here, 1.5, visits, opened) == closes


def test_the_margin_is_three_errors_as_if_independent(forecast, covering, march):
    """1.5 K of forecast and 1.5 K of model alone are 2.121 K; the sky's part comes square to it."""

    def margin(**rules):
        return advise(forecast, covering, LIMITS, DAY, rules=Rules(**rules), march=march).margin

    assert margin(sky_error=0.0) == pytest.approx(2.1213, abs=1e-4)
    sky = margin(forecast_error=0.0, model_error=0.0)
    assert 0.1 < sky < 3.0
    assert margin() == pytest.approx(np.hypot(sky, 2.1213), rel=1e-4)
    assert margin(sky_error=30.0, forecast_error=0.0, model_error=0.0) == pytest.approx(
        2 * sky, rel=0.1
    )
