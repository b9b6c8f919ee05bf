"""Keeping: a backup of all that is saved, and what it holds brought back, also while serving."""

import datetime
import tempfile
from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, File, HTTPException, UploadFile
from fastapi.responses import Response

from hoopwright.store import StoreError, backup, bring_back
from hoopwright.web.context import AtDesk, Desk, file_to_keep, page
from hoopwright.web.visitors import OWNER

router = APIRouter(include_in_schema=False)


@router.get("/keep")
def keep(at: AtDesk) -> Response:
    """Show how to keep what is saved."""
    return _shown(at)


def _shown(at: Desk, says: tuple[str, ...] = (), status: int = 200) -> Response:
    count = at.store.plans.count(at.owner)
    return page("keep.html.jinja", status, plans=count, says=says, whole=at.owner == OWNER)


@router.get("/keep/backup.sqlite3")
def take_backup(at: AtDesk) -> Response:
    """Return a copy of the whole store, as `hoopwright store backup` writes it."""
    _of_the_machine(at)
    with tempfile.TemporaryDirectory(dir=at.store.folder, prefix=".backup-") as aside:
        copy = Path(aside) / "copy.sqlite3"
        backup(at.store.folder, copy)
        body = copy.read_bytes()
    return file_to_keep(f"hoopwright-{datetime.date.today().isoformat()}.sqlite3", body)


@router.post("/keep/backup")
def bring_backup(at: AtDesk, file: Annotated[UploadFile, File()]) -> Response:
    """Bring back from a backup the plans that are here no more."""
    _of_the_machine(at)
    try:
        count, left_out = bring_back(at.store, file.file.read(), at.owner)
    except StoreError as error:
        return _shown(at, (str(error),), 422)
    said = f"{count} {'plan' if count == 1 else 'plans'} brought back; what was here stands."
    return _shown(at, (said, *left_out[:10]))


def _of_the_machine(at: Desk) -> None:
    """Refuse a visitor: a backup holds everybody's plans."""
    if at.owner != OWNER:
        raise HTTPException(403, "Only the machine's own user can take or bring back a backup.")
