"""A class of 15 beds ordered at once, and 300 random classes held to their single orders.

Two figures are asked of it: about 150 pipes, 400 strips and 60 sheets in under 20 s with a proven
gap under 1 %; and a shared order that never costs more than the beds' orders together.
"""
# ruff: noqa: N999

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

from hoopwright.cutting.stock import Piece, Sheet
from hoopwright.materials.parts import CutParts, Parts, SheetParts
from hoopwright.programme.bulk_order import Buyer, bulk_order
from hoopwright.programme.buying import Bill
from hoopwright.programme.class_file import read_class
from hoopwright.programme.class_work import work_out
from hoopwright.tables.catalogue import Catalogue

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "programme"))


def made_up(seed: int = 15) -> list[Buyer]:
    """Return fifteen beds with 10 pipes, 27 strips and 4 sheets each, of many sizes."""
    chance = random.Random(seed)
    buyers = []
    for index in range(15):
        inches = chance.choice([78, 84, 90, 96, 102, 108, 114])
        pipe = chance.choice(["pvc40-1/2", "pvc40-1/2", "pvc40-3/4"])
        pipes = tuple(Piece(f"hoop {n}", inches * 0.0254) for n in range(1, 11))
        strips = tuple(
            Piece(f"strip {n}", chance.choice([33, 36, 42, 45, 48, 60, 72]) * 0.0254)
            for n in range(1, 28)
        )
        body = Sheet("body sheet", 10 * 0.3048, chance.choice([8, 10, 12, 14]) * 0.3048 + 0.1524)
        panels = tuple(
            Sheet(f"panel {n}", chance.choice([44, 48, 51]) * 0.0254, 1.5, may_turn=True)
            for n in range(1, 4)
        )
        parts = Parts(
            (CutParts(pipe, pipes, 0.0016), CutParts("batten-1x2", strips, 0.0032)),
            (SheetParts("film-6mil-uv4", (body, *panels)),),
            (),
        )
        buyers.append(Buyer(chr(65 + index), parts))
    return buyers


def main() -> None:
    """Print times, gaps and the property's count."""
    start = time.perf_counter()
    bulk = bulk_order(made_up(), Bill(Catalogue()))
    took = time.perf_counter() - start
    pieces = sum(len(s.pieces) for cuts in bulk.order.sticks for s in cuts.plan.sticks)
    sheets = sum(len(cut.sheets) for run in bulk.order.rolls for cut in run.plan.rolls)
    print(f"15 beds, {pieces} pipes and strips, {sheets} sheets   {took:6.1f} s (asked: under 20)")
    print(f"proven gap of the order                {100 * bulk.gap:8.2f} % (asked: under 1)")
    for cuts in bulk.order.sticks:
        print(f"  {cuts.thing:<24}{100 * cuts.plan.gap:8.2f} %")
    for run in bulk.order.rolls:
        print(f"  {run.thing:<24}{100 * run.plan.gap:8.2f} %")
    print(f"together {bulk.order.total:.2f}, each alone {bulk.alone_total:.2f}")

    start = time.perf_counter()
    worked = work_out(read_class(ROOT / "demo" / "class.toml"))
    took = time.perf_counter() - start
    gap = 100 * worked.bulk.gap
    print(f"the demo class, plans and all          {took:8.1f} s, gap {gap:.2f} %")

    from test_class_order import random_class

    start = time.perf_counter()
    worse, apart = 0, 0
    for seed in range(300):
        bulk = bulk_order(random_class(seed), Bill(Catalogue()))
        worse += bulk.order.total > bulk.alone_total + 0.005
        apart += bool(bulk.kept_apart)
    took = time.perf_counter() - start
    print(f"300 random classes: {worse} dearer together, {apart} cut apart in part  {took:.0f} s")
    assert worse == 0


if __name__ == "__main__":
    main()
