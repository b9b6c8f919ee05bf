"""Cutting: ours beside longest-first and a plain model, on seeded jobs.

Run `python -m bench.cutting`. Costs repeat exactly; times are of this machine, loaded as it is.
"""

from __future__ import annotations

import random
import time
from collections.abc import Sequence
from itertools import combinations_with_replacement

import highspy
import numpy as np

from hoopwright.cutting.greedy import StickJob, first_plan
from hoopwright.cutting.sheets import cut_sheets
from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import Piece, Roll, Sheet, Stick, steps_down, steps_up
from hoopwright.design import design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.programme.buying import Bill, together
from hoopwright.tables.catalogue import Catalogue

KERF = 0.003
PLAIN_SECONDS = 10.0


def stick_job(seed: int, count: int, kinds: int, stocks: int) -> tuple[list[Piece], list[Stick]]:
    """Random lengths in whole millimetres; prices rise a little slower than length."""
    draw = random.Random(seed)
    lengths = sorted(draw.sample([1.8, 2.0, 2.4, 2.5, 3.0, 3.6, 4.0, 4.8, 5.0, 6.0], stocks))
    sticks = [
        Stick(f"{length} m", length, round((0.8 + 1.7 * length) * draw.uniform(0.97, 1.03), 2))
        for length in lengths
    ]
    top = int(lengths[0] * 950)
    sizes = [draw.randrange(250, top) / 1000 for _ in range(kinds)]
    return [Piece(f"p{k}", draw.choice(sizes)) for k in range(count)], sticks


def sheet_job(seed: int, beds: int) -> list[Sheet]:
    """A body, two ends and a patch for each bed."""
    draw = random.Random(seed)
    sheets: list[Sheet] = []
    for bed in range(beds):
        width = draw.choice([0.61, 0.91, 1.22])
        length = draw.choice([1.22, 2.44, 3.05, 3.66, 4.88, 7.32])
        end = round(width + 0.3, 3), round(draw.uniform(1.05, 1.35), 3)
        sheets.append(Sheet(f"{bed} body", min(3.04, round(2.6 + 0.4 * width, 3)), length + 0.15))
        sheets += [Sheet(f"{bed} end {k}", *end, may_turn=True) for k in (1, 2)]
        sheets.append(
            Sheet(
                f"{bed} patch",
                round(draw.uniform(0.3, 0.6), 2),
                round(draw.uniform(0.5, 2.0), 2),
                may_turn=True,
            )
        )
    return sheets


def longest_first(pieces: Sequence[Piece], sticks: Sequence[Stick]) -> float:
    """Cost of the best longest-first plan."""
    saw = steps_up(KERF)
    sizes = sorted({steps_up(p.length) + saw for p in pieces}, reverse=True)
    demand = [sum(1 for p in pieces if steps_up(p.length) + saw == size) for size in sizes]
    prices = tuple(round(s.price * 100) for s in sticks)
    room = tuple(steps_down(s.length) + saw for s in sticks)
    job = StickJob(tuple(sizes), tuple(demand), room, prices, (None,) * len(sticks))
    plan = first_plan(job) or []
    return sum(prices[s] for s, _ in plan) / 100


def plain_model(pieces: Sequence[Piece], sticks: Sequence[Stick]) -> tuple[float, float]:
    """Cost and bound of the textbook model: which kind of piece how often on which stick."""
    kinds = sorted({p.length for p in pieces}, reverse=True)
    demand = [sum(1 for p in pieces if p.length == length) for length in kinds]
    bars = int(longest_first(pieces, sticks) / min(s.price for s in sticks)) + 1
    bars = min(bars, len(pieces), 90)
    highs = highspy.Highs()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("time_limit", PLAIN_SECONDS)
    width = len(sticks) + len(kinds)
    costs = np.tile([*(s.price for s in sticks), *[0.0] * len(kinds)], bars)
    rows, low, high = [], [], []
    for bar in range(bars):
        start = bar * width
        row = np.zeros(bars * width)
        row[start : start + len(sticks)] = [-(s.length + KERF) for s in sticks]
        row[start + len(sticks) : start + width] = [length + KERF for length in kinds]
        rows.append(row)
        low.append(-np.inf)
        high.append(0.0)
        one = np.zeros(bars * width)
        one[start : start + len(sticks)] = 1.0
        rows.append(one)
        low.append(-np.inf)
        high.append(1.0)
    for i, wanted in enumerate(demand):
        row = np.zeros(bars * width)
        row[len(sticks) + i :: width] = 1.0
        rows.append(row)
        low.append(float(wanted))
        high.append(np.inf)
    matrix = np.array(rows)
    programme = highspy.HighsLp()
    programme.num_col_, programme.num_row_ = matrix.shape[1], matrix.shape[0]
    programme.col_cost_ = costs
    programme.col_lower_ = np.zeros(len(costs))
    programme.col_upper_ = np.tile([*[1.0] * len(sticks), *map(float, demand)], bars)
    programme.row_lower_, programme.row_upper_ = np.array(low), np.array(high)
    full = matrix != 0.0
    programme.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    programme.a_matrix_.start_ = np.append(0, np.cumsum(full.sum(axis=1))).astype(np.int32)
    programme.a_matrix_.index_ = np.nonzero(full)[1].astype(np.int32)
    programme.a_matrix_.value_ = matrix[full]
    programme.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    highs.passModel(programme)
    highs.run()
    info = highs.getInfo()
    return float(info.objective_function_value), float(info.mip_dual_bound)


