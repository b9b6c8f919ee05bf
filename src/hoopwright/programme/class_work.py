"""A class worked out: every bed's design, the shared order, who pays what, and what to do."""

from collections.abc import Callable
from functools import cached_property, partial

from hoopwright.checks.ladders import Ladders
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.materials.order import Order
from hoopwright.plan.read import PlanError, Problem
from hoopwright.programme.budget import Budget, budget_of
from hoopwright.programme.bulk_order import BulkOrder, Buyer, bulk_order
from hoopwright.programme.buying import Bill, without_forms
from hoopwright.programme.class_file import ClassBed, ClassError, ClassFile
from hoopwright.programme.shares import BedShare, shares_of
from hoopwright.programme.station import CuttingStation, Label, labels_of, stations_of
from hoopwright.programme.substitutes import Shortage, shortages

Tell = Callable[[str, float], object]
"""Told while beds, budget and shortages are worked out: which of them, and what share is done."""


def _quiet(_what: str, _share: float) -> None:
    """Tell nobody."""


@dataclass(frozen=True)
class WorkedClass:
    """A class with everything worked out from it, each thing once.

    designs : by letter
    bulk    : the shared order, of what is in stock
    """

    source: ClassFile
    designs: dict[str, Design]
    bulk: BulkOrder
    usual: Bill
    stocked: Bill
    tell: Tell = _quiet

    @property
    def order(self) -> Order:
        """Return the class order."""
        return self.bulk.order

    @property
    def letters(self) -> tuple[str, ...]:
        """Return the letters of the beds in the file's order."""
        return tuple(self.designs)

    def bed(self, letter: str) -> ClassBed:
        """Return the bed of a letter."""
        return next(bed for bed in self.source.beds if bed.letter == letter)

    @cached_property
    def shares(self) -> tuple[BedShare, ...]:
        """Return what each bed pays."""
        return shares_of(self.bulk)

    @cached_property
    def stations(self) -> tuple[CuttingStation, ...]:
        """Return the stations that cut sticks."""
        return stations_of(self.order, self.stocked.catalogue)

    @cached_property
    def labels(self) -> dict[str, tuple[Label, ...]]:
        """Return the label of every piece by bed."""
        return labels_of(self.order)

    @cached_property
    def budget(self) -> Budget | None:
        """Return how the order stands to the budget, or None where none is set."""
        if self.source.budget is None:
            return None
        return budget_of(
            self.source.budget,
            self.designs,
            self.buyers,
            self.shares,
            self.order.total,
            self.source.shelf,
            self.stocked,
            partial(self.tell, "budget"),
        )

    @cached_property
    def shortages(self) -> tuple[Shortage, ...]:
        """Return what works instead of whatever is out of stock."""
        at_hand = [item for buyer in self.buyers for item in buyer.at_hand]
        return shortages(
            self.source.not_sold,
            self.designs,
            [*at_hand, *self.source.shelf],
            self.usual,
            self.stocked,
            partial(self.tell, "shortages"),
        )

    @cached_property
    def buyers(self) -> tuple[Buyer, ...]:
        """Return the beds as buyers."""
        return _buyers(self.designs)


def work_out(source: ClassFile, tell: Tell = _quiet) -> WorkedClass:
    """Return the class worked out.

    Raises ClassError where a bed's hoop cannot be bent.
    """
    designs: dict[str, Design] = {}
    problems: list[Problem] = []
    # Beds that are alike in all that theirs depend on share them.
    ladders = Ladders()
    for number, bed in enumerate(source.beds):
        tell("beds", number / len(source.beds))
        try:
            designs[bed.letter] = design_of(bed.read, ladders)
        except PlanError as error:
            where = f"bed {bed.letter}"
            problems += [Problem(where, str(problem)) for problem in error.problems]
    if problems:
        raise ClassError(source.name, tuple(problems))
    catalogue = source.beds[0].read.catalogue
    usual = Bill(catalogue)
    missing = [(one.item, one.length, one.width) for one in source.not_sold]
    stocked = without_forms(catalogue, missing) if missing else usual
    bulk = bulk_order(_buyers(designs), stocked, source.shelf)
    return WorkedClass(source, designs, bulk, usual, stocked, tell)


def _buyers(designs: dict[str, Design]) -> tuple[Buyer, ...]:
    return tuple(Buyer(letter, design.parts, design.at_hand) for letter, design in designs.items())
