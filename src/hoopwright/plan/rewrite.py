"""Changing a plan's text key by key, with its comments and its order kept.

A key that is there is changed where it stands. A new one goes beside its own commented default,
else at the end of its section's lines. Whatever the layout, the data read back from the new text
must be the old data with just this change; where a plain insertion does not give that, the text
is put together anew by a TOML writer that keeps comments.
"""

import copy
import re
from collections.abc import Callable, Mapping
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from hoopwright.plan.read import PlanError, Problem
from hoopwright.plan.starter import written
from hoopwright.tables.toml_text import hold_to_bounds, toml_of

#: A key, its value on one line, and what follows: blanks and a comment.
VALUE = re.compile(
    r"""(?P<before>\s*[\w.-]+\s*=\s*)
    (?:"(?:[^"\\]|\\.)*"|'[^']*'|\[[^\[\]#"']*(?:"[^"\\]*"[^\[\]#"']*)*\]|[^\s\[\]{}"'#]+)
    (?P<after>\s*(?:\#.*)?)""",
    re.VERBOSE,
)

Way = Callable[[str, str, str, Any], str]


def with_value(text: str, key: str, new: Any) -> str:
    """Return the text with one key set, as "hoops.pipe"; None takes the key away."""
    section, _, name = key.rpartition(".")
    data = toml_of(text)
    wanted = copy.deepcopy(data)
    held = wanted.setdefault(section, {}) if section else wanted
    if new is None and name not in held:
        return text
    if new is None:
        del held[name]
        ways: tuple[Way, ...] = (_removed, _removed_by_writer)
    else:
        first = _replaced if name in held else _inserted
        alike = isinstance(new, list) and isinstance(held.get(name), list)
        same = alike and len(new) == len(held[name])
        ways = (*((_elements_by_writer,) if same else ()), first, _put_by_writer)
        held[name] = new
    for way in ways:
        try:
            found = agreed(way(text, section, name, new), wanted)
        except (TOMLKitError, KeyError, TypeError, AttributeError):
            continue
        if found is not None:
            return found
    return rewritten(text, wanted, section)


def _line_of(lines: list[str], section: str, name: str) -> int | None:
    """Return the line that gives a key its value, or None where no line does it alone."""
    for place, key in ((section, name), ("", f"{section}.{name}")):
        start, end = lines_of(lines, place)
        given = re.compile(rf"\s*{re.escape(key)}\s*=")
        for number in range(end if start is None else start, end):
            if given.match(lines[number]):
                return number
    return None


def _replaced(text: str, section: str, name: str, value: Any) -> str:
    """Return the text with the value on a key's line changed, its comment where it was."""
    lines = text.split("\n")
    at = _line_of(lines, section, name)
    found = None if at is None else VALUE.fullmatch(lines[at])
    if at is None or found is None:
        return _put_by_writer(text, section, name, value)
    lines[at] = f"{found['before']}{written(value)}{found['after']}"
    return "\n".join(lines)


def _removed(text: str, section: str, name: str, value: Any) -> str:
    """Return the text without a key's line; one with a comment of its own is commented out."""
    lines = text.split("\n")
    at = _line_of(lines, section, name)
    found = None if at is None else VALUE.fullmatch(lines[at])
    if at is None or found is None:
        return text
    lines[at : at + 1] = [f"# {lines[at]}"] if "#" in found["after"] else []
    return "\n".join(lines)


def _inserted(text: str, section: str, name: str, value: Any) -> str:
    """Return the text with a line for a key that it does not have yet."""
    lines = text.split("\n")
    line = f"{name} = {written(value)}"
    start, end = lines_of(lines, section)
    if start is None:
        return text.rstrip("\n") + f"\n\n[{section}]\n{line}\n"
    shown = re.compile(rf"#\s*{re.escape(name)}\s*=")
    at = next((n + 1 for n in range(start, end) if shown.match(lines[n])), None)
    if at is None:
        keys = [n for n in range(start, end) if lines[n].strip() and lines[n].lstrip()[0] != "#"]
        at = keys[-1] + 1 if keys else start
    return "\n".join([*lines[:at], line, *lines[at:]])


def lines_of(lines: list[str], section: str) -> tuple[int | None, int]:
    """Return the lines of a section [first, after); the head of the file for the plan itself."""
    header = re.compile(r"\s*\[")
    start: int | None = None if section else 0
    for number, line in enumerate(lines):
        if start is not None and header.match(line):
            return start, number
        if section and re.match(rf"\s*\[\s*{re.escape(section)}\s*\]", line):
            start = number + 1
    return start, len(lines)


def _put_by_writer(text: str, section: str, name: str, value: Any) -> str:
    document = opened(text)
    held: Any = document[section] if section else document
    held[name] = value
    return tomlkit.dumps(document)


def _elements_by_writer(text: str, section: str, name: str, value: Any) -> str:
    """Return the text with some elements of a list changed; its layout and comments stay."""
    document = opened(text)
    held: Any = (document[section] if section else document)[name]
    for number, one in enumerate(value):
        if held[number] != one:
            held[number] = one
    return tomlkit.dumps(document)


def _removed_by_writer(text: str, section: str, name: str, value: Any) -> str:
    document = opened(text)
    held: Any = document[section] if section else document
    held.pop(name)
    return tomlkit.dumps(document)


def without_section(text: str, section: str) -> str:
    """Return the text without a section; each of its keys goes as `with_value` takes one away.

    A header that nothing stands under is commented out, for an empty section can be a wrong one.
    """
    for name in toml_of(text).get(section, {}):
        text = with_value(text, f"{section}.{name}", None)
    lines = text.split("\n")
    start, _ = lines_of(lines, section)
    if start is not None:
        lines[start - 1] = f"# {lines[start - 1]}"
    wanted = {key: value for key, value in toml_of(text).items() if key != section}
    return agreed("\n".join(lines), wanted) or rewritten(text, wanted, section)


def rewritten(text: str, wanted: Mapping[str, Any], part: str) -> str:
    """Return the text with one part put anew; comments elsewhere are kept."""
    document = opened(text)
    if part and part in document:
        del document[part]
    fresh = {part: wanted[part]} if part and part in wanted else {}
    fresh = fresh if part else {k: v for k, v in wanted.items() if not isinstance(v, dict | list)}
    for key, value in fresh.items():
        document[key] = tomlkit.item(value)
    found = agreed(tomlkit.dumps(document), wanted)
    if found is None:
        says = f"[{part}] is laid out in a way that cannot be changed here; edit the file itself"
        raise PlanError("plan", (Problem(part, says),))
    return found


def agreed(text: str, wanted: Mapping[str, Any]) -> str | None:
    """Return the text if it reads as wanted (an empty section is as good as none), else None."""
    try:
        found = toml_of(text)
    except (ValueError, RecursionError):
        return None
    return text if _full(found) == _full(wanted) else None


def _full(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value not in ({}, [])}


def opened(text: str) -> tomlkit.TOMLDocument:
    try:
        hold_to_bounds(text)
        return tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise PlanError("plan", (Problem("", f"cannot be changed here: {error}"),)) from None
