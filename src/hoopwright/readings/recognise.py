"""What a logger's file holds: which column is the clock, which are temperatures, in which unit."""

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.readings.clock import Times, offset_in, times_of, zone_in
from hoopwright.readings.text import ReadingsError, Rows, load, number

Role = Literal["inside", "outside", ""]
Unit = Literal["C", "F"]

_SKIP = re.compile(
    r"humid|\brh\b|%|dew|batt|volt|press|hpa|lux|light|index|^#$|^no\.?$|record|event|heat index"
    r"|rssi|signal|id$",
    re.IGNORECASE,
)
_INSIDE = re.compile(r"inside|\bin\b|indoor|under|cover|tunnel|hoop|probe|bed|ext", re.IGNORECASE)
_OUTSIDE = re.compile(r"outside|\bout\b|outdoor|ambient|shade|open|screen|extern", re.IGNORECASE)
_CELSIUS = re.compile(r"°\s*C|℃|deg\.?\s*C|\(C\)|\bC\b|celsius|_c$", re.IGNORECASE)
_FAHRENHEIT = re.compile(r"°\s*F|℉|deg\.?\s*F|\(F\)|\bF\b|fahrenheit|_f$", re.IGNORECASE)


@dataclass(frozen=True)
class LoggerColumn:
    """One column of temperatures [degC], NaN where a cell is none.

    name : its head, or its place where it has none of its own
    unit : as the file has it;  sure : False where unit or role was guessed from the numbers
    """

    name: str
    role: Role
    unit: Unit
    sure: bool
    values: NDArray[np.float64]


@dataclass(frozen=True)
class Logger:
    """A logger's file as read.

    times     : by the logger's own clock;  offset [h] from UTC where the file says it
    zone      : of the place whose clock it kept, as America/Denver, where the file names one
    questions : what a person must answer before it can be used, each with the option to give
    notes     : what was found out, in words
    """

    name: str
    times: tuple[datetime | None, ...]
    offset: float | None
    zone: str | None
    columns: tuple[LoggerColumn, ...]
    questions: tuple[str, ...]
    notes: tuple[str, ...]
    line: int

    def of(self, role: Role) -> LoggerColumn | None:
        """Return the column of a role, or None."""
        return next((column for column in self.columns if column.role == role), None)


@dataclass(frozen=True)
class Answers:
    """What a person says of the file; None leaves it to be found out, "" is no column."""

    day_first: bool | None = None
    unit: Unit | None = None
    inside: str | None = None
    outside: str | None = None


def read_logger(path: Path, answers: Answers | None = None) -> Logger:
    """Return what a logger's file holds."""
    return logger_of(load(path), path.name, answers or Answers())


def logger_of(rows: Rows, name: str, answers: Answers) -> Logger:
    """Return what a table holds."""
    count = len(rows.head)
    cells = [[row[at] for row in rows.body] for at in range(count)]
    found = _clock(cells, rows, answers.day_first)
    if found is None:
        raise ReadingsError(
            f"{name}: no column of dates and times was found; export with date and time, as "
            "2026-04-17 06:00"
        )
    times, used = found
    text = " ".join((*rows.preamble, *rows.head))
    offset = times.offset if times.offset is not None else offset_in(text)
    questions, notes = [], [f"times: {times.form}"]
    if times.ambiguous:
        questions.append("day and month could be either way round; say --dates day or month")
    columns = _temperatures(cells, rows, used, answers)
    if not columns:
        raise ReadingsError(f"{name}: no column of temperatures was found")
    if any(not column.sure for column in columns) and answers.unit is None:
        guessed = columns[0].unit
        notes.append(f"unit: degrees {guessed}, guessed from the numbers; --unit says otherwise")
        if _either_unit(columns):
            questions.append("the numbers could be degrees C or F; say --unit C or F")
    named = _roles(columns, answers, name)
    if not any(column.role for column in named):
        listed = ", ".join(column.name for column in named)
        questions.append(
            f"which column is inside and which outside is not told by {listed}; say --inside or "
            "--outside"
        )
    return Logger(
        name,
        times.values,
        offset,
        zone_in(text) if offset is None else None,
        tuple(named),
        tuple(questions),
        tuple(notes),
        rows.line,
    )


