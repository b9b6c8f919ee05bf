"""`hoopwright store`: a copy of everything the browser's server keeps, and back again."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli.options import AsJson


def store(
    act: Annotated[Literal["backup", "restore"], typer.Argument(help="backup or restore.")],
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The backup to write or to read.")],
    folder: Annotated[
        Path | None, typer.Option(help="Folder of the plans. Default: your data folder.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Write all saved plans to one backup file, or put such a file back in their place."""
    from hoopwright.cli import text
    from hoopwright.store import backup, restore, usual_folder

    kept = folder or usual_folder()
    if act == "backup":
        written = backup(kept, file)
        print(text.as_json({"files": [str(written)]}) if json else f"Wrote {written}")
        return
    before = restore(kept, file)
    if json:
        print(text.as_json({"folder": str(kept), "before": str(before) if before else None}))
        return
    print(f"Restored {kept}" + (f"; what was there before is in {before}" if before else ""))
