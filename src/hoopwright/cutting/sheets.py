"""Sheets cut from rolls of film: across the roll first, then ripped along it."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.cutting.marks import metres, steps_down, steps_up
from hoopwright.cutting.stock import (
    USUAL,
    CannotCut,
    CutRoll,
    Effort,
    PlacedSheet,
    Roll,
    RollPlan,
    Sheet,
)

Laid = tuple[Sheet, int, int, bool]
"""A sheet, its steps across and along, and whether it is turned."""


def cut_sheets(sheets: Sequence[Sheet], rolls: Sequence[Roll], effort: Effort = USUAL) -> RollPlan:
    """The cheapest way found to cut `sheets` from `rolls`, in cross-cuts and then rips."""
    if not rolls:
        raise CannotCut("There is no roll to cut from. Name one.")
    plans = [plan for roll in rolls if (plan := _one_kind(sheets, roll)) is not None]
    if not plans:
        raise CannotCut(_what_is_short(sheets, rolls))
    return min(plans, key=lambda plan: (plan.cost, plan.length))


def _what_is_short(sheets: Sequence[Sheet], rolls: Sequence[Roll]) -> str:
    for sheet in sheets:
        if all(_lay(sheet, roll) is None for roll in rolls):
            return (
                f"Sheet '{sheet.name}' is {sheet.width:.4g} m by {sheet.length:.4g} m and fits "
                f"no roll. A roll {sheet.width:.4g} m wide would do, or a seam."
            )
    return "The rolls are too few for the sheets. Add a roll."


def _lay(sheet: Sheet, roll: Roll) -> Laid | None:
    across, along = steps_up(sheet.width), steps_up(sheet.length)
    wide, long = steps_down(roll.width), steps_down(roll.length)
    if across <= wide and along <= long:
        return sheet, across, along, False
    if sheet.may_turn and along <= wide and across <= long:
        return sheet, along, across, True
    return None


def _one_kind(sheets: Sequence[Sheet], roll: Roll) -> RollPlan | None:
    laid = [_lay(sheet, roll) for sheet in sheets]
    if any(one is None for one in laid):
        return None
    order = sorted((one for one in laid if one), key=lambda one: (-one[2], -one[1], one[0].name))
    shelves: list[list[Laid]] = []
    for one in order:
        for shelf in shelves:
            if sum(other[1] for other in shelf) + one[1] <= steps_down(roll.width):
                shelf.append(one)
                break
        else:
            shelves.append([one])
    bars: list[list[list[Laid]]] = []
    for shelf in shelves:
        for bar in bars:
            if sum(other[0][2] for other in bar) + shelf[0][2] <= steps_down(roll.length):
                bar.append(shelf)
                break
        else:
            bars.append([shelf])
    if roll.available is not None and len(bars) > roll.available:
        return None
    cuts = tuple(_place(roll, bar) for bar in bars)
    length = sum(cut.used for cut in cuts)
    cost = round(roll.price * (length if roll.by_length else len(cuts)), 2)
    area = sum(sheet.width * sheet.length for sheet in sheets)
    return RollPlan(cuts, cost, 0.0, cost == 0.0, 0.0, False, area / roll.width)


def _place(roll: Roll, shelves: list[list[Laid]]) -> CutRoll:
    y = 0
    cross: list[float] = []
    placed: list[PlacedSheet] = []
    for shelf in shelves:
        x = 0
        for sheet, across, along, turned in shelf:
            placed.append(
                PlacedSheet(sheet, metres(x), metres(y), metres(across), metres(along), turned)
            )
            x += across
        y += shelf[0][2]
        cross.append(metres(y))
    return CutRoll(roll, tuple(cross), tuple(placed))
