"""Hundreds of broken files: each refused with its place, or mended and said; never guessed.

The breaking is seeded, so the same files come every time. A change that leaves the file
meaning the same (line ends) must read the same; everything else must raise WeatherFileError
or add a sentence to `repairs`, or leave the figures exactly as they were written.
"""

import random

import numpy as np
import pytest
from rounds import turns

from hoopwright.climate.read import WeatherFileError, read_daily, read_weather

EPW_COLUMNS = {6: "99.9", 7: "99.9", 9: "999999", 13: "9999", 20: "999", 21: "999", 23: "99"}
READ_COLUMNS = [6, 7, 9, 13, 14, 15, 20, 21, 22, 23]
GARBAGE = ["", "x", "--", "1e999", "nan", "-inf", "1,2", "12:30", "0x1F", "１２", "3.4.5", "1_000"]


def pick_row(rng, lines, first=8):
    return rng.randrange(first, len(lines))


def change_cell(lines, at, column, value):
    cells = lines[at].split(",")
    cells[column] = value
    return [*lines[:at], ",".join(cells), *lines[at + 1 :]]


def garbage_in_a_cell(rng, lines):
    return change_cell(lines, pick_row(rng, lines), rng.choice(READ_COLUMNS), rng.choice(GARBAGE))


def impossible_value(rng, lines):
    value = rng.choice(["-888", "5000", "1e7", "-1e7", "123456789"])
    return change_cell(lines, pick_row(rng, lines), rng.choice([6, 7, 9, 14, 15, 20, 21]), value)


def truncated_text(rng, lines):
    text = "\n".join(lines)
    return text[: rng.randrange(200, len(text) - 400)].split("\n")


def dropped_cell(rng, lines):
    at = pick_row(rng, lines)
    cells = lines[at].split(",")
    del cells[rng.randrange(len(cells))]
    return [*lines[:at], ",".join(cells), *lines[at + 1 :]]


def extra_cell(rng, lines):
    at = pick_row(rng, lines)
    cells = lines[at].split(",")
    cells.insert(rng.randrange(len(cells)), "0")
    return [*lines[:at], ",".join(cells), *lines[at + 1 :]]


def missing_code(rng, lines):
    column = rng.choice(list(EPW_COLUMNS))
    at = rng.randrange(60, len(lines) - 60)
    for row in range(at, at + rng.randrange(1, 5)):
        lines = change_cell(lines, row, column, EPW_COLUMNS[column])
    return lines


def long_missing(rng, lines):
    column = rng.choice([6, 7, 21])
    at = rng.randrange(60, len(lines) - 60)
    for row in range(at, at + rng.randrange(7, 40)):
        lines = change_cell(lines, row, column, EPW_COLUMNS[column])
    return lines


def dropped_hours(rng, lines):
    at = rng.randrange(60, len(lines) - 90)
    return lines[:at] + lines[at + rng.randrange(1, 60) :]


def doubled_row(rng, lines):
    at = pick_row(rng, lines)
    return [*lines[:at], lines[at], *lines[at:]]


def doubled_hour_with_other_figures(rng, lines):
    at = pick_row(rng, lines)
    return [*change_cell(lines, at, 6, "3.33")[: at + 1], *lines[at:]]


def swapped_rows(rng, lines):
    at = rng.randrange(9, len(lines) - 30)
    other = at + rng.randrange(1, 25)
    lines = list(lines)
    lines[at], lines[other] = lines[other], lines[at]
    return lines


def wrong_date(rng, lines):
    column, value = rng.choice([(1, "13"), (1, "0"), (2, "31.5"), (2, "32"), (3, "0"), (3, "25")])
    return change_cell(lines, pick_row(rng, lines), column, value)


def wrong_zone(rng, lines):
    zone = rng.choice(["-9.0", "-8.0", "-6.0", "-5.0", "-4.0", "0.0", "7.0", "15", "MST"])
    return [lines[0].replace("-7.0", zone), *lines[1:]]


