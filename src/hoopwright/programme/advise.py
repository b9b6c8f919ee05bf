"""Searching pipe, spacing, height, hold-down, cover and vent style for one bed and its wishes."""

import itertools
import multiprocessing
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, wait
from typing import Any

import numpy as np

from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.climate.weather import Weather
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError, ReadPlan
from hoopwright.programme.buying import Bill
from hoopwright.programme.changes import changed
from hoopwright.programme.front import balance, front, spread_out
from hoopwright.programme.pools import pool
from hoopwright.programme.weighing import Weigher, Worth
from hoopwright.units import show

Sets = Mapping[str, Any]
Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Choice:
    """One value on one axis: in words, and the plan keys it sets (SI)."""

    axis: str
    says: str
    sets: Sets


@dataclass(frozen=True)
class Space:
    """The designs to search: one choice from each axis."""

    axes: tuple[tuple[Choice, ...], ...]

    def __len__(self) -> int:
        return int(np.prod([len(axis) for axis in self.axes]))

    def __iter__(self) -> Iterator[tuple[Choice, ...]]:
        return itertools.product(*self.axes)


@dataclass(frozen=True)
class Wish:
    """What a design must do.

    hold [m/s] : the gust to plan for is no less than this
    cost       : at most [currency];  days, degrees : gained at least [d], [K]
    height     : [m] clear over the boards at least
    """

    hold: float | None = None
    cost: float | None = None
    days: int | None = None
    degrees: float | None = None
    height: float | None = None

    def unmet(self, worth: Worth) -> str:
        """Return what a design fails first, or nothing where it does everything."""
        growth = worth.growth
        checks = (
            ("cannot be built or bought", not np.isfinite(worth.cost)),
            ("a check says stop", bool(worth.stops)),
            ("reach", "reach" in worth.changes),
            ("the gust", self.hold is not None and worth.wind < self.hold),
            ("the height", self.height is not None and worth.height < self.height - 1e-6),
            ("the cost", self.cost is not None and worth.cost > self.cost + 0.005),
            ("days gained", self.days is not None and (growth is None or growth.days < self.days)),
            (
                "degrees gained",
                self.degrees is not None and (growth is None or growth.degrees < self.degrees),
            ),
        )
        return next((name for name, fails in checks if fails), "")


@dataclass(frozen=True)
class Option:
    """One design on the front."""

    choices: tuple[Choice, ...]
    worth: Worth

    @property
    def sets(self) -> Sets:
        """Return the keys that make this design from the plan."""
        return merged(self.choices)


@dataclass(frozen=True)
class Advice:
    """What a search found.

    few      : the few to look at, first the one nearest to the best in everything at once
    whole : every design on the front, cheapest first
    searched : designs weighed;  refused : how many failed each wish first
    now      : what the plan as it stands comes to
    """

    few: tuple[Option, ...]
    whole: tuple[Option, ...]
    searched: int
    refused: Mapping[str, int]
    now: Worth


def merged(choices: Sequence[Choice]) -> Sets:
    """Return the keys of several choices together."""
    return {key: value for choice in choices for key, value in choice.sets.items()}


def usual_space(read: ReadPlan, design: Design) -> Space:
    """Return the space searched where nothing narrower is asked for: some thousands of designs."""
    return Space(
        (
            tuple(_pipes(read)),
            tuple(_spacings(design)),
            tuple(_heights(design)),
            tuple(_holding(read.plan)),
            tuple(_covers(read)),
            VENTS,
        )
    )


def _pipes(read: ReadPlan) -> Iterator[Choice]:
    """Yield the pipe at hand and those nearest to it that are sold and spring alike."""
    catalogue = read.catalogue
    priced = {price.thing for price in catalogue.prices}
    own = catalogue.pipe(read.plan.hoops.pipe)
    alike = [
        pipe
        for pipe in catalogue.pipes.values()
        if pipe.bending == own.bending and (pipe.key in priced or pipe.key == own.key)
    ]
    alike.sort(key=lambda pipe: abs(np.log(pipe.bending_stiffness / own.bending_stiffness)))
    for pipe in alike[:MOST_PIPES]:
        yield Choice("pipe", pipe.name, {"hoops.pipe": pipe.key, **FREE})


