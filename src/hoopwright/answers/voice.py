"""How quantities, numbers of things and lists are said to this reader."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hoopwright import units
from hoopwright.frozen import dataclass
from hoopwright.units import System

_DRILL_STEPS = 64


@dataclass(frozen=True)
class Voice:
    """Quantities as text in one reader's units and money."""

    system: System
    currency: str = "USD"

    def show(self, value: float, kind: str) -> str:
        """Return a quantity [SI] as `units.show` writes it."""
        return units.show(value, kind, self.system)

    def length(self, value: float) -> str:
        """Return the size of a thing [m]."""
        return self.show(value, "length")

    def tape(self, value: float) -> str:
        """Return a mark on a tape [m]."""
        return self.show(value, "tape")

    def size(self, value: float) -> str:
        """Return a length as sold [m]."""
        return self.show(value, "size")

    def area(self, width: float, length: float) -> str:
        """Return the two sizes of a flat thing [m]."""
        return f"{self.length(width)} by {self.length(length)}"

    def money(self, value: float) -> str:
        """Return an amount in the price list's own currency."""
        return units.show(value, "money", self.system.priced_in(self.currency))

    def bit(self, diameter: float) -> str:
        """Return the drill bit nearest a hole [m] by its name in the rack: 64ths of an inch,
        or half millimetres."""
        if self.system.name == "us":
            size = Fraction(round(diameter / 0.0254 * _DRILL_STEPS), _DRILL_STEPS)
            return f"{size} in"
        return f"{round(diameter * 2000) / 2:g} mm"


def plural(number: int, thing: str) -> str:
    """Return "1 hoop", "7 hoops"."""
    return f"{number:,} {thing}" if number == 1 else f"{number:,} {thing}s"


def listed(words: Sequence[str]) -> str:
    """Return "a", "a and b", "a, b and c"."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def sentence(words: str) -> str:
    """Return words beginning with a capital."""
    return words[:1].upper() + words[1:]


def numbered(numbers: Sequence[int]) -> str:
    """Return whole numbers with runs drawn together: "1 to 3, 5 and 7"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = []
    for run in runs:
        if len(run) > 2:
            parts.append(f"{run[0]} to {run[-1]}")
        else:
            parts += [str(number) for number in run]
    return listed(parts)


def kind_of(name: str) -> str:
    """Return a piece's name without its numbers and its end of the bed."""
    words = [word for word in name.split() if not word.isdigit()]
    return " ".join(word for word in words if word not in ("first", "last", "left", "right"))
