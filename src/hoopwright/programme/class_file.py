"""Reading a class: its beds, each a plan or a few keys over a shared template, and its means."""

from __future__ import annotations

import csv
import datetime
import io
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import tomlkit

from hoopwright.frozen import dataclass
from hoopwright.materials.order import AtHand
from hoopwright.plan.fields import nearest
from hoopwright.plan.read import LARGEST_FILE, PlanError, ReadPlan, read_plan_text
from hoopwright.tables.catalogue import PRICED
from hoopwright.tables.toml_text import toml_of
from hoopwright.tables.words import unprintable
from hoopwright.units import UnitError, read

KEYS = (
    "name",
    "day",
    "units",
    "budget",
    "prices",
    "catalogue",
    "template",
    "beds",
    "beds_file",
    "shelf",
    "out_of_stock",
)
BED_KEYS = ("letter", "household", "plan")
MOST_BEDS = 200
MOST_ROWS = 200
"""Rows of the shelf, and of what is out of stock."""

LONGEST_NUMBER = 9
LONGEST_NAME = 80
LONGEST_LETTER = 8


class ClassError(ValueError):
    """A class that cannot be used; one line for each thing wrong."""

    def __init__(self, file: str, problems: tuple[str, ...]) -> None:
        super().__init__("\n".join(f"{file}: {problem}" for problem in problems))
        self.problems = problems


@dataclass(frozen=True)
class ClassBed:
    """One bed of the class: its letter, the household as the user's file has it, and its plan."""

    letter: str
    household: str
    read: ReadPlan


@dataclass(frozen=True)
class NotSold:
    """A form of a thing that cannot be had: all forms where length and width [m] are None."""

    item: str
    length: float | None = None
    width: float | None = None


@dataclass(frozen=True)
class ClassFile:
    """A class as read.

    budget : in the currency of the price list, or None where none is set
    shelf  : stock that the class shares
    """

    name: str
    day: datetime.date | None
    budget: float | None
    beds: tuple[ClassBed, ...]
    shelf: tuple[AtHand, ...]
    not_sold: tuple[NotSold, ...]


def read_class(path: Path | str) -> ClassFile:
    """Return the class in a TOML file; files it names are looked for beside it.

    Raises ClassError with every problem of the class and of all its beds.
    """
    file = Path(path)
    data = _toml(file, str(path))
    problems = [
        f"{key}: is not a key of a class{nearest(key, KEYS)}; keys: {', '.join(KEYS)}"
        for key in data
        if key not in KEYS
    ]
    template = _template(data, file, problems)
    rows = _bed_rows(data, file, problems)
    beds = tuple(_beds(rows, data, template, file, problems))
    shelf = tuple(_shelf(data, beds, problems))
    missing = tuple(_not_sold(data, beds, problems))
    day, budget = _day(data, problems), _budget(data, problems)
    name = str(data.get("name", file.stem))
    if unprintable(name):
        problems.append("name: holds a character that cannot be printed; take it out")
    if len(name) > LONGEST_NAME:
        problems.append(f"name: is longer than {LONGEST_NAME} letters; shorten it")
    if not rows and not problems:
        problems.append('beds: a class has at least one; write [[beds]] or name a "beds_file"')
    if problems:
        raise ClassError(str(path), tuple(problems))
    return ClassFile(name, day, budget, beds, shelf, missing)


def _toml(file: Path, name: str) -> dict[str, Any]:
    try:
        if file.stat().st_size > LARGEST_FILE:
            raise ClassError(name, ("is larger than 1 MB; that is no class",))
        return toml_of(file.read_bytes().decode("utf-8-sig"))
    except OSError as error:
        says = f"{error.strerror or 'cannot be read'}; give the path of a class file"
        raise ClassError(name, (says,)) from None
    except UnicodeDecodeError:
        raise ClassError(name, ("is not UTF-8; save it as UTF-8 text",)) from None
    except tomllib.TOMLDecodeError as error:
        raise ClassError(name, (f"is not TOML: {error}",)) from None
    except ValueError as error:
        raise ClassError(name, (f"{error}; that is no class",)) from None


