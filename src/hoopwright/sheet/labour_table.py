"""Hands and hours as a table of the sheet."""

from __future__ import annotations

from hoopwright.answers.labour import Labour
from hoopwright.answers.voice import Voice
from hoopwright.sheet.content import Table, columns


def labour_table(labour: Labour, say: Voice) -> Table:
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
