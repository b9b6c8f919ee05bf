"""The linear and integer programmes, handed to HiGHS: one thread, one seed, counted work."""

import time
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Real = NDArray[np.float64]

FEASIBLE = 1e-7
"""How near the solver keeps a row whose largest factor is about 1. What is asked of its answers
is asked ten times more coarsely (`BROKEN`), or an answer that it holds for good would be sent
back to it for ever."""

BROKEN = 10.0 * FEASIBLE

PATTERNS, NODES, ROUNDS = 4000, 60, 2
"""How long a search may go on, in counted work: patterns that one integer search may hold, its
branches, and how often the window of patterns may be widened."""

_ROUNDS = 2000
_SECONDS = 60.0
"""What no job has needed: beyond it a search ends with what it has, in place of a hang."""


def patience(rounds: int = _ROUNDS) -> Iterator[int]:
    """Count the rounds of a loop that waits for the solver, and end it when they are too many.

    What ends a search is counted work, so that a slow machine answers as a fast one; the clock
    is the last resort. There is one round at the least. After the loop the caller goes on with
    what it knows.
    """
    end = time.monotonic() + _SECONDS
    for number in range(rounds):
        yield number
        if time.monotonic() > end:
            return


@dataclass(frozen=True)
class Solved:
    """What a programme came to: `values` is None when no answer was found.

    `bound` is the least the objective can be.
    """

    values: Real | None
    bound: float
    impossible: bool


@cache
def _quiet() -> Any:
    # Imported here because it costs a quarter of a second and small jobs do without it.
    import highspy

    class Quiet(highspy.Highs):
        """The solver, silenced before it has set up what would print its banner."""

        def enableCallbacks(self) -> None:  # noqa: N802, the library's name
            self.silent()
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Quiet


def _fresh() -> Any:
    highs: Any = _quiet()()
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 0)
    highs.setOptionValue("time_limit", _SECONDS)
    highs.setOptionValue("primal_feasibility_tolerance", FEASIBLE)
    highs.setOptionValue("mip_feasibility_tolerance", FEASIBLE)
    return highs


def whole_programme(
    costs: Real,
    upper: Real,
    matrix: Real,
    least: Real,
    most: Real,
    whole: bool | NDArray[np.bool_] = True,
    nodes: int = 0,
    target: float | None = None,
    near: float = 0.5,
) -> Solved:
    """Least cost of columns between nought and `upper` with each row within its limits.

    Infinite limits are none. Columns marked `whole` are whole numbers, and then the search stops
    after `nodes` branches, or at an answer no dearer than `target`, or once the best answer
    is proven to within `near` of the least.
    """
    import highspy

    rows, columns = matrix.shape
    programme = highspy.HighsLp()
    programme.num_col_, programme.num_row_ = columns, rows
    programme.col_cost_ = costs
    programme.col_lower_, programme.col_upper_ = np.zeros(columns), upper
    programme.row_lower_, programme.row_upper_ = least, most
    filled = matrix != 0.0
    programme.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    programme.a_matrix_.start_ = np.append(0, np.cumsum(filled.sum(axis=1))).astype(np.int32)
    programme.a_matrix_.index_ = np.nonzero(filled)[1].astype(np.int32)
    programme.a_matrix_.value_ = matrix[filled]
    marked = np.broadcast_to(np.asarray(whole), (columns,))
    any_whole = bool(marked.any())
    if any_whole:
        kinds = highspy.HighsVarType
        programme.integrality_ = [kinds.kInteger if w else kinds.kContinuous for w in marked]
    highs = _fresh()
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", near)
    highs.setOptionValue("mip_max_nodes", nodes)
    if target is not None and any_whole:
        highs.setOptionValue("objective_target", float(target))
    highs.passModel(programme)
    highs.run()
    status = highs.getModelStatus()
    info = highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return Solved(
        values=np.array(highs.getSolution().col_value) if found else None,
        bound=float(info.mip_dual_bound if any_whole else info.objective_function_value),
        impossible=status == highspy.HighsModelStatus.kInfeasible,
    )


class GrowingProgramme:
    """A linear programme that columns are added to and whose row limits move."""

    def __init__(self, least: Sequence[float | None], most: Sequence[float | None]) -> None:
        import highspy

        self._highs = _fresh()
        self._infinite = highspy.kHighsInf
        empty_places, empty_values = np.array([], np.int32), np.array([], float)
        for low, high in zip(least, most, strict=True):
            low_limit, high_limit = self._limits(low, high)
            self._highs.addRow(low_limit, high_limit, 0, empty_places, empty_values)

    def _limits(self, low: float | None, high: float | None) -> tuple[float, float]:
        return (
            -self._infinite if low is None else float(low),
            self._infinite if high is None else float(high),
        )

    def add_column(
        self, cost: float, entries: Sequence[tuple[int, float]], upper: float | None = None
    ) -> None:
        """A column from nought to `upper` with its factors in the rows."""
        places = np.array([row for row, _ in entries], np.int32)
        values = np.array([value for _, value in entries], float)
        top = self._infinite if upper is None else float(upper)
        self._highs.addCol(float(cost), 0.0, top, len(places), places, values)

    def limit_row(self, row: int, least: float | None, most: float | None) -> None:
        """Move a row's limits."""
        low, high = self._limits(least, most)
        self._highs.changeRowBounds(row, low, high)

    def solve(self) -> tuple[float, list[float], list[float]]:
        """Least cost, the columns' values, and what one more of each row would cost."""
        self._highs.run()
        answer = self._highs.getSolution()
        return (
            float(self._highs.getObjectiveValue()),
            list(answer.col_value),
            list(answer.row_dual),
        )


def rule_out(
    counts: Sequence[int],
    growing: Sequence[int],
    rows: list[list[float]],
    least: list[float],
    upper: list[float],
) -> None:
    """Add rows, their least values and columns that forbid these counts, or fewer of any.

    growing : the columns of which there can be more; a column of its own says of each whether
        there are, and there must be more of one.
    """
    start = len(upper)
    upper += [1.0] * len(growing)
    for at, k in enumerate(growing, start=start):
        row = [0.0] * len(upper)
        row[k], row[at] = 1.0, -float(counts[k] + 1)
        rows.append(row)
    rows.append([0.0] * start + [1.0] * len(growing))
    least += [0.0] * len(growing) + [1.0]
