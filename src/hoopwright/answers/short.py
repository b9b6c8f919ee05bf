"""The short answers beside the drawing: each a sentence that opens to its numbers."""

from hoopwright.answers.facts import Fact, cost_words, facts, voice_of
from hoopwright.answers.findings import FindingWords, finding_words, tally, words_of
from hoopwright.answers.ladder_words import LadderPart, ladder_words, stands_words
from hoopwright.answers.season_answer import SeasonState
from hoopwright.answers.spreadsheets import bought
from hoopwright.answers.strength_words import gust_words, strength_words
from hoopwright.answers.voice import sentence
from hoopwright.checks.finding import Severity
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.units import show


@dataclass(frozen=True)
class Numbers:
    """A table behind an answer: rows of text, the columns set right, and a last row."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()
    foot: tuple[str, ...] = ()


@dataclass(frozen=True)
class Answer:
    """One answer.

    word    : fine, watch, change or stop, where the answer is a judgement
    says    : the sentence; `short` the few words that a variant is compared by
    numbers, findings, facts : what it opens to
    link    : (page, words) where more is said
    """

    key: str
    title: str
    word: str
    says: str
    short: str
    numbers: Numbers | None = None
    findings: tuple[FindingWords, ...] = ()
    facts: tuple[Fact, ...] = ()
    link: tuple[str, str] = ("", "")


def answers(design: Design, season: SeasonState) -> tuple[Answer, ...]:
    """Return the answers in the order in which a reader asks."""
    wind, snow, _ = ladder_words(design)
    return (
        _fits(design),
        _wind(design, wind),
        _snow(design, snow),
        _cost(design),
        _season(season),
        _size(design),
    )


def _fits(design: Design) -> Answer:
    worst = max((one.severity for one in design.findings), default=Severity.FINE)
    count = tally(design.findings)
    first = words_of(design.findings[0], design.system) if design.findings else None
    says = {
        Severity.FINE: "Fits, and nothing needs watching.",
        Severity.WATCH: f"Fits; {count}.",
        Severity.CHANGE: f"Not as it stands: {count}.",
        Severity.STOP: f"Cannot be built so: {count}.",
    }[worst]
    if worst >= Severity.CHANGE and first is not None:
        says += f" First: {first.says}"
    words = finding_words(design.findings, design.system)
    short = count or "nothing to watch"
    return Answer("fits", "Does it fit", worst.word, says, short, findings=words)


def _judged(design: Design, name: str) -> str:
    found = [finding.severity for finding in design.findings if finding.name == name]
    return max(found).word if found else ""


def _wind(design: Design, part: LadderPart) -> Answer:
    told = strength_words(design)
    at = gust_words(design.ladder.opens.told[0], design.system)
    return Answer(
        "wind",
        "Wind",
        _judged(design, "wind"),
        told.told,
        at,
        _rungs(part, "Gust"),
        link=("limits", "All limits, and what would help"),
    )


def _snow(design: Design, part: LadderPart) -> Answer:
    at = stands_words(design.ladder.wet_snow, design.system)
    return Answer("snow", "Snow", _judged(design, "snow"), part.summary, at, _rungs(part, "Depth"))


def _rungs(part: LadderPart, at: str) -> Numbers:
    rows = tuple((row.at, row.happens, f"{row.harm}; {row.case}") for row in part.rows)
    return Numbers(f"{part.title}, first to last", (at, "What happens", "How bad, when"), rows)


def _cost(design: Design) -> Answer:
    order, say = design.order, voice_of(design)
    rows = tuple((line.name, *bought(line, say)) for line in order.lines)
    own = "" if design.plan.prices == "example" else f", prices of {design.plan.prices}"
    numbers = Numbers(
        f"Shopping list{own}",
        ("Item", "Sold as", "At hand", "Buy", "Each", "Total"),
        rows,
        (2, 3, 4, 5),
        ("All", "", "", "", "", say.money(order.total)),
    )
    word = "stop" if order.unmet else ("watch" if order.unpriced else "")
    says = cost_words(design, say)
    if order.unmet:
        says += " " + " ".join(sentence(words) for words in order.unmet)
    named = design.plan.prices
    told = "the example list, or your own" if named == "example" else named
    link = ("lists", f"Prices: {told}")
    return Answer("cost", "Cost", word, says, say.money(order.total), numbers, link=link)


def _size(design: Design) -> Answer:
    hoop, system = design.hoop, design.system
    crown = show(hoop.crown_over_board, "length", system)
    number = len(design.hoops)
    says = (
        f"{number} hoops of {hoop.pipe.name}, {show(hoop.cut_length, 'length', system)} each; "
        f"{crown} clear under the crown."
    )
    short = f"{number} hoops, {crown} high"
    return Answer("size", "Size and work", "", says, short, facts=facts(design))


def _season(season: SeasonState) -> Answer:
    return Answer(
        "season",
        "Degrees and days gained",
        "",
        season.says,
        season.short,
        link=("season", "The season"),
    )
