"""Reading a class: its beds, each a plan or a few keys over a shared template, and its means."""

import csv
import datetime
import io
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Annotated, Any, Literal

import tomlkit
from pydantic import Field, ValidationError

from hoopwright.design.wishes import at_hand
from hoopwright.frozen import dataclass
from hoopwright.materials.order import AtHand
from hoopwright.plan.fields import OneLine, nearest
from hoopwright.plan.model import StockRow
from hoopwright.plan.read import (
    PlanError,
    Problem,
    ReadPlan,
    data_of,
    problems_of,
    read_plan_text,
    text_of,
)
from hoopwright.plan.section import Number, PlanSection
from hoopwright.tables import foreign
from hoopwright.tables.catalogue import PRICED
from hoopwright.tables.languages import languages
from hoopwright.tables.overlay import OwnFile
from hoopwright.tables.toml_text import LARGEST
from hoopwright.tables.words import unprintable

BED_KEYS = ("letter", "household", "plan", "language")
MOST_BEDS = 200
MOST_ROWS = 200
"""Rows of the shelf, and of what is out of stock."""

LONGEST_NUMBER = 9
LONGEST_NAME = 80
LONGEST_LETTER = 8

Rows = Annotated[tuple[StockRow, ...], Field(max_length=MOST_ROWS)]


class ClassError(PlanError):
    """A class that cannot be used; one line for each thing wrong."""


class ClassKeys(PlanSection):
    """A class as written: what its beds share, its beds, and its means.

    template : name of a plan file, or the keys themselves; beds_file : name of a CSV file
    """

    name: Annotated[OneLine, Field(max_length=LONGEST_NAME)] | None = None
    day: datetime.date | None = None
    units: Literal["us", "metric"] | None = None
    budget: Annotated[Number, Field(gt=0, lt=1e9)] | None = None
    prices: str | None = None
    catalogue: str | None = None
    template: Any = None
    beds: Annotated[tuple[dict[str, Any], ...], Field(max_length=MOST_BEDS)] = ()
    beds_file: str | None = None
    language: str = "en"
    shelf: Rows = ()
    out_of_stock: Rows = ()


@dataclass(frozen=True)
class ClassBed:
    """One bed of the class: its letter, the household as the user's file has it, and its plan.

    language : of the household's paper
    """

    letter: str
    household: str
    read: ReadPlan
    language: str = "en"


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
    try:
        data = data_of(text_of(Path(path), "class"), str(path), "class")
        if isinstance(data.get("bed"), dict):
            says = "is the plan of one bed; `hoopwright check` reads it"
            raise PlanError(str(path), (Problem("", says),))
    except PlanError as error:
        raise ClassError(error.file, error.problems) from None
    return class_in(data, Path(path))


def class_in(
    data: Mapping[str, Any], file: Path, beside: tuple[OwnFile, ...] | None = None
) -> ClassFile:
    """Return the class in a class file's data.

    file : its name, and the folder of the files it names; beside : price lists and rows held as
    texts, where there is no folder (it may then name no other file). Raises ClassError.
    """
    problems: list[Problem] = []
    try:
        keys = ClassKeys.model_validate(data)
    except ValidationError as error:
        refused = error.errors(include_url=False)
        problems += problems_of(refused, ClassKeys, "class")
        spoilt = {item["loc"][0] for item in refused}
        # The rest is read too, so that every problem is told at once.
        keys = ClassKeys.model_validate(
            {key: value for key, value in data.items() if key not in spoilt}
        )
    template = _template(keys, file, problems)
    rows = [dict(row) for row in keys.beds]
    if keys.beds_file is not None:
        rows += _bed_table(file.parent / keys.beds_file, problems)
    if len(rows) > MOST_BEDS:
        says = f"{len(rows)} are more than {MOST_BEDS}; split the class"
        problems.append(Problem("beds", says))
        rows = []
    beds = tuple(_beds(rows, keys, template, file, beside, problems))
    _refuse_unknown(keys, beds, problems)
    if not rows and not problems:
        says = 'a class has at least one; write [[beds]] or name a "beds_file"'
        problems.append(Problem("beds", says))
    if problems:
        raise ClassError(str(file), tuple(problems))
    return ClassFile(
        keys.name or file.stem,
        keys.day,
        keys.budget,
        beds,
        at_hand(keys.shelf),
        tuple(NotSold(row.item, row.length, row.width) for row in keys.out_of_stock),
    )


