"""The Markdown: tables whose rows are all as wide as their heads, and the same numbers."""

from __future__ import annotations

import re
from itertools import groupby

import parts

from hoopwright.sheet.content import Document
from hoopwright.sheet.markdown import to_markdown


def tables_of(text: str) -> list[list[list[str]]]:
    lines = text.splitlines()
    found = []
    for is_row, group in groupby(lines, key=lambda line: line.startswith("|")):
        if is_row:
            rows = [re.split(r"(?<!\\)\|", line)[1:-1] for line in group]
            found.append([[cell.strip() for cell in row] for row in rows])
    return found


def plain(cell: str) -> str:
    return re.sub(r"\\(.)", r"\1", cell.removeprefix("**").removesuffix("**"))


def test_tables_are_those_of_the_content(a_sheet: Document) -> None:
    found = tables_of(to_markdown(a_sheet))
    wanted = parts.tables_of(a_sheet)
    assert len(found) == len(wanted)
    for rows, table in zip(found, wanted, strict=True):
        assert [plain(cell) for cell in rows[0]] == [column.head for column in table.columns]
        assert all(re.fullmatch(r"-{3}:?", cell) for cell in rows[1])
        body = [tuple(plain(cell) for cell in row) for row in rows[2:]]
        assert body == [*table.rows, *([table.foot] if table.foot else [])]


def test_every_step_drawing_and_caution_is_there(a_sheet: Document) -> None:
    text = to_markdown(a_sheet)
    assert len(re.findall(r"^#### \d+\. ", text, re.M)) == len(list(a_sheet.steps()))
    assert text.count("*Drawing: ") == len(list(parts.diagrams_of(a_sheet)))
    beside = sum(len(step.cautions) for step in a_sheet.steps())
    assert len(re.findall(r"^> \*\*Caution [A-Z]: ", text, re.M)) == beside


def test_nothing_of_the_plan_is_taken_for_markup(demo: Document) -> None:
    from dataclasses import replace

    text = to_markdown(replace(demo, title="A *bed* | [b](c)"))
    assert text.startswith("# A \\*bed\\* \\| \\[b\\](c)")
