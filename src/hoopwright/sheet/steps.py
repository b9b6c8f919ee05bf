"""The building, step by step, written from the plan in the order that works."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from hoopwright.answers.facts import voice_of
from hoopwright.design import Design
from hoopwright.sheet.cautions import chosen
from hoopwright.sheet.content import Diagram, Step, UsualCaution
from hoopwright.sheet.step_drafts import Bench, Chapter, Draft
from hoopwright.sheet.steps_box import box_steps, filling_steps
from hoopwright.sheet.steps_cover import cover_steps
from hoopwright.sheet.steps_hoops import hoop_steps
from hoopwright.sheet.traits import traits_of


def chapters(bench: Bench) -> tuple[Chapter, ...]:
    """Return all steps of this plan in order; a chapter without steps is left out."""
    written: tuple[tuple[str, Callable[[Bench], tuple[Draft, ...]]], ...] = (
        ("The box", box_steps),
        ("The hoops", hoop_steps),
        ("The soil", filling_steps),
        ("The cover", cover_steps),
    )
    made = [Chapter(title, write(bench)) for title, write in written]
    return tuple(chapter for chapter in made if chapter.drafts)


def drafts_of(design: Design) -> tuple[Draft, ...]:
    """Return every step of a design in order, chapters put together."""
    bench = Bench(design, traits_of(design), voice_of(design))
    return tuple(draft for chapter in chapters(bench) for draft in chapter.drafts)


def numbered_steps(
    drafts: tuple[Draft, ...],
    start: int,
    cautions: Mapping[str, UsualCaution],
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
