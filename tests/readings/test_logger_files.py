"""Thirty odd logger files read right: times, units, columns, zone; what cannot be told is asked."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from logger_styles import START, Style, moments, styles, truth

from hoopwright.readings.adding import LoggerClock, read_file
from hoopwright.readings.clean import clean
from hoopwright.readings.hourly import hours_of, to_standard
from hoopwright.readings.recognise import Answers, Logger, read_logger
from hoopwright.readings.text import ReadingsError

STYLES = styles()


def read(tmp_path: Path, style: Style, name: str = "export.csv") -> Logger:
    """Return a style's file as read, with the answers it needs."""
    path = tmp_path / name
    path.write_bytes(style.data)
    given = {key: value for key, value in style.answers.items() if key != "unnamed"}
    return read_logger(path, Answers(**given))


def test_there_are_thirty_styles() -> None:
    """As many as were asked for."""
    assert len(STYLES) >= 30


@pytest.mark.parametrize("name", sorted(STYLES))
def test_each_style_is_read_right(name: str, tmp_path: Path) -> None:
    """Every reading stands at its time in degrees Celsius, in local standard time."""
    style = STYLES[name]
    logger = read(tmp_path, style)
    assert logger.offset == style.offset
    if style.answers.get("unnamed"):
        assert any("inside" in question for question in logger.questions)
        columns = dict(zip(("inside", "outside"), logger.columns, strict=True))
    else:
        assert logger.questions == ()
        roles = [style.only] if style.only else ["inside", "outside"]
        columns = {role: logger.of(role) for role in roles}  # type: ignore[arg-type,misc]
        assert len(logger.columns) == len(roles)
    times = [when for when in logger.times if when is not None]
    standard = to_standard(times, logger.offset, -7.0, None)
    for role, column in columns.items():
        assert column is not None
        good = [value for value, t in zip(column.values, logger.times, strict=True) if t]
        for when, value in zip(standard, good, strict=True):
            exact = when.replace(second=0)
            wanted = truth(exact)[0 if role == "inside" else 1] + style.shift
            assert value == pytest.approx(wanted, abs=0.06), (role, when)
    assert standard[0].replace(second=0) == START


@pytest.mark.parametrize("name", [key for key, style in STYLES.items() if style.asks])
def test_what_cannot_be_told_is_asked(name: str, tmp_path: Path) -> None:
    """Without an answer there is a question, and the question names the option to give."""
    style = STYLES[name]
    logger = read(tmp_path, Style(style.data))
    assert logger.questions
    assert all("--" in question for question in logger.questions)


def test_a_file_without_a_table_is_refused_in_words(tmp_path: Path) -> None:
    """One message, with what to do."""
    for data in (b"", b"hello\nworld\n", b"\x00\xff\x12" * 400, b"a,b\n1,2\n3,4\n"):
        path = tmp_path / "x.csv"
        path.write_bytes(data)
        with pytest.raises(ReadingsError, match=r"export|found"):
            read_logger(path)


def test_spikes_codes_and_stuck_sensors_are_found_and_only_they() -> None:
    """Each planted fault is told with its row; no good reading is lost."""
    times = moments()
    values = np.array([truth(when)[1] for when in times])
    spoilt = values.copy()
    spoilt[50] = 41.0
    spoilt[90:92] = -30.0
    spoilt[120] = 85.0
    spoilt[121] = -127.0
    spoilt[200:230] = 7.3
    found = clean(times, [spoilt], first_row=2)
    told = {(fault.kind, fault.row) for fault in found.faults}
    assert {("spike", 52), ("spike", 92), ("spike", 93)} <= told
    assert {("code", 122), ("code", 123), ("stuck", 202)} <= told
    left = np.isfinite(found.values[0])
    bad = np.zeros(len(times), dtype=bool)
    bad[[50, 90, 91, 120, 121, *range(200, 230)]] = True
    assert (left == ~bad).all()
    assert clean(times, [values], first_row=2).faults == ()


def test_a_sensor_under_snow_at_freezing_is_not_called_stuck() -> None:
    """Melting snow holds a probe at 0 degC for days."""
    times = moments()
    values = np.array([truth(when)[1] for when in times])
    values[100:150] = 0.1
    values[99] = values[150] = 0.5
    assert not [f for f in clean(times, [values], 2).faults if f.kind == "stuck"]


