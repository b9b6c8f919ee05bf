"""The linear and integer programmes, handed to HiGHS: one thread, one seed, no clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

Row = tuple[Sequence[tuple[int, float]], float | None, float | None]
"""Columns with their factors, and the least and most their sum may be (None: no limit)."""


@dataclass(frozen=True)
class WholeAnswer:
    """What an integer programme came to. `values` is None when no answer was found.

    `bound` is the least the objective can be; `settled` says the search ran to its end.
    """

    values: tuple[float, ...] | None
    bound: float
    settled: bool
    impossible: bool


def _fresh() -> Any:
    # Imported here because it costs a quarter of a second and small jobs do without it.
    import highspy

    highs: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 0)
    return highs


def whole_programme(
    costs: Sequence[float],
    upper: Sequence[float | None],
    whole: Sequence[bool],
    rows: Sequence[Row],
    nodes: int,
    target: float | None = None,
    near: float = 0.5,
) -> WholeAnswer:
    """Least cost of non-negative columns, those marked `whole` in whole numbers.

    Stops after `nodes` branches, or at an answer no dearer than `target`, or once the best
    answer is proven to within `near` of the least.
    """
    import highspy

    programme = highspy.HighsLp()
    programme.num_col_ = len(costs)
    programme.num_row_ = len(rows)
    programme.col_cost_ = np.array(costs, float)
    programme.col_lower_ = np.zeros(len(costs))
    infinite = highspy.kHighsInf
    programme.col_upper_ = np.array([infinite if u is None else u for u in upper], float)
    programme.row_lower_ = np.array([-infinite if r[1] is None else r[1] for r in rows], float)
    programme.row_upper_ = np.array([infinite if r[2] is None else r[2] for r in rows], float)
    matrix = programme.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_ = np.cumsum([0, *(len(r[0]) for r in rows)]).astype(np.int32)
    matrix.index_ = np.array([j for r in rows for j, _ in r[0]], np.int32)
    matrix.value_ = np.array([v for r in rows for _, v in r[0]], float)
    kinds = highspy.HighsVarType
    programme.integrality_ = [kinds.kInteger if w else kinds.kContinuous for w in whole]
    highs = _fresh()
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", near)
    highs.setOptionValue("mip_max_nodes", nodes)
    if target is not None:
        highs.setOptionValue("objective_target", float(target))
    highs.passModel(programme)
    highs.run()
    status = highs.getModelStatus()
    states = highspy.HighsModelStatus
    info = highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    return WholeAnswer(
        values=tuple(highs.getSolution().col_value) if found else None,
        bound=float(info.mip_dual_bound),
        settled=status == states.kOptimal,
        impossible=status == states.kInfeasible,
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
