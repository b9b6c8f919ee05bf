"""The sun against Reda & Andreas 2004 (NREL/TP-560-34302), its worked sample.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from datetime import datetime

import numpy as np
import pytest

from hoopwright.climate.sun import (
    days_since_2000,
    equation_of_time,
)


def test_sample_equation_of_time():
    """Report, table A5.1: 14.641503 min (from memory); the short series is good to 0.1 min."""
    days = days_since_2000(datetime(2003, 10, 17, 12, 30, 30), np.array([0.0]), -7.0)

    assert equation_of_time(days)[0] == pytest.approx(14.6415, abs=0.1)
