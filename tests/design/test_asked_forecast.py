"""Which forecast is taken, and what warms the soil before it."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from importlib import resources

import numpy as np
import pytest

from hoopwright.climate.forecast.form import ForecastError
from hoopwright.design import design_of
from hoopwright.design.asked_forecast import DAYS_BEFORE, asked_forecast
from hoopwright.design.coming_days import bearing_of, coming_days, fabric_at_hand
from hoopwright.heat.compiled import compiled_march
from hoopwright.plan import read_plan_text
from hoopwright.season.tomorrow import joined

EXAMPLES = resources.files("hoopwright.climate.forecast").joinpath("examples")
SAID = {
    "/points/": EXAMPLES.joinpath("national_point.json").read_text("utf-8"),
    "/gridpoints/": EXAMPLES.joinpath("national_grid.json").read_text("utf-8"),
    "/v1/forecast": EXAMPLES.joinpath("global.json").read_text("utf-8"),
}
NOW = datetime(2026, 5, 14, 12, tzinfo=UTC)
READ = read_plan_text(
    '[site]\nlatitude = "44 N"\nlongitude = "110 W"\nelevation = "6200 ft"\n'
    '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
)
DESIGN = design_of(READ)


def asked(folder, *silent):
    """Return what is asked where some services are silent."""

    def get(address):
        part = next(part for part in SAID if part in address)
        if part in silent:
            raise ForecastError(f"{part} is silent.")
        return SAID[part]

    return asked_forecast(READ, DESIGN, folder, get=get, now=NOW)


def test_the_days_before_a_national_forecast_come_from_the_global_service(tmp_path):
    found = asked(tmp_path)
    assert "National Weather Service" in found.forecast.notes[0]
    assert "CC BY 4.0" in found.forecast.notes[-1]
    ahead, whole = found.forecast.weather, joined(found.past, found.forecast.weather)
    gone = len(whole) - len(ahead)
    assert gone >= 24
    assert whole.start + timedelta(hours=gone) == ahead.start
    np.testing.assert_array_equal(whole.air_temperature[gone:], ahead.air_temperature)
    np.testing.assert_array_equal(whole.air_temperature[:gone], found.past.air_temperature[:gone])


def test_where_the_global_service_is_silent_typical_days_come_before(tmp_path):
    found = asked(tmp_path, "/v1/forecast")
    assert "typical" in found.forecast.notes[-1]
    ahead, whole = found.forecast.weather, joined(found.past, found.forecast.weather)
    gone = len(whole) - len(ahead)
    assert 24 * DAYS_BEFORE <= gone < 24 * (DAYS_BEFORE + 1)
    # As warm as the forecast within the weather's own swing from day to day.
    before = whole.air_temperature[:gone].mean()
    assert abs(before - ahead.air_temperature.mean()) < 8.0


def test_the_global_service_brings_its_own_days(tmp_path):
    found = asked(tmp_path, "/points/")
    assert "Open-Meteo" in found.forecast.notes[0]
    assert len(joined(found.past, found.forecast.weather)) >= len(found.forecast.weather)


def test_where_both_are_silent_typical_days_run_on_from_those_before(tmp_path):
    found = asked(tmp_path, *SAID)
    assert found.forecast.issued is None
    assert found.past.start == found.forecast.weather.start - timedelta(days=DAYS_BEFORE)
    assert "silent" in found.forecast.notes[0]


@pytest.mark.parametrize("shift", [-12.0, 12.0])
def test_the_soil_remembers_the_days_before(tmp_path, shift):
    """Colder days before give a colder night: the soil warms the leaves."""
    found = asked(tmp_path, "/v1/forecast")
    day = date(2026, 5, 15)
    moved = replace(found.past, air_temperature=found.past.air_temperature + shift)
    as_found, as_moved = (
        coming_days(DESIGN, found.forecast, day, past, compiled_march())[0].night_leaf
        for past in (found.past, moved)
    )
    assert np.sign(as_moved - as_found) == np.sign(shift)


def test_advice_is_with_what_the_plan_has(tmp_path):
    """No fabric unless one is at hand; no sides to roll where none has a rail; generated days are
    told as generated, not as on record."""
    text = (
        '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[cover]\nroll_up = "none"\n'
        '[season]\ncrops = ["tomato"]\n'
    )
    fabric = '[[stock]]\nitem = "fabric-1.0"\nwidth = "10 ft"\nlength = "20 ft"\n'
    assert fabric_at_hand(design_of(read_plan_text(text))) is None
    read = read_plan_text(text + fabric)
    design = design_of(read)
    assert fabric_at_hand(design) is not None
    found = asked_forecast(read, design, tmp_path, now=NOW)
    notes = " ".join(found.forecast.notes)
    assert "generated year of Marrow Valley (invented)" in notes
    assert "record" not in notes
    march = compiled_march()
    (one, *_) = coming_days(design, found.forecast, NOW.date(), found.past, march)
    assert (one.opens, one.height) == (None, 0.0)


def test_a_storm_is_judged_by_what_nine_beds_in_ten_stand():
    """The tenth percentile of the drawn beds, by NumPy: shut in wind, and under new snow."""
    bears, ladder = bearing_of(DESIGN), DESIGN.ladder
    assert bears.gust == pytest.approx(np.quantile(ladder.opens.at, 0.1), rel=1e-3)
    fresh = [r for r in ladder.snow if "fresh" in r.case and r.harm != "nuisance"]
    least = min(np.quantile(rung.at, 0.1) for rung in fresh)
    assert bears.snow == pytest.approx(least, rel=1e-3)
