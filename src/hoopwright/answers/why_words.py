"""Why a figure of strength is what it is: what is asked and held, and the inputs that move it."""

from hoopwright.answers.ladder_words import asked_words
from hoopwright.answers.strength_words import gust_words
from hoopwright.answers.voice import sentence
from hoopwright.checks.at_gust import AtGust, at_gust
from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.checks.ladder import Headline
from hoopwright.checks.rung import Rung
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.odds.quantiles import weak_to_strong
from hoopwright.tables.reader import Figure
from hoopwright.units import System, fill, show

#: Inputs told of, and the rank correlation [-] below which one is not worth telling.
MOST, LEAST = 10, 0.05
#: Rungs told of behind a headline.
RUNGS = 3


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
    """What stands behind a figure.

    careful : the figure itself, as nine beds in ten stand it
    told : pairs of what and words: what is asked of the parts and what they hold among them
    inputs : those that it depends on most; draws : how many beds were drawn
    """

    careful: str
    told: tuple[tuple[str, str], ...]
    inputs: tuple[InputWords, ...]
    draws: int


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
        rows = _of_headline(design, one)
    else:
        assert isinstance(one, Rung)
        ends = [
            gust_words(at, system) if one.hazard == "wind" else show(min(at, 9.0), one.kind, system)
            for at in (one.careful, one.middle, one.strong)
        ]
        rows = _of_rung(design, one)
    told = ("Stood by nine beds in ten, half, one", ", ".join(ends))
    inputs = []
    for input_ in found.doubtful(one.at)[:MOST]:
        value = found.inputs.draws.used[input_.name]
        source = value.source if isinstance(value, Figure) else "told beside its own figure"
        ends_of = (value.low, value.likely, value.high)
        inputs.append(InputWords(input_.name, input_.correlation, ends_of, source))
    kept = tuple(one for one in inputs if abs(one.correlation) >= LEAST)
    said = tuple(pair for pair in (told, *rows) if pair[1])
    return WhyWords(ends[0], said, kept, found.inputs.draws.count)


def _of_headline(design: Design, one: Headline) -> list[tuple[str, str]]:
    first = [(rung, share) for rung, share in one.first[:RUNGS] if share >= LEAST]
    often = [
        f"{_called(rung)} {show(share, 'share', design.system)}"
        for rung, share in one.first
        if share
    ]
    rows = [("First there", ", ".join(often[:5]))]
    met = _met(design, one.told[0])
    for rung, _ in first:
        rows += _asked(met, rung, design.system)
    sources = dict.fromkeys(source for rung, _ in first for source in rung.sources)
    return [*rows, ("From", "; ".join(sources))]


def _of_rung(design: Design, rung: Rung) -> list[tuple[str, str]]:
    system = design.system
    rows = [("What happens", sentence(fill(rung.happens, rung.values, system)))]
    if rung.hazard == "wind":
        rows += _asked(_met(design, rung.careful), rung, system)
    elif rung.load is not None:
        low, middle, high = (show(at, "pressure", system) for at in weak_to_strong(rung.load))
        rows.append(("It bears", f"{low} on nine beds in ten, {middle} on half, {high} on one"))
    return [
        *rows,
        ("Case that governs", rung.case),
        ("What raises it", rung.do),
        ("From", "; ".join(rung.sources)),
    ]


def _met(design: Design, gust: float) -> AtGust | None:
    """Return what a gust [m/s] asks of each part; None past what is followed."""
    return at_gust(design.standing, design.ladder, gust) if gust <= STRONGEST_GUST else None


def _asked(met: AtGust | None, rung: Rung, system: System) -> list[tuple[str, str]]:
    """Return what a gust asks of what gives way, and what that holds.

    Everything that goes with the pressure of the wind uses of what it holds the square of the
    gust over the one at which it gives way: said where no force is known by name.
    """
    if met is None:
        return []
    gust = show(met.gust, "speed", system)
    told = zip(met.asked, asked_words(met, system), strict=True)
    rows = [(f"{what} at {gust}", words) for one, (what, words) in told if one.rung == rung.name]
    if rows or rung.middle == float("inf"):
        return rows
    most, half = (show((met.gust / at) ** 2, "share", system) for at in (rung.careful, rung.middle))
    what = f"{_called(rung).capitalize()}, at {gust}"
    return [(what, f"up to {most} of the wind they bear on nine beds in ten, {half} on half")]


def _called(rung: Rung) -> str:
    return rung.name.replace("-", " ")
