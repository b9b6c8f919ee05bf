"""Smaller rules of weather, each worked out by hand: melting snow, cloud, months, a day's hours."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from hoopwright.climate.air import latent_heat, relative_humidity
from hoopwright.climate.at_bed import PlaceDifference, at_bed
from hoopwright.climate.day_shape import hourly_temperature
from hoopwright.climate.daylight import (
    cloud_cover_from_clear_sky,
    cloudy_sky_global,
    erbs_diffuse_fraction,
    opaque_cover_from_clear_sky,
)
from hoopwright.climate.forecast.form import ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import _to_whole_hours
from hoopwright.climate.forecast.hours import Layers, first_hour, forecast_of
from hoopwright.climate.forecast.json_reply import Wanted, duration, to_si
from hoopwright.climate.forecast.typical import days_of
from hoopwright.climate.frost import FrostYears, last_frost, season_length
from hoopwright.climate.normals import monthly_normals, usual_deviations
from hoopwright.climate.sky import solar_hours
from hoopwright.climate.snow_cover import snow_depths
from hoopwright.climate.summary import daily_summary, summary
from hoopwright.climate.sun import DaySpan, sun_over_hours
from hoopwright.climate.weather import DailyRecord

FULL = np.full(8760, 1.0)


def test_snow_lies_by_its_water_and_melts_by_the_degree() -> None:
    """Settled snow of 220 kg/m3. 10 mm at -5 degC lie 10 / 220 m deep; a dry day of 1 degC takes
    3 mm; of 8 mm at 1 degC half falls as snow (a line from -1 to 3) while 3 mm melt; at 5 degC it
    rains and 15 mm melt, more than there is."""
    warm, rain = np.array([-5.0, 1.0, 1.0, 5.0]), np.array([10.0, 0.0, 8.0, 4.0])
    by_hand = np.array([10.0, 7.0, 8.0, 0.0]) / 220
    assert snow_depths(warm, rain) == pytest.approx(by_hand)


def test_half_a_sky_of_cloud_takes_a_fifteenth_of_the_light_and_of_opaque_cloud_a_fifth() -> None:
    """Kasten & Czeplak 1980, from memory: 1 - 0.75 N^3.4; of half a sky 0.0710 are gone. With the
    power 1.75 that opaque cloud is given, 0.2230."""
    clear = np.array([800.0, 10.0])
    assert cloudy_sky_global(clear, 0.5)[0] / 800 == pytest.approx(1 - 0.0710, rel=1e-3)
    total = cloud_cover_from_clear_sky(clear * (1 - 0.0710), clear)
    opaque = opaque_cover_from_clear_sky(clear * (1 - 0.2230), clear)
    assert (total[0], opaque[0]) == pytest.approx((0.5, 0.5), rel=1e-3)
    assert np.isnan(total[1])


def test_the_diffuse_share_by_erbs() -> None:
    """Erbs et al. 1982, from memory: 1 - 0.09 k in dull hours, 0.165 in the brightest, between
    them a polynomial: 0.6592 at half."""
    found = erbs_diffuse_fraction(np.array([0.1, 0.5, 0.9]))
    assert found == pytest.approx([0.991, 0.6592, 0.165], rel=1e-3)


def test_a_day_runs_by_parton_and_logan() -> None:
    """Sunrise at 6, sunset at 18, from 0 to 10 degC; their a = 1.86, b = 2.20, c = -0.17. The least
    is at 5.83, so the day is 12.17 long and the sine's half wave 12.17 + 3.72 = 15.89: at 9 h
    10 sin(180 x 3.17 / 15.89) = 5.86, at noon 9.39, at sunset 6.70. The night is 11.83 h; three
    hours on exp(-2.2 x 3 / 11.83) = 0.5724, at its end 0.1108: 6.70 x 0.4616 / 0.8892 = 3.48."""
    days = 3
    span = DaySpan(np.full(days, 6.0), np.full(days, 18.0), np.full(days, 12.0))
    hours = hourly_temperature(np.zeros(days), np.full(days, 10.0), span).reshape(days, 24)[1]
    at = dict(zip(range(1, 25), hours, strict=True))
    assert [at[9], at[12], at[18], at[21]] == pytest.approx([5.86, 9.39, 6.70, 3.48], abs=0.02)
    assert (at[14], at[6]) == (10.0, 0.0)


def test_a_year_is_summed_up_month_by_month(year) -> None:
    """100 W/m2 are 2.4 kWh/m2 a day and 876 a year; a millimetre an hour 744 in January, also
    where every other hour is not known, and not known where two of three are not. Sky that sends
    250 W/m2 is (250 / 5.67e-8)^(1/4) = 257.7 K, -15.5 degC, 25.5 K under air of 10 degC."""
    known = np.where(np.arange(8760) % 2 == 0, 1.0, np.nan)
    made = replace(
        year,
        air_temperature=10 * FULL,
        dew_point=0 * FULL,
        global_horizontal=100 * FULL,
        diffuse_horizontal=40 * FULL,
        direct_normal=0 * FULL,
        sky_infrared=250 * FULL + np.tile([-9.0, 9.0], 4380),
        precipitation=known,
    )
    seen = summary(made)
    assert seen.radiation == pytest.approx(np.full(12, 2.4))
    assert seen.yearly_radiation == pytest.approx(876.0)
    assert seen.diffuse_share == pytest.approx(0.4)
    assert seen.precipitation[[0, 3]] == pytest.approx([744.0, 720.0])
    assert seen.sky_depression == pytest.approx(25.5, abs=0.2)
    rare = np.where(np.arange(8760) % 3 == 0, 1.0, np.nan)
    assert np.isnan(summary(replace(made, precipitation=rare)).precipitation).all()


def test_rain_of_a_years_normals_is_a_months_where_two_thirds_are_known(year) -> None:
    """0.02 mm in three hours of four: 0.36 mm a day, so all 28 days of February are wet, by 0.3 mm,
    and have 10.08 mm. Of every other hour alone nothing is said."""
    some = np.where(np.arange(8760) % 4 != 0, 0.02, np.nan)
    rain = monthly_normals(replace(year, precipitation=some))
    assert rain.precipitation[1] == pytest.approx(10.08)
    assert rain.wet_days[1] == pytest.approx(28.0)
    known = np.where(np.arange(8760) % 2 == 0, 1.0, np.nan)
    assert np.isnan(monthly_normals(replace(year, precipitation=known)).precipitation).all()


def test_frosts_of_a_summary_are_the_last_of_spring_and_the_first_of_autumn(year) -> None:
    """-1 degC until 10 May and from 20 September; -2.5 until 20 April, -5 until 1 March. 32, 28 and
    24 degF are 0, -2.2 and -4.4 degC. From 11 May to 19 September are 132 days."""
    day = np.arange(8760) // 24
    first = datetime(2001, 1, 1)
    march, april, may, september = (
        (datetime(2001, *at) - first).days for at in ((3, 1), (4, 20), (5, 10), (9, 20))
    )
    air = np.where((day > may) & (day < september), 8.0, np.where(day <= april, -2.5, -1.0))
    air = np.where(day <= march, -5.0, air)
    made = replace(year, start=first, air_temperature=air, dew_point=air - 1)
    zero, two, four = summary(made).frost
    assert (zero.last, zero.first, zero.season) == (date(2001, 5, 10), date(2001, 9, 20), 132)
    assert (two.last, two.first) == (date(2001, 4, 20), None)
    assert (four.last, four.first, four.season) == (date(2001, 3, 1), None, 305)


def test_rain_of_a_daily_record_is_a_months(year) -> None:
    """2 mm a day: 62 in January, 56.5 in February of a mean year."""
    days = 730
    record = DailyRecord(
        year.station, date(2001, 1, 1), np.full(days, 10.0), np.full(days, 2.0),
        np.full(days, 2.0), np.full(days, np.nan), np.full(days, np.nan), "made up",
    )  # fmt: skip
    assert daily_summary(record).precipitation[:2] == pytest.approx([62.0, 56.5])


def test_usual_deviations_by_hand() -> None:
    """Half a year about 0 degC, half about 20: 10 K off the year's mean, 20 apart. Highs: 2.10
    - 0.069 x (-10) + 0.102 x 20 = 4.83 in winter, 3.45 in summer; lows: 0.83 + 1.34 + 2.66 = 4.83
    and 2.15."""
    middle = np.repeat([0.0, 20.0], 6)
    high, low = usual_deviations(middle + 5, middle - 5)
    assert high[[0, 11]] == pytest.approx([4.83, 3.45])
    assert low[[0, 11]] == pytest.approx([4.83, 2.15])


def test_a_bed_higher_up_has_less_dew_and_two_barriers_shelter_together(year) -> None:
    """300 m: dew point 0.54 K lower, air 1.95. A fence that leaves half where 0.8 was left: 0.4."""
    dry = replace(year, dew_point=year.air_temperature - 20.0, wind_shelter=0.8)
    moved = at_bed(dry, PlaceDifference(elevation=year.station.elevation + 300, wind_shelter=0.5))
    assert (dry.dew_point - moved.dew_point) == pytest.approx(0.54)
    assert moved.wind_shelter == pytest.approx(0.4)
    assert moved.wind_speed == pytest.approx(0.5 * dry.wind_speed)


def test_the_length_of_a_season_is_one_that_is_reached_with_its_odds() -> None:
    """Ten seasons of 100 to 109 days. Cunnane 1978, from memory: the chance of no more is (i - 0.4)
    / 10.2, so one year in ten reaches place 0.9 x 10.2 + 0.4 = 9.58, 108.6 days, nine in ten place
    1.42, 100.4."""
    last = np.full(10, 120.0)
    years = FrostYears(0.0, tuple(range(10)), last, last + 1 + np.arange(100.0, 110.0), ())
    assert years.season == pytest.approx(np.arange(100.0, 110.0))
    assert season_length(years, 0.1).day == pytest.approx(108.58)
    assert season_length(years, 0.9).day == pytest.approx(100.42)


def test_the_interval_of_a_date_holds_nine_resamples_in_ten() -> None:
    """The middle of 400 normal dates with a spread of 10 d has a standard error of 1.2533 x 10 /
    root of 400, 0.627 d; nine in ten lie within 1.645 of them, so the interval is 2.06 d wide."""
    years = FrostYears(0.0, tuple(range(400)), np.zeros(400), np.zeros(400), ())
    wide = np.mean(
        [
            (one := last_frost(replace(years, last=120 + 10 * draw), 0.5, seed)).high - one.low
            for seed, draw in enumerate(np.random.default_rng(4).standard_normal((12, 400)))
        ]
    )
    assert wide == pytest.approx(2.06, rel=0.12)


@pytest.mark.parametrize(
    ("quantity", "unit", "value", "si"),
    [
        ("temperature", "K", 293.15, 20.0),
        ("temperature", "degF", 212.0, 100.0),
        ("temperature", "°F", 14.0, -10.0),
        ("speed", "km/h", 36.0, 10.0),
        ("speed", "wmoUnit:km_h-1", 36.0, 10.0),
        ("speed", "mp/h", 50.0, 22.352),
        ("speed", "mi_h-1", 50.0, 22.352),
        ("speed", "kn", 36.0, 18.52),
        ("rain", "inch", 1.0, 25.4),
        ("rain", "m", 0.01, 10.0),
        ("snow", "inch", 10.0, 0.254),
        ("snow", "cm", 25.0, 0.25),
        ("snow", "mm", 25.0, 0.025),
        ("share", "percent", 40.0, 0.4),
        ("pressure", "hPa", 800.0, 80000.0),
        ("length", "ft", 1000.0, 304.8),
    ],
)
def test_units_of_a_forecast_by_their_definitions(quantity, unit, value, si) -> None:
    """The foot, inch, mile and knot by definition (NIST SP 811, from memory); rain in mm of water,
    snow in m."""
    wanted = Wanted("it", quantity, -1e9, 1e9)
    assert to_si(value, unit, wanted, "a service") == pytest.approx(si)


@pytest.mark.parametrize(
    ("text", "hours"), [("P1W", 168.0), ("P1DT6H", 30.0), ("PT30M", 0.5), ("PT90S", 0.025)]
)
def test_lengths_of_time_by_iso_8601(text: str, hours: float) -> None:
    assert duration(text, "a service") == pytest.approx(hours)


def test_hours_of_a_place_on_a_quarter_hour_are_moved_onto_whole_ones() -> None:
    """From 5:45 the whole hour is a quarter of the way to the next value: of 0, 4, 8 degC it has 1,
    5 and, at the end, 8."""
    moved, minutes = _to_whole_hours({"t": np.array([0.0, 4.0, 8.0])}, datetime(2026, 5, 1, 5, 45))
    assert moved["t"] == pytest.approx([1.0, 5.0, 8.0])
    assert minutes == 15


def test_the_same_days_of_a_record_are_taken_by_month_and_day(year) -> None:
    """3 February is the 34th day: hours 792 on; 30 December runs on into the record's beginning."""
    told = replace(year, start=datetime(2001, 1, 1), air_temperature=np.arange(8760.0))
    winter = days_of(told, date(2026, 2, 3), 2)
    assert winter.air_temperature[[0, 47]] == pytest.approx([792.0, 839.0])
    assert winter.start == datetime(2026, 2, 3)
    assert days_of(told, date(2026, 12, 30), 3).air_temperature[48] == 0.0