FREE: Sets = {"holding.strap": None, "holding.strap_screw": None, "holding.clip": None}
"""Fittings left to what fits, for they were chosen for another pipe."""


MOST_PIPES = 6

SPACINGS = (0.4572, 0.6096, 0.9144, 1.2192)
"""Widest bays tried [m], before they are rounded to the reader's sizes."""


def _spacings(design: Design) -> Iterator[Choice]:
    system = design.system
    for spacing in map(system.rounded_size, SPACINGS):
        words = f"hoops {show(spacing, 'whole length', system)}"
        yield Choice("spacing", words, {"hoops.spacing": spacing})


def _heights(design: Design) -> Iterator[Choice]:
    system = design.system
    own = design.hoop.crown_over_board
    yield Choice("height", f"{show(own, 'whole length', system)} high, as planned", {})
    for share in (0.75, 0.9, 1.15):
        height = system.rounded_size(own * share)
        sets = {"hoops.height": height, "hoops.stock_length": None}
        yield Choice("height", f"{show(height, 'whole length', system)} high", sets)


def _holding(plan: Plan) -> Iterator[Choice]:
    base = {
        "holding.pin": False,
        "holding.tied_to_soil": False,
        "holding.stakes": "none",
        "holding.legs": plan.holding.legs,
    }
    yield Choice("hold-down", "straps alone", base)
    yield Choice("hold-down", "legs pinned", {**base, "holding.pin": True})
    tied = {**base, "holding.pin": True, "holding.tied_to_soil": True}
    yield Choice("hold-down", "legs pinned, boards tied under the soil", tied)
    staked = {**base, "holding.pin": True, "holding.stakes": "corners"}
    yield Choice("hold-down", "legs pinned, corners staked", staked)
    both = {**tied, "holding.stakes": "corners"}
    yield Choice("hold-down", "legs pinned, boards tied, corners staked", both)


def _covers(read: ReadPlan) -> Iterator[Choice]:
    covers = read.catalogue.covers.values()
    weighed = [cover.key for cover in covers if cover.weighed == "yes"]
    for key in dict.fromkeys((read.plan.cover.material, *weighed)):
        yield Choice("cover", read.catalogue.cover(key).name, {"cover.material": key})


VENTS = tuple(
    Choice("vent", f"{what}, opened on visits", {"cover.roll_up": sides, "season.sides": "visits"})
    for what, sides in (("both sides roll up", "both"), ("one side rolls up", "one"))
)


def weigh_all(
    read: ReadPlan,
    space: Sequence[tuple[Choice, ...]],
    weather: Weather | None,
    *,
    compiled: bool = True,
    progress: Progress | None = None,
) -> list[Worth | None]:
    """Return the worth of each design of a space in order; None where it cannot be built."""
    weigher = _weigher(read, weather, compiled=compiled)
    found: list[Worth | None] = [None] * len(space)
    done = itertools.count(1)
    tell = (lambda: progress(next(done), len(space))) if progress else (lambda: None)
    for rows in _groups(space):
        worths = _weighed(read, weigher, [space[i] for i in rows], tell)
        for row, worth in zip(rows, worths, strict=True):
            found[row] = worth
    return found


#: Designs weighed as one piece of work [-]: enough to share by, few enough to spread over workers.
AT_ONCE = 120


def _groups(space: Sequence[tuple[Choice, ...]]) -> list[list[int]]:
    """Return the rows of a space in pieces of work; those of one height follow on.

    So a hoop, a place and its open bed serve all covers of it.
    """
    shared: dict[object, list[int]] = {}
    for row, choices in enumerate(space):
        key = tuple(c.says for c in choices if c.axis == "height")
        shared.setdefault(key, []).append(row)
    return [
        rows[first : first + AT_ONCE]
        for rows in shared.values()
        for first in range(0, len(rows), AT_ONCE)
    ]


def _weighed(
    read: ReadPlan,
    weigher: Weigher,
    space: Sequence[tuple[Choice, ...]],
    tell: Callable[[], object],
) -> list[Worth | None]:
    """Return the worth of each design of one piece of work, telling of each; None where it
    cannot be built."""
    designs: list[Design | None] = []
    for choices in space:
        try:
            plan = changed(read.plan, merged(choices))
            designs.append(design_of(ReadPlan(plan, read.catalogue)))
        except (PlanError, ValueError):
            designs.append(None)
    weigher.prepare(one for one in designs if one is not None)
    found: list[Worth | None] = []
    for design in designs:
        try:
            found.append(None if design is None else weigher.weigh(design))
        except (PlanError, ValueError):
            found.append(None)
        tell()
    # Followed hoops and ladders serve within a piece; kept, they would only fill the memory.
    weigher.ladders.forget()
    return found


