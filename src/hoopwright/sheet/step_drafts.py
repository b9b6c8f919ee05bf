"""What the steps of the building are drafted in, before they are numbered and drawn."""

from __future__ import annotations

from hoopwright.answers.voice import Voice, kind_of
from hoopwright.design import Design
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Draft:
    """A step before it has its number, its cautions' words and its drawing.

    drawing : name of the view to look at while doing it
    """

    key: str
    title: str
    sentences: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    drawing: str = ""


@dataclass(frozen=True)
class Chapter:
    """Steps that belong together under one heading."""

    title: str
    drafts: tuple[Draft, ...]


@dataclass(frozen=True)
class Bench:
    """What every step is written from."""

    design: Design
    traits: frozenset[str]
    say: Voice

    def pieces(self, kind: str) -> tuple[float, ...]:
        """Return the lengths [m] of all pieces that are cut of a kind, as "tie"."""
        return tuple(
            piece.length
            for cut in self.design.parts.cut
            for piece in cut.pieces
            if kind_of(piece.name) == kind
        )
