"""The words of a check in the reader's units."""

from collections.abc import Iterable

from hoopwright import units
from hoopwright.answers.voice import listed, sentence
from hoopwright.checks.finding import Finding, Severity
from hoopwright.frozen import dataclass
from hoopwright.units import System


@dataclass(frozen=True)
class FindingWords:
    """A check in the reader's words.

    severity : fine, watch, change or stop; every writer gives each its own mark beside the word
    """

    name: str
    severity: str
    says: str
    do: str
    source: str


def words_of(finding: Finding, system: System) -> FindingWords:
    """Return a finding as words: what is found, and what to do about it."""
    return FindingWords(
        finding.name,
        finding.severity.word,
        sentence(units.fill(finding.says, finding.values, system)),
        sentence(units.fill(finding.do, finding.values, system)) if finding.do else "",
        finding.source,
    )


def finding_words(findings: Iterable[Finding], system: System) -> tuple[FindingWords, ...]:
    """Return findings as words, in the order given."""
    return tuple(words_of(finding, system) for finding in findings)


def tally(findings: Iterable[Finding]) -> str:
    """Return how many findings ask something of the reader: "2 to change, 1 to watch"."""
    found = [finding.severity for finding in findings]
    counts = [
        (found.count(severity), words)
        for severity, words in (
            (Severity.STOP, "to stop for"),
            (Severity.CHANGE, "to change"),
            (Severity.WATCH, "to watch"),
        )
    ]
    return listed([f"{count} {words}" for count, words in counts if count])
