"""How a cover is best run for a crop: off, shut or open, by the date and until the crop is up.

Whoever has a cover may leave it off, so off is always among the ways, and what can be started in
the open can be started with a cover too.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, Digest
from hoopwright.season.crop_days import CropDays, Habits, Series, crop_days, spliced
from hoopwright.season.crops import Crop
from hoopwright.season.losses import Fates, fates_of
from hoopwright.season.opening import half_month_days
from hoopwright.season.opening_options import Opening

Which = NDArray[np.int64]

MOST_CHANGES = 3
"""Changes a person keeps in mind: those of a rule by the date, in one year."""
CHANGE = 0.002
"""[-] of loss that a change must save to be worth a walk to the bed: ours."""
SOONER = 0.2
"""[-] of loss that a whole harvest sooner is worth, so that ways that lose alike go by growth:
ours."""
HALF_MONTHS = 24
KEPT_UP = 3
"""Ways tried all the year round: off, shut and the next; more are rarely the best."""


@dataclass(frozen=True)
class Rule:
    """How the cover is run for one crop.

    seedbed : until plants show; None where the dates alone say it
    steps   : (first day of the year, way) in order, the first from day 0
    """

    seedbed: Opening | None
    steps: tuple[tuple[int, Opening], ...]

    def between(self, first: int, after: int) -> tuple[tuple[int, Opening], ...]:
        """Return the ways from one day to another [d], each with the day it begins on."""
        found: list[tuple[int, Opening]] = []
        for turn in (-YEAR, 0, YEAR, 2 * YEAR):
            for day, way in self.steps:
                at = max(day + turn, first)
                if at >= after:
                    continue
                if found and found[-1][0] == at:
                    found.pop()
                if not found or found[-1][1] != way:
                    found.append((at, way))
        return tuple(found)

    def shifted(self, by: int) -> Rule:
        """Return the rule with its days counted from so many days earlier."""
        moved = sorted(
            (((day + by) % YEAR, way) for day, way in self.steps), key=lambda step: step[0]
        )
        if moved[0][0] > 0:
            moved.insert(0, (0, moved[-1][1]))
        return Rule(self.seedbed, tuple(moved))


OFF = Opening("off")
ALWAYS_OFF = Rule(None, ((0, OFF),))


@dataclass(frozen=True)
class Covered:
    """One cover with the years of each way to run it; the open bed alone has one way, off.

    name : what the bed is under;  ways : off first;  digests : of each way, the same years
    """

    name: str
    ways: tuple[Opening, ...]
    digests: tuple[Digest, ...]

    def __post_init__(self) -> None:
        if not self.ways or self.ways[0] != OFF or len(self.ways) != len(self.digests):
            raise ValueError("the ways to run a cover begin with off, and each has its years")


def open_bed(name: str, digest: Digest) -> Covered:
    """Return the bed that has no cover."""
    return Covered(name, (OFF,), (digest,))


def tried(
    crop: Crop, cover: Covered, how: Habits, known: dict[Digest, CropDays] | None = None
) -> list[tuple[Rule, Fates]]:
    """Return the rules worth trying for a crop, each with what becomes of it; off comes first.

    Tried are: off; shut, and the way next to it, all the year; the rule by dates that a dynamic
    programme over half months finds (at most three changes); that rule only once the crop is up;
    and the shut cover until it is up, then off.
    known : the crop's days by the digests they were made of, kept by who asks again for this crop
            or a variety of it
    """
    held = {} if known is None else known
    for digest in cover.digests:
        if digest not in held:
            held[digest] = crop_days(crop, digest, how)
    days = [held[digest] for digest in cover.digests]
    kept_up = zip(cover.ways[:KEPT_UP], days, strict=False)
    rules = [(Rule(None, ((0, way),)), one, one) for way, one in kept_up]
    if len(days) > 1:
        which = best_halves(_costs(crop, days))
        by_date = spliced(days, which)
        steps = _steps(cover.ways, which)
        if len(steps) > 1:
            rules.append((Rule(None, steps), by_date, by_date))
        if steps != ALWAYS_OFF.steps:
            rules.append((Rule(OFF, steps), days[0], by_date))
        if crop.comes_up:
            rules.append((Rule(cover.ways[1], ((0, OFF),)), days[1], days[0]))
    # What becomes of the crop in the open bed, which every cover tries, is worked out once.
    off = days[0].made.get("off")
    if off is None or off[0] is not crop or off[1] is not how:
        off = days[0].made["off"] = (crop, how, fates_of(crop, days[0], days[0], how))
    rest = [(rule, fates_of(crop, seedbed, after, how)) for rule, seedbed, after in rules[1:]]
    return [(rules[0][0], off[2]), *rest]


def _steps(ways: Sequence[Opening], which: Which) -> tuple[tuple[int, Opening], ...]:
    found, day = [], 0
    for number, run in groupby(which.tolist()):
        found.append((day, ways[number]))
        day += len(list(run))
    return tuple(found)


def _costs(crop: Crop, days: Sequence[CropDays]) -> Series:
    """Return what each way costs a standing plant in each half month [-], shape (ways, 24).

    The chance that cold kills it, the share of the hot days that spoil it, less what it grows.
    """
    needed, spoiled = crop.thermal_time().middle, crop.spoiled_after()
    starts = [half_month_days(half).start for half in range(HALF_MONTHS)]
    costs = []
    for one in days:
        lost = np.maximum.reduceat(np.clip(one.plant, 0.0, 1.0), starts, axis=1)
        lost += np.maximum.reduceat(np.clip(one.scorched, 0.0, 1.0), starts, axis=1)
        hot = np.add.reduceat(one.hot.mean(axis=0), starts, axis=1)
        lost += np.minimum(hot / spoiled, 1.0)
        grown = np.add.reduceat(one.growth, starts, axis=1) / needed
        costs.append((np.minimum(lost, 1.0) - SOONER * grown).mean(axis=0))
    return np.array(costs)


def best_halves(costs: Series, most: int = MOST_CHANGES) -> Which:
    """Return the way of each of the 365 days that costs least over the year.

    costs : shape (ways, 24). A dynamic programme over the half months, the way at hand and the
    changes used; the year ends as it began, so that it can be kept up year after year.
    """
    ways, halves = costs.shape
    # least[s, k, w] : begun with way s, k changes made, w at hand
    least = np.full((ways, most + 1, ways), np.inf)
    least[np.arange(ways), 0, np.arange(ways)] = costs[:, 0]
    came: list[Which] = []
    for half in range(1, halves):
        back = np.broadcast_to(np.arange(ways), least.shape).copy()
        found = least.copy()
        before, from_way = least.min(axis=2) + CHANGE, least.argmin(axis=2)
        changed = np.broadcast_to(before[:, :-1, None], found[:, 1:].shape)
        better = changed < found[:, 1:]
        found[:, 1:] = np.where(better, changed, found[:, 1:])
        back[:, 1:] = np.where(better, from_way[:, :-1, None], back[:, 1:])
        came.append(back)
        least = found + costs[None, None, :, half]
    closed = least[np.arange(ways), :, np.arange(ways)]
    begun, used = np.unravel_index(int(np.argmin(closed)), closed.shape)
    way = int(begun)
    taken = [way]
    for back in reversed(came):
        earlier = int(back[begun, used, way])
        if earlier != way:
            used -= 1
        way = earlier
        taken.append(way)
    which = np.empty(YEAR, dtype=np.int64)
    for half, number in enumerate(reversed(taken)):
        which[half_month_days(half)] = number
    return which
