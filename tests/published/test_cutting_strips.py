"""Cutting sheets from a strip against published instances with known optimum.

SCP1 to SCP18: M. Hifi (1998) 'Exact algorithms for the guillotine strip cutting/packing
problem', Computers & Operations Research 25, no turning; data and optimum as in the public
collection OR-Datasets (MIT licence, copyright 2018 O. A. Maia de Oliveira, read there). gcut1:
J. E. Beasley (1985), kept in the OR-Library (MIT licence, from memory); its strip optimum
without turning, 1016, is from S. Martello, M. Monaci and D. Vigo (2003) 'An exact approach to
the strip-packing problem', INFORMS J. Computing 15 (from memory).

These optima allow more stages of cuts than ours (SCP) or any placing at all (gcut1). So two
stages can never be shorter; in gcut1 two stages reach it. That two stages reach no further
in SCP is checked with an independent model: A. Lodi, S. Martello and D. Vigo (2004) 'Models
and bounds for two-dimensional level packing problems', J. Comb. Optim. 8, solved by scipy.
"""

import csv
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from hoopwright.cutting.sheets import cut_sheets
from hoopwright.cutting.stock import Roll, Sheet


def instances():
    found = defaultdict(list)
    with open(Path(__file__).parent / "cutting_strips.csv", newline="") as lines:
        for row in csv.DictReader(lines):
            key = (
                row["instance"],
                int(row["strip width [-]"]),
                int(row["optimum [-]"]),
            )
            side = int(row["width [-]"]), int(row["length [-]"])
            found[key] += [side] * int(row["wanted"])
    return [(*key, sides) for key, sides in found.items()]


def cut(width, sides):
    sheets = [Sheet(f"{k}", across, along) for k, (across, along) in enumerate(sides)]
    return cut_sheets(sheets, [Roll("strip", width, 5000.0, 1.0, by_length=True)])


def level_model(width, sides):
    """Least strip length in levels: y[j] opens a level with item j, x[i,j] puts i on it."""
    order = sorted(sides, key=lambda side: -side[1])
    count = len(order)
    across = np.array([side[0] for side in order], float)
    along = np.array([side[1] for side in order], float)
    place = {
        (i, j): count + k
        for k, (j, i) in enumerate((j, i) for j in range(count) for i in range(j + 1, count))
    }
    size = count + len(place)
    rows, low, high = [], [], []
    for i in range(count):
        row = np.zeros(size)
        row[i] = 1
        for j in range(i):
            row[place[i, j]] = 1
        rows.append(row)
        low.append(1)
        high.append(1)
    for j in range(count):
        row = np.zeros(size)
        row[j] = across[j] - width
        for i in range(j + 1, count):
            row[place[i, j]] = across[i]
        rows.append(row)
        low.append(-np.inf)
        high.append(0)
    cost = np.append(along, np.zeros(len(place)))
    answer = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(size),
        bounds=Bounds(0, 1),
    )
    assert answer.success
    return round(answer.fun)


@pytest.mark.parametrize(
    ("name", "width", "optimum", "sides"), instances(), ids=lambda v: str(v)[:6]
)
def test_two_stages_against_published_optimum(name, width, optimum, sides):
    plan = cut(width, sides)
    assert plan.proven
    assert plan.length_proven
    assert plan.area_bound <= optimum <= round(plan.length)
    if name == "gcut1":
        assert round(plan.length) == optimum == 1016


@pytest.mark.parametrize(
    ("name", "width", "optimum", "sides"),
    [one for one in instances() if one[0] in {"SCP1", "SCP3", "SCP6", "SCP9", "SCP18", "gcut1"}],
    ids=lambda v: str(v)[:6],
)
def test_two_stages_against_level_model(name, width, optimum, sides):
    assert round(cut(width, sides).length) == level_model(width, sides)
