"""How quantities, numbers of things and lists are said to this reader."""

import re
from collections.abc import Sequence
from functools import lru_cache
from gettext import NullTranslations

from hoopwright import units
from hoopwright.frozen import dataclass
from hoopwright.tables.languages import ENGLISH
from hoopwright.units import System


@dataclass(frozen=True)
class Voice:
    """Quantities as text in one reader's units, money and language.

    words : a gettext catalogue whose messages are the English words, {name:kind} in them as
            `units.fill` has it
    """

    system: System
    currency: str = "USD"
    words: NullTranslations = ENGLISH

    def word(self, message: str) -> str:
        """Return words in the reader's language; without a translation, as they are."""
        return self.words.gettext(message) if message else ""

    def tell(self, message: str, **values: float | str) -> str:
        """Return a message in the reader's language with its quantities [SI] and words put in."""
        return units.fill(self.word(message), values, self.system.priced_in(self.currency))

    def noun(self, number: int, thing: str) -> str:
        """Return "hoop" for one, "hoops" for more."""
        return self.words.ngettext(thing, f"{thing}s", number)

    def count(self, number: int, thing: str) -> str:
        """Return "1 hoop", "7 hoops"."""
        return f"{number:,} {self.noun(number, thing)}"

    def listed(self, words: Sequence[str]) -> str:
        """Return "a", "a and b", "a, b and c"."""
        if len(words) < 2:
            return "".join(words)
        return self.tell("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])

    def numbered(self, numbers: Sequence[int]) -> str:
        """Return whole numbers with runs drawn together: "1 to 3, 5 and 7"."""
        parts = []
        for run in _runs(numbers):
            if len(run) > 2:
                parts.append(self.tell("{first} to {last}", first=str(run[0]), last=str(run[-1])))
            else:
                parts += [str(number) for number in run]
        return self.listed(parts)

    def piece(self, name: str) -> str:
        """Return a piece's name, "rail 1 piece 2", in the reader's language."""
        numbers = re.findall(r"\d+", name)
        message = name
        for letter, number in zip("abc", numbers, strict=False):
            message = message.replace(f" {number}", f" {{{letter}}}", 1)
        return self.tell(message, **dict(zip("abc", numbers, strict=False)))

    def named(self, name: str) -> str:
        """Return a thing by its label in the shop, which stays, and what it is called here."""
        own = self.word(name)
        return name if own == name else f"{name} ({own})"

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
        return self.tell("{one} by {other}", one=self.length(width), other=self.length(length))

    def money(self, value: float) -> str:
        """Return an amount in the price list's own currency."""
        return units.show(value, "money", self.system.priced_in(self.currency))

    def bit(self, diameter: float) -> str:
        """Return the drill bit nearest a hole [m] by its name in the rack: 64ths of an inch,
        or half millimetres."""
        return self.show(diameter, "drill bit")


def message(words: str) -> str:
    """Return words that are told later, in the reader's language; marked so that they are found."""
    return words


def sentence(words: str) -> str:
    """Return words beginning with a capital."""
    return words[:1].upper() + words[1:]


_ENGLISH = Voice(units.US)
#: Said in English to every reader.
plural, listed, numbered = _ENGLISH.count, _ENGLISH.listed, _ENGLISH.numbered


def _runs(numbers: Sequence[int]) -> list[list[int]]:
    """Return whole numbers in order, those that follow one another together."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return runs


@lru_cache(maxsize=1024)
def kind_of(name: str) -> str:
    """Return a piece's name without its numbers and its end of the bed."""
    words = [word for word in name.split() if not word.isdigit()]
    return " ".join(word for word in words if word not in ("first", "last", "left", "right"))
