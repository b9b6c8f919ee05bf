"""Every part of a bed and its cover, before anything is bought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.bed import Bed
from hoopwright.cover import Cover, batten_screws, seam_widths
from hoopwright.cutting import Piece, Sheet
from hoopwright.hoop import Hoop, Station
from hoopwright.tables.fittings import Screw, Strap

SAW_KERF = 0.003175
PIPE_KERF = 0.0015875
KNIFE_KERF = 0.0

#: Screws in each corner of the box and each board course, and in each board joint's plate
#: (common practice, no source).
CORNER_SCREWS = 3
JOINT_SCREWS = 8


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


@dataclass(frozen=True)
class Parts:
    """All parts of one bed."""

    cut: tuple[CutParts, ...]
    sheets: tuple[SheetParts, ...]
    counted: tuple[CountedPart, ...]


@dataclass(frozen=True)
class Fittings:
    """The fittings chosen to fit the pipe, board and batten; None where the catalogue has none."""

    strap: Strap | None
    strap_screw: Screw | None
    batten_screw: Screw | None
    board_screw: Screw | None


def strap_count(hoops: Sequence[Station], hoop: Hoop) -> int:
    """Return the straps of a bed: every leg of every hoop."""
    return 2 * len(hoops) * hoop.leg.straps


def parts_of(
    bed: Bed,
    hoop: Hoop,
    hoops: Sequence[Station],
    cover: Cover,
    fittings: Fittings,
    *,
    new_box: bool,
) -> Parts:
    """Return every part of the bed and its cover.

    new_box : True where the boards are to be bought and cut too
    """
    cut = [_pipes(hoop, hoops), _battens(cover), *_rails(cover), *_clips(cover)]
    if new_box:
        boards = tuple(Piece(board.name, board.length) for board in bed.pieces())
        cut.append(CutParts(bed.board.key, boards, SAW_KERF))
    sheets = _sheets(cover)
    return Parts(
        tuple(part for part in cut if part.pieces),
        (SheetParts(cover.material.key, sheets),),
        tuple(_counted(bed, hoop, hoops, cover, fittings, new_box)),
    )


def _pipes(hoop: Hoop, hoops: Sequence[Station]) -> CutParts:
    pieces = tuple(Piece(f"hoop {n}", hoop.cut_length) for n in range(1, len(hoops) + 1))
    return CutParts(hoop.pipe.key, pieces, PIPE_KERF)


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


def _counted(
    bed: Bed,
    hoop: Hoop,
    hoops: Sequence[Station],
    cover: Cover,
    fittings: Fittings,
    new_box: bool,
) -> list[CountedPart]:
    straps = strap_count(hoops, hoop)
    counted = []
    if fittings.strap is not None:
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
