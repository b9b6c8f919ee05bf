"""The building, step by step, written from the plan in the order that works."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from hoopwright.design import Design
from hoopwright.sheet.cautions import chosen
from hoopwright.sheet.content import Caution, Diagram, Step
from hoopwright.sheet.voice import Voice, kind_of


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


def chapters(bench: Bench) -> tuple[Chapter, ...]:
    """Return all steps of this plan in order; a chapter without steps is left out."""
    from hoopwright.sheet.steps_box import box_steps, filling_steps
    from hoopwright.sheet.steps_cover import cover_steps
    from hoopwright.sheet.steps_hoops import hoop_steps

    written: tuple[tuple[str, Callable[[Bench], tuple[Draft, ...]]], ...] = (
        ("The box", box_steps),
        ("The hoops", hoop_steps),
        ("The soil", filling_steps),
        ("The cover", cover_steps),
    )
    made = [Chapter(title, write(bench)) for title, write in written]
    return tuple(chapter for chapter in made if chapter.drafts)


def numbered_steps(
    drafts: tuple[Draft, ...],
    start: int,
    cautions: Mapping[str, Caution],
    diagrams: Mapping[str, Diagram],
    told: set[str],
) -> tuple[Step, ...]:
    """Return drafts as steps, numbered on from `start`.

    told : keys of cautions given in full already, to which those given here are added; a
           caution met again stands in its short form
    """
    steps = []
    for number, draft in enumerate(drafts, start=start):
        given = tuple(
            replace(caution, text=caution.short) if caution.key in told else caution
            for caution in chosen(cautions, draft.cautions)
        )
        told.update(caution.key for caution in given)
        diagram = diagrams.get(draft.drawing)
        steps.append(Step(draft.key, number, draft.title, draft.sentences, given, diagram))
    return tuple(steps)
