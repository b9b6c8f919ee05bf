"""A weather file as lines of text: encodings, line ends, and errors that name the place."""

from __future__ import annotations

from pathlib import Path

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
