"""What fits what: strap and clip to a pipe, rod into a pipe, screw through strap or batten.

Straps and slit-tube clips go by the pipe's outside diameter, sleeve rods by its bore, screws by
the thickness they pass and the board they end in. Each function picks from the sizes it is
given, or says what is missing and what size to buy.
"""

from collections.abc import Iterable
from typing import Generic, TypeVar

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import INCH
from hoopwright.tables.fittings import Clip, Rail, Screw, Stake, Strap
from hoopwright.tables.pipes import Pipe
from hoopwright.tables.wood import Batten, Board

Item = TypeVar("Item")

POINT_COVER = 0.125 * INCH
"""Wood left beyond a screw's point [m]: 1/8 in, common practice, no source."""

BATTEN_BITE = 0.75 * INCH
"""Least bite of a batten screw in the board [m]: 3/4 in, common practice, no source. Less than
the six diameters the NDS asks of a lateral load: the batten clamps film and carries no frame."""

DIAMETERS_OF_BITE = 6.0
"""Least bite of a strap screw in the board, in screw diameters [-]: NDS 2018 12.1.5.6, its
tip with it, for lateral load (copy read 2026-11)."""


@dataclass(frozen=True)
class Picked(Generic[Item]):
    """What fits, or None with what to buy instead.

    item : the best fit; others : the rest that fit, best first
    need : empty when something fits, else in words what is needed
    """

    item: Item | None
    others: tuple[Item, ...]
    need: str


def _picked(ranked: list[Item], need: str) -> Picked[Item]:
    if ranked:
        return Picked(ranked[0], tuple(ranked[1:]), "")
    return Picked(None, (), need)


def strap_fits(strap: Strap, pipe: Pipe) -> bool:
    """Return whether a strap grips a pipe by its outside diameter."""
    return strap.least_outside_diameter <= pipe.outside_diameter <= strap.greatest_outside_diameter


def strap_for(pipe: Pipe, straps: Iterable[Strap]) -> Picked[Strap]:
    """Return the strap that grips a pipe: the tightest of those that do."""
    fitting = [strap for strap in straps if strap_fits(strap, pipe)]
    fitting.sort(key=lambda strap: strap.greatest_outside_diameter - pipe.outside_diameter)
    return _picked(fitting, f"a strap for tube {_inches(pipe.outside_diameter)} outside")


def clip_fits(clip: Clip, pipe: Pipe | Rail) -> bool:
    """Return whether a clip grips a pipe by its outside diameter."""
    return clip.least_outside_diameter <= pipe.outside_diameter <= clip.greatest_outside_diameter


def clip_for(pipe: Pipe | Rail, clips: Iterable[Clip], kind: str = "slit tube") -> Picked[Clip]:
    """Return the clip for a pipe or rail: of those that grip, the one whose bore is nearest.

    kind : "slit tube", "snap", or "spring" for a rail. A tube whose bore is far below the pipe's
    size opens wide, goes on hard and tears film; one above it does not grip.
    """
    fitting = [clip for clip in clips if clip.kind == kind and clip_fits(clip, pipe)]
    fitting.sort(key=lambda clip: abs(pipe.outside_diameter - clip.inside_diameter))
    return _picked(
        fitting,
        f"a {kind} clip with a bore of {_inches(0.9 * pipe.outside_diameter)} "
        f"to {_inches(pipe.outside_diameter)}",
    )


def sleeve_clearance(rod: Stake, pipe: Pipe) -> float:
    """Return the room [m] between a rod and the narrowest bore the pipe may have."""
    return pipe.least_inside_diameter - rod.size


def sleeve_rod_fits(rod: Stake, pipe: Pipe) -> bool:
    """Return whether a pipe slips over a rod with the clearance the rod wants."""
    wanted = rod.least_clearance
    return wanted is not None and not pipe.is_solid and sleeve_clearance(rod, pipe) >= wanted


