"""A check is data: what was asked, what is there, how serious it is, and what to do about it."""

from collections.abc import Iterable, Mapping
from dataclasses import field
from enum import IntEnum

from hoopwright.frozen import dataclass


class Severity(IntEnum):
    """How much a finding matters, in the four words used everywhere."""

    FINE = 0
    WATCH = 1
    CHANGE = 2
    STOP = 3

    @property
    def word(self) -> str:
        """Return the word shown for it."""
        return self.name.lower()


@dataclass(frozen=True)
class Finding:
    """One check of one design.

    name     : stable key, as "bend-strain"
    says     : what was found, answer first; fields "{name:kind}" are filled from `values`
    do       : what to do about it; empty where nothing needs doing
    values   : quantities in SI (temperatures in degC) and words for the fields
    demand, capacity : the two numbers compared [SI], where the check is one of numbers
    kind     : kind of quantity of demand and capacity, as units.show names it
    source   : where the limit comes from, and how sure it is
    """

    name: str
    severity: Severity
    says: str
    do: str = ""
    values: Mapping[str, float | str] = field(default_factory=dict)
    demand: float | None = None
    capacity: float | None = None
    kind: str = ""
    source: str = ""


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings with the most serious first, otherwise in the order given."""
    return tuple(sorted(findings, key=lambda finding: -finding.severity))
