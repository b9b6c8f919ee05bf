"""From a plan's text to a whole design, kept by what it depends on.

The ladder and the order are most of the work. Each is kept by the parts of the plan that can
change it, so that a change of name or of animals costs neither; where both are wanted, two
processes work them out at once.
"""

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.plan import Plan, ReadPlan
from hoopwright.plan.read import PlanError, Problem
from hoopwright.web.beside import Own, named_by, read_here
from hoopwright.web.processes import Processes, WorkFailed

LOG = logging.getLogger(__name__)

_NOT_IN_THE_LADDER: Any = {
    "name": True,
    "paper": True,
    "prices": True,
    "wishes": True,
    "stock": True,
    "site": {"name"},
}
_BOUGHT = ("catalogue", "prices")
_NOT_IN_THE_ORDER: Any = {"name": True, "paper": True, "wishes": True, "site": True}


@dataclass(frozen=True)
class Worked:
    """A plan's text, read, with its design whole: ladder and order included."""

    text: str
    read: ReadPlan
    design: Design

    @property
    def plan(self) -> Plan:
        """Return the plan."""
        return self.read.plan


class LastFew:
    """The last few values by key."""

    def __init__(self, most: int) -> None:
        """Keep at most so many."""
        self._most, self._held = most, OrderedDict[Hashable, Any]()
        self._turn = threading.Lock()

    def of(self, key: Hashable, work: Callable[[], Any]) -> Any:
        """Return the value kept, or what the work gives; forget the one longest not asked for."""
        with self._turn:
            if key in self._held:
                self._held.move_to_end(key)
                return self._held[key]
        value = work()
        with self._turn:
            self._held[key] = value
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return value


class Designs:
    """Works out designs, and keeps the last few."""

    def __init__(self, processes: Processes) -> None:
        """Take the processes to ask."""
        self._processes = processes
        self._whole, self._ladders, self._orders = LastFew(128), LastFew(64), LastFew(256)
        self._beside = ThreadPoolExecutor(16, thread_name_prefix="order")

    def design(self, text: str, own: Own = ()) -> Worked:
        """Return the design of a plan's text, whole; `own` holds the lists that it may name.

        Raises PlanError where the plan cannot be used, TooLong where it cannot be worked out
        in time.
        """
        worked: Worked = self._whole.of((text, own), lambda: self._worked(text, own))
        return worked

    def _worked(self, text: str, own: Own) -> Worked:
        read = read_here(text, own)
        try:
            design = design_of(read)
            self._complete(design, own)
            # Findings are asked for on every page; they rest on the ladder just put in.
            _ = design.findings
        except PlanError:
            raise
        except (ValueError, ArithmeticError, LookupError, AssertionError, WorkFailed) as error:
            # A plan that every check of reading passed, and yet no design came of it: our fault,
            # but the reader can change the plan, and the server must go on.
            LOG.exception("a plan could not be worked out")
            says = f"no design could be worked out from this plan ({error}); change it"
            raise PlanError(read.plan.name, (Problem("", says),)) from None
        return Worked(text, read, design)

    def _complete(self, design: Design, own: Own) -> None:
        """Put ladder and order in the places where the design would keep its own."""
        plan = design.plan
        # Prices move the order alone; either is asked of the files that can change it.
        rows, all_rows = named_by(plan, own, "catalogue"), named_by(plan, own, *_BOUGHT)
        order = (plan.model_dump_json(exclude=_NOT_IN_THE_ORDER), all_rows)
        ladder = (plan.model_dump_json(exclude=_NOT_IN_THE_LADDER), rows)
        ask = self._processes.ask
        later = self._beside.submit(self._orders.of, order, lambda: ask("order", plan, all_rows))
        held = self._ladders.of(ladder, lambda: ask("ladder", plan, rows))
        vars(design).update(ladder=held, order=later.result())

    def close(self) -> None:
        """End the threads; the processes are closed by who opened them."""
        self._beside.shutdown(wait=False, cancel_futures=True)
