"""Libraries that take half a second to load, for the one worker whose tests ask them."""

from importlib import import_module
from typing import Any


class Later:
    """A library, loaded when it is asked for something."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, part: str) -> Any:
        if part.startswith("_"):  # which pytest asks of all that a file holds
            raise AttributeError(part)
        return getattr(import_module(self._name), part)