def sleeve_rod_for(pipe: Pipe, rods: Iterable[Stake], kind: str = "bar") -> Picked[Stake]:
    """Return the rod a pipe's leg is slipped over: the thickest that passes with clearance.

    kind : "bar" or "tube"
    """
    fitting = [rod for rod in rods if rod.kind == kind and sleeve_rod_fits(rod, pipe)]
    fitting.sort(key=lambda rod: -rod.size)
    if pipe.is_solid:
        return Picked(None, (), "a rod takes no sleeve: push it into the soil or into a tube")
    return _picked(
        fitting, f"a rod of at most {_inches(pipe.least_inside_diameter)} with room to slide"
    )


def batten_screw_for(batten: Batten, board: Board, screws: Iterable[Screw]) -> Picked[Screw]:
    """Return the screw that holds a batten on a board: the shortest with bite enough.

    Outdoor flat-head screws whose bite in the board is at least `BATTEN_BITE` and whose point
    stays `POINT_COVER` inside it; lighter gauges first.
    """
    fitting = [
        screw
        for screw in screws
        if screw.outdoors == "yes"
        and screw.head == "flat"
        and screw.length - batten.thickness >= BATTEN_BITE - 1e-9
        and screw.length - batten.thickness <= board.thickness - POINT_COVER + 1e-9
    ]
    fitting.sort(key=lambda screw: (screw.size.diameter, screw.length))
    if board.thickness - POINT_COVER < BATTEN_BITE:
        return Picked(None, (), f"bolts through: a board of {_inches(board.thickness)} is too thin")
    return _picked(
        fitting,
        f"an outdoor screw of {_inches(batten.thickness + BATTEN_BITE)} "
        f"to {_inches(batten.thickness + board.thickness - POINT_COVER)}",
    )


def strap_screw_for(strap: Strap, board: Board, screws: Iterable[Screw]) -> Picked[Screw]:
    """Return the screw for a strap on a board: the thickest and longest that stays inside.

    Outdoor pan or washer heads of a gauge the strap's holes take, bite at least
    `DIAMETERS_OF_BITE` diameters, point `POINT_COVER` inside the board's far face.
    """
    fitting = [
        screw
        for screw in screws
        if screw.outdoors == "yes"
        and screw.head in ("pan", "washer")
        and screw.gauge in strap.screw_sizes
        and strap_screw_bite(strap, screw) >= DIAMETERS_OF_BITE * screw.size.diameter
        and strap_screw_bite(strap, screw) <= board.thickness - POINT_COVER
    ]
    fitting.sort(key=lambda screw: (-screw.length, -screw.size.diameter))
    if not strap.screw_sizes:
        return Picked(None, (), "no screw: it is driven with a hammer")
    gauges = " or ".join(strap.screw_sizes)
    return _picked(
        fitting,
        f"an outdoor pan-head screw {gauges}, at most "
        f"{_inches(board.thickness - POINT_COVER + strap.thickness)} long",
    )


def pin_for(pipe: Pipe, board: Board, screws: Iterable[Screw]) -> Screw | None:
    """Return the screw that pins a leg to its board: through the pipe and well into the wood.

    The shortest outdoor screw that passes the pipe and bites `BATTEN_BITE`, its point inside the
    board; stouter gauges first. The smaller the hole, the stronger the pipe, so #8 and #10 only.
    """
    fitting = [
        screw
        for screw in screws
        if screw.outdoors == "yes"
        and screw.gauge in ("#8", "#10")
        and screw.length >= pipe.outside_diameter + BATTEN_BITE
        and screw.length <= pipe.outside_diameter + board.thickness - POINT_COVER
    ]
    return min(fitting, key=lambda screw: (screw.length, -screw.size.diameter), default=None)


def strap_screw_bite(strap: Strap, screw: Screw) -> float:
    """Return the length of a strap screw in the wood [m]."""
    return screw.length - strap.thickness


def _inches(length: float) -> str:
    return f"{length / INCH:.3g} in ({length * 1000:.0f} mm)"
