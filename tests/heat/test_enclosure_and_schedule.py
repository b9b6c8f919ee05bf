"""Geometry of the cover, and a person's habits turned into hours."""

from __future__ import annotations

import sys
from dataclasses import replace
from math import pi
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from bench.plain_covers import half_ellipse
from heat_rig import box, steady

from hoopwright.heat.schedule import Schedule, Season, Visits, settings


def test_a_half_round_hoop() -> None:
    radius = 0.5
    hoop = box(width=1.0, curve=half_ellipse(1.0, radius, strips=200), length=3.0)
    assert hoop.curve_length == pytest.approx(pi * radius, rel=1e-3)
    assert hoop.section_area == pytest.approx(pi * radius**2 / 2, rel=1e-3)
    assert hoop.volume == pytest.approx(3.0 * pi * radius**2 / 2, rel=1e-3)
    assert hoop.cover_area == pytest.approx(3 * pi * radius + pi * radius**2, rel=1e-3)
    assert hoop.height == pytest.approx(radius, rel=1e-3)


def test_the_rim_of_the_boards_is_no_film() -> None:
    """A box 1 m wide and 0.6 m high over the soil whose lowest 0.1 m is board: 0.6 m2 of air in
    the section, 0.5 m2 of film at each end; over 3 m of bed 3 x (0.5 + 1 + 0.5) + 2 x 0.5 m2."""
    up = ((0.0, 0.1), (0.0, 0.6), (1.0, 0.6), (1.0, 0.1))
    made = box(width=1.0, curve=up, length=3.0, rim_above_soil=0.1)
    assert made.section_area == pytest.approx(0.6)
    assert made.film_end_area == pytest.approx(0.5)
    assert made.cover_area == pytest.approx(7.0)
    assert replace(made, end_film_area=0.2).cover_area == pytest.approx(6.4)


def test_facets_face_outward_and_add_up() -> None:
    hoop = box(axis_azimuth=90.0)  # east to west: one long side faces north, the other south
    facets = hoop.facets()
    assert sum(facet.area for facet in facets) == pytest.approx(hoop.cover_area)
    first, last = facets[0], facets[-3]
    assert {round(first.azimuth), round(last.azimuth)} == {0, 180}
    assert first.tilt > 45 > facets[len(facets) // 2 - 1].tilt
    # Closed surfaces have no net direction: outward areas of strips sum to the ground's, upward.
    up = sum(f.area * np.cos(np.radians(f.tilt)) for f in facets)
    south = sum(
        f.area * np.sin(np.radians(f.tilt)) * np.cos(np.radians(f.azimuth)) for f in facets[:-2]
    )
    assert up == pytest.approx(hoop.ground_area, rel=1e-6)
    assert south == pytest.approx(0.0, abs=1e-9)


def test_what_is_decided_in_the_evening_holds_till_the_morning() -> None:
    """Warm day, cold dawn, warm day: nobody comes by at midnight to shut or to open."""
    air = np.concatenate([np.full(24, 20.0), np.full(10, 5.0), np.full(38, 20.0)])
    weather = replace(steady(72), air_temperature=air)
    season = Season((1, 1), (12, 31), open_height=0.2, opened="visits")
    halves = settings(Schedule((season,)), weather).half_hours
    clock = np.arange(144) / 2.0
    shut = (clock >= 17.5) & (clock < 24 + 7.5)
    assert (halves[shut] == 0.0).all()
    assert (halves[~shut] == 0.2).all()


def test_visits_open_on_the_half_hour() -> None:
    days = np.tile([10.0] * 12 + [20.0] * 12, 3)
    weather = replace(steady(72), air_temperature=days)
    season = Season((1, 1), (12, 31), open_height=0.2, opened="visits")
    halves = settings(Schedule((season,)), weather).half_hours.reshape(3, 48)
    assert halves[0, 14] == 0.0  # 7:00
    assert halves[0, 15] == 0.2  # 7:30
    assert halves[0, 34] == 0.2  # 17:00
    assert halves[0, 35] == 0.0  # 17:30
    warm = replace(weather, air_temperature=np.full(72, 20.0))
    halves = settings(Schedule((season,)), warm).half_hours
    assert halves.min() == 0.2  # nights above 15 degC stay open


def test_a_cold_dull_day_stays_closed() -> None:
    season = Season((1, 1), (12, 31), open_height=0.2, opened="visits")
    hours = settings(Schedule((season,), Visits()), steady(48, air=4.0))
    assert hours.half_hours.max() == 0.0


def test_seasons_over_new_year_and_their_order() -> None:
    weather = steady(24 * 40)  # from 1 March
    schedule = Schedule(
        (
            Season((3, 10), (3, 12), covered=False),
            Season((10, 1), (3, 20), open_height=0.1, opened="days"),
        )
    )
    covered = settings(schedule, weather).covered.reshape(40, 24)[:, 12]
    assert covered[0] == 1
    assert covered[9:12].max() == 0  # the first season that holds wins
    assert covered[12] == 1
    assert covered[20] == 0  # after 20 March


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="use closed, always, days or visits"):
        Season((1, 1), (12, 31), opened="sometimes")
