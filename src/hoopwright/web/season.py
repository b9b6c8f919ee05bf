"""The season and the coming days as the pages show them; other rooms work them out.

`WORKED_OUT` is empty until the season's programme is wired; until then every page says plainly
that this is not worked out yet, and what can be done meanwhile.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class SeasonState:
    """What is known of the season: a sentence, its short form, and the results if there are any.

    data : plain data as the season's job leaves it, None while there is none
    """

    says: str
    short: str
    data: Mapping[str, Any] | None = None


NOT_YET = SeasonState(
    "Not worked out for this plan yet. Open the season page to start it.", "not worked out"
)
