"""Frost dates against Thom & Shaw 1958 and the U.S. climate normals of 1991 to 2020."""

import numpy as np
import pytest

from hoopwright.climate.frost import (
    day_of_year,
    normal_chance_after,
    normal_first_frost,
    normal_last_frost,
    plotting_positions,
    quantile,
)
from hoopwright.climate.read.normals import read_frost_normals

ALBANY = {
    "STATION": "USW00014735",
    "NAME": "ALBANY AP",
    "LATITUDE": "42.7431",
    "LONGITUDE": "-73.8092",
    "ELEVATION": "    85.3",
    "ANN-TMIN-PRBLST-T32FP10": "   05/11",
    "ANN-TMIN-PRBLST-T32FP50": "   04/27",
    "ANN-TMIN-PRBLST-T32FP90": "   04/16",
    "ANN-TMIN-PRBFST-T32FP10": "   10/03",
    "ANN-TMIN-PRBFST-T32FP50": "   10/15",
    "ANN-TMIN-PRBFST-T32FP90": "   11/01",
    "ANN-TMIN-PRBGSL-T32FP50": "   170.0",
    "ANN-TMIN-PRBFST-T16FP10": "   -7777",
}
"""Dates: NOAA NCEI annual normals 1991-2020, Albany; length and last cell made up for the test."""


def written(tmp_path, cells):
    path = tmp_path / "normals.csv"
    rows = [",".join(f'"{name}"' for name in cells), ",".join(f'"{c}"' for c in cells.values())]
    path.write_text("\n".join(rows) + "\n")
    return path


def test_thom_and_shaw_normal_dates():
    """Mean day 135, deviation 12: 10 % later than 150.4, 90 % later than 119.6, P(145) 0.2023."""
    assert normal_last_frost(135, 12, 0.10) == pytest.approx(150.4, abs=0.05)
    assert normal_last_frost(135, 12, 0.90) == pytest.approx(119.6, abs=0.05)
    assert normal_first_frost(135, 12, 0.10) == pytest.approx(119.6, abs=0.05)
    assert normal_chance_after(135, 12, 145) == pytest.approx(0.2023, abs=1e-4)


def test_normals_file_of_albany(tmp_path):
    """Leading blanks, padded numbers, codes; the later spring date has the smaller chance."""
    normals = read_frost_normals(written(tmp_path, ALBANY))

    assert normals.last_spring[0.0] == {0.10: (5, 11), 0.50: (4, 27), 0.90: (4, 16)}
    assert normals.first_autumn[0.0] == {0.10: (10, 3), 0.50: (10, 15), 0.90: (11, 1)}
    assert normals.season_length[0.0] == {0.50: 170.0}
    assert normals.left_out == ("ANN-TMIN-PRBFST-T16FP10",)
    assert normals.station.elevation == pytest.approx(85.3)


def test_published_dates_are_skewed_so_one_normal_cannot_fit():
    """Albany spring: 14 days from the median to the 10 % date, 11 to the 90 % date."""
    late = day_of_year(5, 11) - day_of_year(4, 27)
    early = day_of_year(4, 27) - day_of_year(4, 16)
    z = 1.2816
    assert late / z == pytest.approx(10.9, abs=0.1)
    assert early / z == pytest.approx(8.6, abs=0.1)


def test_cunnane_positions_and_quantiles():
    """Cunnane 1978: (i - 0.4)/(n + 0.2); n = 9 gives 0.0652 first and the median in the middle."""
    positions = plotting_positions(9)
    assert positions[0] == pytest.approx(0.6 / 9.2)
    assert quantile(np.arange(1.0, 10.0), 0.5) == pytest.approx(5.0)


def test_quantile_against_scipy():
    """scipy's mquantiles with alphap = betap = 0.4 is the same rule."""
    from scipy.stats.mstats import mquantiles

    values = np.array([101.0, 118, 122, 127, 128, 131, 135, 139, 141, 150, 158, 163])
    for probability in (0.1, 0.25, 0.5, 0.77, 0.9):
        expected = mquantiles(values, [probability], alphap=0.4, betap=0.4)[0]
        assert quantile(values, probability) == pytest.approx(float(expected), abs=1e-9)


def test_a_short_record_knows_no_tail():
    assert np.isnan(quantile(np.array([120.0, 130.0, 140.0]), 0.05))
