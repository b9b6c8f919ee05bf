"""What a person reaches, the tools wanted, and what things cost (an example list)."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.tables.reader import SURENESS, number, text


@dataclass(frozen=True)
class Reach:
    """How far a person works over a bed from one side [m], with the range met in practice."""

    key: str = text()
    name: str = text()
    from_one_side: float = number("m", 0.2, 1.2)
    low: float = number("m", 0.2, 1.2)
    high: float = number("m", 0.2, 1.3)
    board_top: float | None = number("m", 0.2, 1.2, optional=True)
    note: str = text(optional=True)
    source: str = text()
    sure: str = text(choices=SURENESS)


@dataclass(frozen=True)
class Tool:
    """A tool, the work it is for, and when it is wanted ("always" or a condition in words)."""

    key: str = text()
    name: str = text()
    work: str = text()
    wanted: str = text()
    source: str = text()
    sure: str = text(choices=SURENESS)


@dataclass(frozen=True)
class Price:
    """The price of one thing in one form.

    thing : key of the catalogue; sold_as : stick, coil, roll, pack, each
    length, width [m], count [-] : of that form, where they apply
    price [currency] : one stick, roll or pack
    date : year and month of the list; example : whether the figure is invented
    """

    thing: str = text()
    sold_as: str = text(choices=("stick", "coil", "roll", "pack", "each"))
    length: float | None = number("m", 0.1, 1000, optional=True)
    width: float | None = number("m", 0.1, 20, optional=True)
    count: float | None = number("-", 1, 10000, optional=True)
    price: float = number("-", 0.01, 20000)
    currency: str = text()
    date: str = text()
    example: str = text(choices=("yes", "no"))
    source: str = text()
    sure: str = text(choices=SURENESS)

    @property
    def form(self) -> tuple[str, str, float | None, float | None, float | None]:
        """What makes two rows the price of the same thing in the same form."""
        rounded = (None if part is None else round(part, 4) for part in (self.length, self.width))
        return (self.thing, self.sold_as, *rounded, self.count)  # type: ignore[return-value]
