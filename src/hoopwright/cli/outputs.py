"""Files that a command will write, checked before it works anything out."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from hoopwright import writing
from hoopwright.tables import foreign
from hoopwright.tables.toml_text import LARGEST, toml_of


def spare(outputs: Iterable[Path | None], *inputs: Path | None) -> None:
    """Raise WouldOverwrite where an output is an input, or a file that a plan or class names."""
    read = [path for path in inputs if path is not None]
    named = [found for path in read if path.suffix == ".toml" for found in _named_in(path)]
    writing.spare_inputs(outputs, [*read, *named])


def _named_in(path: Path) -> Iterator[Path]:
    """Yield every file that some word in a TOML file names, as the file itself would find it."""
    try:
        data = toml_of(foreign.text_held(path, LARGEST))
    except (OSError, ValueError):
        return
    for word in _words(data):
        if 0 < len(word) < 500 and word.isprintable() and (path.parent / word).is_file():
            yield path.parent / word


def _words(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for part in data.values() if isinstance(data, dict) else data:
            yield from _words(part)
