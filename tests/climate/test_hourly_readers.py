"""EPW and TMY3 in: what is read, what is mended and said, what is refused and where."""

import numpy as np
import pytest

from hoopwright.climate.read import WeatherFileError, read_daily, read_weather

CELL = {"air": 6, "dew": 7, "humidity": 8, "pressure": 9, "global": 13, "direct": 14, "diffuse": 15,
        "direction": 20, "wind": 21, "total": 22, "opaque": 23, "snow": 30, "rain": 33}  # fmt: skip


def put(lines, row, cell, value):
    """Return the lines with one cell of data row `row` (from 0) replaced."""
    changed = list(lines)
    cells = changed[8 + row].split(",")
    cells[CELL[cell]] = value
    changed[8 + row] = ",".join(cells)
    return changed


def write(tmp_path, lines, end="\n", encoding="utf-8"):
    path = tmp_path / "year.epw"
    path.write_bytes((end.join(lines) + end).encode(encoding))
    return path


def test_epw_comes_back_as_written(tmp_path, epw, year):
    read = read_weather(write(tmp_path, epw))

    assert read.station.elevation == 2050.0
    assert read.station.utc_offset == -7.0
    assert read.repairs == ()
    assert not read.typical_year
    assert np.abs(read.air_temperature - year.air_temperature).max() < 0.006
    assert np.abs(read.global_horizontal - year.global_horizontal).max() < 0.06
    assert np.abs(read.snow_depth - year.snow_depth).max() < 6e-4
    assert np.isnan(read.sky_infrared).all()


def test_tmy3_comes_back_as_written(tmp_path, tmy3, year):
    read = read_weather(write(tmp_path, tmy3))

    assert read.typical_year
    assert read.station.latitude == 44.0
    assert np.abs(read.pressure - year.pressure).max() < 1.0
    assert np.abs(read.wind_speed - year.wind_speed).max() < 0.006
    assert np.isnan(read.precipitation).all()


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_any_line_end(tmp_path, epw, end):
    assert read_weather(write(tmp_path, epw, end)).repairs == ()


def test_latin_1_and_byte_order_mark_are_said(tmp_path, epw):
    lines = [epw[0].replace("Marrow", "Märröw"), *epw[1:]]

    latin = read_weather(write(tmp_path, lines, encoding="latin-1"))
    assert latin.station.name == "Märröw Valley"
    assert any("Latin-1" in repair for repair in latin.repairs)
    marked = read_weather(write(tmp_path, lines, encoding="utf-8-sig"))
    assert any("byte-order mark" in repair for repair in marked.repairs)


def test_short_gap_is_drawn_across_and_said(tmp_path, epw, year):
    lines = put(put(epw, 3000, "air", "99.9"), 3001, "air", "99.9")
    read = read_weather(write(tmp_path, lines))

    ends = year.air_temperature[[2999, 3002]]
    assert read.air_temperature[3000] == pytest.approx(ends[0] + (ends[1] - ends[0]) / 3, abs=0.02)
    assert len(read.repairs) == 1
    assert "2 missing hours in 1 gaps (first near line 3009)" in read.repairs[0]


def test_long_gap_is_refused_with_its_line(tmp_path, epw):
    lines = epw
    for row in range(100, 108):
        lines = put(lines, row, "wind", "999")
    with pytest.raises(WeatherFileError, match="wind speed is missing for 8 hours") as caught:
        read_weather(write(tmp_path, lines))
    assert caught.value.line == 109


def test_missing_hours_are_filled_and_said(tmp_path, epw):
    lines = epw[:2000] + epw[2003:]
    read = read_weather(write(tmp_path, lines))

    assert len(read) == 8760
    assert any("3 hours are not in the file (first after line 2000)" in r for r in read.repairs)


def test_a_missing_day_is_refused(tmp_path, epw):
    with pytest.raises(WeatherFileError, match="24 hours are missing") as caught:
        read_weather(write(tmp_path, epw[:2000] + epw[2024:]))
    assert caught.value.line == 2001


def test_cut_off_file_is_refused(tmp_path, epw):
    with pytest.raises(WeatherFileError, match="the file ends 3752 hours before") as caught:
        read_weather(write(tmp_path, epw[:5016]))
    assert caught.value.line == 5016


def test_leap_day_in_a_common_year_is_left_out_and_said(tmp_path, epw):
    at = 8 + 59 * 24
    leap = [line.replace("2001,2,28", "2001,2,29", 1) for line in epw[at - 24 : at]]
    read = read_weather(write(tmp_path, epw[:at] + leap + epw[at:]))

    assert len(read) == 8760
    assert any("29 February (24 rows) was left out" in repair for repair in read.repairs)


def test_true_leap_year_keeps_its_day(tmp_path, epw):
    lines = [line.replace("2001,", "2004,", 1) for line in epw]
    at = 8 + 59 * 24
    leap = [line.replace("2004,2,28", "2004,2,29", 1) for line in lines[at - 24 : at]]
    read = read_weather(write(tmp_path, lines[:at] + leap + lines[at:]))

    assert len(read) == 8784
    assert read.start.year == 2004


@pytest.mark.parametrize(("zone", "side"), [("-8.0", "late"), ("-6.0", "early"), ("-5.0", "early")])
def test_wrong_zone_is_refused_by_the_sun(tmp_path, epw, zone, side):
    lines = [epw[0].replace("-7.0", zone), *epw[1:]]
    with pytest.raises(WeatherFileError, match="sun shines") as caught:
        read_weather(write(tmp_path, lines))
    assert caught.value.line == 1
    assert side in str(caught.value) or "W/m2" in str(caught.value)


