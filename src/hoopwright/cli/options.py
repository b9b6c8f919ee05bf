"""Arguments and options that several commands share."""

from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="Plan file (TOML).")]
AsJson = Annotated[bool, typer.Option("--json", help="Write JSON for machines, in SI units.")]


class Misused(ValueError):
    """Arguments or options that cannot be taken so; the message says what to change."""


class Commands(TyperGroup):
    """A list of commands in which each says all of what it does, and is not cut off."""

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return a command of that name, its first line for the list."""
        found = super().get_command(ctx, cmd_name)
        if found is not None:
            found.short_help = (found.help or "").split("\n")[0]
        return found
