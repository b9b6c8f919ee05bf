"""Write the pages that are printed from the code: plan keys and commands. `make docs` runs it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args, get_origin

import typer
from generate_sources import page as sources_page
from pydantic import BaseModel
from pydantic_core import PydanticUndefined

from hoopwright.__main__ import whole_app
from hoopwright.plan.model import Plan
from hoopwright.plan.starter import key_help, key_shown

FOLDER = Path(__file__).parent
NOTE = "<!-- Written by docs/generate.py from the code; change it there and run `make docs`. -->\n"


def plan_keys() -> str:
    """Return the page of every plan key with its default, range and meaning."""
    parts = [NOTE, "# Plan keys\n", "Every key has a default; `hoopwright new` writes them all.\n"]
    parts.append(_table(Plan, ""))
    parts += _sections(Plan, "")
    return "\n".join(parts)


def _sections(model: type[BaseModel], prefix: str) -> list[str]:
    """Return a part for each section in a model, and for the rows in each section."""
    parts = []
    for name, field in model.model_fields.items():
        for kind in _kinds(field.annotation):
            path = f"{prefix}{name}"
            heading = f"[[{path}]]" if get_origin(field.annotation) is tuple else f"[{path}]"
            about = (kind.__doc__ or "").strip().splitlines()[0]
            parts.append(f"## {heading}\n\n{about}\n\n{_table(kind, path + '.')}")
            parts += _sections(kind, path + ".")
    return parts


def _kinds(annotation: Any) -> list[type[BaseModel]]:
    """Return the sections that an annotation holds."""
    held = (annotation, *get_args(annotation))
    return [kind for kind in held if isinstance(kind, type) and issubclass(kind, BaseModel)]


def _table(model: type[BaseModel], prefix: str) -> str:
    rows = ["| key | default | meaning |", "|---|---|---|"]
    for name, field in model.model_fields.items():
        shown = key_shown(field)
        if shown is not None:
            shown = shown if field.default is not PydanticUndefined else "needed"
            rows.append(f"| `{prefix}{name}` | {shown} | {key_help(field)} |")
    return "\n".join(rows) + "\n"


def commands() -> str:
    """Return the page of every command with its arguments and options."""
    parts = [
        NOTE,
        "# Commands\n",
        "Errors go to standard error, one line each, with exit code 2. A command stopped by the "
        "keyboard ends with 130, one whose reader went away with 1 or 0, all else with 0, whatever "
        "a check found: read the findings, or take `--json`.\n",
    ]
    group = typer.main.get_command(whole_app())
    for name, command in _every(group):
        about = (command.help or "").strip()
        parts.append(f"## hoopwright {name}\n\n{about}\n")
        if not command.params:
            continue
        rows = ["| argument or option | meaning |", "|---|---|"]
        for parameter in command.params:
            named = parameter.param_type_name == "option"
            words = ", ".join(
                f"`{word}`" for word in (parameter.opts if named else [parameter.name])
            )
            meaning = getattr(parameter, "help", None) or ""
            rows.append(f"| {words} | {meaning} |")
        parts.append("\n".join(rows) + "\n")
    return "\n".join(parts)


def _every(group: Any, above: str = "") -> Iterator[tuple[str, Any]]:
    """Yield every command by its full name, those within others after them."""
    for name, command in sorted(group.commands.items()):
        full = f"{above}{name}"
        yield full, command
        if hasattr(command, "commands"):
            yield from _every(command, f"{full} ")


def sources() -> str:
    """Return the page of sources."""
    return sources_page(NOTE)


PAGES = {
    "guide/plan-keys.md": plan_keys,
    "guide/commands.md": commands,
    "sources.md": sources,
}


def main() -> None:
    """Write every page."""
    for name, page in PAGES.items():
        (FOLDER / name).write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
