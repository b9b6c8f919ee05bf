"""Arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

PlanFile = Annotated[Path, typer.Argument(metavar="PLAN", help="Plan file (TOML).")]
AsJson = Annotated[bool, typer.Option("--json", help="Write JSON for machines, in SI units.")]