@pytest.mark.parametrize(("hours", "enough"), [(23, False), (24, True)])
def test_a_forecast_of_less_than_a_day_is_of_no_use(hours: int, enough: bool) -> None:
    names = [one.name for one in fields(Layers) if one.name != "global_horizontal"]
    kinds = {name: np.full(hours, 5.0) for name in names}
    layers = Layers(**{**kinds, "dew_point": np.zeros(hours), "cover": np.full(hours, 0.5)})
    place = ForecastPlace("a made-up valley", 44.0, -110.0, 2050.0, "America/Denver")
    issued = datetime(2026, 5, 14, 12, tzinfo=UTC)
    asked = (layers, datetime(2026, 5, 14), place, 2050.0, "America/Denver", issued, "a service")
    if enough:
        assert len(forecast_of(*asked).weather) == 24
    else:
        with pytest.raises(ForecastError, match="only 23 hours in a row"):
            forecast_of(*asked)


def test_a_forecast_begins_with_the_first_whole_hour() -> None:
    """13:20 of universal time is 6:20 seven hours behind, so 7; 13:00 is 6 itself."""
    assert first_hour(datetime(2026, 5, 14, 13, 20, tzinfo=UTC), -7.0) == datetime(2026, 5, 14, 7)
    assert first_hour(datetime(2026, 5, 14, 13, tzinfo=UTC), -7.0) == datetime(2026, 5, 14, 6)