def sticks_table(title: str, count: int, kinds: int, stocks: int, plain: bool) -> None:
    """One line for each seed."""
    print(f"\n{title}")
    print("seed  longest-first  plain model (bound)     ours  gap      s")
    for seed in range(1, 6):
        pieces, sticks = stick_job(seed, count, kinds, stocks)
        line = f"{seed:4d} {longest_first(pieces, sticks):14.2f}"
        if plain:
            cost, bound = plain_model(pieces, sticks)
            line += f" {cost:11.2f} ({bound:8.2f})"
        else:
            line += " " * 23
        print(line + _timed(pieces, sticks))


def _timed(pieces: Sequence[Piece], sticks: Sequence[Stick]) -> str:
    start = time.perf_counter()
    plan = cut_sticks(pieces, sticks, KERF)
    seconds = time.perf_counter() - start
    return f" {plan.cost:9.2f} {plan.gap:5.2%} {seconds:6.2f}"


def sheets_table() -> None:
    """A class of 15 beds: 60 sheets, bought three ways."""
    ways = {
        "by the metre": [Roll("3.05 m", 3.048, 30.48, 2.4, by_length=True)],
        "whole rolls": [
            Roll("3.05 x 7.6 m", 3.048, 7.62, 21.0),
            Roll("3.05 x 30 m", 3.048, 30.48, 64.0),
            Roll("3.66 x 15 m", 3.66, 15.24, 49.0),
        ],
        "a rest and rolls": [
            Roll("3.05 x 30 m", 3.048, 30.48, 64.0),
            Roll("rest", 2.44, 5.2, 0.0, 1),
        ],
    }
    print("\n60 sheets of 15 beds")
    print("seed  bought             cost   gap   length [m]   gap   area bound      s")
    for seed in range(1, 4):
        for name, rolls in ways.items():
            start = time.perf_counter()
            plan = cut_sheets(sheet_job(seed, 15), rolls)
            seconds = time.perf_counter() - start
            print(
                f"{seed:4d}  {name:16s} {plan.cost:6.2f} {plan.gap:5.2%} {plan.length:12.3f}"
                f" {plan.length_gap:5.2%} {plan.area_bound:12.3f} {seconds:6.2f}"
            )


def pairs_table() -> None:
    """All 300 pairs of 24 bed sizes: sticks and film of both, how long the slowest takes."""
    sizes = [(length, width) for length in (4, 6, 8, 10, 12, 16, 20, 24) for width in (2, 3, 4)]
    plan = 'units = "us"\n[bed]\nlength = "{} ft"\nwidth = "{} ft"\n'
    parts = {size: design_of(read_plan_text(plan.format(*size))).parts for size in sizes}
    slowest, count = 0.0, 0
    for one, other in combinations_with_replacement(sizes, 2):
        start = time.process_time()
        Bill(Catalogue()).total(together([("A", parts[one]), ("B", parts[other])]))
        slowest = max(slowest, time.process_time() - start)
        count += 1
    print(f"\n{count} pairs of beds, the slowest in {slowest:.2f} s")


def main() -> None:
    """Print all tables."""
    sticks_table("40 pieces, 12 lengths, 3 stocks (an ordinary bed)", 40, 12, 3, plain=True)
    sticks_table("200 pieces, 14 lengths, 5 priced stocks", 200, 14, 5, plain=True)
    sticks_table("400 pieces, 20 lengths, 2 stocks (a class's strips)", 400, 20, 2, plain=False)
    sheets_table()
    pairs_table()


if __name__ == "__main__":
    main()
