"""A command as a person runs it, without the half second that a new process takes."""

from __future__ import annotations

import contextlib
import gc
import io
import os
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from hoopwright.__main__ import main
from hoopwright.cli.main import app

SMALL_BED = """
[site]
latitude = "44.1 N"
longitude = "109.6 W"
elevation = "6700 ft"
[bed]
length = "6 ft"
width = "3 ft"
[season]
"""
"""A plan up to its season, which a command runs in little time."""


@dataclass(frozen=True)
class Done:
    """What a command left behind."""

    returncode: int
    stdout: str
    stderr: str


def _stream(text: str = "") -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8", newline="")


def run(
    *words: object, cwd: Path | None = None, stdin: str = "", env: dict[str, str] | None = None
) -> Done:
    """Run the command line through its own entry; streams, folder and environment are put back."""
    out, errors = _stream(), _stream()
    code: Any = 0
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["hoopwright", *map(str, words)])
        patch.setattr(sys, "stdin", _stream(stdin))
        patch.chdir(cwd or os.getcwd())
        # Here the process goes on, and what a command left is rubbish.
        patch.setattr(gc, "freeze", lambda: None)
        # The program leaves itself only the command asked for.
        for part in ("registered_commands", "registered_groups", "registered_callback"):
            patch.setattr(app, part, getattr(app, part))
        for name, value in (env or {}).items():
            patch.setenv(name, value)
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(errors):
            try:
                main()
            except SystemExit as end:
                code = end.code
    texts = []
    for stream in (out, errors):
        stream.flush()
        stream.seek(0)
        texts.append(stream.read())
    return Done(code if isinstance(code, int) else int(code is not None), *texts)