def _clock(
    cells: list[list[str]], rows: Rows, day_first: bool | None
) -> tuple[Times, set[int]] | None:
    """Return the times and the columns they stand in: one, or date and time side by side."""
    for at in range(len(cells)):
        if (
            at + 1 < len(cells)
            and _mostly(_TIME_OF_DAY, cells[at + 1])
            and _mostly(_DATE, cells[at])
        ):
            joined = [f"{a} {b}" for a, b in zip(cells[at], cells[at + 1], strict=True)]
            times = times_of(joined, day_first)
            if times is not None:
                return times, {at, at + 1}
    for at, column in enumerate(cells):
        if re.search(r"record|^#$|^no\.?$", rows.head[at], re.IGNORECASE):
            continue
        times = times_of(column, day_first)
        if times is not None and times.form != "days of a spreadsheet":
            return times, {at}
        if times is not None and re.search("date|time|day", rows.head[at], re.IGNORECASE):
            return times, {at}
    return None


_TIME_OF_DAY = re.compile(r"^\d{1,2}:\d{2}(:\d{2})?(\s*[AaPp]\.?[Mm]\.?)?$")
_DATE = re.compile(r"^\d{1,4}[-/. ](\d{1,2}|[A-Za-z]{3,9})[-/. ,]+\d{1,4}$")


def _mostly(form: re.Pattern[str], cells: Sequence[str]) -> bool:
    """Return whether nearly all of a column's first cells are of a form."""
    sample = [cell for cell in cells[:200] if cell]
    return bool(sample) and sum(1 for c in sample if form.match(c)) > 0.9 * len(sample)


def _temperatures(
    cells: list[list[str]], rows: Rows, used: set[int], answers: Answers
) -> list[LoggerColumn]:
    found = []
    above = " ".join(rows.preamble)
    for at, column in enumerate(cells):
        name = rows.head[at]
        if not name or rows.head.count(name) > 1:
            name = f"{name} column {at + 1}".strip()
        wanted = name in (answers.inside, answers.outside)
        if at in used or (_SKIP.search(name) and not wanted):
            continue
        values = np.array([number(cell, rows.decimal) for cell in column])
        known = values[np.isfinite(values)]
        if len(known) < max(2, 0.3 * len(values)) or _counts_up(known):
            continue
        unit, sure = _unit(name, above, cells[at], known, answers.unit)
        degrees = (values - 32.0) / 1.8 if unit == "F" else values
        found.append(LoggerColumn(name, "", unit, sure, degrees))
    return found


def _counts_up(values: NDArray[np.float64]) -> bool:
    """Return whether this is a running number and no temperature."""
    steps = np.diff(values)
    return len(values) > 3 and bool(np.all(steps == 1.0))


def _unit(
    name: str, above: str, cells: Sequence[str], values: NDArray[np.float64], answer: Unit | None
) -> tuple[Unit, bool]:
    if answer is not None:
        return answer, True
    places = (name, " ".join(cells[:3]), above)
    for text in places:
        celsius, fahrenheit = bool(_CELSIUS.search(text)), bool(_FAHRENHEIT.search(text))
        if celsius != fahrenheit:
            return ("C" if celsius else "F"), True
    middle = float(np.median(values))
    return ("F" if middle > 33.0 or float(np.percentile(values, 98)) > 62.0 else "C"), False


def _either_unit(columns: Sequence[LoggerColumn]) -> bool:
    """Return whether the numbers as written make sense in both units."""
    written = [c.values * 1.8 + 32.0 if c.unit == "F" else c.values for c in columns]
    whole = np.concatenate([values[np.isfinite(values)] for values in written])
    low, middle, high = np.percentile(whole, [2.0, 50.0, 98.0])
    return bool(low > -5.0 and 15.0 < middle < 33.0 and high < 50.0)


def _roles(columns: list[LoggerColumn], answers: Answers, file: str) -> list[LoggerColumn]:
    known = [column.name for column in columns]
    for asked in (answers.inside, answers.outside):
        if asked and asked not in (*known, "only"):
            listed = ", ".join(known)
            raise ReadingsError(f'{file}: no column "{asked}"; there are: {listed}')
    found = []
    alone = len(columns) == 1
    for column in columns:
        role: Role = ""
        if answers.inside in (column.name, "only" if alone else None) and answers.inside:
            role = "inside"
        elif answers.outside in (column.name, "only" if alone else None) and answers.outside:
            role = "outside"
        elif answers.inside is None and answers.outside is None:
            role = _role_of(column.name) or (_role_of(file) if alone else "")
        found.append(replace(column, role=role))
    open_still = None in (answers.inside, answers.outside)
    if open_still and len(found) == 2 and sum(1 for column in found if column.role) == 1:
        # Of two, the one not named is the other.
        other: Role = "outside" if any(c.role == "inside" for c in found) else "inside"
        found = [c if c.role else replace(c, role=other) for c in found]
    return found


def _role_of(name: str) -> Role:
    if _OUTSIDE.search(name):
        return "outside"
    return "inside" if _INSIDE.search(name) else ""