def test_clock_errors_are_found_and_shown() -> None:
    """A reset, a step back at the end of summer time, repeats and gaps each have their words."""
    times: list[datetime | None] = list(moments())
    times[30] = datetime(2000, 1, 1, 0, 0)
    times[60] = times[59]
    times[80] = None
    back = times[99]
    assert back is not None
    times[100] = back - timedelta(hours=0)
    times[100] = back
    values = np.arange(len(times), dtype=float) % 7
    del times[150:160]
    found = clean(times, [np.delete(values, slice(150, 160))], 2)
    kinds = [fault.kind for fault in found.faults]
    assert kinds.count("clock reset") == 1
    assert kinds.count("repeat") == 2
    assert kinds.count("no time") == 1
    assert kinds.count("gap") >= 1
    assert list(found.times) == sorted(set(found.times))
    summer: list[datetime | None] = [
        datetime(2026, 10, 31, 12) + timedelta(hours=n) for n in range(14)
    ]
    summer += [datetime(2026, 11, 1, 1) + timedelta(hours=n) for n in range(8)]
    told = [f for f in clean(summer, [np.arange(22.0)], 2).faults if f.kind.startswith("clock")]
    told += [f for f in clean(summer, [np.arange(22.0)], 2).faults if f.kind == "repeat"]
    assert told


def test_summer_time_is_taken_out_where_the_zone_is_given() -> None:
    """In July the clock of a zone with summer time is an hour ahead of standard time."""
    july, january = datetime(2026, 7, 1, 13), datetime(2026, 1, 1, 13)
    assert to_standard([july, january], None, -7.0, "America/Denver") == [
        datetime(2026, 7, 1, 12),
        january,
    ]


def test_hours_are_drawn_between_readings_but_not_over_gaps() -> None:
    """A straight line between neighbours; nothing across three hours without a reading."""
    times = [datetime(2026, 4, 1, 0, 30), datetime(2026, 4, 1, 1, 30), datetime(2026, 4, 1, 5, 30)]
    hours = hours_of([("inside", times, np.array([0.0, 10.0, 20.0]))])
    assert hours.start == datetime(2026, 4, 1)
    assert hours.inside[0] == pytest.approx(5.0)
    assert np.isnan(hours.inside[1:5]).all()
    assert np.isnan(hours.outside).all()


@pytest.mark.parametrize(
    ("head", "offset", "zone"),
    [
        ("Time (MDT)", -6.0, None),
        ("Time, MST", -7.0, None),
        ("Time (UTC)", 0.0, None),
        ("Time GMT-0700", -7.0, None),
        ("Time UTC offset: +5:30", 5.5, None),
        ("Time zone: -07:00", -7.0, None),
        ("Time (America/Denver)", None, "America/Denver"),
        ("Time", None, None),
    ],
)
def test_a_head_that_names_a_zone_is_read(
    head: str, offset: float | None, zone: str | None, tmp_path: Path
) -> None:
    """Letters of a zone as a mail's date has them, hours from UTC, or the name of a place's."""
    file = tmp_path / "log.csv"
    rows = "".join(f"2026-04-09 {hour:02}:00;1.5;2.5\n" for hour in range(24))
    file.write_text(f"{head};Inside °C;Outside °C\n{rows}", encoding="utf-8")
    logger = read_logger(file)
    assert (logger.offset, logger.zone) == (offset, zone)


def test_what_a_person_says_of_the_clock_stands_over_the_file(tmp_path: Path) -> None:
    """A head that is wrong can be put right; else it is believed, and said to be."""
    file = tmp_path / "log.csv"
    rows = "".join(f"2026-04-09 {hour:02}:00;1.5;2.5\n" for hour in range(24))
    file.write_text(f"Time (MDT);Inside °C;Outside °C\n{rows}", encoding="utf-8")
    asked = {None: "2026-04-08 23:00", -7.0: "2026-04-09 00:00"}
    for utc, first in asked.items():
        found = read_file(file, Answers(), LoggerClock(utc=utc), -7.0)
        assert f"{found.times[0]:%Y-%m-%d %H:%M}" == first
    assert "UTC-6, as the file says" in read_file(file, Answers(), LoggerClock(), -7.0).notes[-1]
    summer = read_file(file, Answers(), LoggerClock("America/Denver"), -7.0)
    assert f"{summer.times[0]:%Y-%m-%d %H:%M}" == "2026-04-08 23:00"
