"""Every search ends: the pairs of beds on which one went round for ever, and what stops any."""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from itertools import combinations_with_replacement

import pytest

from hoopwright.cutting import solver
from hoopwright.cutting.rolls import RollKnowledge, Terms
from hoopwright.cutting.sheets import cut_sheets
from hoopwright.cutting.shelves import Film
from hoopwright.cutting.stock import Roll, Sheet, steps_down, steps_up
from hoopwright.design import design_of
from hoopwright.materials.parts import Parts
from hoopwright.plan.read import read_plan_text
from hoopwright.programme.buying import Bill, together
from hoopwright.tables.catalogue import Catalogue

USUAL_SIZES = [(length, width) for length in (4, 6, 8, 10, 12) for width in (3, 4)]
"""Bed sizes [ft] that are usual in the trade (common practice, no source)."""

SHEETS = [Sheet(f"sheet {n}", 1.1, 2.3) for n in range(9)]
ROLLS = [Roll("roll", 2.3, 10.0, 20.0), Roll("long roll", 2.3, 16.0, 30.0)]


@cache
def film_parts(length: int, width: int) -> Parts:
    """Return the sheets of one bed with everything else at its default."""
    plan = f'units = "us"\n[bed]\nlength = "{length} ft"\nwidth = "{width} ft"\n'
    return Parts((), design_of(read_plan_text(plan)).parts.sheets, ())


@pytest.mark.slow
def test_film_for_all_pairs_of_the_usual_sizes_is_bought() -> None:
    """8 by 4 ft with 6 by 4 ft never ended: a cut that the solver held for kept was learnt again.

    All 300 pairs of 24 sizes are run through by `python -m bench.cutting`.
    """
    bill = Bill(Catalogue())
    for one, other in combinations_with_replacement(USUAL_SIZES, 2):
        pair = together([("A", film_parts(*one)), ("B", film_parts(*other))])
        apart = bill.total(film_parts(*one)) + bill.total(film_parts(*other))
        assert 0.0 < bill.total(pair) <= apart + 0.005, (one, other)


def test_no_cut_is_learnt_twice() -> None:
    """The pair that never ended, held to its cuts: each is new, and the amounts settle."""
    sides = [(3.048, 2.5908), (3.048, 1.9812)]
    panel = (1.5655421439212998, 1.295594701703822)
    rolls = [
        (price.width, price.length, price.price)
        for price in Catalogue().prices_of("film-6mil-uv4")
        if price.width is not None and price.length is not None
    ]
    film = Film(
        sides=(
            *(((steps_up(across), steps_up(along)),) for across, along in sides),
            tuple(sorted((steps_up(a), steps_up(b)) for a, b in (panel, panel[::-1]))),
        ),
        demand=(1, 1, 4),
        rolls=tuple((steps_down(width), steps_down(length)) for width, length, _ in rolls),
    )
    prices = tuple(100.0 * price for _, _, price in rolls)
    cuts = RollKnowledge(film, Terms((False,) * len(rolls), prices, (None,) * len(rolls)))
    amounts, bound = cuts.cheapest() or ([], 0.0)
    assert sum(amounts) >= 1
    assert 0.0 < bound <= sum(n * price for n, price in zip(amounts, prices, strict=True)) + 0.5
    assert len(set(cuts.cuts)) == len(cuts.cuts)


def test_a_search_out_of_time_still_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """With no time at all one round stands: every sheet is cut, and the bound stays a bound."""
    usual = cut_sheets(SHEETS, ROLLS)
    monkeypatch.setattr(solver, "_SECONDS", -1.0)
    assert list(solver.patience()) == [0]
    hurried = cut_sheets(SHEETS, ROLLS)
    assert sorted(placed.sheet.name for cut in hurried.rolls for placed in cut.sheets) == sorted(
        sheet.name for sheet in SHEETS
    )
    assert hurried.bound <= usual.cost <= hurried.cost


def test_the_solver_prints_nothing() -> None:
    """Its banner would stand in the middle of a sheet, a CSV or a reply in JSON."""
    script = (
        "from hoopwright.cutting.sheets import cut_sheets;"
        "from hoopwright.cutting.stock import Roll, Sheet;"
        "cut_sheets([Sheet('a', 1.0, 2.0), Sheet('b', 0.7, 1.5)], [Roll('r', 2.0, 10.0, 20.0)])"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=300
    )
    assert run.stdout == ""
    assert run.stderr == ""
