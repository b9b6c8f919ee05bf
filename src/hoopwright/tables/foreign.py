"""Files that a person names: read only where they are files, and no larger than they may be."""

import errno
import stat
from pathlib import Path


def held(path: Path, largest: int) -> bytes:
    """Return what a file holds.

    Raises OSError, in words, also for what is no file (a pipe may never end, a device never
    does) and for more than `largest` [bytes].
    """
    if not stat.S_ISREG(path.stat().st_mode):
        raise OSError(errno.EINVAL, "is no file that can be read through", str(path))
    with path.open("rb") as file:
        found = file.read(largest + 1)
    if len(found) > largest:
        raise OSError(errno.EFBIG, f"is larger than {largest / 1e6:g} MB", str(path))
    return found


def text_held(path: Path, largest: int) -> str:
    """Return the text of a file as `held` does; raises OSError also for what is not UTF-8."""
    data = held(path, largest)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        says = f"byte {error.start} is not UTF-8 (save the file as UTF-8 text)"
        raise OSError(errno.EILSEQ, says, str(path)) from None
