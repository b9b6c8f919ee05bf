"""From which day to which the opening calendar keeps a crop in the bed, worked by hand."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.design.season_report import _standing
from hoopwright.season.bed_years import BedYears, Digest
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.crops import crop
from hoopwright.season.harvests import HarvestDates
from hoopwright.season.opening import NOTHING_STANDS, limits_through_year
from hoopwright.season.windows import DateRange, Window, window

SPINACH = crop("spinach")
MILD = np.full((2, 8760), 14.0)


def of_season(latest: int, cleared: dict[int, float], harvest: float) -> Window:
    """A window of the season's own days: up on 110, started from 100 to `latest`."""
    base = window(SPINACH, Digest(BedYears("film", MILD, MILD, MILD)))

    def on(day: int) -> DateRange:
        return DateRange(day, day, day, (float(day),))

    picked = np.full(365, np.nan)
    for day, last in cleared.items():
        picked[day] = last
    return replace(
        base,
        earliest=on(100),
        latest=on(latest),
        up=110.0,
        harvest=HarvestDates(harvest - 9.0, harvest - 4.0, harvest),
        cleared=tuple(picked.tolist()),
    )


@pytest.mark.parametrize("begins", [0, 181])
@pytest.mark.parametrize(
    ("latest", "cleared", "harvest", "last"),
    [
        # The last start, on 200, is picked to 260; that of 100 no later than 180.
        (200, {100: 180.0, 200: 260.0}, 150.0, 260),
        # One start alone whose late years are picked after its middle one has been cleared.
        (100, {100: 140.0}, 150.0, 150),
        # A last start that never ripens stands at least on its own day.
        (200, {}, 150.0, 200),
    ],
)
def test_a_crop_stands_until_its_last_start_is_picked(begins, latest, cleared, harvest, last):
    """South of the equator the season's days begin on 1 July, day 181 of the calendar, and what is
    told is the calendar's: each day so much later."""
    found = in_calendar(of_season(latest, cleared, harvest), begins)
    told = _standing({"spinach": SPINACH}, {"spinach": {"film": found}}, "film", begins)
    assert told == [(SPINACH, 110 + begins, last + begins)]


def test_in_the_south_it_stands_in_its_summer():
    """Up on day 110 of a season from 1 July, 19 October, and picked to day 260, 18 March."""
    found = in_calendar(of_season(200, {200: 260.0}, 150.0), 181)
    standing = _standing({"spinach": SPINACH}, {"spinach": {"film": found}}, "film", 181)
    empty = [one == NOTHING_STANDS for one in limits_through_year(standing)]
    # From the second half of October to the first half of March.
    assert [n for n, nothing in enumerate(empty) if nothing] == [*range(5, 19)]


def test_a_crop_without_a_window_does_not_stand():
    none = SimpleNamespace(earliest=None, latest=None)
    assert _standing({"spinach": SPINACH}, {"spinach": {"film": none}}, "film", 0) == []
