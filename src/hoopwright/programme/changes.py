"""The changes that raise what to plan for, each worked out as a whole new design."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.checks.ladder import Ladder
from hoopwright.checks.ladders import Ladders
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError, ReadPlan
from hoopwright.programme.buying import Bill
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.fittings import Screw
from hoopwright.tables.pipes import Pipe
from hoopwright.units import show

#: A gain smaller than this share of what was there is none worth a trip to the shop.
WORTH_SAYING = 0.02


@dataclass(frozen=True)
class Change:
    """One change of a plan: what to do, and the keys it sets ("hoops.spacing" -> value)."""

    what: str
    sets: Mapping[str, Any]


@dataclass(frozen=True)
class WorkedChange:
    """A change worked out.

    wind, snow : [m/s], [m] gust and depth of wet snow to plan for after the change
    wind_before, snow_before : the same without it
    cost : what it adds to the bill [currency]
    """

    change: Change
    wind: float
    snow: float
    wind_before: float
    snow_before: float
    cost: float

    @property
    def wind_gain(self) -> float:
        """Return the gain in wind [m/s]; none beyond what is claimed."""
        return min(self.wind, STRONGEST_GUST) - min(self.wind_before, STRONGEST_GUST)

    @property
    def snow_gain(self) -> float:
        """Return the gain in wet snow [m]."""
        return self.snow - self.snow_before

    @property
    def relative_gain(self) -> float:
        """Return the greater of both gains over what was there [-]."""
        return max(
            self.wind_gain / max(self.wind_before, 1e-9),
            self.snow_gain / max(self.snow_before, 1e-9),
        )

    @property
    def loses_wind(self) -> bool:
        """Return whether it lowers the gust to plan for by so much that it must be said."""
        return self.wind_gain < -WORTH_SAYING * self.wind_before

    @property
    def loses_snow(self) -> bool:
        """Return whether it lowers the snow to plan for by so much that it must be said."""
        return self.snow_gain < -WORTH_SAYING * self.snow_before

    @property
    def helps(self) -> bool:
        """Return whether it is worth saying."""
        return self.relative_gain > WORTH_SAYING


def worked_changes(
    read: ReadPlan, before: Design, progress: Callable[[int, int], None] | None = None
) -> tuple[WorkedChange, ...]:
    """Return the changes that help, the most gain for the money first.

    Those that buy one gain with a loss stand last.

    progress : told how many changes are worked out, of how many, after each
    """
    possible = [
        (change, after)
        for change in changes(read, before)
        if (after := changed_design(read.plan, read.catalogue, change.sets)) is not None
    ]
    worked = []
    bill, ladders = Bill(read.catalogue), Ladders(whole=False)
    # Most changes leave the loaded hoop and most of the order as they are.
    ladders.know(before.ladder)
    ladders.prepare(after.standing for _, after in possible)
    for number, (change, after) in enumerate(possible, start=1):
        found = _work_out(before, change, ladders.of(after.standing))
        if found.helps:
            worked.append(replace(found, cost=_dearer(bill, before, after)))
        if progress is not None:
            progress(number, len(possible))
    return tuple(sorted(worked, key=_value, reverse=True))


def _value(change: WorkedChange) -> tuple[bool, float]:
    """Return gain for money, losers below; what costs nothing or saves is weighed as a dollar."""
    loses = change.loses_wind or change.loses_snow
    return not loses, change.relative_gain / max(change.cost, 1.0)


def changed(plan: Plan, sets: Mapping[str, Any]) -> Plan:
    """Return the plan with some keys set to SI values, unvalidated: the caller knows them."""
    sections: dict[str, dict[str, Any]] = {}
    for key, value in sets.items():
        section, name = key.split(".")
        sections.setdefault(section, {})[name] = value
    return plan.model_copy(
        update={
            section: getattr(plan, section).model_copy(update=values)
            for section, values in sections.items()
        }
    )


def changed_design(
    plan: Plan, catalogue: Catalogue, sets: Mapping[str, Any], ladders: Ladders | None = None
) -> Design | None:
    """Return the design of a plan with some keys set (SI); None where none can be bent to it.

    ladders : that it shares, as `design_of` has it
    """
    try:
        return design_of(ReadPlan(changed(plan, sets), catalogue), ladders)
    except PlanError:
        return None


def _work_out(before: Design, change: Change, found: Ladder) -> WorkedChange:
    """Return what a change gains, its cost not yet told."""
    return WorkedChange(
        change,
        found.opens.told[0],
        found.wet_snow.careful,
        before.ladder.opens.told[0],
        before.ladder.wet_snow.careful,
        0.0,
    )


def _dearer(bill: Bill, before: Design, after: Design) -> float:
    """Return what a change adds to the cost [currency]."""
    added = bill.added(before.parts, after.parts, after.at_hand)
    if math.isfinite(added):
        return added
    return after.order.total - before.order.total


def changes(read: ReadPlan, design: Design) -> Iterator[Change]:
    """Yield the changes that this plan has not made yet."""
    plan = read.plan
    yield from _of_pipe(read, design)
    if plan.hoops.straps_per_leg == 1 and plan.holding.legs == "straps":
        yield Change("Second straps on each leg", {"hoops.straps_per_leg": 2})
    if not plan.holding.pin:
        yield Change("A screw through each leg", {"holding.pin": True})
    if not plan.holding.tied_to_soil:
        yield Change("Boards tied under the soil", {"holding.tied_to_soil": True})
        yield Change(
            "Legs pinned, boards tied under the soil",
            {"holding.pin": True, "holding.tied_to_soil": True},
        )
    if plan.holding.stakes == "none":
        yield Change("Stakes at the corners", {"holding.stakes": "corners"})
    if plan.hoops.ridge == "none":
        yield Change("A ridge pipe under the crowns", {"hoops.ridge": "pipe"})
    if not plan.hoops.brace:
        ridge = plan.hoops.ridge if plan.hoops.ridge in ("pipe", "batten") else "pipe"
        what = "The ridge" if plan.hoops.ridge == ridge else "A ridge pipe"
        yield Change(
            f"{what} tied back to the boards at both ends",
            {"hoops.ridge": ridge, "hoops.brace": True},
        )
    if not plan.hoops.guys:
        yield Change("Guys from the shoulders to pegs", {"hoops.guys": True})
    if not plan.cover.lacing:
        yield Change("A cord laced over each bay", {"cover.lacing": True})
    longer = _stouter_screw(read, design)
    if longer is not None:
        yield Change(f"Straps fixed with {longer.name}", {"holding.strap_screw": longer.key})
    yield from _of_cover(read)


def _of_pipe(read: ReadPlan, design: Design) -> Iterator[Change]:
    plan, hoop = read.plan, design.hoop
    nearest = design.standing.bay
    yield Change("One more hoop in each bay", {"hoops.spacing": nearest / 2})
    yield Change("Hoops closer by a third", {"hoops.spacing": nearest * 2 / 3})
    shorter = max(0.3048, hoop.crown_over_board - 0.1524)
    if (lower := hoop.crown_over_board - shorter) > 0:
        what = f"Hoops {show(lower, 'length', plan.system)} lower"
        yield Change(what, {"hoops.height": shorter, "hoops.stock_length": None})
    stouter = _stouter_pipe(read, hoop.pipe)
    if stouter is not None and plan.holding.strap is None:
        yield Change(f"{stouter.name} in place of {hoop.pipe.name}", {"hoops.pipe": stouter.key})


def _stouter_pipe(read: ReadPlan, pipe: Pipe) -> Pipe | None:
    """Return the next stiffer pipe of the same stuff and kind of wall."""
    family = pipe.key.rsplit("-", 1)[0]
    stiffer = [
        other
        for other in read.catalogue.pipes.values()
        if other.key.rsplit("-", 1)[0] == family
        and other.bending_stiffness > pipe.bending_stiffness
    ]
    return min(stiffer, key=lambda other: other.bending_stiffness, default=None)


def _stouter_screw(read: ReadPlan, design: Design) -> Screw | None:
    """Return a longer or thicker strap screw that still fits strap and board, if there is one."""
    from hoopwright.tables.fits import strap_screw_for

    strap, used = design.fitted.strap, design.fitted.strap_screw
    if strap is None or used is None:
        return None
    fit = strap_screw_for(strap, design.bed.board, read.catalogue.screws.values())
    best = fit.item
    return best if best is not None and best.length > used.length else None


def _of_cover(read: ReadPlan) -> Iterator[Change]:
    plan = read.plan
    woven = read.catalogue.covers.get("film-woven")
    if woven is not None and plan.cover.material != woven.key:
        yield Change(f"{woven.name} as the cover", {"cover.material": woven.key})
    if plan.cover.roll_up == "both":
        yield Change("One side fixed, one rolling up", {"cover.roll_up": "one"})
    if plan.cover.clip_spacing > 0.16:
        yield Change("Clips twice as close", {"cover.clip_spacing": plan.cover.clip_spacing / 2})
