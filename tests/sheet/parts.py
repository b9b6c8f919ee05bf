"""The parts of a document in reading order, as tests ask for them."""

from collections.abc import Iterator

from hoopwright.sheet.content import Diagram, Document, Step, Table


def tables_of(document: Document) -> list[Table]:
    """Return every table."""
    return [block for block in document.blocks() if isinstance(block, Table)]


def diagrams_of(document: Document) -> Iterator[Diagram]:
    """Yield every drawing, those of the steps too."""
    for block in document.blocks():
        if isinstance(block, Diagram):
            yield block
        elif isinstance(block, Step) and block.diagram is not None:
            yield block.diagram
