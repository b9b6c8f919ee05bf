"""Timetables, gains and what the years cannot tell apart, on windows that are made up."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from made_years import made, started

from hoopwright.season.bed_years import Digest
from hoopwright.season.crops import crop
from hoopwright.season.gains import gain, within_error
from hoopwright.season.succession import Turn, timetables
from hoopwright.season.windows import DateRange, HarvestDates, Window, window


@pytest.fixture(scope="module")
def base() -> Window:
    return window(crop("spinach"), Digest(made("film", 5)))


def test_three_crops_one_after_the_other(base):
    """First: day 100, ripe on 139.5, so from 140 on, picked three weeks, clear on 161. A week
    later, 168; second, started from 150 on every week, on 171, ripe on 201, clear after 14 days,
    215. Third from 222: started from 230, ripe on 270, 21 days: 291. In all 3 + 2 + 3 weeks."""
    made_up = {
        "a": started(base, "a", 100, 105, 39.5, 50.0),
        "b": started(base, "b", 150, 200, 30.0, 14.0),
        "c": started(base, "c", 230, 240, 40.0, 30.0),
    }
    best = timetables(made_up)
    assert best[0].turns == (
        Turn("a", 100, 140, 161), Turn("b", 171, 201, 215), Turn("c", 230, 270, 291)
    )  # fmt: skip
    assert best[0].weeks == pytest.approx(8.0)
    # Begun with the second, two crops make 2 + 3 weeks; the third begins none.
    assert [(chain.turns[0].crop, chain.weeks) for chain in best] == [("a", 8.0), ("b", 5.0)]
    assert timetables(made_up, count=1) == best[:1]


def test_what_does_not_fit_the_year_or_the_bed(base):
    """Cleared on day 365 at the latest; ready again a week after it is cleared and no sooner."""
    first = started(base, "a", 100, 100, 40.0, 21.0)  # clear on 161
    for start, fits in ((168, True), (167, False)):
        second = started(base, "b", start, start, 30.0, 21.0)
        assert bool(timetables({"a": first, "b": second})) is fits
    for start, fits in ((314, True), (315, False)):  # ripe 30 days on, cleared 21 later: 365, 366
        second = started(base, "b", start, start, 30.0, 21.0)
        assert bool(timetables({"a": first, "b": second})) is fits


def dated(base: Window, early: int, late: int, ripe: float, drawn, weeks: float) -> Window:
    middle = np.arange(365.0) + ripe
    return replace(
        base,
        earliest=DateRange(early, early, early, tuple(early + np.asarray(drawn, dtype=float))),
        latest=DateRange(late, late, late, tuple(late - np.asarray(drawn, dtype=float))),
        harvest=HarvestDates(early + ripe - 3, early + ripe, early + ripe + 3),
        middle_harvest=tuple(middle.tolist()),
        harvest_weeks=weeks,
        stretches=(replace(base.stretches[0], first=early, last=late),),
    )


def test_what_a_cover_gains(base):
    """Open: started from 120 to 200, ripe in 50 days; covered: 100 to 215, in 45. Twenty days
    sooner at the first start, fifteen later at the last, 116 against 81 start days; harvest on 145
    against 170; of starts on day 120, five days sooner."""
    outside = dated(base, 120, 200, 50.0, np.zeros(200), 11.0)
    inside = dated(base, 100, 215, 45.0, np.zeros(200), 14.0)
    found = gain(outside, inside, fits=(0, 40), fits_open=(25, 30))
    assert (found.early, found.late, found.start_days) == (20, 15, 35)
    assert (found.harvest, found.same_day) == pytest.approx((25.0, 5.0))
    assert (found.weeks, found.weeks_open) == (14.0, 11.0)
    assert (found.fits, found.fits_open) == ((0, 40), (25, 30))
    none = gain(replace(outside, earliest=None, latest=None), inside)
    assert (none.early, none.late) == (None, None)
    assert np.isnan([none.harvest, none.same_day]).all()


def test_the_best_day_is_told_by_the_calendar(base):
    """Day 100 of a year from 1 January is 11 April; of one from 1 July, day 281: 9 October."""
    never = replace(
        base, earliest=None, latest=None, losses=replace(base.losses, day=100, frost=2.0, years=5)
    )
    assert "11 April" in gain(never, never).sentence
    assert "9 October" in gain(never, never, begins=181).sentence


def test_the_variety_that_would_make_it_in_words(base):
    """None below three quarters of the quickest one's days is advised."""
    never = replace(base, earliest=None, latest=None)
    none = gain(never, never).sentence
    assert none.endswith("Nor would a variety of 75 % of the quickest one's days make it.")
    told = gain(never, never, fits=(0, 40), fits_open=(25, 30)).sentence
    assert (
        "of 40 days or fewer would make it under the cover, one of 25 to 30 days in the open"
    ) in told


def test_what_few_years_cannot_tell(base):
    """Of 200 resamples the middle 180 are within the interval: apart by 1 day or more in all but 9
    they are told apart, in all but 11 not; at the other end alike."""
    outside = dated(base, 120, 200, 50.0, np.zeros(200), 11.0)
    for same, told in ((9, True), (11, False)):
        drawn = np.full(200, -5.0)
        drawn[:same] = 0.0
        for first in (True, False):
            inside = dated(base, 120, 200, 45.0, drawn, 14.0)
            assert within_error(outside, inside, first=first) is not told
            assert within_error(inside, outside, first=first) is not told
    gone = dated(base, 120, 200, 45.0, np.full(200, np.nan), 14.0)
    assert within_error(outside, gone)
    assert not within_error(outside, replace(gone, earliest=None))
    assert not within_error(outside, replace(gone, earliest=DateRange(1, 1, 1)))
