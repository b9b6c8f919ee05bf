"""Columns of figures out of split lines, each with its range and its code for 'missing'."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.read.text import TextFile
from hoopwright.climate.weather import Series
from hoopwright.frozen import dataclass


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
