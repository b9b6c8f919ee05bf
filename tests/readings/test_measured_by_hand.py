"""What readings show, on hours made up to be counted: nights, degree days, hot hours, the clock."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.readings import evidence
from hoopwright.readings.clean import clean
from hoopwright.readings.clock import times_of
from hoopwright.readings.evidence import weather_over
from hoopwright.readings.fit import FitSetting, _alike, _spread_points, _Task, fit
from hoopwright.readings.hourly import Hours, hours_of, to_standard
from hoopwright.readings.measured import days, estimate, measured, nights, pooled

START = datetime(2026, 4, 1)


def flat(count: int, inside: float, outside: float, start: datetime = START) -> Hours:
    return Hours(start, np.full(count * 24, inside), np.full(count * 24, outside))


def test_a_night_is_the_hours_from_six_in_the_evening_to_nine_in_the_morning() -> None:
    """From midnight on 1 April: the first night ends at 9 h of the 2nd. What is colder at 17 h
    (row 16) or at 10 h (row 33) is no part of it; what is at 18 h (row 17) and 9 h (row 32) is."""
    for row, counts in ((16, False), (17, True), (32, True), (33, False)):
        hours = flat(2, 5.0, 3.0)
        hours.inside[row] = -7.0
        dates, low_in, low_out = nights(hours)
        assert dates == [datetime(2026, 4, 2)]
        assert low_in[0] == (-7.0 if counts else 5.0)
        assert low_out[0] == 3.0


def test_a_night_counts_with_four_fifths_of_its_sixteen_hours() -> None:
    """13 of 16 are 81 %, 12 are 75 %."""
    for holes, counts in ((3, True), (4, False)):
        hours = flat(2, 5.0, 3.0)
        hours.inside[18 : 18 + holes] = np.nan
        assert bool(nights(hours)[0]) == counts


def test_degree_days_and_hot_hours_are_those_gained_inside() -> None:
    """12 h at 30 and 12 at 8 degC inside, 14 and 4 outside: over 10 degC 20 K and 4 K for half a
    day, 8 K d gained (22 and 9 in the mean would be 10). Of 33 degC for 3 h inside three hours are
    hot; 35 degC outside is none."""
    half = np.arange(48) % 24 < 12
    hours = Hours(START, np.where(half, 8.0, 30.0), np.where(half, 4.0, 14.0))
    dates, warm, hot = days(hours)
    assert dates == [datetime(2026, 4, 1), datetime(2026, 4, 2)]
    assert warm == pytest.approx([8.0, 8.0])
    assert hot.tolist() == [0.0, 0.0]
    hours.inside[30:33], hours.outside[40] = 33.0, 35.0
    assert days(hours)[2].tolist() == [0.0, 3.0]


def test_frosts_kept_off_are_those_outside_that_were_none_inside() -> None:
    """Ten nights: -2 outside in six, of which three are -1 inside; one more frost inside alone."""
    hours = flat(11, 4.0, 2.0)
    for night in range(6):
        hours.outside[24 * night + 28] = -2.0
    for night in (0, 1, 2, 8):
        hours.inside[24 * night + 28] = -1.0
    found = measured(hours)
    assert found is not None
    assert (found.frosts_out, found.frosts_in, found.kept_off[0]) == (6, 4, 3)
    assert found.kept_off[1] < 0.5 < found.kept_off[2]


def test_the_interval_of_few_nights_by_hand() -> None:
    """1, 3, 1, 3, 2: mean 2, standard deviation 1 (n - 1), neighbours unlike, so five nights count:
    2.776 (t of 4) / root of 5 = 1.241. Of 1, 1, 3, 3, 2 neighbours are alike by 1 of 4: five count
    as 5 x 0.75 / 1.25 = 3, and 4.303 (t of 2) / root of 3 = 2.484."""
    found = estimate(np.array([1.0, 3.0, 1.0, 3.0, 2.0]))
    assert (found.mean, found.high - found.mean) == pytest.approx((2.0, 1.241), rel=5e-3)
    alike = estimate(np.array([1.0, 1.0, 3.0, 3.0, 2.0]))
    assert alike.high - alike.mean == pytest.approx(2.484, rel=5e-3)


def test_beds_are_pooled_by_their_means_or_their_own_doubt_whichever_is_more() -> None:
    """Means 1, 2 and 3: 4.303 x 1 / root of 3 = 2.484. Means alike, each to 3 K: root of 27 over 3,
    1.732."""

    def bed(mean: float, half: float) -> SimpleNamespace:
        return SimpleNamespace(
            gain=SimpleNamespace(mean=mean, low=mean - half, high=mean + half, count=40)
        )

    apart = pooled([bed(mean, 0.1) for mean in (1.0, 2.0, 3.0)])
    assert (apart.mean, apart.high - apart.mean, apart.count) == pytest.approx(
        (2.0, 2.484, 120), rel=1e-3
    )
    same = pooled([bed(2.0, 3.0)] * 3)
    assert same.high - same.mean == pytest.approx(1.732, rel=1e-3)


def test_a_loggers_clock_is_brought_to_the_places_standard_time() -> None:
    """UTC noon is 5 h where standard time is seven hours behind; 13 h by a clock that keeps UTC-6
    is noon there."""
    noon = datetime(2026, 7, 1, 12)
    assert to_standard([noon], 0.0, -7.0, None) == [datetime(2026, 7, 1, 5)]
    assert to_standard([noon + timedelta(hours=1)], -6.0, -7.0, None) == [noon]


def test_hours_stand_at_their_ends() -> None:
    """Readings at every half hour, as many degrees as hours since midnight: the first row is that
    of 1 h."""
    times = [START + timedelta(minutes=30 * n) for n in range(9)]
    hours = hours_of([("inside", times, np.arange(9) / 2.0)])
    assert hours.inside[:4] == pytest.approx([1.0, 2.0, 3.0, 4.0])


@pytest.mark.parametrize(
    ("cells", "hours"),
    [
        (["4/1/2026 12:00 AM", "4/1/2026 1:00 AM", "4/1/2026 12:00 PM", "4/1/2026 1:00 PM"],
         [0, 1, 12, 13]),
        (["2026-04-01 23:00", "2026-04-01 24:00", "2026-04-02 01:00"], [23, 24, 25]),
        (["46113.0", "46113.25", "46113.5"], [0, 6, 12]),
        (["1775001600", "1775005200"], [0, 1]),
    ],
)  # fmt: skip
def test_times_are_read_as_they_are_meant(cells: list[str], hours: list[int]) -> None:
    """Noon is 12 PM and midnight 12 AM; 24:00 is the next day's; 1 April 2026 is day 46,113 of a
    spreadsheet, whose day 2 is 1 January 1900, and 1,775,001,600 s after 1970 began."""
    found = times_of(cells, day_first=False)
    assert found is not None
    assert list(found.values) == [START + timedelta(hours=hour) for hour in hours]


def test_summer_time_written_out_is_brought_to_winters() -> None:
    """1:30 of UTC-6 and 1:30 of UTC-7 on the day the clock goes back: half past midnight and half
    past one of standard time."""
    cells = ["2026-11-01T00:30-06:00", "2026-11-01T01:30-06:00", "2026-11-01T01:30-07:00"]
    found = times_of(cells)
    assert found is not None
    assert found.offset == -7.0
    night = datetime(2026, 10, 31, 23, 30)
    assert list(found.values) == [night + timedelta(hours=n) for n in range(3)]


def test_a_spike_stands_over_eight_kelvin_and_twice_its_neighbours_difference_away() -> None:
    """Between 10 and 13 degC the neighbours differ by 3: a reading over 13 + 14 is a spike, 26 is
    a warm hour. None is told where the neighbours lie over four hours apart."""

    def spikes(value: float, step: int = 1) -> int:
        times = [START + timedelta(hours=step * n) for n in range(5)]
        found = clean(times, [np.array([9.0, 10.0, value, 13.0, 14.0])], 1)
        return sum(fault.kind == "spike" for fault in found.faults)

    assert [spikes(26.0), spikes(27.5), spikes(27.5, 3)] == [0, 1, 0]


def test_fitted_numbers_are_laid_over_the_beds_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """A leak twice the bed's own 1.5 is 3; light 0.9 of an aged 0.8 is 0.72; soil holds no more
    water than its pores."""
    from hoopwright.heat.covers import optics_of
    from hoopwright.heat.enclosure import Enclosure, Soil
    from hoopwright.heat.run import BedInRun
    from hoopwright.heat.schedule import Schedule
    from hoopwright.readings import fit as fitting
    from hoopwright.tables.catalogue import Catalogue

    seen: dict[str, object] = {}

    def run(weather, bed, optics, schedule, at, march):
        seen.update(bed=bed, optics=optics)
        return SimpleNamespace(air=np.zeros(1))

    monkeypatch.setattr(fitting, "simulate", run)
    monkeypatch.setattr(fitting, "place_of", lambda weather, bed: None)
    box = Enclosure(3.0, 1.0, ((0.0, 0.0), (0.5, 0.6), (1.0, 0.0)), leak_factor=1.5)
    optics = optics_of(Catalogue().cover("film-6mil-uv4"), age_factor=0.8)
    bed = BedInRun(box, Soil(porosity=0.4))
    FitSetting(None, bed, optics, Schedule.closed()).inside(np.array([2.0, 0.9, 0.5]))
    assert seen["bed"].enclosure.leak_factor == pytest.approx(3.0)
    assert seen["optics"].age_factor == pytest.approx(0.72)
    assert seen["bed"].soil.moisture == pytest.approx(0.4)


def test_how_alike_errors_are_widens_the_doubt_by_bartletts_weights() -> None:
    """Newey and West 1987, from memory: 1 + 2 sum (1 - lag / 25) r. Errors that alternate four
    hours up and four down, 96 of them: r by hand from the sums of products."""
    errors = np.tile(np.repeat([1.0, -1.0], 4), 12)
    by_hand = 1.0
    for lag in range(1, 25):
        r = sum(errors[i] * errors[i - lag] for i in range(lag, 96)) / 96
        by_hand += 2 * (1 - lag / 25) * r
    assert _alike(errors) == pytest.approx(max(1.0, by_hand))
    steady = np.repeat([1.0, -1.0], 48)
    assert _alike(steady) > 10


def test_points_are_spread_as_halton_has_them() -> None:
    """1/2, 1/4, 3/4 to base two; 1/3, 2/3, 1/9 to base three; 1/5, 2/5, 3/5 to base five."""
    assert _spread_points(3) == pytest.approx(
        np.array([[1 / 2, 1 / 3, 1 / 5], [1 / 4, 2 / 3, 2 / 5], [3 / 4, 1 / 9, 3 / 5]])
    )


def test_measured_air_is_laid_over_the_weather_with_its_dew_point_as_far_below(monkeypatch) -> None:
    """Station air of 10 degC and dew point of 4; 7 measured: dew point 1. Where nothing was
    measured the station's own stand."""
    from hoopwright.climate.demo import demo_weather
    from hoopwright.readings import evidence as against

    year = next(demo_weather(1))
    year = replace(
        year, start=datetime(2026, 1, 1), air_temperature=np.full(8760, 10.0),
        dew_point=np.full(8760, 4.0), typical_year=False,
    )  # fmt: skip
    monkeypatch.setattr(against, "read_weather", lambda file: year)
    hours = Hours(START, np.zeros(3), np.array([7.0, np.nan, 12.0]))
    over, typical = weather_over(SimpleNamespace(), hours, "file")
    assert not typical
    assert over.air_temperature == pytest.approx([7.0, 10.0, 12.0])
    assert over.dew_point == pytest.approx([1.0, 4.0, 6.0])


