"""The sun against Reda & Andreas 2004 (NREL/TP-560-34302), its worked sample."""

from datetime import datetime

import numpy as np
import pytest

from hoopwright.climate.sun import (
    day_spans,
    days_since_2000,
    sun_position,
)
from hoopwright.climate.weather import Station

SAMPLE = Station("sample of the report", 39.742476, -105.1786, 1830.14, -7.0)


def test_sample_position():
    """17 October 2003, 12:30:30: zenith 50.111622, azimuth 194.340241 deg.

    Ours is the Almanac's short series, not the report's; 0.01 deg is its own claim.
    """
    days = days_since_2000(datetime(2003, 10, 17, 12, 30, 30), np.array([0.0]), -7.0)
    seen = sun_position(days, 39.742476, -105.1786, pressure=82000.0, temperature=11.0)

    assert 90 - seen.elevation[0] == pytest.approx(50.111622, abs=0.01)
    assert seen.azimuth[0] == pytest.approx(194.340241, abs=0.01)


def test_sample_sunrise_and_sunset():
    """Sunrise 06:12:43, sunset 17:20:19.

    The report counts by universal day, so its sunset is that of 16 October in local time.
    """
    rise = day_spans(datetime(2003, 10, 17), 1, SAMPLE).sunrise[0]
    set_before = day_spans(datetime(2003, 10, 16), 1, SAMPLE).sunset[0]

    assert rise == pytest.approx(6 + 12 / 60 + 43 / 3600, abs=5 / 3600)
    assert set_before == pytest.approx(17 + 20 / 60 + 19 / 3600, abs=5 / 3600)


def test_solstice_and_equinox_noons():
    """Astronomy, no source needed: 90 - latitude, and 23.44 deg to either side."""
    for moment, tilt in ((datetime(2024, 6, 20, 21), 23.437), (datetime(2024, 12, 21, 9), -23.437)):
        hours = np.linspace(-14, 14, 2000)
        days = days_since_2000(moment, hours, 0.0)
        top = sun_position(days, 44.0, 0.0, refracted=False).elevation.max()
        assert top == pytest.approx(90 - 44.0 + tilt, abs=0.02)