def _weigher(read: ReadPlan, weather: Weather | None, *, compiled: bool = True) -> Weigher:
    if not compiled or weather is None:
        return Weigher(Bill(read.catalogue), weather, whole=False)
    from hoopwright.heat.compiled import compiled_march  # brings the compiler with it

    return Weigher(Bill(read.catalogue), weather, compiled_march(), whole=False)


def weigh_in_parallel(
    read: ReadPlan,
    space: Sequence[tuple[Choice, ...]],
    weather: Weather | None,
    workers: int,
    progress: Progress | None = None,
) -> list[Worth | None]:
    """Return what `weigh_all` does, by several processes; designs that share go together."""
    if workers <= 1 or len(space) < 100:
        return weigh_all(read, space, weather, progress=progress)
    found: list[Worth | None] = [None] * len(space)
    done = multiprocessing.get_context("spawn").Value("i", 0)
    with pool(workers, _start, (read, weather, done)) as processes:
        pieces = {
            processes.submit(_weigh_group, [space[i] for i in rows]): rows
            for rows in _groups(space)
        }
        waiting = set(pieces)
        while waiting:
            ended, waiting = wait(waiting, TOLD_EVERY, FIRST_COMPLETED)
            for future in ended:
                for row, worth in zip(pieces[future], future.result(), strict=True):
                    found[row] = worth
            if progress:
                progress(done.value, len(space))
    return found


#: Seconds between news of how many designs the processes have weighed.
TOLD_EVERY = 0.5
#: What a worker process holds: set once as it starts.
_HELD: list[Any] = []


def _start(read: ReadPlan, weather: Weather | None, done: Any) -> None:
    _HELD[:] = [read, _weigher(read, weather), done]


def _weigh_group(space: Sequence[tuple[Choice, ...]]) -> list[Worth | None]:
    read, weigher, done = _HELD

    def tell() -> None:
        with done.get_lock():
            done.value += 1

    return _weighed(read, weigher, space, tell)


def scores(worths: Sequence[Worth]) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return cost, strength and gain of each, the less the better, shape (designs, 3).

    Strength is the gust to plan for, as far as anything is claimed.
    """
    return np.array(
        [
            (
                worth.cost,
                -min(worth.wind, STRONGEST_GUST),
                -(worth.growth.degrees if worth.growth else 0.0),
            )
            for worth in worths
        ]
    ).reshape(-1, 3)


def advise(
    read: ReadPlan,
    space: Space,
    wish: Wish,
    weather: Weather | None,
    *,
    workers: int = 1,
    most: int = 6,
    progress: Progress | None = None,
) -> Advice:
    """Return the designs that meet the wishes and that none beats in cost, strength and gain.

    Every design of the space is weighed; nothing is guessed at or skipped.
    """
    designs = list(space)
    tell = (lambda done, _: progress(max(done - 1, 0), len(designs))) if progress else None
    # The plan as it stands is weighed with them, where what that takes is at hand.
    now, *worths = weigh_in_parallel(read, [(), *designs], weather, workers, tell)
    if now is None:
        raise ValueError("the plan as it stands cannot be weighed")
    refused: dict[str, int] = {}
    fit: list[Option] = []
    for choices, worth in zip(designs, worths, strict=True):
        why = "cannot be built or bought" if worth is None else wish.unmet(worth)
        if why or worth is None:
            refused[why] = refused.get(why, 0) + 1
        else:
            fit.append(Option(choices, worth))
    rows = scores([option.worth for option in fit])
    best = sorted((fit[i] for i in front(rows)), key=lambda option: option.worth.cost)
    rows = scores([option.worth for option in best])
    chosen: list[Option] = []
    if best:
        apart = balance(rows)
        few = sorted(spread_out(rows, most).tolist(), key=lambda row: float(apart[row]))
        chosen = [best[row] for row in few]
    return Advice(tuple(chosen), tuple(best), len(designs), refused, now)
