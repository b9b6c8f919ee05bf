"""Every part of a bed and its cover, before anything is bought."""

import math
from collections.abc import Iterable, Sequence

from hoopwright.bed import Bed
from hoopwright.checks.fitting import Fitted
from hoopwright.cover.assembly import Cover, seam_widths
from hoopwright.cover.fastening import batten_lengths, batten_screws
from hoopwright.cutting.stock import Piece, Sheet
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import HoldDown
from hoopwright.hoop.shape import Hoop
from hoopwright.hoop.stations import HoopStation

SAW_KERF = 0.003175
PIPE_KERF = 0.0015875
KNIFE_KERF = 0.0

#: Screws in each corner of the box and each board course, and in each board joint's plate
#: (common practice, no source).
CORNER_SCREWS = 3
JOINT_SCREWS = 8
#: Cord beyond the run itself, for knots at both ends [m] (common practice, no source).
CORD_FOR_KNOTS = 0.6096
#: A loop that holds a rail: so often round it, and so much for the knot [m] (common practice, no
#: source).
RAIL_LOOP_TURNS, RAIL_LOOP_KNOT = 2, 0.3048
#: Between cords tied from board to board under the soil [m] (common practice, no source).
TIES_UNDER_SOIL = 0.6096
#: A peg for a guy: 18 in of 1x2 (common practice, no source).
PEG, PEG_THING = 0.4572, "stake-wood-1x2"
#: A sleeve rod above the ground [m]; see holding.straps.leg_on_rod.
ROD_ABOVE_GROUND = 0.3048


@dataclass(frozen=True)
class CutParts:
    """Pieces cut from sticks of one thing.

    thing : key of the catalogue; kerf : [m] taken by each cut
    """

    thing: str
    pieces: tuple[Piece, ...]
    kerf: float


@dataclass(frozen=True)
class SheetParts:
    """Pieces cut off rolls of one cover material."""

    thing: str
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True)
class CountedPart:
    """Things bought by number, and what they are for."""

    thing: str
    count: int
    use: str


def one_line_each(counted: Iterable[CountedPart]) -> tuple[CountedPart, ...]:
    """Return the counted things with those of one kind together, so that they share packs."""
    counts: dict[str, int] = {}
    uses: dict[str, list[str]] = {}
    for part in counted:
        counts[part.thing] = counts.get(part.thing, 0) + part.count
        uses.setdefault(part.thing, []).append(part.use)
    return tuple(
        CountedPart(thing, count, ", ".join(dict.fromkeys(uses[thing])))
        for thing, count in counts.items()
    )


@dataclass(frozen=True)
class Parts:
    """All parts of one bed."""

    cut: tuple[CutParts, ...]
    sheets: tuple[SheetParts, ...]
    counted: tuple[CountedPart, ...]


#: Cords that tie a ridge back: one to each side board at both ends [-].
BRACES = 4


@dataclass(frozen=True)
class Lines:
    """Lines that stiffen the hoops: what the ridge is made of, cord laced over the film.

    ridge : catalogue key of pipe, batten or cord, or None; ridge_longest : [m] longest piece of it
    laced : True for a cord over the film in each bay; cord : key of that cord
    guyed : True for cords from each hoop's shoulders to pegs in the ground
    braced : True for cords from both ends of the ridge down to the side boards
    mesh  : catalogue key of the band left standing in an opened side
    """

    ridge: str | None
    ridge_longest: float
    laced: bool
    cord: str
    mesh: str
    guyed: bool
    braced: bool


def _alike(thing: str, name: str, count: int, length: float, kerf: float) -> CutParts:
    """Return numbered pieces of one length [m]."""
    pieces = tuple(Piece(f"{name} {number}", length) for number in range(1, count + 1))
    return CutParts(thing, pieces, kerf)


def strap_count(hoops: Sequence[HoopStation], hoop: Hoop) -> int:
    """Return the straps of a bed: every leg of every hoop."""
    return 2 * len(hoops) * hoop.leg.straps


