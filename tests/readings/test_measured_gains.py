"""What was measured, with its error bars: against SciPy's t and Wilson's published interval."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

from hoopwright.readings.hourly import Hours
from hoopwright.readings.keep import add, file_beside, hours_kept, kept
from hoopwright.readings.measured import (
    Measured,
    estimate,
    measured,
    nights,
    pooled,
    share_interval,
    student,
)
from hoopwright.readings.text import ReadingsError


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 6, 10, 29, 120, 5000])
def test_students_t_is_that_of_scipy(freedom: int) -> None:
    """SciPy's quantile, within half a percent."""
    assert student(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=0.005)


def test_independent_errors_give_the_usual_interval() -> None:
    """SciPy's t interval where nights have nothing to do with each other."""
    chance = np.random.default_rng(8)
    values = chance.normal(3.0, 1.5, 400)
    found = estimate(values)
    low, high = stats.t.interval(
        0.95, 399, loc=values.mean(), scale=values.std(ddof=1) / np.sqrt(400)
    )
    assert found.low == pytest.approx(low, abs=0.05)
    assert found.high == pytest.approx(high, abs=0.05)


def test_alike_nights_widen_the_interval_so_that_it_holds() -> None:
    """Of 300 records with neighbours alike, about 95 in 100 intervals hold the true mean."""
    chance = np.random.default_rng(9)
    hits = 0
    for _ in range(300):
        errors, last = np.zeros(60), 0.0
        for at in range(60):
            last = 0.5 * last + chance.normal()
            errors[at] = last
        found = estimate(2.0 + errors)
        hits += found.low <= 2.0 <= found.high
    assert 0.88 <= hits / 300 <= 0.99


def test_wilsons_interval_is_the_published_one() -> None:
    """Newcombe 1998, Statistics in Medicine 17, table I, method 3 (from memory): four cases."""
    for some, of, low, high in (
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ):
        found = share_interval(some, of)
        assert found == pytest.approx((low, high), abs=0.0001)


def record(days: int, gain: float, start: datetime = datetime(2026, 3, 20, 5)) -> Hours:
    """Return hours with a daily wave outside and a steady gain inside."""
    at = np.arange(days * 24) + start.hour + 1
    outside = 2.0 - 6.0 * np.cos(2 * np.pi * (at - 5) / 24)
    return Hours(start, outside + gain, outside)


def test_a_steady_gain_is_measured_as_it_is() -> None:
    """Every night has the gain put in; frosts are counted on either side."""
    found = measured(record(40, 3.0))
    assert isinstance(found, Measured)
    assert found.gain.mean == pytest.approx(3.0)
    assert found.frosts_out == found.gain.count
    assert found.frosts_in == found.gain.count
    assert found.kept_off[0] == 0
    warm = measured(record(40, 5.0))
    assert warm is not None
    assert warm.kept_off[0] == warm.frosts_out > 30
    assert [m.month for m in warm.months] == [3, 4]
    assert sum(m.gain.count for m in warm.months) == warm.gain.count


def test_nights_with_holes_do_not_count() -> None:
    """A night with half its hours missing is left out."""
    hours = record(10, 2.0)
    hours.inside[24 * 3 : 24 * 3 + 14] = np.nan
    whole, _, _ = nights(record(10, 2.0))
    fewer, _, _ = nights(hours)
    assert len(fewer) == len(whole) - 1


def test_nothing_is_said_of_what_was_not_measured() -> None:
    """With one sensor only there is no gain."""
    hours = record(10, 2.0)
    hours.outside[:] = np.nan
    assert measured(hours) is None


def test_beds_that_differ_widen_the_pooled_interval() -> None:
    """The interval over beds holds what beds differ by, not only each bed's own error."""
    beds = [measured(record(40, gain)) for gain in (1.0, 3.0, 5.0)]
    known = [bed for bed in beds if bed is not None]
    found = pooled(known)
    assert found.mean == pytest.approx(3.0)
    assert found.high - found.low > 4.0
    assert pooled(known[:1]) == known[0].gain


def test_readings_are_kept_once_and_come_back_as_they_were(tmp_path: Path) -> None:
    """The same file added twice counts once; a foreign file is refused."""
    plan, log = tmp_path / "bed.toml", tmp_path / "log.csv"
    log.write_text("x")
    times = [datetime(2026, 4, 1, hour, 30) for hour in range(6)]
    values = np.array([1.0, 2.0, np.nan, 4.0, 5.0, 6.0])
    store = file_beside(plan)
    assert add(store, log, "inside", times, values, ["row 4: a spike"])
    assert not add(store, log, "inside", times, values, [])
    assert add(store, log, "outside", times, values - 3, [])
    first, second = kept(store)
    assert list(first.times) == times
    np.testing.assert_array_equal(first.values, values)
    assert (first.role, second.role) == ("inside", "outside")
    assert hours_kept(store).inside[0] == pytest.approx(1.5)
    other = tmp_path / "other.readings.sqlite3"
    other.write_bytes(b"not a database, by any means" * 50)
    with pytest.raises(ReadingsError, match="move it away"):
        kept(other)
    with pytest.raises(ReadingsError, match="readings add"):
        hours_kept(tmp_path / "none.sqlite3")