def _template(keys: ClassKeys, file: Path, problems: list[Problem]) -> dict[str, Any]:
    """Return the keys that all beds share: a plan file, or the keys themselves."""
    template = keys.template or {}
    if isinstance(template, dict):
        return dict(template)
    if not isinstance(template, str):
        says = "name a plan file, or write its keys under [template]"
        problems.append(Problem("template", says))
        return {}
    return _plan_data(file.parent / template, "template", problems)


def _plan_data(path: Path, where: str, problems: list[Problem]) -> dict[str, Any]:
    try:
        return data_of(text_of(path), str(path))
    except PlanError as error:
        problems.append(Problem(where, str(error)))
        return {}


def _bed_table(path: Path, problems: list[Problem]) -> list[dict[str, Any]]:
    """Return the beds of a CSV file: a column for each key, dotted, as "bed.length"."""
    try:
        text = foreign.text_held(path, LARGEST)
    except OSError as error:
        problems.append(Problem("beds_file", f"{path}: {error.strerror}"))
        return []
    rows = []
    reader = csv.DictReader(io.StringIO(text), delimiter=delimiter_of(text))
    for cells in reader:
        row: dict[str, Any] = {}
        if None in cells:
            says = 'more cells than columns; put text that holds a comma in "quotes"'
            problems.append(Problem("beds_file", f"{path}, line {reader.line_num}: {says}"))
        for key, cell in cells.items():
            if key and isinstance(cell, str) and cell.strip():
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
    keys: ClassKeys,
    template: dict[str, Any],
    file: Path,
    beside: tuple[OwnFile, ...] | None,
    problems: list[Problem],
) -> Iterator[ClassBed]:
    seen: set[str] = set()
    shared = keys.model_dump(include={"prices", "catalogue", "units"}, exclude_none=True)
    for index, row in enumerate(rows):
        letter = str(row.pop("letter", letter_of(index)))
        household = str(row.pop("household", ""))
        language = str(row.pop("language", keys.language))
        where = f"bed {letter}"
        if letter in seen:
            problems.append(Problem(where, "the letter stands twice; give each bed its own"))
        seen.add(letter)
        if language not in languages():
            known = ", ".join(languages())
            says = f"language: {language!r} is none of those printed here: {known}"
            problems.append(Problem(where, says))
        if unprintable(letter + household):
            says = "letter or household cannot be printed; mend it"
            problems.append(Problem(f"bed {index + 1}", says))
        if len(letter) > LONGEST_LETTER or len(household) > LONGEST_NAME:
            says = (
                f"a letter has at most {LONGEST_LETTER} letters, a household {LONGEST_NAME}; "
                "shorten it"
            )
            problems.append(Problem(f"bed {index + 1}", says))
            continue
        own = row.pop("plan", None)
        base = template
        if isinstance(own, str):
            base = _plan_data(file.parent / own, where, problems)
        elif own is not None:
            problems.append(Problem(f"{where}, plan", "name a plan file"))
        if {"prices", "catalogue"} & (row.keys() | base.keys() if own else row.keys()):
            says = (
                "a class buys from one price list; name prices and catalogue in the class file, "
                "not in its beds"
            )
            problems.append(Problem(where, says))
            continue
        merged = _laid_over(base, row) | shared
        merged["name"] = str(row.get("name", f"{keys.name or file.stem}, bed {letter}"))[:80]
        try:
            text = tomlkit.dumps(merged)
            folder = file.parent if beside is None else None
            found = read_plan_text(text, file=where, folder=folder, beside=beside)
        except PlanError as error:
            problems += [Problem(where, str(problem)) for problem in error.problems]
            continue
        yield ClassBed(letter, household, found, language)


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


def _refuse_unknown(keys: ClassKeys, beds: tuple[ClassBed, ...], problems: list[Problem]) -> None:
    """Refuse rows of what is not in the catalogue of the class."""
    if not beds:
        return
    catalogue = beds[0].read.catalogue
    known = [record.key for table in PRICED for record in catalogue.everything_in(table)]
    for key, rows in (("shelf", keys.shelf), ("out_of_stock", keys.out_of_stock)):
        for item in (row.item for row in rows if row.item not in known):
            says = f'"{item}" is not in the catalogue{nearest(item, known)}'
            problems.append(Problem(key, says))
