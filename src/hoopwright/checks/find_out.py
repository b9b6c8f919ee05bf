"""Which measurement would tell most about a bed, and how a person makes it."""

from hoopwright.checks.hoop_in_wind import GRIP
from hoopwright.checks.ladder import Ladder
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import CLIP, RAIL_CLIP, TIE

#: Correlation [-] below which an input is not worth measuring for this answer (a choice).
WORTH_ASKING = 0.12

_STRAPS = (
    "Pull a few legs along the pipe with a luggage scale and note it with `hoopwright pull` "
    "(holding.pull_test)."
)
_SOIL = (
    "Look at the soil by the boards on a dry day: a gap means that nothing holds the box there. "
    "Keep it moist and firmed against the boards."
)
#: What to do about an input that a person can find out: its name in the draws, and how.
HOW: dict[str, str] = {
    CLIP: "Pull a few film clips along the pipe with a luggage scale and note what each bears "
    "(holding.clip_test).",
    TIE: "Pull a few rail ties outward with a luggage scale and note what each bears "
    "(holding.tie_test).",
    RAIL_CLIP: "Pull a few rail clips outward with a luggage scale and note what each bears "
    "(holding.tie_test).",
    "squeeze of a snug strap": _STRAPS,
    "steel strap on plastic pipe": _STRAPS,
    GRIP: _STRAPS,
    "film on wood": "Pull the film's edge from under a batten with a clamp and a luggage scale; a "
    "further turn round the batten makes the figure not matter.",
    "earth pressure on the windward board": _SOIL,
    "soil sticking to the boards": _SOIL,
    "soil on board": _SOIL,
}


@dataclass(frozen=True)
class FindOut:
    """An input to find out first: its name, how, and its correlation with the answer [-]."""

    name: str
    how: str
    correlation: float


def find_out_first(found: Ladder) -> FindOut | None:
    """Return what to measure first for the gust to plan for, or None where nothing would tell."""
    for one in found.doubtful(found.opens.at):
        if one.name in HOW and abs(one.correlation) >= WORTH_ASKING:
            return FindOut(one.name, HOW[one.name], one.correlation)
    return None
