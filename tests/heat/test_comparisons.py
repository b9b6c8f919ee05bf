"""Gains, degree days, frost-free stretches and openings, on series made for the purpose."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from heat_rig import FILM, bed, real, steady, stretch

from hoopwright.heat.compare import (
    degree_days,
    frost_free,
    gain,
    hours_above,
    night_gain,
    nightly_minimum,
    opening_for_limit,
)
from hoopwright.heat.schedule import Schedule
from hoopwright.heat.uncertainty import band, banded, hourly_band, pairs


def test_nights_run_from_evening_to_morning() -> None:
    weather = steady(72)
    values = np.full(72, 10.0)
    values[24 + 4] = 1.0  # 5 h of the second day: the first night
    values[36] = -5.0  # noon is not night
    lows = nightly_minimum(values, weather)
    assert len(lows) == 2
    assert lows.tolist() == [1.0, 10.0]


def test_nights_of_several_years_are_counted_by_the_year() -> None:
    """Two years of two nights: the tenth percentile lies 0.3 of the way from the first to the
    second of four, the ninetieth 0.7 from the third to the last."""
    found = night_gain(np.array([2.0, -1.0, 3.0, -0.5]), 2)
    assert (found.mean, found.colder, found.nights) == (0.875, 1, 2)
    assert (found.tenth, found.ninetieth) == pytest.approx((-0.85, 2.7))


def test_gain_counts_the_nights_colder_inside() -> None:
    weather = steady(24 * 11)
    inside = np.repeat([10.0, 9.0] * 6, 24)[: 24 * 11]
    outside = np.full(24 * 11, 9.5)
    found = gain(inside, outside, weather)
    assert found.nights == 10
    assert found.colder == 10  # each night touches a 9 degC day
    assert found.mean == pytest.approx(-0.5)


def test_degree_days_of_a_flat_day() -> None:
    assert degree_days(np.full(48, 15.0), 10.0) == pytest.approx(10.0)
    assert degree_days(np.full(48, 40.0), 10.0, 30.0) == pytest.approx(40.0)
    assert hours_above(np.array([1.0, 2.0, 3.0]), 2.0) == 1


def test_longest_frost_free_stretch() -> None:
    leaf = np.full(24 * 30, 5.0)
    leaf[24 * 3 + 5] = -1.0
    leaf[24 * 20 + 5] = -3.0
    assert frost_free(leaf, 0.0).days == 16
    assert frost_free(leaf, 0.0).first == 4
    assert frost_free(leaf, -2.0).days == 20
    assert frost_free(np.full(240, -5.0), 0.0).days == 0


def test_the_opening_that_is_enough() -> None:
    def run(height: float) -> SimpleNamespace:
        return SimpleNamespace(air=np.full(100, 40.0 - 50.0 * height))

    assert opening_for_limit(run, 30.0, 0.5) == pytest.approx(0.2, abs=0.01)
    assert opening_for_limit(run, 45.0, 0.5) == 0.0
    assert opening_for_limit(run, 5.0, 0.5) is None


def test_bands_are_seeded_and_ordered() -> None:
    weather = stretch(real("Bozeman"), 24 * 100, 24 * 3)
    runs = pairs(weather, replace(bed(), steps_per_hour=2), FILM, Schedule.closed(), 12, seed=5)
    again = pairs(weather, replace(bed(), steps_per_hour=2), FILM, Schedule.closed(), 12, seed=5)
    night = banded(runs, lambda under, bare: float((under.air - bare.air)[24:33].min()))
    assert night == banded(again, lambda under, bare: float((under.air - bare.air)[24:33].min()))
    assert night.low < night.middle < night.high
    hours = hourly_band(runs, lambda under, _: under.air)
    assert np.all(hours.low <= hours.middle)
    assert np.all(hours.middle <= hours.high)
    assert band([1.0, 2.0, 3.0]).middle == 2.0
