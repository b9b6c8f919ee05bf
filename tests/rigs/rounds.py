"""How often a repeated test repeats: a short round in `make test`, the whole one in `make long`."""

import os


def turns(short: int, whole: int) -> int:
    """Return how many turns to take: `whole` where HOOPWRIGHT_LONG is set."""
    return whole if os.environ.get("HOOPWRIGHT_LONG") else short
