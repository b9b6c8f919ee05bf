"""A clear and a cloudy day of each month: which they are, where the sun stands, what is told."""

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.answers.day_words import days_told
from hoopwright.climate.demo import demo_weather
from hoopwright.climate.design_days import design_days
from hoopwright.climate.sun import sun_of
from hoopwright.design import design_of
from hoopwright.design.days_at_bed import days_at_bed
from hoopwright.design.growing import heat_bed_of, own_optics, schedule_of_plan, typical_year
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.run import simulate
from hoopwright.plan import read_plan_text
from hoopwright.units import METRIC, US, show

PLAN = """
[site]
latitude = "44 N"
longitude = "110 W"
elevation = "6200 ft"
skyline = [
    { direction = "60 deg", height = "0 deg" },
    { direction = "90 deg", height = "40 deg" },
    { direction = "120 deg", height = "0 deg" },
]
[bed]
length = "12 ft"
width = "3 ft"
direction = "90 deg"
[season]
cover_from = "03-15"
cover_until = "11-01"
"""


@pytest.fixture(scope="module")
def found():
    design = design_of(read_plan_text(PLAN))
    return design, days_at_bed(design, None, compiled_march())


def test_clear_days_are_clear_and_cloudy_ones_dull_in_every_month():
    (weather,) = demo_weather()
    days = design_days(weather)
    assert [(d.date.month, d.cloudy) for d in days] == [
        (month, cloudy) for month in range(1, 13) for cloudy in (False, True)
    ]
    above = sun_of(weather).extraterrestrial_horizontal
    bright = weather.global_horizontal.reshape(365, 24).sum(1) / above.reshape(365, 24).sum(1)
    for clear, dull in zip(days[::2], days[1::2], strict=True):
        month = [d for d in range(365) if weather.months[24 * d] == clear.date.month - 1]
        order = np.sort(bright[month])
        assert bright[clear.first // 24] >= order[-6]
        assert bright[dull.first // 24] <= order[5]
        assert (clear.first // 24, clear.date.timetuple().tm_yday) == (
            clear.date.timetuple().tm_yday - 1,
            clear.first // 24 + 1,
        )


def test_of_the_clearest_and_the_dullest_fifth_the_middle_by_warmth_is_taken():
    """28 to 31 days: a fifth is six of them; the third coldest of six lies in the middle. By
    rank, from hours whose clearness and warmth are shuffled."""
    (weather,) = demo_weather()
    rng = np.random.default_rng(5)
    bright, warm = rng.permutation(365) / 500.0, rng.permutation(365) / 10.0
    above = sun_of(weather).extraterrestrial_horizontal
    made = replace(
        weather,
        global_horizontal=above * np.repeat(bright, 24),
        air_temperature=np.repeat(warm, 24),
    )
    months = weather.months[::24]
    for clear, dull in zip(design_days(made)[::2], design_days(made)[1::2], strict=True):
        of_month = np.flatnonzero(months == clear.date.month - 1)
        rising = of_month[np.argsort(bright[of_month])]
        for day, six in ((clear, rising[-6:]), (dull, rising[:6])):
            assert sorted(six, key=lambda d: warm[d])[2] == day.first // 24


def test_where_the_sun_never_rises_cloud_decides():
    (weather,) = demo_weather()
    far = replace(weather, station=replace(weather.station, latitude=80.0))
    clear, dull = design_days(far)[:2]
    cover = weather.sky_cover.reshape(365, 24).mean(1)
    assert cover[clear.first // 24] < cover[dull.first // 24]


def test_the_noon_sun_stands_as_high_as_latitude_and_declination_say(found):
    """Textbook: 90 deg less latitude plus declination; Cooper's declination (1969, from memory),
    within its own half degree and the twenty minutes that the place's noon is behind the zone's,
    in which the June sun turns 16 deg."""
    _, days = found
    latitude = 44.0  # of the demo valley, whose weather it is
    for day in days.days:
        n = day.date.timetuple().tm_yday
        declination = 23.45 * np.sin(np.radians(360.0 * (284 + n) / 365.0))
        assert day.elevation.max() == pytest.approx(90.0 - latitude + declination, abs=1.2)
        assert day.azimuth[int(day.elevation.argmax())] == pytest.approx(180.0, abs=20.0)


def test_the_sun_of_each_hour_is_that_of_its_end(found):
    """The valley is 110 W, its clock that of 105 W: at 12:00 the sun has twenty minutes, 5 degrees,
    to go to its noon, less the equation of time (9.87 sin 2B - 7.53 cos B - 1.5 sin B minutes, B =
    360/364 (n - 81) degrees: Duffie and Beckman, from memory, within a minute). The hour angle h of
    a sun seen: sin(h) cos(declination) = -cos(elevation) sin(azimuth)."""
    _, days = found
    for day in days.days:
        n = day.date.timetuple().tm_yday
        b = np.radians(360.0 * (n - 81) / 364.0)
        ahead = 9.87 * np.sin(2 * b) - 7.53 * np.cos(b) - 1.5 * np.sin(b)
        declination = np.radians(23.45 * np.sin(np.radians(360.0 * (284 + n) / 365.0)))
        for hour in (10, 12, 14):
            up, round_ = np.radians([day.elevation[hour - 1], day.azimuth[hour - 1]])
            seen = np.degrees(np.arcsin(-np.cos(up) * np.sin(round_) / np.cos(declination)))
            assert seen == pytest.approx(15.0 * (hour - 12) - 5.0 + ahead / 4.0, abs=1.0)


def test_the_skyline_in_the_east_hides_the_morning_and_not_the_evening(found):
    _, days = found
    june = next(d for d in days.days if d.date.month == 6 and not d.cloudy)
    east = (june.azimuth > 85) & (june.azimuth < 95) & (june.elevation > 0)
    assert east.any()
    assert (june.hidden == ((june.elevation > 0) & (june.elevation < _over(june.azimuth)))).all()
    assert june.hidden[:12].any()
    assert not june.hidden[12:].any()


def _over(azimuth):
    """40 deg in the east, falling straight to nothing 30 deg to either side."""
    return np.maximum(0.0, 40.0 * (1.0 - np.abs(azimuth - 90.0) / 30.0))


def test_hours_are_those_of_the_year_run_by_the_season_s_own_engine(found):
    design, days = found
    weather = typical_year(design.plan, None)
    whole = simulate(
        weather,
        heat_bed_of(design),
        own_optics(design),
        schedule_of_plan(design.plan),
        march=compiled_march(),
    )
    for day in days.days[8:12]:
        rows = slice(24 * (day.date.timetuple().tm_yday - 1), None)
        np.testing.assert_allclose(day.air, whole.air[rows][:24], atol=1e-6)
        np.testing.assert_allclose(day.opening, whole.opening[rows][:24], atol=1e-9)
        np.testing.assert_array_equal(day.direct, weather.direct_normal[rows][:24])
        np.testing.assert_array_equal(day.open_air, weather.air_temperature[rows][:24])


def test_what_is_told_is_marked_and_points_where_the_sun_is(found):
    _, days = found
    told = days_told(days, US, 90.0)
    assert told["mark"] == "Invented weather"
    assert "Marrow Valley" in told["origin"]
    # The tape runs east, so the noon sun stands over the side that is across, positive: south.
    june = next(d for d in told["days"] if d["month"] == 6 and not d["cloudy"])
    along, up, across = june["sun"][11]
    assert abs(along) < 0.35
    assert across > 0.2
    assert up > 0.8
    assert np.linalg.norm(june["sun"], axis=1) == pytest.approx(1.0, abs=1e-3)
    january = next(d for d in told["days"] if d["month"] == 1)
    assert not january["covered"]
    assert set(january["curves"]) == {"air outside", "leaves in the open"}
    assert "cover off" in january["rows"][11]["says"]
    assert [show(h, "hour", US) for h in (1, 12, 24)] == ["1 am", "noon", "midnight"]
    assert [show(h, "hour", US) for h in (0, 13, 19.5)] == ["midnight", "1 pm", "7:30 pm"]
    assert show(13, "hour", METRIC) == "13:00"