def wrong_place(rng, lines):
    old, new = rng.choice(
        [("44.00", "-44.00"), ("44.00", "444"), ("-110.00", "110.00"), ("2050.0", "12.0"),
         ("2050.0", ""), ("-110.00", "W110"), ("2050.0", "20500")]
    )  # fmt: skip
    return [lines[0].replace(old, new), *lines[1:]]


def missing_header_line(rng, lines):
    at = rng.choice([0, 7])
    return lines[:at] + lines[at + 1 :]


def leap_rows(rng, lines):
    at = 8 + 59 * 24
    extra = [line.replace(",2,28,", ",2,29,", 1) for line in lines[at - 24 : at]]
    return lines[:at] + extra[: rng.randrange(1, 25)] + lines[at:]


def extra_days_at_the_end(rng, lines):
    return lines + lines[8 : 8 + rng.randrange(1, 48)]


def empty_line_amid(rng, lines):
    at = pick_row(rng, lines)
    return [*lines[:at], "", *lines[at:]]


def semicolons(rng, lines):
    return [*lines[:8], *(line.replace(",", ";") for line in lines[8:])]


def temperature_spike(rng, lines):
    at = rng.randrange(60, len(lines) - 60)
    value = float(lines[at].split(",")[6]) + rng.choice([-35, -25, 25, 28])
    return change_cell(lines, at, 6, f"{value:.1f}")


def sun_at_midnight(rng, lines):
    at = 8 + 24 * rng.randrange(365)
    return change_cell(lines, at, 13, str(rng.randrange(40, 1000)))


def bytes_in_the_middle(rng, lines):
    at = pick_row(rng, lines)
    row = lines[at]
    cut = rng.randrange(8, len(row))
    return [*lines[:at], row[:cut] + rng.choice("§ýÿ\x00\x07") + row[cut:], *lines[at + 1 :]]


WAYS = [
    garbage_in_a_cell, impossible_value, truncated_text, dropped_cell, extra_cell, missing_code,
    long_missing, dropped_hours, doubled_row, doubled_hour_with_other_figures, swapped_rows,
    wrong_date, wrong_zone, wrong_place, missing_header_line, leap_rows, extra_days_at_the_end,
    empty_line_amid, semicolons, temperature_spike, sun_at_midnight, bytes_in_the_middle,
]  # fmt: skip
PER_WAY = turns(3, 14)


def outcome(path, read):
    """Return ('refused', error) or ('read', record); anything else raised is a failure."""
    try:
        return "read", read(path)
    except WeatherFileError as error:
        return "refused", error


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_broken_epw(way, tmp_path, epw):
    rng = random.Random(f"epw {way.__name__}")
    path = tmp_path / "broken.epw"
    answers = set()
    for _ in range(PER_WAY):
        broken = way(rng, list(epw))
        encoding = rng.choice(["utf-8", "latin-1"]) if way is bytes_in_the_middle else "utf-8"
        path.write_bytes("\n".join(broken).encode(encoding, "replace"))
        kind, found = outcome(path, read_weather)
        answers.add(kind)
        if kind == "refused":
            assert str(path) in str(found)
            assert "Traceback" not in str(found)
            assert found.line is not None or found.column is not None
        else:
            untouched = unread_cells_only(broken, epw)
            assert found.repairs or untouched, f"{way.__name__}: read without a word"
            assert np.isfinite(found.air_temperature).all()
    if way in NEVER_READ:
        assert answers == {"refused"}


NEVER_READ = {
    impossible_value, truncated_text, extra_cell, dropped_cell, long_missing,
    doubled_hour_with_other_figures, swapped_rows, wrong_date, wrong_zone, wrong_place,
    missing_header_line, extra_days_at_the_end, empty_line_amid, semicolons, temperature_spike,
    sun_at_midnight,
}  # fmt: skip
"""Ways of breaking for which nothing but refusal will do."""


