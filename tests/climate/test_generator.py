"""The weather generator: same seed same years, twelve means kept, and its own demo valley."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from hoopwright.climate.air import relative_humidity
from hoopwright.climate.demo import DEMO_STATION, demo_normals, demo_weather
from hoopwright.climate.frost import frost_years_of, last_frost
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import (
    clearness_from_sun_hours,
    daily_course,
    monthly_normals,
    usual_deviations,
)
from hoopwright.climate.stochastic import clearness_table
from hoopwright.climate.weather import Station


@pytest.fixture(scope="module")
def years():
    return list(demo_weather(40))


def test_same_seed_same_years_and_each_year_by_itself():
    first, second, third = demo_weather(3, seed=11)
    again = list(demo_weather(2, seed=11))[1]
    other = next(demo_weather(1, seed=12))

    assert (second.air_temperature == again.air_temperature).all()
    assert (second.global_horizontal == again.global_horizontal).all()
    assert np.abs(first.air_temperature - other.air_temperature).max() > 5
    assert third.start.year == 2003


def test_twelve_means_are_kept(years):
    """Over 40 years: 3 standard errors of a monthly mean of 40 are about 0.9 K; radiation 2 %;
    wet days 0.46 each."""
    asked = demo_normals()
    got = [monthly_normals(year) for year in years]

    def mean(name):
        return np.mean([getattr(each, name) for each in got], axis=0)

    assert np.abs(mean("maximum") - asked.maximum).max() < 1.0
    assert np.abs(mean("minimum") - asked.minimum).max() < 1.3
    assert np.abs(mean("clearness") / asked.clearness - 1).max() < 0.025
    assert np.abs(mean("wind_speed") / asked.wind_speed - 1).max() < 0.08
    assert np.abs(mean("wet_days") - asked.wet_days).max() < 1.4
    assert mean("wet_days").sum() == pytest.approx(asked.wet_days.sum(), rel=0.03)
    assert mean("precipitation").sum() == pytest.approx(asked.precipitation.sum(), rel=0.06)
    assert np.abs(mean("dew_point") - asked.dew_point).max() < 1.6


def test_every_figure_is_possible(years):
    for year in years[:5]:
        assert year.invented
        assert (year.dew_point <= year.air_temperature + 1e-9).all()
        assert (year.diffuse_horizontal <= year.global_horizontal + 1e-9).all()
        assert (year.direct_normal >= 0).all()
        assert year.direct_normal.max() < 1200
        assert ((year.sky_cover >= 0) & (year.sky_cover <= 1)).all()
        assert (year.wind_speed >= 0).all()
        assert year.wind_speed.max() < 30
        assert (year.precipitation >= 0).all()
        assert (relative_humidity(year.air_temperature, year.dew_point) <= 1 + 1e-9).all()
        assert np.isnan(year.sky_infrared).all()


def test_wet_days_are_dull_and_cool(years):
    """Richardson 1981: rain goes with little sun and a lower maximum."""
    rain = np.concatenate([y.precipitation.reshape(365, 24).sum(axis=1) for y in years])
    sun = np.concatenate([y.global_horizontal.reshape(365, 24).sum(axis=1) for y in years])
    high = np.concatenate([y.air_temperature.reshape(365, 24).max(axis=1) for y in years])
    july = np.tile((np.arange(365) >= 181) & (np.arange(365) < 212), len(years))
    wet = rain > 0

    assert sun[july & wet].mean() < 0.85 * sun[july & ~wet].mean()
    assert high[july & wet].mean() < high[july & ~wet].mean() - 0.5


def test_clear_nights_are_colder(years):
    """The nights that kill: of April nights, the clearest third is colder at dawn than the rest."""
    low, cover = [], []
    for year in years:
        t = year.air_temperature.reshape(365, 24)[90:120]
        c = year.sky_cover.reshape(365, 24)[90:120]
        low.append(t.min(axis=1))
        cover.append(c[:, :6].mean(axis=1))
    low, cover = np.concatenate(low), np.concatenate(cover)

    assert low[cover < np.quantile(cover, 1 / 3)].mean() < low.mean()


def test_snow_lies_in_january_and_is_gone_in_july(years):
    depths = [year.snow_depth.reshape(365, 24)[:, 0] for year in years[:10]]
    assert sum(depth[20] > 0.02 for depth in depths) >= 8
    assert all(depth[180:230].max() < 0.05 for depth in depths)


def test_unknown_rain_stays_unknown():
    nothing = np.full(12, np.nan)
    normals = replace(demo_normals(), precipitation=nothing, wet_days=nothing)
    year = next(generate(normals, 1, 3))

    assert np.isnan(year.precipitation).all()
    assert np.isnan(year.snow_depth).all()
    assert np.isfinite(year.global_horizontal).all()


def test_the_valley_is_a_short_season_and_marked_invented(years):
    assert "invented" in DEMO_STATION.name
    assert demo_normals().invented
    chance = last_frost(frost_years_of(years), 0.5)
    assert 150 < chance.day < 180


def test_daily_course_keeps_the_monthly_means():
    monthly = np.array([-9.0, 3, 17, 2, 8, 30, 11, 12, 9, -4, 0, 5])
    days = daily_course(monthly)
    edges = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    means = [days[a:b].mean() for a, b in itertools.pairwise(edges)]

    assert means == pytest.approx(list(monthly), abs=1e-9)


def test_clearness_table_has_the_mean_and_spread_it_was_asked_for():
    mean, clearest = np.full(12, 0.55), np.full(12, 0.76)
    table = clearness_table(mean, clearest)
    rank = (np.arange(20_000) + 0.5) / 20_000
    drawn = table.draw(rank, np.zeros(20_000, dtype=np.int64))

    assert drawn.mean() == pytest.approx(0.55, abs=0.002)
    assert drawn.std() == pytest.approx(0.47 * np.sqrt(0.50 * 0.21), rel=0.02)
    assert drawn.max() <= 0.76


def test_clearness_table_against_scipy_beta():
    from scipy.stats import beta

    table = clearness_table(np.full(12, 0.6), np.full(12, 0.78))
    total, centre = 1 / 0.47**2 - 1, 0.55 / 0.73
    for rank in (0.05, 0.1, 0.5, 0.9):
        expected = 0.05 + 0.73 * beta.ppf(rank, centre * total, (1 - centre) * total)
        drawn = table.draw(np.array([rank]), np.zeros(1, dtype=np.int64))
        assert drawn[0] == pytest.approx(expected, abs=0.003)


def test_normals_from_sun_hours_and_from_radiation():
    """Angstrom both ways: 8.5 of 12.31 h in April at 13.73 N is 0.25 + 0.5 x 0.690."""
    from hoopwright.climate.weather import Station

    bangkok = Station("Bangkok", 13.733, 100.5, 2.0, 7.0)
    clear = clearness_from_sun_hours(bangkok, np.full(12, 8.5))
    assert clear[3] == pytest.approx(22.65 / 38.06, abs=0.005)
    with pytest.raises(ValueError, match="more hours of sun than the day has"):
        clearness_from_sun_hours(bangkok, np.full(12, 13.5))


@pytest.mark.parametrize(
    ("name", "value", "problem"),
    [
        ("minimum", 40.0, "mean minimum is not below"),
        ("clearness", 0.95, "clearness outside"),
        ("wind_speed", -1.0, "wind speed"),
        ("wet_days", 40.0, "wet days"),
        ("dew_point", 45.0, "dew point"),
    ],
)
def test_impossible_normals_are_refused(name, value, problem):
    with pytest.raises(ValueError, match=problem):
        replace(demo_normals(), **{name: np.full(12, value)})


def test_brighter_than_a_cloudless_month_is_refused():
    with pytest.raises(ValueError, match="without a cloud"):
        next(generate(replace(demo_normals(), clearness=np.full(12, 0.84)), 1, 1))


def test_usual_deviations_are_wider_in_winter_and_inland():
    normals = demo_normals()
    high, low = usual_deviations(normals.maximum, normals.minimum)
    mild_high, mild_low = usual_deviations(np.full(12, 18.0), np.full(12, 10.0))

    assert low[0] > low[6]
    assert high.mean() > mild_high.mean()
    assert low.mean() > mild_low.mean()


@pytest.mark.parametrize("latitude", [60.0, 65.0, 70.0])
def test_places_with_a_dark_winter_have_years_too(latitude):
    """A usual clearness of 0.35 the year round; Norway's coast. Nights of weeks are no fault."""
    normals = demo_normals()
    north = replace(
        normals,
        station=Station("made up", latitude, 20.0, 10.0, 1.0),
        clearness=np.full(12, 0.35),
    )
    year = next(generate(north, 1, 3))
    for values in (year.air_temperature, year.global_horizontal, year.sky_cover):
        assert np.isfinite(values).all()
    assert monthly_normals(year).clearness[4:8] == pytest.approx(0.35, abs=0.07)
