"""What a person reaches, the tools wanted, and what things cost (an example list)."""

from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Named, Sourced, number, text
from hoopwright.tables.reader import count as whole


@dataclass(frozen=True)
class Reach(Named):
    """How far a person works over a bed from one side [m], with the range met in practice."""

    from_one_side: Annotated[float, number("m", 0.2, 1.2)]
    low: Annotated[float, number("m", 0.2, 1.2)]
    high: Annotated[float, number("m", 0.2, 1.3)]
    board_top: Annotated[float | None, number("m", 0.2, 1.2, optional=True)]
    note: Annotated[str, text(optional=True)]


@dataclass(frozen=True)
class Tool(Named):
    """A tool, the work it is for, and when it is wanted ("always" or a condition in words)."""

    work: Annotated[str, text()]
    wanted: Annotated[str, text()]


@dataclass(frozen=True)
class Price(Sourced):
    """The price of one thing in one form.

    thing : key of the catalogue; sold_as : stick, coil, roll, pack, each
    length, width [m], count [-] : of that form, where they apply
    price [currency] : one stick, roll or pack
    rate [USD] : what one unit of the currency is worth, where the list states it
    date : year and month of the list; example : whether the figure is invented
    """

    thing: Annotated[str, text()]
    sold_as: Annotated[str, text(choices=("stick", "coil", "roll", "pack", "each"))]
    length: Annotated[float | None, number("m", 0.1, 1000, optional=True)]
    width: Annotated[float | None, number("m", 0.1, 20, optional=True)]
    count: Annotated[int | None, whole(1, 10000, optional=True)]
    price: Annotated[float, number("-", 0.01, 20000)]
    currency: Annotated[str, text()]
    rate: Annotated[float | None, number("-", 1e-6, 1e4, optional=True)]
    date: Annotated[str, text()]
    example: Annotated[str, text(choices=("yes", "no"))]

    @property
    def form(self) -> tuple[str, str, float, float, int]:
        """What makes two rows the price of the same thing in the same form."""
        # A tenth of a millimetre tells 10 ft from 3.048 m no more apart than a shop does.
        length, width = round(self.length or 0.0, 4), round(self.width or 0.0, 4)
        return (self.thing, self.sold_as, length, width, self.count or 0)
