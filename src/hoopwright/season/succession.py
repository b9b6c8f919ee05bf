"""What can follow what in one bed through one year: timetables of two or three crops."""

import math
from collections.abc import Mapping

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR
from hoopwright.season.windows import Window

TURN = 7
"""[d] to clear and make the bed ready between two crops: common practice, no source."""
MOST_CROPS = 3
PICKED = 21
"""[d] that one crop of a succession is picked at most before it makes room: ours."""


@dataclass(frozen=True)
class Turn:
    """One crop of a timetable: started, first harvest and cleared on days of the season's year."""

    crop: str
    start: int
    harvest: int
    cleared: int


@dataclass(frozen=True)
class Timetable:
    """Crops one after another in one bed.

    weeks : [weeks] of harvest in the middle year
    odds  : [-] share of the years in which every crop comes through and is ripe before it is
            cleared for the next
    """

    turns: tuple[Turn, ...]
    weeks: float
    odds: float = float("nan")


def timetables(
    windows: Mapping[str, Window], count: int = 3, begins: int = 0
) -> tuple[Timetable, ...]:
    """Return the best few timetables, by weeks of harvest, of two or three different crops.

    windows : of each crop under one cover, in the season's own days. Every start keeps the
    window's risk by itself; the middle year's dates are taken. Of those with the same first crop
    the best alone is told.
    begins  : day of the calendar year on which the season's years begin; turns are told by the
    calendar
    """
    turns = [turn for window in windows.values() for turn in _turns(window)]
    turns.sort(key=lambda turn: turn.cleared)
    held: dict[str, Timetable] = {}
    chains = [Timetable((turn,), _weeks(turn)) for turn in turns]
    for _ in range(MOST_CROPS - 1):
        longer = []
        for chain in _best_by_end(chains):
            used = {turn.crop for turn in chain.turns}
            ends = chain.turns[-1].cleared + TURN
            for turn in turns:
                if turn.start >= ends and turn.crop not in used:
                    longer.append(Timetable((*chain.turns, turn), chain.weeks + _weeks(turn)))
        for chain in longer:
            first = chain.turns[0].crop
            if first not in held or chain.weeks > held[first].weeks + 1e-9:
                held[first] = chain
        chains = longer
    best = sorted(held.values(), key=lambda chain: (-chain.weeks, chain.turns[-1].cleared))
    return tuple(_told(chain, windows, begins) for chain in best[:count])


def _told(chain: Timetable, windows: Mapping[str, Window], begins: int) -> Timetable:
    """Return the timetable with its odds, its days by the calendar."""
    kept = []
    for turn in chain.turns:
        years = windows[turn.crop].ripe_by_year
        assert years is not None
        ripe = years[:, turn.start]
        kept.append((ripe >= 0) & (ripe < turn.cleared))
    turns = (
        Turn(turn.crop, turn.start + begins, turn.harvest + begins, turn.cleared + begins)
        for turn in chain.turns
    )
    return Timetable(tuple(turns), chain.weeks, float(np.all(kept, axis=0).mean()))


def _weeks(turn: Turn) -> float:
    return (turn.cleared - turn.harvest) / 7.0


def _best_by_end(chains: list[Timetable]) -> list[Timetable]:
    """Return, of chains of the same crops, those that no other ends sooner with as many weeks."""
    kept: dict[tuple[str, ...], Timetable] = {}
    for chain in sorted(chains, key=lambda one: (one.turns[-1].cleared, -one.weeks)):
        kept.setdefault(tuple(turn.crop for turn in chain.turns), chain)
    return list(kept.values())


def _turns(window: Window) -> list[Turn]:
    """Return a turn a week through the days on which the crop can be started."""
    found: list[Turn] = []
    for start in range(YEAR):
        ripe, cleared = window.middle_harvest[start], window.cleared[start]
        if window.obstacles[start] or math.isnan(ripe) or (found and start - found[-1].start < 7):
            continue
        harvest = math.ceil(ripe)
        after = int(min(cleared, harvest + PICKED))
        if harvest < after <= YEAR:
            found.append(Turn(window.crop, start, harvest, after))
    return found