def parts_of(
    bed: Bed,
    hoop: Hoop,
    hoops: Sequence[HoopStation],
    cover: Cover,
    fittings: Fitted,
    hold_down: HoldDown,
    lines: Lines,
    *,
    new_box: bool,
) -> Parts:
    """Return every part of the bed and its cover.

    new_box : True where the boards are to be bought and cut too
    """
    cut = [_alike(hoop.pipe.key, "hoop", len(hoops), hoop.cut_length, PIPE_KERF)]
    cut += [_battens(cover), *_rails(cover), *_clips(cover)]
    cut += _ridge_and_lacing(bed, hoops, cover, lines, hoop.crown_over_board)
    cut += _stakes_and_rods(bed, hoops, hold_down, lines.cord)
    held = 0 if hold_down.rail == "weight" else len(cover.rails) * len(hoops)
    if hold_down.rail == "tied":
        loop = RAIL_LOOP_TURNS * math.pi * cover.rail.outside_diameter + RAIL_LOOP_KNOT
        cut.append(_alike(lines.cord, "rail tie", held, loop, KNIFE_KERF))
    hooked = {"hold the rails": held, "hold the braces": BRACES if lines.braced else 0}
    hooked["hold the lacing"] = 2 * _bays(hoops) if lines.laced else 0
    if new_box:
        boards = tuple(Piece(board.name, board.length) for board in bed.pieces())
        cut.append(CutParts(bed.board.key, boards, SAW_KERF))
    sheets = _sheets(cover)
    return Parts(
        _by_thing([part for part in cut if part.pieces]),
        (SheetParts(cover.material.key, sheets), *_mesh_bands(bed, cover, lines.mesh)),
        (
            *_counted(bed, hoop, hoops, cover, fittings, hold_down, new_box),
            *_hooked(fittings, hold_down, hooked),
        ),
    )


def _by_thing(parts: list[CutParts]) -> tuple[CutParts, ...]:
    """Return the parts with all pieces of one thing together, so that they share sticks."""
    things = dict.fromkeys(part.thing for part in parts)
    return tuple(
        CutParts(
            thing,
            tuple(piece for part in parts if part.thing == thing for piece in part.pieces),
            max(part.kerf for part in parts if part.thing == thing),
        )
        for thing in things
    )


def _ridge_and_lacing(
    bed: Bed, hoops: Sequence[HoopStation], cover: Cover, lines: Lines, crown: float
) -> list[CutParts]:
    parts = []
    if lines.ridge is not None:
        pieces = batten_lengths(bed.outer_length, lines.ridge_longest)
        cut = tuple(Piece("ridge", piece) for piece in pieces)
        parts.append(CutParts(lines.ridge, cut, PIPE_KERF))
    if lines.braced:
        # As far in along the bed as the crown is high, so that they pull at 45 degrees.
        length = math.hypot(math.sqrt(2) * crown, bed.outer_width / 2) + CORD_FOR_KNOTS
        parts.append(_alike(lines.cord, "brace", BRACES, length, KNIFE_KERF))
    if lines.laced:
        length = cover.body.bare + 2 * bed.height + CORD_FOR_KNOTS
        parts.append(_alike(lines.cord, "lacing", _bays(hoops), length, KNIFE_KERF))
    if lines.guyed:
        length = cover.body.over_hoops / 4 + 2 * bed.height + CORD_FOR_KNOTS
        parts.append(_alike(lines.cord, "guy", 2 * len(hoops), length, KNIFE_KERF))
        parts.append(_alike(PEG_THING, "peg", 2 * len(hoops), PEG, SAW_KERF))
    return parts


def _bays(hoops: Sequence[HoopStation]) -> int:
    """Return the bays between the hoops that carry the body sheet."""
    return sum(1 for hoop in hoops if hoop.role != "panel") - 1


def _hooked(fitted: Fitted, hold_down: HoldDown, hooked: dict[str, int]) -> list[CountedPart]:
    """Return the clips of the rails, and the screws in the boards that clips and cords hang on."""
    things = [(hold_down.rail_clip, "hold the rails"), *((fitted.hook_screw, u) for u in hooked)]
    return [CountedPart(t.key, hooked[use], use) for t, use in things if t and hooked[use]]


