"""The build sheet as Markdown: headings, lists and tables; each drawing by its words."""

from collections.abc import Iterator

from hoopwright.sheet.content import (
    Block,
    Bullets,
    CautionList,
    Diagram,
    Document,
    FactList,
    FindingList,
    Paragraph,
    Step,
    Table,
)

_SPECIAL = str.maketrans({c: f"\\{c}" for c in "\\*_`[]<>#|"})


def to_markdown(document: Document) -> str:
    """Return the sheet as CommonMark with pipe tables."""
    lines = [f"# {_plain(document.title)}", "", _plain(document.answer), ""]
    for index, section in enumerate(document.sections):
        if index:
            lines += [f"## {_plain(section.title)}", ""]
        for part in section.parts:
            if part.title:
                lines += [f"### {_plain(part.title)}", ""]
            for block in part.blocks:
                lines += [*_block(block), ""]
    lines += ["---", "", _plain(document.footer), ""]
    return "\n".join(lines)


def _plain(text: str) -> str:
    """Return text in which nothing is taken for markup."""
    return text.translate(_SPECIAL)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Paragraph():
            mark = "> " if block.caution else ""
            yield f"**{_plain(block.text)}**" if block.strong else mark + _plain(block.text)
        case Bullets():
            yield from (f"- {_plain(item)}" for item in block.items)
        case FactList():
            yield from (f"- **{_plain(f.label)}:** {_plain(f.says)}" for f in block.facts)
        case Table():
            yield from _table(block)
        case Diagram():
            yield _drawing(block)
        case CautionList():
            yield "> **Cautions**"
            yield ">"
            yield from (f"> - {_plain(f'{c.letter} {c.short}'.strip())}" for c in block.cautions)
            yield ">"
            yield f"> {_plain(block.closing)}"
        case FindingList():
            for found in block.findings:
                do = f" **{_plain(found.do)}**" if found.do else ""
                yield f"- **{found.severity}:** {_plain(found.says)}{do}"
        case Step():
            yield from _step(block)


def _drawing(diagram: Diagram) -> str:
    return f"*Drawing: {_plain(diagram.alt)}*"


def _table(table: Table) -> Iterator[str]:
    if not table.untitled:
        yield f"**{_plain(table.caption)}**"
        yield ""
    yield _row([column.head for column in table.columns])
    yield "| " + " | ".join("---:" if c.align == "right" else "---" for c in table.columns) + " |"
    for row in table.rows:
        yield _row(row)
    if table.foot:
        yield _row([f"**{_plain(cell)}**" if cell else "" for cell in table.foot], ready=True)
    if table.note:
        yield ""
        yield _plain(table.note)


def _row(cells: tuple[str, ...] | list[str], *, ready: bool = False) -> str:
    return "| " + " | ".join(cell if ready else _plain(cell) for cell in cells) + " |"


def _step(step: Step) -> Iterator[str]:
    yield f"#### {step.number}. {_plain(step.title)}"
    yield ""
    for sentence in step.sentences:
        yield _plain(sentence)
        yield ""
    for caution in step.cautions:
        head = f"Caution {caution.letter}: {caution.title}."
        yield f"> **{_plain(head)}** {_plain(caution.text)}"
        yield ""
    if step.again:
        yield f"Cautions as before: {', '.join(one.letter for one in step.again)}."
        yield ""
    if step.see:
        yield f"See the drawing: {_plain(step.see)}."
        yield ""
    if step.diagram is not None:
        yield _drawing(step.diagram)