def test_wrong_sign_of_longitude_and_zone_off_the_map(tmp_path, epw):
    lines = [epw[0].replace("-110.00", "110.00"), *epw[1:]]
    with pytest.raises(WeatherFileError, match="is a sign wrong"):
        read_weather(write(tmp_path, lines))


def test_southern_latitude_is_refused_by_the_sun(tmp_path, epw):
    lines = [epw[0].replace("44.00", "-44.00"), *epw[1:]]
    with pytest.raises(WeatherFileError, match="global radiation"):
        read_weather(write(tmp_path, lines))


def test_sea_level_pressure_is_refused(tmp_path, epw):
    lines = epw[:8] + [
        ",".join([*row.split(",")[:9], "101300", *row.split(",")[10:]]) for row in epw[8:]
    ]
    with pytest.raises(WeatherFileError, match="not pressure reduced to sea level"):
        read_weather(write(tmp_path, lines))


def test_swapped_radiation_columns_are_refused(tmp_path, epw):
    lines = epw[:8]
    for row in epw[8:]:
        cells = row.split(",")
        cells[14], cells[15] = cells[15], cells[14]
        lines.append(",".join(cells))
    with pytest.raises(WeatherFileError, match=r"are the radiation columns in order\?|outside"):
        read_weather(write(tmp_path, lines))


def test_dew_point_from_humidity_and_cover_from_light(tmp_path, epw, year):
    lines = epw[:8]
    for row in epw[8:]:
        cells = row.split(",")
        cells[7], cells[8], cells[22], cells[23] = "99.9", "50", "99", "99"
        lines.append(",".join(cells))
    read = read_weather(write(tmp_path, lines))

    said = " ".join(read.repairs)
    assert "came from relative humidity" in said
    assert "Kasten & Czeplak" in said
    assert (read.dew_point < read.air_temperature).all()
    day = year.global_horizontal > 100
    assert np.corrcoef(read.sky_cover[day], year.sky_cover[day])[0, 1] > 0.9


def test_only_global_radiation_is_split_and_said(tmp_path, epw, year):
    lines = epw[:8]
    for row in epw[8:]:
        cells = row.split(",")
        cells[14] = cells[15] = "9999"
        lines.append(",".join(cells))
    read = read_weather(write(tmp_path, lines))

    assert any("Erbs" in repair for repair in read.repairs)
    assert read.diffuse_horizontal.sum() == pytest.approx(year.diffuse_horizontal.sum(), rel=0.02)


@pytest.mark.parametrize(
    ("cell", "value", "problem"),
    [
        ("air", "-300", "outside"),
        ("air", "abc", "not a number"),
        ("air", "nan", "not a plain number"),
        ("air", "1_0", "not a plain number"),
        ("air", "inf", "not a plain number"),
        ("dew", "", "not a number"),
        ("pressure", "20000", "outside"),
        ("wind", "-1", "outside"),
        ("direction", "370", "outside"),
        ("global", "-5", "outside"),
        ("global", "1500", "arrives above the air"),
        ("total", "11", "outside"),
        ("rain", "-2", "outside"),
    ],
)
def test_impossible_figures_are_refused_with_line_and_column(tmp_path, epw, cell, value, problem):
    with pytest.raises(WeatherFileError, match=problem) as caught:
        read_weather(write(tmp_path, put(epw, 4000, cell, value)))
    assert caught.value.line == 4009
    assert caught.value.column is not None


def test_spike_is_refused(tmp_path, epw, year):
    lines = put(epw, 4000, "air", f"{year.air_temperature[4000] + 30:.1f}")
    with pytest.raises(WeatherFileError, match="between"):
        read_weather(write(tmp_path, lines))


@pytest.mark.parametrize(
    ("content", "problem"),
    [
        (b"", "empty"),
        (b"hello\nworld\n", "not a weather format known here"),
        (b"<html><body>Not Found</body></html>", "not a weather format known here"),
        (b"PK\x03\x04zzzz", "compressed"),
        ("LOCATION,a\n".encode("utf-16"), "UTF-16"),
        (b"LOCATION,a,b\x00\n", "zero byte"),
        (b"LOCATION,a,b\n", "first line must be LOCATION"),
    ],
)
def test_what_is_no_weather_file(tmp_path, content, problem):
    path = tmp_path / "x.epw"
    path.write_bytes(content)
    with pytest.raises(WeatherFileError, match=problem):
        read_weather(path)


def test_absent_file_and_folder(tmp_path):
    for path in (tmp_path / "absent.epw", tmp_path):
        with pytest.raises(WeatherFileError, match="cannot be opened"):
            read_weather(path)


def test_hours_are_not_days_nor_days_hours(tmp_path, epw):
    with pytest.raises(WeatherFileError, match="not a daily record"):
        read_daily(write(tmp_path, epw))
    path = tmp_path / "days.csv"
    path.write_text("USW00099999,20010101,TMIN,-50,,,7,0700\n")
    with pytest.raises(WeatherFileError, match="a daily record, not hourly"):
        read_weather(path)


def test_half_hourly_file_is_refused(tmp_path, epw):
    lines = [*epw[:7], epw[7].replace("PERIODS,1,1", "PERIODS,1,2"), *epw[8:]]
    with pytest.raises(WeatherFileError, match="2 records an hour") as caught:
        read_weather(write(tmp_path, lines))
    assert caught.value.line == 8


def test_totals_over_several_hours_are_not_counted_twice():
    from hoopwright.climate.read.gaps import share_out_totals

    nan = np.nan
    depth = np.array([1.0, 2.0, 6.0, nan, nan, 6.0])
    hours = np.array([1.0, 1.0, 3.0, nan, nan, 3.0])
    shared = share_out_totals(depth, hours)

    assert shared[:2].tolist() == [1.0, 2.0]
    assert np.isnan(shared[2])
    assert shared[3:].tolist() == [2.0, 2.0, 2.0]
