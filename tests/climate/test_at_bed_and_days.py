"""From station to bed, and from days to hours."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from hoopwright.climate.at_bed import Horizon, PlaceDifference, at_bed, calm_clear_nights, sky_view
from hoopwright.climate.disaggregate import hourly_years, usable_years
from hoopwright.climate.sky import infrared_is_modelled, sky_of, trusted_sky
from hoopwright.climate.summary import daily_summary, summary
from hoopwright.climate.sun import sun_of
from hoopwright.climate.weather import DailyRecord, Station

PLACE = Station("made up", 44.0, -110.0, 2050.0, -7.0)


def made_up_record(years=3, seed=5):
    rng = np.random.default_rng(seed)
    days = 365 * years + (1 if years > 3 else 0)
    season = -np.cos(2 * np.pi * (np.arange(days) - 15) / 365.25)
    middle = 5 + 13 * season + rng.normal(0, 4, days)
    half = np.maximum(7 + rng.normal(0, 2, days), 1.0)
    rain = np.where(rng.random(days) < 0.25, rng.exponential(4, days), 0.0)
    unknown = np.full(days, np.nan)
    return DailyRecord(
        PLACE, date(2001, 1, 1), middle + half, middle - half, rain, unknown, unknown, "made up"
    )


def test_nothing_changes_where_nothing_differs(year):
    moved = at_bed(year, PlaceDifference())

    assert (moved.air_temperature == year.air_temperature).all()
    assert (moved.direct_normal == year.direct_normal).all()
    assert moved.repairs == year.repairs


def test_three_hundred_metres_higher(year):
    moved = at_bed(year, PlaceDifference(elevation=2350.0))

    assert (year.air_temperature - moved.air_temperature) == pytest.approx(1.95)
    assert moved.pressure.mean() / year.pressure.mean() == pytest.approx(0.963, abs=0.002)
    assert moved.station.elevation == 2350.0
    assert "+300 m" in moved.repairs[-1]


def test_cold_pool_only_on_clear_calm_nights(year):
    moved = at_bed(year, PlaceDifference(cold_pool=4.0))
    drop = year.air_temperature - moved.air_temperature
    day = sun_of(year).elevation > 0

    assert drop[day].max() == 0
    assert 0 < drop.max() <= 4.0
    windy = (year.wind_speed > 3) & (np.roll(year.wind_speed, 1) > 3) & (
        np.roll(year.wind_speed, 2) > 3
    )  # fmt: skip
    assert drop[windy].max() == pytest.approx(0, abs=1e-12)
    assert (moved.dew_point <= moved.air_temperature + 1e-12).all()
    assert calm_clear_nights(year).max() <= 1.0


def test_skyline_takes_sun_and_sky(year):
    wall = Horizon((0.0, 90.0, 180.0, 270.0), (0.0, 10.0, 30.0, 10.0))
    moved = at_bed(year, PlaceDifference(horizon=wall))

    assert moved.global_horizontal.sum() < year.global_horizontal.sum()
    assert moved.diffuse_horizontal.sum() == pytest.approx(
        sky_view(wall) * year.diffuse_horizontal.sum()
    )
    closed = moved.diffuse_horizontal + moved.direct_normal * sun_of(moved).sine_elevation
    assert np.abs(closed - moved.global_horizontal).max() < 1e-9
    noon_in_december = 24 * 354 + 12
    assert moved.direct_normal[noon_in_december] < 0.3 * year.direct_normal[noon_in_december] + 1e-9


def test_what_hides_the_sky_also_hides_its_cold(year):
    """In a round pit of 30 deg a quarter of the sky is wall at the air's temperature."""
    open_sky = sky_of(year)
    pit = sky_of(at_bed(year, PlaceDifference(horizon=Horizon((0.0,), (30.0,)))))
    wall = 5.670374e-8 * (year.air_temperature + 273.15) ** 4
    assert pit == pytest.approx(0.75 * open_sky + 0.25 * wall, rel=1e-6)
    assert (pit >= open_sky).mean() > 0.99


