"""The cutting station: which saw cuts what, in what order, and the label of every piece."""

from collections.abc import Sequence
from itertools import groupby
from operator import attrgetter
from typing import Literal, get_args

from hoopwright.cutting.stock import CutStick, Piece, Sheet
from hoopwright.frozen import dataclass
from hoopwright.materials.order import Order, StickCuts
from hoopwright.tables.catalogue import Catalogue

Tool = Literal["wood saw", "pipe cutter", "metal saw", "shears", "knife"]

#: In this order the stations are set up: what takes longest to carry home comes first.
STATIONS: tuple[Tool, ...] = get_args(Tool)


@dataclass(frozen=True)
class Label:
    """What is written on one piece: the bed's letter, the part, the thing, the length [m]."""

    letter: str
    part: str
    thing: str
    length: float
    width: float | None = None


@dataclass(frozen=True)
class StopSetting:
    """Sticks of one length that are cut alike, one after the other at the same stops.

    lengths : [m] of the pieces in order, longest first
    labels  : for each of those places, the label of each stick's piece
    left    : [m] offcut of each stick
    """

    stick_length: float
    at_hand: bool
    lengths: tuple[float, ...]
    labels: tuple[tuple[Label, ...], ...]
    left: float

    @property
    def sticks(self) -> int:
        """Return how many sticks are cut so."""
        return len(self.labels[0]) if self.labels else 0


@dataclass(frozen=True)
class StickWork:
    """Everything cut from one thing at one station."""

    thing: str
    name: str
    settings: tuple[StopSetting, ...]

    @property
    def cuts(self) -> int:
        """Return the number of cuts: one for each piece, but none where it ends the stick."""
        return sum(
            setting.sticks * (len(setting.lengths) - (setting.left < 1e-6))
            for setting in self.settings
        )


@dataclass(frozen=True)
class CuttingStation:
    """One tool and what is cut with it, in order."""

    tool: Tool
    works: tuple[StickWork, ...]

    @property
    def cuts(self) -> int:
        """Return the cuts made here."""
        return sum(work.cuts for work in self.works)


def stations_of(order: Order, catalogue: Catalogue) -> tuple[CuttingStation, ...]:
    """Return the stations that cut sticks, each with its work: longest pieces first.

    A piece spoilt early can still be cut again from what would have been a shorter one. Like
    settings follow one another, so that a stop is moved as seldom as can be.
    """
    work: dict[Tool, list[StickWork]] = {}
    for cuts in order.sticks:
        tool = tool_for(cuts.thing, catalogue)
        work.setdefault(tool, []).append(StickWork(cuts.thing, cuts.name, _settings(cuts)))
    return tuple(
        CuttingStation(tool, tuple(sorted(work[tool], key=_longest_first)))
        for tool in STATIONS
        if tool in work
    )


def tool_for(thing: str, catalogue: Catalogue) -> Tool:
    """Return what a thing is cut with (common practice, no source)."""
    pipe = catalogue.pipes.get(thing.removeprefix("rail-"))
    if pipe is not None:
        return "pipe cutter" if pipe.stuff.is_plastic else "metal saw"
    if thing in catalogue.rails:
        return "wood saw" if thing.startswith("rail-wood") else "metal saw"
    tables: Sequence[tuple[str, Tool]] = (
        ("lumber", "wood saw"),
        ("batten", "wood saw"),
        ("clip", "shears"),
        ("cord", "knife"),
        ("cover", "shears"),
    )
    for table, tool in tables:
        if any(record.key == thing for record in catalogue.everything_in(table)):
            return tool
    return "wood saw" if "wood" in thing else "metal saw"


def _longest_first(work: StickWork) -> tuple[float, str]:
    longest = max((setting.lengths[0] for setting in work.settings), default=0.0)
    return (-longest, work.thing)


def _settings(cuts: StickCuts) -> tuple[StopSetting, ...]:
    alike: dict[tuple[float, bool, tuple[float, ...]], list[CutStick]] = {}
    for cut in cuts.plan.sticks:
        lengths = tuple(sorted((round(piece.length, 6) for piece in cut.pieces), reverse=True))
        key = (round(cut.stick.length, 6), cut.stick.at_hand, lengths)
        alike.setdefault(key, []).append(cut)
    settings = [
        StopSetting(length, at_hand, lengths, _labels(cuts, sticks, len(lengths)), sticks[0].left)
        for (length, at_hand, lengths), sticks in alike.items()
    ]
    return tuple(
        sorted(
            settings,
            key=lambda setting: (tuple(-length for length in setting.lengths), setting.at_hand),
        )
    )


def _labels(
    cuts: StickCuts, sticks: Sequence[CutStick], places: int
) -> tuple[tuple[Label, ...], ...]:
    """Return the labels place by place; beds follow one another from stick to stick."""
    by_place: list[list[Label]] = [[] for _ in range(places)]
    for stick in sticks:
        pieces = sorted(stick.pieces, key=lambda piece: (-round(piece.length, 6), piece.name))
        for place, piece in zip(by_place, pieces, strict=True):
            place.append(_label(piece, cuts.name))
    # Pieces of one length are alike: share them out so that each bed's lie together.
    for first in range(places):
        same = [
            place
            for place in range(first, places)
            if abs(by_place[place][0].length - by_place[first][0].length) < 1e-6
        ]
        if first and abs(by_place[first][0].length - by_place[first - 1][0].length) < 1e-6:
            continue  # they are shared out already
        pooled = sorted((label for place in same for label in by_place[place]), key=_natural)
        for number, at in enumerate(same):
            by_place[at] = pooled[number * len(sticks) : (number + 1) * len(sticks)]
    return tuple(tuple(place) for place in by_place)


def _natural(label: Label) -> tuple[int, str, list[tuple[int, str]]]:
    words = [(int(word) if word.isdigit() else -1, word) for word in label.part.split()]
    return (len(label.letter), label.letter, words)


def _label(piece: Piece | Sheet, thing: str) -> Label:
    letter, _, part = piece.name.partition(" ")
    width = piece.width if isinstance(piece, Sheet) else None
    return Label(letter, part, thing, piece.length, width)


def labels_of(order: Order) -> dict[str, tuple[Label, ...]]:
    """Return every piece of every bed as a label, by letter, in order of thing and part."""
    labels = [
        _label(piece, cuts.name)
        for cuts in order.sticks
        for stick in cuts.plan.sticks
        for piece in stick.pieces
    ]
    labels += [
        _label(placed.sheet, run.name)
        for run in order.rolls
        for cut in run.plan.rolls
        for placed in cut.sheets
    ]
    labels.sort(key=lambda one: (len(one.letter), one.letter, one.thing, _natural(one)))
    return {letter: tuple(own) for letter, own in groupby(labels, key=attrgetter("letter"))}
