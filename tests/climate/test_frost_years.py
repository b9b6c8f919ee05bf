"""Frost dates out of daily records and generated years."""

from datetime import date

import numpy as np
import pytest

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.frost import (
    FrostYears,
    first_frost,
    frost_years,
    frost_years_of,
    last_frost,
    season_length,
)
from hoopwright.climate.weather import DailyRecord, Station

PLACE = Station("made up", 44.0, -110.0, 2050.0, -7.0)


def temperatures_only(first, low, high):
    unknown = np.full(low.shape, np.nan)
    return DailyRecord(PLACE, first, high, low, unknown, unknown, unknown, "made up")


def record_with_frosts(years):
    """Return a record in which each year's minima are -1 to `last` and from `first` on."""
    rows = []
    for year, (last, first) in years.items():
        length = 366 if year % 4 == 0 else 365
        day = np.arange(1, length + 1)
        rows.append(np.where((day <= last) | (day >= first), -1.0, 5.0))
    low = np.concatenate(rows)
    return temperatures_only(date(min(years), 1, 1), low, low + 10)


def test_dates_are_read_off_each_year():
    frost = frost_years(record_with_frosts({2001: (140, 260), 2002: (150, 255), 2003: (131, 270)}))

    assert frost.years == (2001, 2002, 2003)
    assert frost.last.tolist() == [140, 150, 131]
    assert frost.first.tolist() == [260, 255, 270]
    assert frost.season.tolist() == [119, 104, 138]


def test_the_same_date_is_the_same_day_in_a_leap_year():
    """31 July is spring's last day of the count in every year; 10 May is day 130."""
    dated = record_with_frosts({2003: (130, 274), 2004: (131, 275)})
    frost = frost_years(dated)
    assert frost.last.tolist() == [130, 130]
    assert frost.first.tolist() == [274, 274]
    edge = frost_years(record_with_frosts({2004: (213, 300)}))  # 31 July 2004
    assert edge.last.tolist() == [212]
    assert edge.first.tolist() == [299]


def test_no_frost_dates_south_of_the_equator():
    from dataclasses import replace

    record = record_with_frosts({2001: (140, 260)})
    south = replace(record, station=replace(PLACE, latitude=-44.0))
    frost = frost_years(south)
    assert frost.years == ()
    assert "south of the equator" in frost.dropped[0]
    assert np.isnan(last_frost(frost, 0.1).day)


def test_a_chance_that_many_resamples_lack_has_no_interval():
    """Frost in one year of eight: the 1 in 10 day exists, but many resamples hold no such year."""
    last = np.where(np.arange(40) % 8, np.nan, 60.0 + np.arange(40))
    chance = last_frost(FrostYears(-4.0, tuple(range(40)), last, last, ()), 0.1)
    assert np.isfinite(chance.day)
    assert np.isnan(chance.low)
    assert np.isnan(chance.high)


def test_a_year_with_holes_is_dropped_and_said():
    record = record_with_frosts({2001: (140, 260), 2002: (150, 255)})
    record.minimum[100:115] = np.nan
    frost = frost_years(record)

    assert frost.years == (2002,)
    assert frost.dropped == ("2001 was left out: 15 days without a minimum.",)


def test_probabilities_mean_on_or_after_and_on_or_before():
    """Spring: the rarer the later. Autumn: the rarer the earlier."""
    last = np.arange(121.0, 151.0)
    frost = FrostYears(0.0, tuple(range(30)), last, last + 120, ())

    assert last_frost(frost, 0.1).day > last_frost(frost, 0.5).day > last_frost(frost, 0.9).day
    assert first_frost(frost, 0.1).day < first_frost(frost, 0.5).day
    assert last_frost(frost, 0.5).day == pytest.approx(135.5)
    assert season_length(frost, 0.5).day == pytest.approx(119.0)


def test_years_without_frost_are_a_mixed_distribution():
    """Half the years without spring frost: the 1 in 10 day exists, the 8 in 10 day does not."""
    last = np.where(np.arange(40) % 2, np.arange(40) + 60.0, np.nan)
    frost = FrostYears(-2.0, tuple(range(40)), last, np.full(40, np.nan), ())

    assert np.isfinite(last_frost(frost, 0.1).day)
    assert np.isnan(last_frost(frost, 0.8).day)
    assert np.isnan(first_frost(frost, 0.1).day)


def test_the_interval_narrows_with_years_and_covers():
    """Resampled 90 % interval of the median against 300 draws from a known normal."""
    rng = np.random.default_rng(4)
    hits = 0
    widths = {15: [], 60: []}
    for trial in range(150):
        for count in widths:
            last = rng.normal(135, 12, count)
            chance = last_frost(FrostYears(0.0, tuple(range(count)), last, last, ()), 0.5, trial)
            widths[count].append(chance.high - chance.low)
            hits += chance.low <= 135 <= chance.high
    assert np.mean(widths[60]) < 0.65 * np.mean(widths[15])
    assert 0.82 < hits / 300 < 0.97


def test_a_typical_year_gives_no_probability():
    from dataclasses import replace

    year = replace(next(demo_weather(1)), typical_year=True)
    with pytest.raises(ValueError, match="no probabilities"):
        frost_years_of([year])


def test_hours_and_days_agree():
    years = list(demo_weather(3))
    frost = frost_years_of(years)
    low = np.concatenate([year.air_temperature.reshape(365, 24).min(axis=1) for year in years])
    record = temperatures_only(date(2001, 1, 1), low, low + 5)

    assert frost.last.tolist() == frost_years(record).last.tolist()
