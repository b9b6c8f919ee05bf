"""`hoopwright store`: a copy of everything the browser's server keeps, and back again."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer


def store(
    act: Annotated[Literal["backup", "restore"], typer.Argument(help="backup or restore.")],
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The backup to write or to read.")],
    folder: Annotated[
        Path | None, typer.Option(help="Folder of the plans. Default: your data folder.")
    ] = None,
) -> None:
    """Write all saved plans to one backup file, or put such a file back in their place."""
    from hoopwright.store import backup, restore
    from hoopwright.web.settings import usual_folder

    kept = folder or usual_folder()
    if act == "backup":
        print(f"Wrote {backup(kept, file)}")
        return
    before = restore(kept, file)
    print(f"Restored {kept}" + (f"; what was there before is in {before}" if before else ""))
