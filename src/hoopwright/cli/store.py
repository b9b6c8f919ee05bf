"""`hoopwright store`: a copy of everything the browser's server keeps, and back again."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson

#: Things left out that are told one by one.
MOST_TOLD = 10


def store(
    act: Annotated[Literal["backup", "restore"], typer.Argument(help="backup or restore.")],
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The backup to write or to read.")],
    folder: Annotated[
        Path | None, typer.Option(help="Folder of the plans. Default: your data folder.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Write all saved plans to one backup file, or put such a file back in their place."""
    from hoopwright.store import backup, restore, usual_folder

    kept = folder or usual_folder()
    if act == "backup":
        wrong = backup(kept, file)
        if json:
            print(text.as_json({"files": [str(file)], "damaged": wrong}))
            return
        print("\n".join([f"Wrote {file}", *(f"  Not whole: {one}" for one in wrong[:MOST_TOLD])]))
        return
    found = restore(kept, file)
    before = str(found.before) if found.before else None
    if json:
        told = {"folder": str(kept), "before": before, "left_out": found.left_out}
        print(text.as_json(told))
        return
    print(f"Restored {kept}" + (f"; what was there before is in {before}" if before else ""))
    for one in found.left_out[:MOST_TOLD]:
        print(f"  Left out: {one}")
    if len(found.left_out) > MOST_TOLD:
        print(f"  and {len(found.left_out) - MOST_TOLD} more; --json lists them all")
