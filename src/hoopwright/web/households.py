"""The households of a class as a form's rows, and as the class file that the command line reads.

A class is planned from a plan: each bed is that plan with its own differences. What is kept is a
class file without its template, which is the plan as it stands.
"""

import csv
import io
from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit

from hoopwright.frozen import dataclass
from hoopwright.plan.read import data_of
from hoopwright.programme.class_file import MOST_BEDS, delimiter_of
from hoopwright.web.choices import Value, choices
from hoopwright.web.editing import as_data

#: Keys of a plan with a column of their own in the table of households, with its head; whatever
#: else differs is picked by its name.
COLUMNS = {
    "bed.length": "Length",
    "bed.width": "Width",
    "hoops.pipe": "Pipe",
    "hoops.stock_length": "Pipe in each hoop",
}
#: Keys of a plan that belong to the class and not to one bed.
_OF_THE_CLASS = ("prices", "catalogue", "units")
_NAMES = ("household", "name", "who")
#: Keys of what is out of stock.
MISSING = ("item", "length", "width")


@dataclass(frozen=True)
class HouseholdRow:
    """One household: its name, what is written in each column, and by key all else that differs."""

    name: str = ""
    cells: tuple[str, ...] = ("",) * len(COLUMNS)
    others: tuple[tuple[str, str], ...] = ()

    @property
    def empty(self) -> bool:
        """Return whether nothing is written in it."""
        return not (self.name or self.others or any(self.cells))


@dataclass(frozen=True)
class ClassForm:
    """A class as the page shows it: its households, budget, day, and what is out of stock.

    missing : thing, length and width of each
    """

    rows: tuple[HouseholdRow, ...] = ()
    budget: str = ""
    day: str = ""
    missing: tuple[tuple[str, ...], ...] = ()


class FormError(ValueError):
    """A form that cannot be read; says where and what to do."""


def kept_form(text: str | None) -> ClassForm:
    """Return a kept class as a form."""
    if text is None:
        return ClassForm()
    data = data_of(text, "class", "class")
    rows = tuple(_row_of(bed) for bed in data.get("beds", ()))
    missing = tuple(
        tuple(str(one.get(key, "")) for key in MISSING) for one in data.get("out_of_stock", ())
    )
    budget = f"{data['budget']:g}" if "budget" in data else ""
    return ClassForm(rows, budget, str(data.get("day", "")), missing)


def _row_of(bed: Mapping[str, Any]) -> HouseholdRow:
    flat = {
        f"{section}.{key}": value
        for section, values in bed.items()
        if isinstance(values, dict)
        for key, value in values.items()
    }
    cells = tuple(_plain(flat.pop(key, "")) for key in COLUMNS)
    others = tuple((key, _plain(value)) for key, value in flat.items())
    return HouseholdRow(str(bed.get("household", "")), cells, others)


def _plain(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(value) if isinstance(value, list) else str(value)


def class_text(form: ClassForm) -> str:
    """Return a form as the text that is kept. Raises FormError."""
    data: dict[str, Any] = {}
    if form.day.strip():
        data["day"] = form.day.strip()
    if form.budget.strip():
        data["budget"] = _number(form.budget)
    rows = [row for row in form.rows if not row.empty]
    if len(rows) > MOST_BEDS:
        raise FormError(f"{len(rows)} households are more than {MOST_BEDS}; make two classes")
    data["beds"] = [_bed_of(row, number) for number, row in enumerate(rows, start=1)]
    if form.missing:
        data["out_of_stock"] = [
            {key: cell for key, cell in zip(MISSING, one, strict=True) if cell}
            for one in form.missing
        ]
    return tomlkit.dumps(data)


def _number(words: str) -> float:
    try:
        return float(words.replace(",", "").strip().lstrip("$"))
    except ValueError:
        raise FormError(f'budget: "{words[:40]}" is no number; write it like 2500') from None


def _bed_of(row: HouseholdRow, number: int) -> dict[str, Any]:
    bed: dict[str, Any] = {"household": row.name or f"Household {number}"}
    for key, value in (*zip(COLUMNS, row.cells, strict=True), *row.others):
        if value.strip():
            _set(bed, key, value)
    return bed


def _set(bed: dict[str, Any], key: str, words: str) -> None:
    """Set a key of a plan to what was written, by the kind of that key."""
    choice, words = choices().get(key), words.strip()
    if choice is None or "." not in key:
        raise FormError(f'{bed["household"]}: "{key[:60]}" is no key of a bed\'s plan')
    value: Value = words
    if choice.kind == "tick":
        value = words.lower() in ("yes", "true")
    elif choice.kind == "many":
        value = tuple(part.strip() for part in words.split(",") if part.strip())
    section, name = key.split(".")
    bed.setdefault(section, {})[name] = as_data(choice, value)


def pasted(text: str) -> tuple[HouseholdRow, ...]:
    """Return rows pasted from a spreadsheet: household, length, width, or as its head line says.

    Raises FormError where a column of the head is not known.
    """
    text = text.strip("\n")
    if not text.strip():
        return ()
    lines = [
        [cell.strip() for cell in line]
        for line in csv.reader(io.StringIO(text), delimiter=delimiter_of(text))
    ]
    heads: Sequence[str] = ("household", "bed.length", "bed.width")
    if lines[0] and lines[0][0].lower() in _NAMES:
        heads = ["household", *(_key(cell) for cell in lines[0][1:])]
        lines = lines[1:]
    rows = []
    for line in lines:
        if not any(line):
            continue
        held = dict(zip(heads, line, strict=False))
        name = held.pop("household", "")
        held = {key: _value(key, cell) for key, cell in held.items()}
        cells = tuple(held.pop(key, "") for key in COLUMNS)
        others = tuple((key, value) for key, value in held.items() if value)
        rows.append(HouseholdRow(name, cells, others))
    return tuple(rows)


def _value(key: str, cell: str) -> str:
    """Return what a pasted cell stands for where it has the words of the plan's form."""
    options = choices()[key].options
    return next((one.value for one in options if one.label.lower() == cell.lower()), cell)


def _key(head: str) -> str:
    """Return the key of a plan that a column's head means: the key itself, or its words."""
    for key, choice in choices().items():
        if head.lower() in (key, choice.label.lower(), key.split(".")[-1]):
            return key
    raise FormError(
        f'pasted: the column "{head[:40]}" is not known; name it as the plan\'s form does'
    )


def whole_class(plan: str, kept: str) -> dict[str, Any]:
    """Return the data of a class file: the kept class over the plan's text as its template."""
    template = data_of(plan, "plan")
    data = data_of(kept, "class", "class")
    data["name"] = f"{str(template.pop('name', 'Bed'))[:60]}, class"
    for key in _OF_THE_CLASS:
        if key in template:
            data[key] = template.pop(key)
    # What is at hand belongs to the class's shelf, and is used once.
    shelf = template.pop("stock", [])
    if shelf:
        data["shelf"] = shelf
    data["template"] = template
    return data