def _template(data: Mapping[str, Any], file: Path, problems: list[str]) -> dict[str, Any]:
    """Return the keys that all beds share: a plan file, or the keys themselves."""
    template = data.get("template", {})
    if isinstance(template, dict):
        return dict(template)
    if not isinstance(template, str):
        problems.append("template: name a plan file, or write its keys under [template]")
        return {}
    return _plan_data(file.parent / template, "template", problems)


def _plan_data(path: Path, where: str, problems: list[str]) -> dict[str, Any]:
    try:
        return _toml(path, str(path))
    except ClassError as error:
        problems.append(f"{where}: {error}")
        return {}


def _bed_rows(data: Mapping[str, Any], file: Path, problems: list[str]) -> list[dict[str, Any]]:
    rows = data.get("beds", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        problems.append("beds: write each bed under [[beds]]")
        rows = []
    rows = [dict(row) for row in rows]
    listed = data.get("beds_file")
    if isinstance(listed, str):
        rows += _bed_table(file.parent / listed, problems)
    elif listed is not None:
        problems.append("beds_file: name a CSV file")
    if len(rows) > MOST_BEDS:
        problems.append(f"beds: {len(rows)} are more than {MOST_BEDS}; split the class")
        rows = rows[:0]
    return rows


def _bed_table(path: Path, problems: list[str]) -> list[dict[str, Any]]:
    """Return the beds of a CSV file: a column for each key, dotted, as "bed.length"."""
    try:
        text = path.read_bytes()[:LARGEST_FILE].decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "is not UTF-8"
        problems.append(f"beds_file: {path}: {reason}")
        return []
    rows = []
    reader = csv.DictReader(io.StringIO(text), delimiter=delimiter_of(text))
    for cells in reader:
        row: dict[str, Any] = {}
        if None in cells:
            problems.append(
                f"beds_file: {path}, line {reader.line_num}: more cells than columns; put text "
                'that holds a comma in "quotes"'
            )
        for key, cell in cells.items():
            if not key or not isinstance(cell, str) or not cell.strip():
                continue
            _set(row, key.strip().split("."), _cell(key.strip(), cell.strip()))
        rows.append(row)
    return rows


def delimiter_of(text: str) -> str:
    """Return what parts the columns of a CSV text: a comma, or what its first line has more of.

    Spreadsheets that write decimals with a comma part columns by semicolons.
    """
    first = text.split("\n", 1)[0]
    return max(",;\t", key=first.count)


def _cell(key: str, text: str) -> Any:
    """Return a cell as the plan expects it: whole numbers, yes and no, else text."""
    if key in BED_KEYS:
        return text
    if text.lower() in ("true", "false", "yes", "no"):
        return text.lower() in ("true", "yes")
    whole = text.isascii() and text.isdecimal() and len(text) <= LONGEST_NUMBER
    return int(text) if whole else text


def _set(row: dict[str, Any], path: list[str], value: Any) -> None:
    for part in path[:-1]:
        row = row.setdefault(part, {})
        if not isinstance(row, dict):
            return
    row[path[-1]] = value


def _beds(
    rows: list[dict[str, Any]],
    data: Mapping[str, Any],
    template: dict[str, Any],
    file: Path,
    problems: list[str],
) -> Iterator[ClassBed]:
    seen: set[str] = set()
    for index, row in enumerate(rows):
        letter = str(row.pop("letter", letter_of(index)))
        household = str(row.pop("household", ""))
        where = f"bed {letter}"
        if letter in seen:
            problems.append(f"{where}: the letter stands twice; give each bed its own")
        seen.add(letter)
        if unprintable(letter + household):
            problems.append(f"bed {index + 1}: letter or household cannot be printed; mend it")
        if len(letter) > LONGEST_LETTER or len(household) > LONGEST_NAME:
            problems.append(
                f"bed {index + 1}: a letter has at most {LONGEST_LETTER} letters, a household "
                f"{LONGEST_NAME}; shorten it"
            )
            continue
        own = row.pop("plan", None)
        base = template
        if isinstance(own, str):
            base = _plan_data(file.parent / own, where, problems)
        elif own is not None:
            problems.append(f"{where}, plan: name a plan file")
        if {"prices", "catalogue"} & (row.keys() | base.keys() if own else row.keys()):
            problems.append(
                f"{where}: a class buys from one price list; name prices and catalogue in the "
                "class file, not in its beds"
            )
            continue
        merged = _laid_over(base, row)
        merged |= {key: data[key] for key in ("prices", "catalogue", "units") if key in data}
        merged["name"] = str(row.get("name", f"{data.get('name', file.stem)}, bed {letter}"))[:80]
        try:
            text = tomlkit.dumps(merged)
            found = read_plan_text(text, file=where, folder=file.parent)
        except PlanError as error:
            problems += [f"{where}: {problem}" for problem in error.problems]
            continue
        yield ClassBed(letter, household, found)


def letter_of(index: int) -> str:
    """Return A to Z, then AA, AB and on."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _laid_over(base: Mapping[str, Any], over: Mapping[str, Any]) -> dict[str, Any]:
    """Return the keys of one plan with those of another over them, section by section."""
    merged = dict(base)
    for key, value in over.items():
        below = merged.get(key)
        both = isinstance(value, dict) and isinstance(below, dict)
        merged[key] = {**below, **value} if both else value  # type: ignore[dict-item]
    return merged


def _rows(data: Mapping[str, Any], key: str, problems: list[str]) -> Iterator[dict[str, Any]]:
    rows = data.get(key, [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        problems.append(f"{key}: write each row under [[{key}]]")
        return
    if len(rows) > MOST_ROWS:
        problems.append(
            f"{key}: {len(rows)} rows are more than {MOST_ROWS}; put like ones together"
        )
        return
    for number, row in enumerate(rows, start=1):
        stray = [name for name in row if name not in ("item", "length", "width", "count")]
        if stray or not isinstance(row.get("item"), str):
            problems.append(f"{key}[{number}]: has item, and length, width or count where it needs")
            continue
        yield row


def _lengths(
    row: dict[str, Any], key: str, problems: list[str]
) -> tuple[float | None, float | None]:
    found: list[float | None] = []
    for name in ("length", "width"):
        value = row.get(name)
        try:
            found.append(None if value is None else read(value, "length"))
        except UnitError as error:
            problems.append(f"{key}, {row['item']}: {name} {error}")
            found.append(None)
    return found[0], found[1]


def _shelf(
    data: Mapping[str, Any], beds: tuple[ClassBed, ...], problems: list[str]
) -> Iterator[AtHand]:
    for row in _known_rows(data, "shelf", beds, problems):
        length, width = _lengths(row, "shelf", problems)
        count = row.get("count", 1)
        if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= 100_000:
            problems.append(f"shelf, {row['item']}: count is a whole number from 1")
            continue
        yield AtHand(row["item"], count, length, width)


def _not_sold(
    data: Mapping[str, Any], beds: tuple[ClassBed, ...], problems: list[str]
) -> Iterator[NotSold]:
    for row in _known_rows(data, "out_of_stock", beds, problems):
        length, width = _lengths(row, "out_of_stock", problems)
        yield NotSold(row["item"], length, width)


def _known_rows(
    data: Mapping[str, Any], key: str, beds: tuple[ClassBed, ...], problems: list[str]
) -> Iterator[dict[str, Any]]:
    """Yield the rows whose item is in the catalogue of the class."""
    for row in _rows(data, key, problems):
        if beds and row["item"] not in _known(beds[0]):
            near = nearest(row["item"], _known(beds[0]))
            problems.append(f'{key}: "{row["item"]}" is not in the catalogue{near}')
            continue
        yield row


def _known(bed: ClassBed) -> list[str]:
    catalogue = bed.read.catalogue
    return [record.key for table in PRICED for record in catalogue.everything_in(table)]


def _day(data: Mapping[str, Any], problems: list[str]) -> datetime.date | None:
    day = data.get("day")
    if isinstance(day, datetime.date) or day is None:
        return day.date() if isinstance(day, datetime.datetime) else day
    try:
        return datetime.date.fromisoformat(str(day))
    except ValueError:
        problems.append(f'day: "{day}" is no date; write it like 2027-04-17')
        return None


def _budget(data: Mapping[str, Any], problems: list[str]) -> float | None:
    budget = data.get("budget")
    if budget is None:
        return None
    if isinstance(budget, bool) or not isinstance(budget, int | float) or not 0 < budget < 1e9:
        problems.append("budget: is a number in the currency of the price list, as 2500")
        return None
    return float(budget)
