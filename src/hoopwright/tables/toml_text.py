"""TOML of people we do not know: bounded in size, depth and digits before it is parsed.

The parser's time and memory grow with the square of a key's parts, so one line of dots could end
a machine; no plan, list or class needs a tenth of what is let through here.
"""

import re
from typing import Any

LARGEST = 1_000_000
"""Characters of a text."""
MOST_LINES = 40_000
DEEPEST = 8
"""Parts of a dotted key, and brackets inside one another."""
MOST_DIGITS = 400

# Each branch also takes a string that never closes, so that no start is tried twice.
_STRINGS = re.compile(
    r'"""(?:[^\\]|\\.)*?(?:"""|\Z)|\'\'\'.*?(?:\'\'\'|\Z)'
    r'|"(?:[^"\\\n]|\\[^\n])*"?|\'[^\'\n]*\'?|#[^\n]*',
    re.DOTALL,
)
_DEEP_KEY = re.compile(rf"(?<![\w-])(?:[\w-]+[ \t]*\.[ \t]*){{{DEEPEST},}}")
_LONG_NUMBER = re.compile(rf"(?<![0-9_])[0-9_]{{{MOST_DIGITS},}}")


def toml_of(text: str) -> dict[str, Any]:
    """Return what a TOML text holds.

    Raises tomllib.TOMLDecodeError for what is not TOML, ValueError for what is out of bounds.
    """
    import tomllib  # not every start reads TOML

    hold_to_bounds(text)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ValueError("is nested too deep") from None


def hold_to_bounds(text: str) -> None:
    """Raise ValueError, saying what is too large, where a TOML text goes past the bounds."""
    if len(text) > LARGEST:
        raise ValueError("is larger than 1 MB")
    if text.count("\n") > MOST_LINES:
        raise ValueError(f"has more than {MOST_LINES} lines")
    bare = _STRINGS.sub(lambda found: "" if found[0].startswith("#") else "s", text)
    if _DEEP_KEY.search(bare) or _depth(bare) > DEEPEST:
        raise ValueError("is nested too deep")
    if _LONG_NUMBER.search(bare):
        raise ValueError("holds a number too long to read")


def _depth(bare: str) -> int:
    """Return how many brackets stand open at once."""
    depth = deepest = 0
    for bracket in re.findall(r"[\[\]{}]", bare):
        depth += 1 if bracket in "[{" else -1
        deepest = max(deepest, depth)
    return deepest
