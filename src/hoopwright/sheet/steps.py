"""The building, step by step, written from the plan in the order that works."""

import string
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Annotated

from hoopwright.answers.facts import voice_of
from hoopwright.answers.voice import Voice
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.sheet.cautions import WEATHER_LAST, chosen
from hoopwright.sheet.content import Diagram, Step, UsualCaution
from hoopwright.sheet.step_numbers import Bench, Merged
from hoopwright.sheet.traits import applies, traits_of
from hoopwright.tables.reader import rows_of, text, texts


@dataclass(frozen=True)
class StepRow:
    """One step of the building, in the order of the trade; `short_title` is the card's."""

    chapter: Annotated[str, text()]
    key: Annotated[str, text()]
    when: Annotated[str, text()]
    title: Annotated[str, text()]
    short_title: Annotated[str, text(optional=True)]
    drawing: Annotated[str, text(optional=True)]
    cautions: Annotated[tuple[str, ...], texts()]


@dataclass(frozen=True)
class StepWordsRow:
    """What a step says where: a sentence of the sheet, or a part of its words on the card.

    step : keys of the steps that say so, parted by "|"; numbers of the bed stand in braces
    """

    step: Annotated[str, text()]
    when: Annotated[str, text()]
    where: Annotated[str, text(choices=("sheet", "card"))]
    text: Annotated[str, text()]


def step_rows() -> tuple[StepRow, ...]:
    """Return the steps of the building (common practice, no source)."""
    return rows_of(StepRow, "step", "sheet/data")


def step_words_rows() -> tuple[StepWordsRow, ...]:
    """Return the words of the steps (common practice, no source)."""
    return rows_of(StepWordsRow, "step_words", "sheet/data")


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
            text = words.text if words.where == "sheet" else merged.own(words.text)
            said[words.where] += merged.format(text).split("\n")
    return Draft(
        row.key,
        merged.format(row.title),
        tuple(said["sheet"]),
        row.cautions,
        row.drawing or "",
        merged.own(row.short_title or ""),
        " ".join(said["card"]),
    )


def drafts_of(design: Design, say: Voice | None = None) -> tuple[Draft, ...]:
    """Return every step of a design in order, chapters put together; of another language than
    English it has the card's words."""
    bench = Bench(design, traits_of(design), say or voice_of(design))
    return tuple(draft for chapter in chapters(bench) for draft in chapter.drafts)


def lettered(
    cautions: Mapping[str, UsualCaution], drafts: Iterable[Draft]
) -> dict[str, UsualCaution]:
    """Return cautions with their letters, the same on card and book: in the order in which the
    steps meet them, those of the weather and of no step last."""
    met = [key for draft in drafts for key in draft.cautions if key not in WEATHER_LAST]
    order = [key for key in dict.fromkeys((*met, *cautions)) if key in cautions]
    given = dict(zip(order, string.ascii_uppercase, strict=False))
    return {key: replace(one, letter=given[key]) for key, one in cautions.items()}


def numbered_steps(
    drafts: tuple[Draft, ...],
    start: int,
    cautions: Mapping[str, UsualCaution],
    diagrams: Mapping[str, Diagram],
    told: set[str],
) -> tuple[Step, ...]:
    """Return drafts as steps, numbered on from `start`.

    diagrams : pictures by their step, and drawings to scale by their view
    told     : keys of cautions given already, to which those given here are added
    """
    steps = []
    for number, draft in enumerate(drafts, start=start):
        given = chosen(cautions, draft.cautions)
        new = tuple(caution for caution in given if caution.key not in told)
        again = tuple(caution for caution in given if caution.key in told)
        told.update(draft.cautions)
        see = diagrams[draft.drawing].title if draft.drawing in diagrams else ""
        picture = diagrams.get(draft.key)
        words = (draft.key, number, draft.title, draft.sentences)
        steps.append(Step(*words, new, again, picture, see))
    return tuple(steps)