def unread_cells_only(broken, sound):
    """Return whether every cell that the reader uses is as it was."""
    if len(broken) != len(sound):
        return False
    used = [0, 1, 2, 3, *READ_COLUMNS, 8, 12, 30, 33, 34]
    for mine, theirs in zip(broken, sound, strict=True):
        if mine == theirs:
            continue
        left, right = mine.split(","), theirs.split(",")
        if len(left) != len(right) or any(left[k] != right[k] for k in used):
            return False
    return True


TMY3_WAYS = ["cell", "cut", "date", "heading", "zone", "gap"]


@pytest.mark.parametrize("way", TMY3_WAYS)
def test_broken_tmy3(way, tmp_path, tmy3):
    rng = random.Random(f"tmy3 {way}")
    path = tmp_path / "broken.csv"
    for _ in range(turns(3, 6)):
        lines = list(tmy3)
        at = rng.randrange(2, len(lines))
        if way == "cell":
            lines = change_cell(lines, at, rng.choice([2, 7, 8, 10, 12]), rng.choice(GARBAGE))
        elif way == "cut":
            lines = lines[:at]
        elif way == "date":
            lines = change_cell(lines, at, 0, rng.choice(["2001-01-01", "02/30/2001", "1/1", ""]))
        elif way == "heading":
            name = rng.choice(["GHI (W/m^2)", "Dry-bulb (C)", "Wspd (m/s)"])
            lines[1] = lines[1].replace(name, "?")
        elif way == "zone":
            lines[0] = lines[0].replace("-7.0", rng.choice(["-6.0", "-8.5", "9", "x"]))
        else:
            lines = lines[:at] + lines[at + rng.randrange(8, 30) :]
        path.write_text("\n".join(lines))
        kind, found = outcome(path, read_weather)
        assert kind == "refused", f"{way}: read without a word"
        assert found.line is not None


def daily_lines(rng, days=800):
    first = np.datetime64("2001-01-01")
    lines = []
    for day in range(days):
        stamp = str(first + day).replace("-", "")
        low = rng.randrange(-200, 100)
        for element, value in (("TMAX", low + 120), ("TMIN", low), ("PRCP", rng.randrange(50))):
            lines.append(f"USX00099999,{stamp},{element},{value},,,7,0800")
    return lines


DAILY_WAYS = ["value", "date", "station", "columns", "double", "element", "nothing"]


@pytest.mark.parametrize("way", DAILY_WAYS)
def test_broken_daily_csv(way, tmp_path):
    rng = random.Random(f"daily {way}")
    path = tmp_path / "broken.csv"
    sound = daily_lines(rng)
    for _ in range(10):
        lines = list(sound)
        at = rng.randrange(len(lines))
        if way == "value":
            value = rng.choice(["", "x", "1.5", "99999", "-99998", "１２", "--4", "1e3"])
            lines = change_cell(lines, at, 3, value)
        elif way == "date":
            value = rng.choice(["20010230", "2001", "0", "20011301", "2001010a", "00000101"])
            lines = change_cell(lines, at, 1, value)
        elif way == "station":
            lines = change_cell(lines, max(at, 1), 0, "USX00011111")
        elif way == "columns":
            lines[at] = ",".join(lines[at].split(",")[: rng.randrange(1, 7)])
        elif way == "double":
            cells = lines[at].split(",")
            lines.append(",".join([*cells[:3], str(int(cells[3]) + 5), *cells[4:]]))
        elif way == "element":
            lines = change_cell(lines, at, 2, rng.choice(["", "tm", "TMAXX", "T-AX"]))
        else:
            lines = [line for line in lines if ",TMIN," not in line]
        path.write_text("\n".join(lines))
        kind, found = outcome(path, read_daily)
        assert kind == "refused", f"{way}: read without a word"
        assert found.line is not None or way == "nothing"
