"""Changing the rows of a plan (`[[stock]]`, `[[site.skyline]]`), comments and order kept.

Rows written as blocks are changed line by line; a row taken away leaves the comments around its
block. Rows laid out in another way are changed by a TOML writer that keeps comments. Either way
the data read back must be the old data with just this change.
"""

import copy
import re
from collections.abc import Callable, Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from hoopwright.plan.rewrite import VALUE, agreed, lines_of, opened, rewritten
from hoopwright.plan.starter import written
from hoopwright.tables.toml_text import toml_of

Row = Mapping[str, Any]


def rows_of(text: str, key: str) -> list[dict[str, Any]]:
    """Return the rows under a key, as "site.skyline", as the plan writes them."""
    return [dict(row) for row in _held(toml_of(text), key)]


def with_row(text: str, key: str, row: Row, number: int | None = None) -> str:
    """Return the text with one more row, or with row `number` (from 0) changed to this one."""
    wanted = copy.deepcopy(toml_of(text))
    rows = _held(wanted, key, make=True)
    if number is None:
        rows.append(dict(row))
        return _first(text, key, wanted, (_appended, _appended_by_writer), (key, row))
    if rows[number] == dict(row):
        return text
    rows[number] = dict(row)
    return _first(text, key, wanted, (_changed, _changed_by_writer), (key, row, number))


def without_row(text: str, key: str, number: int) -> str:
    """Return the text without one row, counted from 0; unchanged where there is no such row."""
    wanted = copy.deepcopy(toml_of(text))
    rows = _held(wanted, key)
    if not 0 <= number < len(rows):
        return text
    del rows[number]
    if not rows:
        _drop(wanted, key)
    return _first(text, key, wanted, (_removed, _removed_by_writer), (key, number))


def _first(
    text: str,
    key: str,
    wanted: Mapping[str, Any],
    ways: tuple[Callable[..., str], ...],
    change: tuple[Any, ...],
) -> str:
    """Return what the first way gives that reads back as wanted."""
    for way in ways:
        try:
            found = agreed(way(text, *change), wanted)
        except (TOMLKitError, LookupError, TypeError, AttributeError, ValueError):
            continue
        if found is not None:
            return found
    return rewritten(text, wanted, key.partition(".")[0])


def _held(data: Any, key: str, make: bool = False) -> Any:
    """Return the list of rows in data; an empty one where there is none, put there if asked."""
    section, _, name = key.rpartition(".")
    held = data.setdefault(section, {}) if section and make else data.get(section, {})
    place = held if section else data
    return place.setdefault(name, []) if make else place.get(name, [])


def _drop(data: Any, key: str) -> None:
    section, _, name = key.rpartition(".")
    del (data[section] if section else data)[name]


def _blocks(lines: list[str], key: str) -> list[tuple[int, int]]:
    """Return the blocks of a key's rows: the line of the header, and past the last key."""
    name = r"\s*\.\s*".join(re.escape(part) for part in key.split("."))
    header = re.compile(rf"\s*\[\[\s*{name}\s*\]\]")
    found = []
    for start, line in enumerate(lines):
        if not header.match(line):
            continue
        end = start + 1
        for number in range(start + 1, len(lines)):
            if re.match(r"\s*\[", lines[number]):
                break
            if lines[number].strip() and not lines[number].lstrip().startswith("#"):
                end = number + 1
        found.append((start, end))
    return found


def _appended(text: str, key: str, row: Row) -> str:
    """Return the text with a block after the last one, else at the end of its section."""
    lines = text.rstrip("\n").split("\n")
    blocks = _blocks(lines, key)
    at = blocks[-1][1] if blocks else _end_of(lines, key.rpartition(".")[0])
    block = [f"[[{key}]]", *(f"{name} = {written(value)}" for name, value in row.items())]
    after = lines[at:]
    gap = [""] if after and after[0].strip() else []
    return "\n".join([*lines[:at], "", *block, *gap, *after]).rstrip("\n") + "\n"


def _end_of(lines: list[str], section: str) -> int:
    """Return past the last line of a section; a comment right above the next header is its own."""
    start, end = lines_of(lines, section) if section else (None, len(lines))
    if start is None or end >= len(lines):
        return len(lines)
    while end > start and lines[end - 1].lstrip().startswith("#"):
        end -= 1
    while end > start and not lines[end - 1].strip():
        end -= 1
    return end


def _changed(text: str, key: str, row: Row, number: int) -> str:
    """Return the text with the values of a block changed where they stand."""
    lines = text.split("\n")
    start, end = _blocks(lines, key)[number]
    missing = dict(row)
    for at in range(end - 1, start, -1):
        name = lines[at].partition("=")[0].strip()
        found = VALUE.fullmatch(lines[at])
        if found is None or name not in row:
            continue
        lines[at] = f"{found['before']}{written(missing.pop(name))}{found['after']}"
    lines[end:end] = [f"{name} = {written(value)}" for name, value in missing.items()]
    return "\n".join(lines)


def _removed(text: str, key: str, number: int) -> str:
    """Return the text without a block; comment lines within and after it stay."""
    lines = text.split("\n")
    start, end = _blocks(lines, key)[number]
    kept = [line for line in lines[start:end] if line.lstrip().startswith("#")]
    before, after = lines[:start], lines[end:]
    while not kept and before and after and not before[-1].strip() and not after[0].strip():
        after = after[1:]
    return "\n".join([*before, *kept, *after])


def _appended_by_writer(text: str, key: str, row: Row) -> str:
    document = opened(text)
    rows = _held(document, key)
    if isinstance(rows, tomlkit.items.Array):
        inline = tomlkit.inline_table()
        inline.update(dict(row))
        rows.append(inline)
    else:
        rows.append(tomlkit.item(dict(row)))
    return tomlkit.dumps(document)


def _changed_by_writer(text: str, key: str, row: Row, number: int) -> str:
    document = opened(text)
    held = _held(document, key)[number]
    for name in [name for name in held if name not in row]:
        held.pop(name)
    for name, value in row.items():
        if name not in held or held[name] != value:
            held[name] = value
    return tomlkit.dumps(document)


def _removed_by_writer(text: str, key: str, number: int) -> str:
    document = opened(text)
    rows: Any = _held(document, key)
    del rows[number]
    if not rows:
        _drop(document, key)
    return tomlkit.dumps(document)
