"""GHCN-Daily in both its forms, and the station list."""

from datetime import date

import numpy as np
import pytest

from hoopwright.climate.read import WeatherFileError, read_daily


def dly_line(element, values, year=2003, month=2, flags=None):
    flags = flags or {}
    cells = [f"{value:5d} {flags.get(day, ' ')}7" for day, value in enumerate(values, start=1)]
    cells += ["-9999   "] * (31 - len(cells))
    return f"USX00099999{year:04d}{month:02d}{element}" + "".join(cells)


def test_fixed_width_month(tmp_path):
    """Field widths of the archive's readme: value 5, three flags, from character 22 on."""
    lows = list(range(-150, -122))
    highs = [value + 110 for value in lows]
    path = tmp_path / "x.dly"
    path.write_text(
        "\n".join(
            [
                dly_line("TMAX", highs, flags={4: "X"}),
                dly_line("TMIN", lows),
                dly_line("PRCP", [0] * 27 + [254]),
                dly_line("SNWD", [305] * 28),
                dly_line("WT01", [1] * 28),
            ]
        )
    )
    record = read_daily(path)

    assert record.first == date(2003, 2, 1)
    assert len(record) == 28
    assert record.minimum[:2] == pytest.approx([-15.0, -14.9])
    assert np.isnan(record.maximum[3])
    assert record.precipitation[-1] == pytest.approx(25.4)
    assert record.snow_depth[0] == pytest.approx(0.305)
    assert any("1 values that the archive's own checks doubt" in r for r in record.repairs)


def test_csv_with_gap_flag_and_morning_reader(tmp_path):
    rows = [
        "USX00099999,20030401,TMAX,156,,,7,0700",
        "USX00099999,20030401,TMIN,-28,,,7,0700",
        "USX00099999,20030404,TMIN,11,,,7,0700",
        "USX00099999,20030404,TMAX,-100,,,7,0700",
        "USX00099999,20030405,TMIN,400,,I,7,0700",
        "USX00099999,20030405,PRCP,13,,,7,",
        "USX00099999,20030405,WESD,13,,,7,",
    ]
    path = tmp_path / "x.csv"
    path.write_text("\n".join(rows) + "\n")
    record = read_daily(path)

    assert len(record) == 5
    assert record.minimum[0] == pytest.approx(-2.8)
    assert np.isnan(record.minimum[1:]).all()
    said = " ".join(record.repairs)
    assert "1 days with the maximum below the minimum" in said
    assert "read in the morning" in said
    assert record.morning_share == 1.0


def test_a_value_on_the_31st_of_february(tmp_path):
    path = tmp_path / "x.dly"
    path.write_text(dly_line("TMIN", list(range(31))))
    with pytest.raises(WeatherFileError, match="a month of 28") as caught:
        read_daily(path)
    assert caught.value.line == 1
    assert caught.value.column == "characters 246-250"


def test_a_short_line(tmp_path):
    path = tmp_path / "x.dly"
    path.write_text(dly_line("TMIN", [1] * 28)[:120])
    with pytest.raises(WeatherFileError, match="269 are wanted"):
        read_daily(path)
