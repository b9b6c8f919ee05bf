"""Why a figure of strength is what it is: what gives way, and the inputs that move it."""

from __future__ import annotations

from hoopwright.answers.strength_words import gust_words
from hoopwright.checks.ladder import Headline
from hoopwright.checks.rung import Rung
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Figure
from hoopwright.units import fill, show

#: Inputs told of, and the rank correlation [-] below which one is not worth telling.
MOST, LEAST = 10, 0.05


class NoSuchRung(ValueError):
    """A rung that this bed's ladder does not have."""


@dataclass(frozen=True)
class InputWords:
    """An uncertain input: its name, rank correlation [-], 5, 50 and 95 % [SI], and source."""

    name: str
    correlation: float
    range: tuple[float, float, float]
    source: str


@dataclass(frozen=True)
class WhyWords:
    """What stands behind a figure: what is told of it, and the inputs it depends on most."""

    told: tuple[tuple[str, str], ...]
    inputs: tuple[InputWords, ...]


def why_words(design: Design, name: str) -> WhyWords:
    """Return what stands behind a rung by its name, or a headline: opens, lost or moves."""
    found, system = design.ladder, design.system
    headlines = {one.brings: one for one in (found.opens, found.lost, found.moves)}
    rungs = {one.name: one for one in found.rungs}
    one = headlines.get(name) or rungs.get(name)  # type: ignore[call-overload]
    if one is None:
        listed = ", ".join((*headlines, *rungs))
        raise NoSuchRung(f"--why: no rung '{name}' on this bed; there are {listed}")
    if isinstance(one, Headline):
        ends = [gust_words(at, system) for at in one.told]
        rows = [("First there", ", ".join(f"{r.name} {share:.0%}" for r, share in one.first[:5]))]
    else:
        assert isinstance(one, Rung)
        ends = [
            gust_words(at, system) if one.hazard == "wind" else show(min(at, 9.0), one.kind, system)
            for at in (one.careful, one.middle, one.strong)
        ]
        rows = [
            ("What happens", fill(one.happens, one.values, system)),
            ("Case that governs", one.case),
            ("What raises it", one.do),
            ("From", "; ".join(one.sources)),
        ]
    told = ("Stood by nine beds in ten, half, one", ", ".join(ends))
    inputs = []
    for input_ in found.doubtful(one.at)[:MOST]:
        value = found.inputs.draws.used[input_.name]
        source = value.source if isinstance(value, Figure) else "told beside its own figure"
        ends_of = (value.low, value.likely, value.high)
        inputs.append(InputWords(input_.name, input_.correlation, ends_of, source))
    kept = tuple(one for one in inputs if abs(one.correlation) >= LEAST)
    return WhyWords((told, *rows), kept)
