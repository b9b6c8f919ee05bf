"""A pipe sliding out of its straps: friction, relaxation, a pin through it, and a pull test."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.odds.learn import updated
from hoopwright.tables.reader import Figure, ranges_of
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]


def shares() -> Mapping[str, Figure]:
    """Return the frictions and relaxed shares [-] by name."""
    return ranges_of("holding_grip", "-", 0, 2)


def forces() -> Mapping[str, Figure]:
    """Return the default grip forces [N] by name; assumptions all, a pull test replaces them."""
    return ranges_of("holding_grip_force", "N", 0, 5000)


def strap_grip(
    side_forces: Sequence[float], friction: ArrayLike, squeeze: ArrayLike, relaxed: ArrayLike
) -> Floats:
    """Return the pull along the leg [N] at which a pipe slips in its straps: an assumption.

    side_forces : [N] the frame's push on each strap of the leg from the bend, when new
    friction : [-] pipe on strap; squeeze : [N] each strap presses on the pipe at both faces
    relaxed : [-] share of either left after a season

    Grip is friction times all that presses: side forces and squeeze, both relaxed. It varies a
    lot between builds. Friction under a gust is not helped by the gust's own push.
    Valid for: an order only. Source: Coulomb; friction and relaxation from memory, squeeze
    an assumption. No published figure for a pipe in a tube strap was found: do the pull test.
    """
    pressing = np.asarray(squeeze) * 2 * len(side_forces) + sum(abs(one) for one in side_forces)
    return np.asarray(pressing * np.asarray(relaxed) * np.asarray(friction))


@dataclass(frozen=True)
class PullTest:
    """A person's own pull on legs along the pipe.

    slipped_at : [N] reading when the pipe first moved, one per leg tried
    straps : [-] straps on each leg tried; aged : the straps had been on a season
    """

    slipped_at: tuple[float, ...]
    straps: int
    aged: bool = False


def grip_of_pull_test(test: PullTest, straps: int, prior: Spread) -> Spread:
    """Return the grip [N], as tested, of a leg with a number of straps.

    straps : [-] on the leg asked about; prior : [N] what was thought of it before, fresh or aged
    as the test

    Source: the readings against the prior (odds.learn); grip taken in proportion to the straps
    (assumption). A test of fresh straps says nothing of how they relax.
    """
    return updated(prior, [reading * straps / test.straps for reading in test.slipped_at])


@dataclass(frozen=True)
class PinStrength:
    """A screw or pin through the pipe [N]: each way it can go, and the weakest."""

    pipe_bearing: Floats
    pin_shear: float
    tear_to_end: Floats
    holds: Floats


def through_pin(
    pin_diameter: float,
    wall: float,
    end_distance: float,
    pipe_tensile: float,
    bearing: ArrayLike,
    pin_tensile: float = 4.0e8,
    walls: int = 2,
    shear_share: float = 0.6,
) -> PinStrength:
    """Return what a pin through the pipe holds along it.

    pin_diameter : [m] root where a screw; wall : [m] of the pipe; end_distance : [m] from the
    hole to the pipe's end; pipe_tensile : [Pa] at its temperature; pin_tensile : [Pa] of the pin,
    400 MPa for mild steel (assumption); walls : [-] walls it crosses
    bearing : [-] bearing stress over tensile strength that the wall stands

    Bearing on the wall, shear of the pin at each crossing, tear of two strips to the end in
    shear at half the bearing. A hole weakens the pipe in bending: keep it out of the bent part,
    below the upper strap.
    Valid for: pins of 3 to 8 mm in rigid plastic pipe. Source: bearing d t, shear at 0.6 of the
    tensile strength (common practice).
    """
    share = np.asarray(bearing, dtype=float)
    on_wall = share * pipe_tensile * pin_diameter * wall * walls
    tear = share * 0.5 * pipe_tensile * 2 * end_distance * wall * walls
    shear = float(shear_share * pin_tensile * np.pi / 4 * pin_diameter**2 * walls)
    return PinStrength(on_wall, shear, tear, np.minimum(np.minimum(on_wall, shear), tear))
