"""A logger's file as rows of cells: encoding, delimiter, decimal mark, head and body."""

import re
from collections import Counter
from pathlib import Path

from hoopwright.frozen import dataclass
from hoopwright.tables import foreign

LARGEST = 24_000_000
"""Bytes: some six years of readings every ten minutes."""
DELIMITERS = (";", "\t", "|", ",")
_NUMBER = re.compile(r"^[-+]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?(?: ?°? ?[CFK])?$")


class ReadingsError(ValueError):
    """Readings that cannot be used; the message says what is wrong and what to do."""


@dataclass(frozen=True)
class Rows:
    """A file's table.

    preamble  : lines before the head, where loggers write their clock and unit
    head      : column names, empty texts where the file has none
    body      : rows of cells, each as long as the head; line : of the first row in the file
    decimal   : "," or "."
    """

    preamble: tuple[str, ...]
    head: tuple[str, ...]
    body: tuple[tuple[str, ...], ...]
    line: int
    decimal: str


def load(path: Path) -> Rows:
    """Return the table in a logger's file."""
    return rows_of(decoded(foreign.held(path, LARGEST)), str(path))


def decoded(data: bytes) -> str:
    """Return bytes as text: UTF-8, UTF-16 by its mark or its zero bytes, else Windows-1252."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", errors="replace")
    if data[:400].count(b"\x00") > 50:
        return data.decode("utf-16-le", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def rows_of(text: str, name: str) -> Rows:
    """Return the table in a text."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    delimiter = _delimiter(lines)
    if delimiter is None:
        raise ReadingsError(
            f"{name}: no table was found; export the readings as CSV with a column of times"
        )
    cells = [_split(line, delimiter) for line in lines]
    width, first = _body(cells)
    if first is None:
        raise ReadingsError(f"{name}: no rows of times and numbers were found")
    head_at = next(
        (
            at
            for at in range(first - 1, max(-1, first - 4), -1)
            if len(cells[at]) >= 2 and _is_head(cells[at])
        ),
        None,
    )
    head = tuple(cells[head_at]) if head_at is not None else ()
    width = max(width, len(head))
    body = tuple(
        tuple((row + [""] * width)[:width])
        for row in cells[first:]
        if len(row) >= 2 and any(cell for cell in row)
    )
    names = tuple((list(head) + [""] * width)[:width])
    above = lines[: head_at if head_at is not None else first]
    decimal = _decimal(body, delimiter)
    return Rows(tuple(above), names, body, first + 1, decimal)


def _split(line: str, delimiter: str) -> list[str]:
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    cells, cell, quoted = [], "", False
    for mark in line:
        if mark == '"':
            quoted = not quoted
        elif mark == delimiter and not quoted:
            cells.append(cell.strip())
            cell = ""
        else:
            cell += mark
    cells.append(cell.strip())
    return cells


def _delimiter(lines: list[str]) -> str | None:
    """Return the mark that splits most lines into the same number of cells."""
    sample = [line for line in lines if line.strip()][-200:]
    best, most = None, 0.0
    if not sample:
        return None
    for mark in DELIMITERS:
        counts = Counter(len(_split(line, mark)) for line in sample)
        width, times = max(counts.items(), key=lambda item: (item[1], item[0]))
        # A comma may only be the decimal mark of a table split by something else.
        score = times * (1.0 if mark != "," else 0.999) if width >= 2 else 0.0
        if score > most:
            best, most = mark, score
    return best


def _body(cells: list[list[str]]) -> tuple[int, int | None]:
    """Return the width of the body and its first line: two rows on end that look like data."""
    for at in range(len(cells) - 1):
        if _is_data(cells[at]) and (_is_data(cells[at + 1]) or at + 2 >= len(cells)):
            widths = Counter(len(row) for row in cells[at : at + 500] if len(row) >= 2)
            return widths.most_common(1)[0][0], at
    return 0, None


def _is_data(row: list[str]) -> bool:
    numbers = sum(1 for cell in row if _NUMBER.match(cell))
    dates = sum(1 for cell in row if _looks_dated(cell))
    return len(row) >= 2 and ((dates >= 1 and numbers >= 1) or numbers >= 2)


def _looks_dated(cell: str) -> bool:
    return bool(re.search(r"\d{1,4}[-/. ](?:\d{1,2}|[A-Za-z]{3,9})[-/. ]\d{1,4}", cell))


def _is_head(row: list[str]) -> bool:
    return sum(1 for cell in row if cell and not _NUMBER.match(cell)) >= max(1, len(row) // 2)


def _decimal(body: tuple[tuple[str, ...], ...], delimiter: str) -> str:
    rows = body[:300]
    sample = [cell for row in rows for cell in row]
    commas, points = (
        sum(1 for cell in sample if re.match(rf"^[-+]?\d+{mark}\d+$", cell))
        for mark in (",", r"\.")
    )
    # Where commas part the cells, those with one in them were quoted.
    enough = commas > len(rows) // 2 if delimiter == "," else commas > points
    return "," if enough else "."


def number(cell: str, decimal: str) -> float:
    """Return a cell as a number, NaN where it is none."""
    text = cell.strip().strip("°CFK℃℉ ")
    if decimal == ",":
        text = text.replace(".", "").replace(",", ".")
    try:
        return float(text)
    except ValueError:
        return float("nan")