def test_sky_view_of_an_even_wall():
    """A level plane in a round pit of 30 deg sees cos^2 30 = 0.75 of an even sky."""
    assert sky_view(Horizon((0.0,), (30.0,))) == pytest.approx(0.75, abs=1e-6)


@pytest.mark.parametrize(
    ("azimuths", "elevations"), [((0.0, 400.0), (1.0, 1.0)), ((0.0,), (95.0,)), ((), ())]
)
def test_impossible_skylines(azimuths, elevations):
    with pytest.raises(ValueError, match="horizon"):
        Horizon(azimuths, elevations)


def test_days_become_hours_with_the_same_extremes():
    record = made_up_record()
    for number, year in enumerate(hourly_years(record)):
        here = slice(365 * number, 365 * (number + 1))
        hours = year.air_temperature.reshape(365, 24)
        assert hours.max(axis=1) == pytest.approx(record.maximum[here], abs=0.6)
        assert np.mean(np.abs(hours.min(axis=1) - record.minimum[here])) < 0.1
        assert np.isfinite(year.global_horizontal).all()
        assert year.precipitation.sum() == pytest.approx(record.precipitation[here].sum())


def test_hours_pass_midnight_without_a_step():
    """No hour moves by more than the day's own swing allows; a step at midnight would."""
    year = next(hourly_years(made_up_record()))
    steps = np.abs(np.diff(year.air_temperature)).reshape(-1)
    midnight = steps[23::24]

    assert np.quantile(midnight, 0.99) < np.quantile(steps, 0.999)


def test_years_with_too_many_holes_are_dropped_and_said():
    record = made_up_record()
    low = record.minimum.copy()
    low[400:410] = np.nan
    low[900] = np.nan
    usable = usable_years(replace(record, minimum=low))

    assert usable.years == (2001, 2003)
    assert "2002 was left out: 10 days" in usable.dropped[0]
    third = list(hourly_years(replace(record, minimum=low)))[1]
    assert any("1 days without both extremes were drawn across" in r for r in third.repairs)


def test_a_station_without_a_place_gives_no_hours():
    lost = Station("lost", np.nan, np.nan, np.nan, np.nan)
    with pytest.raises(ValueError, match="latitude"):
        next(hourly_years(replace(made_up_record(), station=lost)))


def test_sky_is_measured_where_measured(year):
    seen = np.full(8760, np.nan)
    seen[:4000] = 250.0 + np.arange(4000) % 7
    mixed = replace(year, sky_infrared=seen)
    modelled = sky_of(year)

    assert (sky_of(mixed)[:4000] == seen[:4000]).all()
    assert (sky_of(mixed)[4000:] == modelled[4000:]).all()


def test_infrared_that_is_only_a_formula_is_not_trusted(year):
    from hoopwright.climate.sky import clark_allen_emissivity, sky_radiation

    formula = sky_radiation(
        clark_allen_emissivity(year.dew_point, year.sky_cover), year.air_temperature
    )
    copied = replace(year, sky_infrared=np.round(formula))
    observed = replace(year, sky_infrared=formula + np.random.default_rng(1).normal(0, 12, 8760))

    assert infrared_is_modelled(copied)
    assert not infrared_is_modelled(observed)
    assert (trusted_sky(copied) == sky_of(year)).all()
    assert any("Clark & Allen" in caution for caution in summary(copied).cautions)


def test_summary_shows_what_the_year_holds(year):
    seen = summary(year)

    assert seen.lowest == year.air_temperature.min()
    assert seen.yearly_radiation == pytest.approx(year.global_horizontal.sum() / 1000)
    assert seen.unknown == {"sky infrared": 8760}
    assert seen.frost[0].season <= seen.frost[2].season
    assert any("invented" in caution for caution in seen.cautions)
    assert (seen.mean_minimum < seen.mean).all()
    assert (seen.mean < seen.mean_maximum).all()


def test_daily_summary_warns_of_short_records():
    seen = daily_summary(made_up_record())

    assert seen.frost_years == 3
    assert seen.complete == 1.0
    assert any("3 years with frost dates" in caution for caution in seen.cautions)
