"""What must hold of sun, air, light and days whatever the place and the figures."""

from datetime import datetime

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.climate import air, daylight
from hoopwright.climate.day_shape import hourly_light, hourly_temperature, persistent_noise
from hoopwright.climate.frost import quantile
from hoopwright.climate.sun import day_spans, sun_over_hours
from hoopwright.climate.weather import Station

START = datetime(2023, 1, 1)
quick = settings(derandomize=True, deadline=None, max_examples=40)
few = settings(derandomize=True, deadline=None, max_examples=8)
latitudes = st.floats(-66, 66)
longitudes = st.floats(-180, 180)


def place(latitude, longitude=-105.0, elevation=1500.0):
    return Station("any", latitude, longitude, elevation, float(round(longitude / 15)))


@few
@given(latitudes, longitudes)
def test_lit_hours_add_up_to_the_geometric_day(latitude, longitude):
    station = place(latitude, longitude)
    lit = sun_over_hours(START, 8760, station).lit_fraction.reshape(365, 24).sum(axis=1)
    length = day_spans(START, 365, station, horizon=0.0).length

    assert np.abs(lit.sum() - length.sum()) < 0.5
    assert np.abs(lit - length).max() < 0.06 or abs(longitude / 15 - station.utc_offset) > 0.4


@quick
@given(st.floats(0, 66))
def test_the_two_halves_of_the_globe_mirror(latitude):
    """Half a year apart, north and south have the same day within the orbit's unevenness."""
    north = day_spans(START, 365, place(latitude)).length
    south = day_spans(START, 365, place(-latitude)).length

    assert np.abs(north + south - 24.0 - 2 * (north[78] - 12.0)).max() < 0.6


@quick
@given(st.floats(-40, 45), st.floats(0.02, 1.0))
def test_air_goes_round_in_circles(temperature, humidity):
    vapour = humidity * air.saturation_over_water(temperature)
    dew = air.dew_point(vapour)

    assert abs(air.saturation_over_water(dew) / vapour - 1) < 1e-8
    assert dew <= temperature + 1e-9


@quick
@given(st.lists(st.floats(0, 1), min_size=24, max_size=24), st.floats(0, 60))
def test_light_is_never_lost_in_the_split(share, latitude):
    sun = sun_over_hours(datetime(2023, 4, 5), 24, place(latitude))
    total = np.array(share) * 1.05 * sun.extraterrestrial_horizontal
    direct, diffuse = daylight.split_global(total, sun)

    assert np.abs(direct * sun.sine_elevation + diffuse - total).max() < 1e-9
    assert (diffuse >= -1e-9).all()
    assert (direct >= 0).all()


@few
@given(st.integers(0, 10_000), st.floats(0, 55))
def test_hourly_light_keeps_each_days_sum(seed, latitude):
    rng = np.random.default_rng(seed)
    station = place(latitude)
    sun = sun_over_hours(START, 8760, station)
    clear = daylight.clear_sky_global(sun, 1500.0, 0.84)
    days = clear.reshape(365, 24).sum(axis=1)
    outside = sun.extraterrestrial_horizontal.reshape(365, 24).sum(axis=1)
    asked = rng.uniform(0.06, 1.0, 365) * days / outside
    light = hourly_light(asked, sun, clear, persistent_noise(rng.standard_normal(8760), 0.5))
    got = light.global_horizontal.reshape(365, 24).sum(axis=1) / outside

    assert np.abs(got / asked - 1).max() < 0.01
    assert (light.global_horizontal <= 1.05 * clear + 1e-6).all()


@few
@given(st.integers(0, 10_000))
def test_more_cloud_noise_makes_less_diffuse_light(seed):
    """The point of the noise: the smooth course overstates diffuse light."""
    rng = np.random.default_rng(seed)
    station = place(44.0)
    sun = sun_over_hours(START, 8760, station)
    clear = daylight.clear_sky_global(sun, 1500.0, 0.84)
    asked = rng.uniform(0.3, 0.7, 365)
    noise = persistent_noise(rng.standard_normal(8760), 0.54)
    rough = hourly_light(asked, sun, clear, noise)
    smooth = hourly_light(asked, sun, clear, 0 * noise)

    assert rough.diffuse_horizontal.sum() < smooth.diffuse_horizontal.sum()


@few
@given(st.integers(0, 10_000), st.floats(-60, 60))
def test_hours_keep_within_the_days_extremes(seed, latitude):
    rng = np.random.default_rng(seed)
    low = rng.normal(0, 6, 365)
    high = low + rng.uniform(2, 20, 365)
    hours = hourly_temperature(low, high, day_spans(START, 365, place(latitude))).reshape(365, 24)
    overlap = np.ones(365, dtype=bool)
    overlap[1:] &= (low[1:] < high[:-1]) & (high[1:] > low[:-1])
    overlap[:-1] &= overlap[1:]
    overlap[[0, -1]] = False

    assert (hours.min(axis=1)[overlap] >= low[overlap] - 1e-6).all()
    assert (hours.max(axis=1)[overlap] <= high[overlap] + 1e-6).all()


@quick
@given(st.lists(st.floats(1, 200), min_size=12, max_size=60), st.floats(0.1, 0.9))
def test_quantiles_lie_within_the_record_and_rise(values, probability):
    row = np.array(values)
    found = quantile(row, probability)

    assert row.min() <= found <= row.max()
    assert quantile(row, 0.9) >= quantile(row, 0.1)
