"""What follows what, on windows made up so that the best timetable is known."""

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from made_years import made

from hoopwright.answers.season_words import successions
from hoopwright.season.bed_years import Digest
from hoopwright.season.crops import crop
from hoopwright.season.succession import PICKED, TURN, timetables
from hoopwright.season.windows import window


def windows_made():
    """Two crops that need 40 and 60 days, and one that can be started on one day only."""
    base = window(crop("spinach"), Digest(made("film")))
    found = {}
    late = np.arange(20)[:, None] < 5  # in five of twenty years each is ripe after it is cleared
    for key, days, first, last in (
        ("quick", 40, 100, 220), ("slow", 60, 90, 200), ("once", 30, 300, 300),
    ):  # fmt: skip
        day = np.arange(365)
        ripe = np.where((day >= first) & (day <= last), day + days, np.nan)
        found[key] = replace(
            base,
            crop=key,
            obstacles=tuple("" if math.isfinite(one) else "frost" for one in ripe),
            middle_harvest=tuple(ripe.tolist()),
            cleared=tuple((ripe + 30).tolist()),
            ripe_by_year=np.nan_to_num(np.where(late, ripe + 25, ripe), nan=-1).astype(np.int16),
        )
    return found


def test_the_best_timetable_holds_the_most_weeks_and_no_two_crops_at_once():
    best = timetables(windows_made())
    assert [turn.crop for turn in best[0].turns] in (
        ["quick", "slow", "once"],
        ["slow", "quick", "once"],
    )
    assert best[0].weeks == 3 * PICKED / 7
    assert best[0].odds == 0.75
    for chain in best:
        for before, after in zip(chain.turns, chain.turns[1:], strict=False):
            assert after.start >= before.cleared + TURN
        assert len({turn.crop for turn in chain.turns}) == len(chain.turns)


@pytest.mark.parametrize(("turns", "heads"), [(2, ["Then"]), (3, ["Then", "Then"])])
def test_the_table_has_no_column_that_no_timetable_fills(turns, heads):
    chains = [replace(one, turns=one.turns[:turns]) for one in timetables(windows_made())]
    crops = {key: crop("spinach") for key in windows_made()}
    report = SimpleNamespace(successions=tuple(chains), crops=crops, marked=str)
    (grid,) = successions(report)
    assert list(grid.heads) == ["", "First", *heads]
    assert all(len(row.cells) == len(grid.heads) - 1 for row in grid.rows)


def test_crops_that_cannot_follow_each_other_make_no_timetable():
    only = {key: one for key, one in windows_made().items() if key == "once"}
    assert timetables(only) == ()