def _stakes_and_rods(
    bed: Bed, hoops: Sequence[HoopStation], hold_down: HoldDown, cord: str
) -> list[CutParts]:
    parts = []
    if hold_down.tied_to_soil:
        ties = max(2, math.ceil(bed.outer_length / TIES_UNDER_SOIL))
        length = bed.outer_width + CORD_FOR_KNOTS
        parts.append(_alike(cord, "tie", ties, length, KNIFE_KERF))
    if hold_down.stake is not None and hold_down.stakes:
        length = hold_down.stake_depth + bed.height
        parts.append(_alike(hold_down.stake.key, "stake", hold_down.stakes, length, SAW_KERF))
    if hold_down.sleeve_rod is not None:
        length = hold_down.stake_depth + ROD_ABOVE_GROUND
        parts.append(_alike(hold_down.sleeve_rod.key, "rod", 2 * len(hoops), length, SAW_KERF))
    return parts


def _battens(cover: Cover) -> CutParts:
    pieces = [Piece(run.name, length) for run in cover.battens for length in run.pieces]
    return CutParts(cover.batten.key, tuple(pieces), SAW_KERF)


def _rails(cover: Cover) -> list[CutParts]:
    pieces = tuple(
        Piece(f"rail {side} piece {number}", length)
        for side, rail in enumerate(cover.rails, start=1)
        for number, length in enumerate(rail, start=1)
    )
    return [CutParts(cover.rail.key, pieces, PIPE_KERF)] if pieces else []


def _clips(cover: Cover) -> list[CutParts]:
    clip = cover.clip
    if clip is None or clip.kind != "slit tube":
        return []
    pieces = tuple(Piece("clip", clip.length) for _ in range(cover.clips))
    return [CutParts(clip.key, pieces, KNIFE_KERF)]


def _sheets(cover: Cover) -> tuple[Sheet, ...]:
    """Return the sheets to cut. The body goes across the roll and takes its whole width;
    where no roll is wide enough it is joined from strips."""
    if cover.roll_width is not None:
        sheets = [Sheet("body sheet", cover.roll_width, cover.body.length)]
    else:
        sold = sorted({roll.width for roll in cover.material.rolls})
        width, strips = seam_widths(cover.body.width, sold) if sold else (cover.body.width, 1)
        sheets = [
            Sheet(f"body strip {number}", width, cover.body.length)
            for number in range(1, strips + 1)
        ]
    if cover.end_panel is not None:
        width, height = cover.end_panel.width, cover.end_panel.height
        sheets += [
            Sheet(f"{end} end panel", width, height, may_turn=True) for end in ("first", "last")
        ]
    return tuple(sheets)


def _mesh_bands(bed: Bed, cover: Cover, mesh: str) -> list[SheetParts]:
    opened = cover.edges.count("rail")
    if cover.mesh_band <= 0 or not opened:
        return []
    bands = tuple(
        Sheet(f"mesh band {side}", cover.mesh_band, bed.outer_length)
        for side in range(1, opened + 1)
    )
    return [SheetParts(mesh, bands)]


def _counted(
    bed: Bed,
    hoop: Hoop,
    hoops: Sequence[HoopStation],
    cover: Cover,
    fittings: Fitted,
    hold_down: HoldDown,
    new_box: bool,
) -> list[CountedPart]:
    strapped = hold_down.leg == "straps"
    straps = strap_count(hoops, hoop) if strapped else 0
    counted = []
    if hold_down.pin is not None:
        counted.append(CountedPart(hold_down.pin.key, 2 * len(hoops), "pin the hoop legs"))
    if fittings.strap is not None and strapped:
        counted.append(CountedPart(fittings.strap.key, straps, "hold the hoop legs"))
        if fittings.strap_screw is not None:
            screws = straps * round(fittings.strap.holes)
            counted.append(CountedPart(fittings.strap_screw.key, screws, "fix the straps"))
    if fittings.batten_screw is not None:
        screws = sum(batten_screws(piece) for run in cover.battens for piece in run.pieces)
        counted.append(CountedPart(fittings.batten_screw.key, screws, "fix the battens"))
    if cover.clip is not None and cover.clip.kind != "slit tube":
        counted.append(CountedPart(cover.clip.key, cover.clips, "hold the film on the hoops"))
    if new_box and fittings.board_screw is not None:
        screws = 4 * CORNER_SCREWS * bed.courses + JOINT_SCREWS * bed.joints
        counted.append(CountedPart(fittings.board_screw.key, screws, "fix the boards"))
    return counted
