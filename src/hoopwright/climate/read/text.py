"""A weather file as lines of text: encodings, line ends, errors that name the place, and columns
of figures, each with its range and its code for 'missing'."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Series
from hoopwright.frozen import dataclass
from hoopwright.tables import foreign


class WeatherFileError(ValueError):
    """A weather file that cannot be trusted: which file, line and column, and what would do.

    path : the file; line, column : counted from 1, None where the whole file is meant
    """

    def __init__(
        self, path: Path, problem: str, line: int | None = None, column: str | None = None
    ) -> None:
        self.path = path
        self.line = line
        self.column = column
        self.problem = problem
        place = str(path)
        if line is not None:
            place += f", line {line}"
        if column is not None:
            place += f", column {column}"
        super().__init__(f"{place}: {problem}")


@dataclass(frozen=True)
class TextFile:
    """The lines of a file without their ends, and what was mended to get them."""

    path: Path
    lines: list[str]
    repairs: tuple[str, ...]

    def error(
        self, problem: str, line: int | None = None, column: str | None = None
    ) -> WeatherFileError:
        """Return the error to raise for a problem in this file."""
        return WeatherFileError(self.path, problem, line, column)


LARGEST, MOST_LINES, LONGEST_LINE = 24_000_000, 1_000_000, 20_000
"""Bytes, lines, letters of a line: an hourly year has 2 MB, a station's 150 years of days 10 MB."""


def weather_bytes(path: Path) -> bytes:
    """Return a weather file's bytes. Raises WeatherFileError where it cannot be one."""
    try:
        return foreign.held(path, LARGEST)
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise WeatherFileError(path, f"cannot be opened: {reason}") from error


def load_text(path: Path) -> TextFile:
    """Return a file's lines; a byte-order mark and Latin-1 letters are mended and said."""
    raw = weather_bytes(path)
    if not raw.strip():
        raise WeatherFileError(path, "the file is empty")
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise WeatherFileError(path, "saved as UTF-16; save it again as UTF-8 text", line=1)
    if raw[:2] in (b"PK", b"\x1f\x8b"):
        raise WeatherFileError(path, "a compressed file; unpack it first", line=1)
    zero = raw.find(b"\x00")
    if zero >= 0:
        line = raw.count(b"\n", 0, zero) + 1
        raise WeatherFileError(path, "a zero byte: damaged, or not a text file", line=line)
    repairs: list[str] = []
    if raw.startswith(b"\xef\xbb\xbf"):
        raw = raw[3:]
        repairs.append("A byte-order mark at the start was left out.")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        repairs.append(f"Letters that are not UTF-8 (first in line {line}) were read as Latin-1.")
        text = raw.decode("latin-1")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if text.count("\n") > MOST_LINES:
        raise WeatherFileError(path, f"more than {MOST_LINES} lines; that is no weather file")
    lines = text.split("\n")
    for number, words in enumerate(lines, start=1):
        if len(words) > LONGEST_LINE:
            says = f"longer than {LONGEST_LINE} letters; that is no weather file"
            raise WeatherFileError(path, says, line=number)
    while lines and not lines[-1].strip():
        lines.pop()
    return TextFile(path, lines, tuple(repairs))


@dataclass(frozen=True)
class Column:
    """One column as a format lays it down.

    name            : as shown to the reader, with its unit
    index           : counted from 0
    low, high       : the least and greatest value that can be true
    missing_from    : the code of nines for 'missing': this and up to the next power of ten
                      (99 takes in 99.9, and 123 is a wrong figure)
    missing_codes   : further codes, taken exactly
    scale           : our unit over the file's
    """

    name: str
    index: int
    low: float
    high: float
    missing_from: float = np.inf
    missing_codes: tuple[float, ...] = ()
    scale: float = 1.0

    @property
    def place(self) -> str:
        """Return number and name, as an error shows them."""
        return f"{self.index + 1} ({self.name})"


def split_rows(file: TextFile, first: int, fewest: int, most: int, layout: str) -> list[list[str]]:
    """Return the data lines from index `first`, split at commas and of one width.

    fewest, most : columns accepted; layout : what the format wants, for the message
    """
    rows = [line.split(",") for line in file.lines[first:]]
    if not rows:
        raise file.error(f"no data lines after the header; {layout}", line=first)
    width = len(rows[0])
    for number, row in enumerate(rows):
        if len(row) == width and fewest <= width <= most:
            continue
        line = first + number + 1
        found = len(row)
        if not any(cell.strip() for cell in row):
            raise file.error("an empty line amid the data", line=line)
        if found < fewest and number == len(rows) - 1:
            raise file.error(f"cut off after {found} columns; {layout}", line=line)
        if found == 1 and ";" in row[0]:
            raise file.error("parted by semicolons; commas are wanted", line=line)
        if fewest <= found <= most:
            raise file.error(f"{found} columns where the first row has {width}", line=line)
        raise file.error(f"{found} columns; {layout}", line=line)
    return rows


def figures(file: TextFile, rows: list[list[str]], first: int, column: Column) -> Series:
    """Return one column as floats, NaN where missing; refuse what is not a plausible figure.

    first : index of the first data line in the file
    """
    cells = [row[column.index] for row in rows]
    try:
        values = np.array([float(cell) for cell in cells])
    except ValueError:
        values = np.array(
            [_one_figure(file, cell, first + n + 1, column) for n, cell in enumerate(cells)]
        )
    _refuse_odd_spelling(file, cells, first, column)
    values = np.where(_is_code(values, column), np.nan, values)
    with np.errstate(invalid="ignore"):
        wrong = (values < column.low) | (values > column.high)
    if wrong.any():
        at = int(np.flatnonzero(wrong)[0])
        raise file.error(
            f"{cells[at].strip()} is outside {column.low:g} to {column.high:g}",
            line=first + at + 1,
            column=column.place,
        )
    return values


def _is_code(values: Series, column: Column) -> NDArray[np.bool_]:
    coded = np.isin(values, column.missing_codes)
    if np.isfinite(column.missing_from):
        end = 10.0 ** np.ceil(np.log10(column.missing_from))
        coded |= (values >= column.missing_from) & (values < end)
    return coded


def _one_figure(file: TextFile, cell: str, line: int, column: Column) -> float:
    try:
        return float(cell)
    except ValueError:
        raise file.error(
            f"'{cell.strip()[:20]}' is not a number", line=line, column=column.place
        ) from None


def _refuse_odd_spelling(file: TextFile, cells: list[str], first: int, column: Column) -> None:
    """Refuse what Python reads as a number and a weather file never means as one."""
    joined = ",".join(cells)
    lower = joined.lower()
    if joined.isascii() and "_" not in joined and "n" not in lower:
        return
    for number, cell in enumerate(cells):
        if not cell.isascii() or "_" in cell or "n" in cell.lower():
            raise file.error(
                f"'{cell.strip()[:20]}' is not a plain number",
                line=first + number + 1,
                column=column.place,
            )
