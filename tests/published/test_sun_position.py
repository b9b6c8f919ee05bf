"""The sun against Reda & Andreas 2004 (NREL/TP-560-34302), its worked sample."""

from datetime import datetime

import numpy as np
import pytest

from hoopwright.climate.sun import day_spans, sun_over_hours
from hoopwright.climate.weather import Station

SAMPLE = Station("sample of the report", 39.742476, -105.1786, 1830.14, -7.0)


def test_sample_sunrise_and_sunset():
    """Sunrise 06:12:43, sunset 17:20:19.

    The report counts by universal day, so its sunset is that of 16 October in local time.
    """
    rise = day_spans(datetime(2003, 10, 17), 1, SAMPLE).sunrise[0]
    set_before = day_spans(datetime(2003, 10, 16), 1, SAMPLE).sunset[0]

    assert rise == pytest.approx(6 + 12 / 60 + 43 / 3600, abs=5 / 3600)
    assert set_before == pytest.approx(17 + 20 / 60 + 19 / 3600, abs=5 / 3600)


def test_solstice_noons():
    """Astronomy, no source needed: the noon sun stands at 90 - latitude, and 23.44 deg to either
    side; the mean of the hour about it lies 1 - sin(7.5 deg)/7.5 deg of the swing below."""
    for start, tilt in (
        (datetime(2024, 6, 20, 11, 30), 23.437),
        (datetime(2024, 12, 21, 11, 30), -23.437),
    ):
        sun = sun_over_hours(start, 1, Station("any", 44.0, 0.0, 0.0, 0.0))
        swing = np.cos(np.radians(44.0)) * np.cos(np.radians(tilt))
        mean = np.sin(np.radians(46.0 + tilt)) - swing * (1 - np.sin(np.pi / 24) / (np.pi / 24))
        assert sun.sine_elevation[0] == pytest.approx(mean, abs=1e-4)
