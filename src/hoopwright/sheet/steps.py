"""The building, step by step, written from the plan in the order that works."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from hoopwright.answers.facts import voice_of
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.sheet.cautions import chosen
from hoopwright.sheet.content import Diagram, Step, UsualCaution
from hoopwright.sheet.step_numbers import Bench, Merged
from hoopwright.sheet.tables import StepRow, step_rows, step_words_rows
from hoopwright.sheet.traits import applies, traits_of


@dataclass(frozen=True)
class Draft:
    """A step before it has its number, its cautions' words and its drawing.

    drawing     : name of the view to look at while doing it
    short, card : its title and words on the card; empty where it goes with the step after it
    """

    key: str
    title: str
    sentences: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    drawing: str = ""
    short: str = ""
    card: str = ""


@dataclass(frozen=True)
class Chapter:
    """Steps that belong together under one heading."""

    title: str
    drafts: tuple[Draft, ...]


def chapters(bench: Bench) -> tuple[Chapter, ...]:
    """Return all steps of this plan in order; a chapter without steps is left out."""
    merged = Merged(bench)
    found: dict[str, list[Draft]] = {}
    for row in step_rows():
        if applies(row.when, bench.traits):
            found.setdefault(row.chapter, []).append(_drafted(row, bench.traits, merged))
    return tuple(Chapter(title, tuple(drafts)) for title, drafts in found.items())


def _drafted(row: StepRow, traits: frozenset[str], merged: Merged) -> Draft:
    said: dict[str, list[str]] = {"sheet": [], "card": []}
    for words in step_words_rows():
        if row.key in words.step.split("|") and applies(words.when, traits):
            said[words.where] += merged.format(words.text).split("\n")
    return Draft(
        row.key,
        merged.format(row.title),
        tuple(said["sheet"]),
        row.cautions,
        row.drawing or "",
        row.short_title or "",
        " ".join(said["card"]),
    )


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
