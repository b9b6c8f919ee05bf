"""The frost curve of a bed read as the U.S. normals read: 10, 50 and 90 % dates, both ends.

NOAA NCEI U.S. Climate Normals 1991-2020, annual, station USW00014735 (Albany, New York; values
read), minimum at or below 32 degF. Last: 10 % of springs freeze on or AFTER 11 May, 50 % 27 April,
90 % 16 April. First: 10 % of autumns freeze on or BEFORE 3 October, 50 % 15 October, 90 % 1
November. The sign convention is that of the data set's own readme (read).
"""

from datetime import date

import numpy as np
import pytest
from scipy.stats import norm

from hoopwright.season.bed_years import BedYears
from hoopwright.season.frost_risk import frost_curve

LAST = {0.1: date(2001, 5, 11), 0.5: date(2001, 4, 27), 0.9: date(2001, 4, 16)}
FIRST = {0.1: date(2001, 10, 3), 0.5: date(2001, 10, 15), 0.9: date(2001, 11, 1)}


def day(when: date) -> float:
    return float(when.timetuple().tm_yday)


def years_with(last: np.ndarray, first: np.ndarray) -> BedYears:
    """Years whose leaves freeze up to the one day and from the other on, and not between."""
    numbers = np.arange(1, 366)[None, :]
    frozen = (numbers <= np.rint(last)[:, None]) | (numbers >= np.rint(first)[:, None])
    leaf = np.where(np.repeat(frozen, 24, axis=1), -1.0, 5.0)
    return BedYears("station", leaf, leaf, leaf)


def spread(points: dict[float, date], years: int) -> np.ndarray:
    """Draw the dates evenly from the curve through the printed points, straight in normal score."""
    positions = (np.arange(years) + 0.5) / years
    scores = norm.ppf(sorted(points))
    dates = [day(points[p]) for p in sorted(points)]
    wanted = norm.ppf(positions)
    found = np.interp(wanted, scores, dates)
    # Beyond the printed points go on with the slope of the nearest pair.
    steep = np.diff(dates) / np.diff(scores)
    found = np.where(wanted < scores[0], dates[0] + steep[0] * (wanted - scores[0]), found)
    return np.where(wanted > scores[-1], dates[-1] + steep[-1] * (wanted - scores[-1]), found)


@pytest.fixture(scope="module")
def albany() -> BedYears:
    return years_with(spread(LAST, 30), spread(FIRST, 30))


@pytest.mark.parametrize("probability", [0.1, 0.5, 0.9])
def test_the_curve_passes_through_the_printed_points(albany, probability) -> None:
    curve = frost_curve(albany, 0.0)
    for points in (LAST, FIRST):
        at = int(day(points[probability])) - 1
        near = curve.chance[at - 2 : at + 3]
        assert near.min() - 0.02 <= probability <= near.max() + 0.02


def test_normal_dates_meet_thom_and_shaw() -> None:
    """Thom & Shaw 1958: dates normal with mean 135, deviation 12: P(after 145) = 0.2023."""
    positions = (np.arange(400) + 0.5) / 400
    last = norm.ppf(positions, 135, 12)
    curve = frost_curve(years_with(last, np.full(400, 300.0)), 0.0)
    expected = norm.sf(144.5, 135, 12)  # whole days: on or after 145 is after 144.5
    assert curve.chance[145 - 1] == pytest.approx(expected, abs=0.006)
    assert norm.sf(145, 135, 12) == pytest.approx(0.2023, abs=5e-5)
