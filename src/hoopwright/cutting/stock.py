"""What is cut, what it is cut from, and the plans that come out. Metres and money throughout.

For the search lengths are whole numbers, so that a fit is a fit and a proof is exact.
The step is 1/80 mm: a millimetre is 80 steps and a sixteenth of an inch (1.5875 mm, the inch
being 25.4 mm exactly) is 127, so both kinds of tape are exact. Any other length is rounded to
the safe side: pieces and kerf up, stock down, by less than 1/80 mm.
"""

import math

from hoopwright.frozen import dataclass


class CannotCut(ValueError):
    """No plan exists; the message names the piece or the shortfall and what would do."""


@dataclass(frozen=True)
class Piece:
    """One physical piece wanted. `length` [m]."""

    name: str
    length: float


@dataclass(frozen=True)
class Stick:
    """A length that stock comes in. `length` [m], `price` each.

    `available` is how many there are; None is as many as wanted. A stick at hand is one of
    price 0 with a number available.
    """

    name: str
    length: float
    price: float = 0.0
    available: int | None = None

    @property
    def at_hand(self) -> bool:
        """Whether it costs nothing and its number is known, so it need not be bought."""
        return self.price == 0.0 and self.available is not None


@dataclass(frozen=True)
class CutStick:
    """One stick and what is cut from it, in order from one end. `left` is the offcut [m]."""

    stick: Stick
    pieces: tuple[Piece, ...]
    left: float


@dataclass(frozen=True)
class CutPlan:
    """Every piece cut, from which stick, at what cost, and how much less it could have been.

    `bound` is a cost that no plan can undercut; `proven` says that none is cheaper than this
    one; `ties_proven` that among equally cheap plans none buys fewer sticks, and then none
    uses less stock length.
    """

    sticks: tuple[CutStick, ...]
    cost: float
    bound: float
    proven: bool
    ties_proven: bool
    kerf: float

    @property
    def gap(self) -> float:
        """The most that could still be saved, as a fraction of the cost."""
        return 0.0 if self.proven or self.cost <= 0.0 else (self.cost - self.bound) / self.cost

    @property
    def stock_length(self) -> float:
        """Length of all sticks that are cut into [m]."""
        return sum(cut.stick.length for cut in self.sticks)

    @property
    def piece_length(self) -> float:
        """Length of all pieces [m]."""
        return sum(piece.length for cut in self.sticks for piece in cut.pieces)

    @property
    def left(self) -> float:
        """Length of all offcuts [m]."""
        return sum(cut.left for cut in self.sticks)

    @property
    def sawdust(self) -> float:
        """Length that the saw takes [m]."""
        return max(0.0, self.stock_length - self.piece_length - self.left)

    @property
    def waste(self) -> float:
        """Offcuts and sawdust together [m]."""
        return self.left + self.sawdust


@dataclass(frozen=True)
class Sheet:
    """One piece of film wanted: `width` across the roll, `length` along it [m].

    With `may_turn` it may lie the other way.
    """

    name: str
    width: float
    length: float
    may_turn: bool = False


@dataclass(frozen=True)
class Roll:
    """A roll that film comes in: `width` and `length` [m].

    `price` is for one roll, or with `by_length` for one metre run off it. `available` is how
    many rolls there are; None is as many as wanted.
    """

    name: str
    width: float
    length: float
    price: float = 0.0
    available: int | None = None
    by_length: bool = False

    @property
    def at_hand(self) -> bool:
        """Whether it costs nothing and its number is known, so it need not be bought."""
        return self.price == 0.0 and self.available is not None


@dataclass(frozen=True)
class PlacedSheet:
    """Where a sheet lies: its corner `x` across and `y` along the roll, and its size there [m]."""

    sheet: Sheet
    x: float
    y: float
    width: float
    length: float
    turned: bool


@dataclass(frozen=True)
class CutRoll:
    """One roll, its cross-cuts in order, and the sheets ripped from between them.

    `cross_cuts` are the distances along the roll [m]; the last is the length used.
    """

    roll: Roll
    cross_cuts: tuple[float, ...]
    sheets: tuple[PlacedSheet, ...]

    @property
    def used(self) -> float:
        """Length run off the roll [m]."""
        return self.cross_cuts[-1] if self.cross_cuts else 0.0

    @property
    def left(self) -> float:
        """Length still on the roll [m]."""
        return self.roll.length - self.used


@dataclass(frozen=True)
class RollPlan:
    """Every sheet cut, from which roll, at what cost and how much less it could have been.

    `bound` is a cost no two-stage plan (cross-cuts, then rips, then a trim to length) can
    undercut, `length_bound` the same for the length run off. `area_bound` is the length of
    the widest roll that holds the mere area of the sheets: no way of cutting can use less.
    """

    rolls: tuple[CutRoll, ...]
    cost: float
    bound: float
    proven: bool
    length_bound: float
    length_proven: bool
    area_bound: float

    @property
    def gap(self) -> float:
        """The most that could still be saved by two-stage cutting, as a fraction of the cost."""
        return 0.0 if self.proven or self.cost <= 0.0 else (self.cost - self.bound) / self.cost

    @property
    def length(self) -> float:
        """Length run off all rolls [m]."""
        return sum(cut.used for cut in self.rolls)

    @property
    def length_gap(self) -> float:
        """The most length that could still be saved at this cost, as a fraction."""
        if self.length_proven or self.length <= 0.0:
            return 0.0
        return (self.length - self.length_bound) / self.length

    @property
    def waste_area(self) -> float:
        """Area run off the rolls that becomes no sheet [m2]."""
        run_off = sum(cut.used * cut.roll.width for cut in self.rolls)
        sheets = sum(s.width * s.length for cut in self.rolls for s in cut.sheets)
        return max(0.0, run_off - sheets)  # where all is used, but for the last digit


STEPS = 80_000
"""Steps in a metre."""

_NEAR = 1e-4


def steps_up(length: float) -> int:
    """Length [m] in steps, upwards unless it is a whole number of steps but for float dust."""
    return math.ceil(length * STEPS - _NEAR)


def steps_down(length: float) -> int:
    """Length [m] in steps, downwards unless it is a whole number but for float dust."""
    return math.floor(length * STEPS + _NEAR)


def metres(steps: int) -> float:
    """Steps as a length [m]."""
    return steps / STEPS
