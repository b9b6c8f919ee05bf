"""The whole build sheet of a design as one document, in the order a builder turns its pages."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import TYPE_CHECKING

from hoopwright.answers.facts import headline_facts, voice_of
from hoopwright.answers.findings import finding_words, tally
from hoopwright.answers.labour import Labour, labour_of
from hoopwright.answers.voice import Voice, listed, sentence
from hoopwright.checks.finding import Severity
from hoopwright.design import Design
from hoopwright.plan.read import ReadPlan
from hoopwright.programme.changes import WorkedChange, worked_changes
from hoopwright.sheet.buying import buying_parts
from hoopwright.sheet.care import care_parts
from hoopwright.sheet.cautions import CLOSING, cautions_for, first_page
from hoopwright.sheet.content import (
    Block,
    CautionList,
    Diagram,
    Document,
    FactList,
    FindingList,
    Paper,
    Paragraph,
    Part,
    Section,
    Table,
    UsualCaution,
    columns,
)
from hoopwright.sheet.cuts import cuts_parts
from hoopwright.sheet.marks import marks_parts
from hoopwright.sheet.pictures import cut_diagrams, step_diagrams, view_diagrams
from hoopwright.sheet.step_numbers import Bench
from hoopwright.sheet.steps import Chapter, chapters, lettered, numbered_steps
from hoopwright.sheet.traits import traits_of
from hoopwright.sheet.weather_page import glance_parts, ladder_parts

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport


def document_of(
    design: Design, date: datetime.date, season: SeasonReport | None = None
) -> Document:
    """Return the build sheet. The date is the reader's; nothing here reads a clock.

    season : the season worked out, for its pages; None leaves them out
    """
    say, traits = voice_of(design), traits_of(design)
    views, cuts = view_diagrams(design), cut_diagrams(design, say)
    written = chapters(Bench(design, traits, say))
    drafts = [draft for chapter in written for draft in chapter.drafts]
    cautions = lettered(cautions_for(traits), drafts)
    pictures = step_diagrams(design, [draft.key for draft in drafts])
    first: list[Block] = [*_decide(design), *([views["bed"]] if "bed" in views else [])]
    first += [
        FactList(headline_facts(design)),
        CautionList(first_page(cautions), CLOSING),
    ]
    sections = [
        Section("bed", "The bed as it will stand", (Part("", tuple(first)),)),
        Section("watch", "What to watch", _watch(design), False),
        Section("weather", "Wind, snow and hail", glance_parts(design), False, whole=True),
        Section("shopping", "Shopping and tools", buying_parts(design, traits, say), False),
        Section("cutting", "Cutting", cuts_parts(design, cuts, say), new_page=False),
        Section("marks", "Tape marks", marks_parts(design, views, say), False),
        Section(
            "steps",
            "Building, step by step",
            _building(design, written, cautions, {**views, **pictures}, say),
            new_page=False,
        ),
        *_season(season, design),
        Section("care", "Care", care_parts(design, traits, date, say), False),
        Section("ladder", "Behind the odds", ladder_parts(design, _changes(design)), False),
        Section("sources", "All other checks, and sources", _sources(design), new_page=False),
    ]
    return Document(
        title=design.plan.name,
        answer=answer_of(design, say),
        footer=f"{design.plan.name}, build sheet of {date.isoformat()}",
        paper=paper_of(design),
        date=date,
        sections=tuple(sections),
    )


def _season(season: SeasonReport | None, design: Design) -> tuple[Section, ...]:
    if season is None:
        return ()
    # Plots are brought in only for sheets that have them.
    from hoopwright.sheet.season_pages import season_parts

    return (Section("season", "The season", season_parts(season, design.system), False),)


def _changes(design: Design) -> tuple[WorkedChange, ...]:
    return worked_changes(ReadPlan(design.plan, design.catalogue), design)


def paper_of(design: Design) -> Paper:
    """Return the paper the plan asks for, or that of its units."""
    asked = design.plan.paper
    if asked is not None:
        return asked
    return "letter" if design.system.name == "us" else "a4"


def answer_of(design: Design, say: Voice) -> str:
    """Return what the bed is, costs and takes, in two sentences."""
    bed, cover, order = design.bed, design.cover, design.order
    labour = labour_of(design)
    over = cover.material.name[:1].lower() + cover.material.name[1:]
    example = order.example_prices
    return say.tell(
        "A bed {size} under {hoops} and {cover}. {total:money} at {prices}; {low:hours} to "
        "{high:hours} of work, by estimate, in parts for two people.",
        size=say.area(bed.outer_length, bed.outer_width),
        hoops=say.count(len(design.hoops), "hoop"),
        cover=over,
        total=order.total,
        prices=say.tell("example prices") if example else say.tell("the prices listed"),
        low=labour.low,
        high=labour.high,
    )


def _decide(design: Design) -> tuple[Paragraph, ...]:
    """Return what the reader must know before building, where anything is in the way."""
    asks = [f for f in design.findings if f.severity >= Severity.CHANGE]
    if not asks:
        return ()
    worst = "Do not build it so yet" if asks[0].severity is Severity.STOP else "Before you build"
    words = f"{worst}: {tally(design.findings)}. See What to watch."
    return (Paragraph(words, strong=True, decide=True),)


def _watch(design: Design) -> tuple[Part, ...]:
    words = finding_words(design.findings, design.system)
    told = tuple(finding for finding in words if finding.severity != "fine")
    intro = (
        f"{sentence(tally(design.findings))}; the rest is fine and stands on the last page."
        if told
        else "Every check made here is fine."
    )
    parts = [Part("", (Paragraph(intro),))]
    if told:
        parts.append(Part("To decide or to watch", (FindingList(told),)))
    return tuple(parts)


def _sources(design: Design) -> tuple[Part, ...]:
    """Return the checks that are fine, and each source once with the checks that rest on it."""
    words = finding_words(design.findings, design.system)
    fine = tuple(finding for finding in words if finding.severity == "fine")
    checks: dict[str, list[str]] = {}
    for finding in design.findings:
        if finding.source:
            checks.setdefault(finding.source, []).append(finding.name.replace("-", " "))
    rows = tuple(
        (sentence(listed(list(dict.fromkeys(names)))), sentence(source))
        for source, names in checks.items()
    )
    heads = columns("Check 1 | Source, and how sure 4.6")
    table = Table("Where the limits come from", heads, rows)
    parts = [Part("Fine", (FindingList(fine),))] if fine else []
    return (*parts, Part("", (table,)))


def _building(
    design: Design,
    written: tuple[Chapter, ...],
    cautions: Mapping[str, UsualCaution],
    diagrams: Mapping[str, Diagram],
    say: Voice,
) -> tuple[Part, ...]:
    hours = _labour_table(labour_of(design), say)
    parts: list[Part] = [Part("Hands and hours, an estimate", (hours,))]
    number, seen = 1, set[str]()
    for chapter in written:
        steps = numbered_steps(chapter.drafts, number, cautions, diagrams, seen)
        number += len(steps)
        parts.append(Part(chapter.title, steps))
    return tuple(parts)


def _labour_table(labour: Labour, say: Voice) -> Table:
    """Return the work as a table."""
    rows = []
    for phase in dict.fromkeys(work.phase for work in labour.works):
        part = Labour(tuple(work for work in labour.works if work.phase == phase))
        counted = "; ".join(f"{work.what} ({work.count})" for work in part.works)
        rows.append((f"{phase}: {counted}", *_times(part, say)))
    foot = ("In all, one person's time", *_times(labour, say))
    heads = columns("Work, and how often 5 | People > 0.8 | Range > 1.7 | Likely > 0.8")
    note = (
        "Every time is a guess and marked as one; the range is for quick and for careful hands. "
        "Where two people are wanted the hours are still those of one: two together need "
        "somewhat more than half."
    )
    return Table("Hands and hours, an estimate", heads, tuple(rows), foot, note, True)


def _times(labour: Labour, say: Voice) -> tuple[str, str, str]:
    low, high = say.show(labour.low, "hours"), say.show(labour.high, "hours")
    return str(labour.hands), f"{low} to {high}", say.show(labour.likely, "hours")
