"""How far anything is claimed: past it a limit is said, and given as data, as "over" that end."""

from typing import Any

from hoopwright.answers.voice import Voice
from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.checks.rung import Hazard
from hoopwright.units import System, show

FARTHEST: dict[Hazard, float] = {"wind": STRONGEST_GUST, "snow": 1.5, "ice": 0.1, "hail": 0.1}
"""The gust followed [m/s], snow deeper than a bed is high, thick ice, big stones [m]."""


def claimed_words(
    value: float, hazard: Hazard, kind: str, system: System, say: Voice | None = None
) -> str:
    """Return a limit of a hazard in the reader's units; past what is claimed as "over" that."""
    far = FARTHEST[hazard]
    if value < far:
        return show(value, kind, system)
    return (say or Voice(system)).tell("over {limit}", limit=show(far, kind, system))


def claimed_data(limits: dict[str, tuple[float, Hazard]]) -> dict[str, Any]:
    """Return limits by name, none past what is claimed; `over` names those that are no more
    than a lower bound."""
    data: dict[str, Any] = {
        name: min(value, FARTHEST[hazard]) for name, (value, hazard) in limits.items()
    }
    data["over"] = [name for name, (value, hazard) in limits.items() if value >= FARTHEST[hazard]]
    return data