def test_what_is_left_of_alike_errors_is_less_by_their_likeness() -> None:
    """Errors that keep 0.8 of the last hour's: their spread times root of 1 - 0.64, 0.6."""
    chance, errors = np.random.default_rng(6), np.zeros(20000)
    for at in range(1, errors.size):
        errors[at] = 0.8 * errors[at - 1] + 0.6 * chance.normal()
    used = np.ones(3, dtype=bool)
    task = _Task(SimpleNamespace(), np.zeros(3), used).whitened(errors)
    assert task.likeness == pytest.approx(0.8, abs=0.02)
    assert task.spread == pytest.approx(0.6, rel=0.03)


def test_a_fit_is_judged_on_the_weeks_it_has_not_seen() -> None:
    """Air that rises by the logarithm of the leak, the light and the moisture, each by its own
    wave, and six weeks of readings with 0.1 K of error; in every third 2 K more, which nothing
    explains: the error there is 2.0 K, though the weeks that were used are met."""
    hours = np.arange(6 * 168)
    waves = np.array([np.sin(hours * k) for k in (0.3, 0.7, 1.1)])
    setting = SimpleNamespace(bed=SimpleNamespace(soil=SimpleNamespace(moisture=0.2)))
    setting.inside = lambda x: waves.T @ np.array([np.log(x[0]), 4 * x[1], 9 * x[2]])
    error = 0.1 * np.random.default_rng(2).standard_normal(hours.size)
    third = np.where((hours // 168) % 3 == 2, 2.0, 0.0)
    found = fit(setting, setting.inside(np.array([1.5, 0.9, 0.25])) + third + error)
    assert (found.hours, found.held) == (4 * 168 - 72, 2 * 168)
    leak, light, moisture = (one.likely for one in found.numbers)
    assert (leak, light, moisture) == pytest.approx((1.5, 0.9, 0.25), rel=0.02)
    assert found.error_after == pytest.approx(2.0, rel=0.02)


def test_the_model_is_held_against_readings_by_the_tables_own_numbers() -> None:
    """Leak and light as the table has them, the bed's own water; its nights are counted in the
    hours alone that were measured."""
    hours, asked = flat(3, 5.0, 3.0), []
    hours.inside[:24] = np.nan

    def inside(numbers: np.ndarray) -> np.ndarray:
        asked.append(numbers.tolist())
        return np.full(72, 4.0)

    soil = SimpleNamespace(moisture=0.22)
    setting = SimpleNamespace(bed=SimpleNamespace(soil=soil), inside=inside)
    found = evidence.modelled(setting, hours, typical=False)
    assert asked == [[1.0, 1.0, 0.22]]
    assert found is not None
    assert (found.nights.gain.mean, found.nights.gain.count) == (1.0, 1)