def test_the_sun_is_nearest_in_january(year) -> None:
    """The earth's way is an ellipse of 0.0167: 1,361 W/m2 over 0.9833 squared on 3 January, 1,408,
    over 1.0167 squared on 4 July, 1,317 (FAO-56 eq. 23 has 1.033 and 0.967, from memory)."""
    winter, summer = (
        float(sun_over_hours(day, 1, year.station).extraterrestrial_normal[0])
        for day in (datetime(2026, 1, 3, 12), datetime(2026, 7, 4, 12))
    )
    assert (winter, summer) == pytest.approx((1408, 1317), rel=2e-3)


def test_humidity_in_frost_is_told_over_water() -> None:
    """6.112 exp(17.62 t / (243.12 + t)) hPa over water (WMO No. 8, from memory): 1.919 at -15 degC
    of 2.870 at -10 is 0.6685; over ice it would be 0.636. Evaporating takes 2.501 - 0.00236 t
    MJ/kg: 2.406 at 40 degC (FAO-56, from memory)."""
    assert float(relative_humidity(-10.0, -15.0)) == pytest.approx(0.6685, rel=5e-3)
    assert float(latent_heat(40.0)) == pytest.approx(2.4066e6, rel=1e-3)


def test_the_sun_is_late_west_of_its_zones_meridian(year) -> None:
    """The hour from 6 to 7 has its middle at 6:30 by a clock 6 h behind Greenwich; the sun at 100
    deg west is 6 h 40 behind, so it is 5:50 there; at 80 deg west, 5 h 20 behind, 7:10."""
    for longitude, by_hand in ((-100.0, 5 + 50 / 60), (-80.0, 7 + 10 / 60)):
        station = replace(year.station, longitude=longitude, utc_offset=-6.0)
        weather = replace(year, station=station, start=datetime(2001, 3, 1, 6))
        assert solar_hours(weather)[:2] == pytest.approx([by_hand, by_hand + 1.0])
