"""A pipe sliding out of its straps: friction, relaxation, a pin through it, and a pull test."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Annotated

import numpy as np

from hoopwright.tables.reader import SURENESS, number, record_of, shipped, text
from hoopwright.tables.spread import Spread, least


@dataclass(frozen=True)
class _Share:
    quantity: Annotated[str, text()]
    low: Annotated[float, number("-", 0, 2)]
    likely: Annotated[float, number("-", 0, 2)]
    high: Annotated[float, number("-", 0, 2)]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@dataclass(frozen=True)
class _Force:
    quantity: Annotated[str, text()]
    low: Annotated[float, number("N", 0, 5000)]
    likely: Annotated[float, number("N", 0, 5000)]
    high: Annotated[float, number("N", 0, 5000)]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@dataclass(frozen=True)
class Known:
    """A default range with its source and how sure it is."""

    value: Spread
    source: str
    sure: str


@cache
def shares() -> dict[str, Known]:
    """Return the frictions and relaxed shares [-] by name."""
    rows = [record_of(row, _Share) for row in shipped("holding_grip")]
    return {
        row.quantity: Known(Spread(row.low, row.likely, row.high), row.source, row.sure)
        for row in rows
    }


@cache
def forces() -> dict[str, Known]:
    """Return the default grip forces [N] by name; assumptions all, a pull test replaces them."""
    rows = [record_of(row, _Force) for row in shipped("holding_grip_force")]
    return {
        row.quantity: Known(Spread(row.low, row.likely, row.high), row.source, row.sure)
        for row in rows
    }


def strap_grip(
    side_forces: Sequence[float],
    friction: Spread | None = None,
    squeeze: Spread | None = None,
    relaxed: Spread | None = None,
) -> Spread:
    """Return the pull along the leg [N] at which a pipe slips in its straps: an assumption.

    side_forces : [N] the frame's push on each strap of the leg from the bend, when new
    friction : [-] pipe on strap; squeeze : [N] each strap presses on the pipe at both faces
    relaxed : [-] share of either left after a season

    Grip is friction times all that presses: side forces and squeeze, both relaxed. It varies a
    lot between builds. Friction under a gust is not helped by the gust's own push.
    Valid for: an order only. Source: Coulomb; friction and relaxation from memory, squeeze
    an assumption. No published figure for a pipe in a tube strap was found: do the pull test.
    """
    friction = friction or shares()["steel strap on plastic pipe"].value
    squeeze = squeeze or forces()["squeeze of a snug strap"].value
    relaxed = relaxed or shares()["share left after relaxing"].value
    pressing = squeeze.scaled(2 * len(side_forces))
    bend = sum(abs(force) for force in side_forces)
    return pressing.plus(Spread(bend, bend, bend)).times(relaxed).times(friction)


@dataclass(frozen=True)
class PullTest:
    """A person's own pull on legs along the pipe.

    slipped_at : [N] reading when the pipe first moved, one per leg tried
    straps : [-] straps on each leg tried; aged : the straps had been on a season
    """

    slipped_at: tuple[float, ...]
    straps: int
    aged: bool = False


def grip_of_pull_test(
    test: PullTest, straps: int, relaxed: Spread | None = None, few: float = 0.15
) -> Spread:
    """Return the grip [N] a pull test shows for a leg with a number of straps.

    straps : [-] on the leg asked about; few : [-] half width of the range added to what the
    readings span, for a handful of legs says little (assumption)

    A new grip relaxes: where the test was on fresh straps, the low and likely ends are cut by
    relaxed and the high end is the test itself. The range replaces strap_grip.
    Source: the readings; grip taken in proportion to the straps (assumption).
    """
    if not test.slipped_at or min(test.slipped_at) < 0:
        raise ValueError("a pull test needs at least one reading, none of them below zero")
    each = [reading * straps / test.straps for reading in test.slipped_at]
    mean = float(np.mean(each))
    raw = Spread(min(each) * (1 - few), mean, max(each) * (1 + few))
    if test.aged:
        return raw
    left = relaxed or shares()["share left after relaxing"].value
    return Spread(raw.low * left.low, raw.likely * left.likely, raw.high)


@dataclass(frozen=True)
class PinStrength:
    """A screw or pin through the pipe [N]: each way it can go, and the weakest."""

    pipe_bearing: Spread
    pin_shear: Spread
    tear_to_end: Spread
    holds: Spread


def through_pin(
    pin_diameter: float,
    wall: float,
    end_distance: float,
    pipe_tensile: float,
    pin_tensile: float = 4.0e8,
    walls: int = 2,
    bearing: Spread | None = None,
    shear_share: float = 0.6,
) -> PinStrength:
    """Return what a pin through the pipe holds along it.

    pin_diameter : [m] root where a screw; wall : [m] of the pipe; end_distance : [m] from the
    hole to the pipe's end; pipe_tensile : [Pa] at its temperature; pin_tensile : [Pa] of the pin,
    400 MPa for mild steel (assumption); walls : [-] walls it crosses
    bearing : [-] bearing stress over tensile strength that the wall stands; 0.5 creeping and
    aged, 1.0, and 1.3 (compressive over tensile strength of PVC 9600 / 7450 psi, maker's sheet)

    Bearing on the wall, shear of the pin at each crossing, tear of two strips to the end in
    shear at 0.5 of the bearing range. A hole weakens the pipe in bending: keep it out of the
    bent part, below the upper strap.
    Valid for: pins of 3 to 8 mm in rigid plastic pipe. Source: bearing d t, shear at 0.6 of the
    tensile strength (common practice); ranges are assumptions but for the 1.3.
    """
    bearing = bearing or Spread(0.5, 1.0, 1.3)
    on_wall = bearing.scaled(pipe_tensile * pin_diameter * wall * walls)
    tear = bearing.scaled(0.5 * pipe_tensile * 2 * end_distance * wall * walls)
    shear = float(shear_share * pin_tensile * np.pi / 4 * pin_diameter**2 * walls)
    in_pin = Spread(0.75 * shear, shear, 1.25 * shear)
    return PinStrength(on_wall, in_pin, tear, least([on_wall, in_pin, tear]))
