"""A class worked out for the page: its order, who pays what, and all its sheets in one file."""

from __future__ import annotations

import base64
import datetime
import io
import zipfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hoopwright.web.beside import Beside
from hoopwright.web.households import whole_class

if TYPE_CHECKING:
    from hoopwright.programme.class_work import WorkedClass

#: What each step takes for a bed, a card being 1 (measured on a class of 12 over its budget and on
#: one of 30), and its words. Shares of the whole are told by it, so that the time left is true.
STEPS = {
    "beds": (0.1, "Working out every bed, then one order for all."),
    "budget": (2.0, "Weighing what could be left out to keep the budget."),
    "shortages": (1.5, "Looking for what works for what is out of stock."),
    "sheets": (1.15, ""),
}


def class_worked(
    text: str, beside: Beside, progress: Callable[[float, str], None]
) -> dict[str, Any]:
    """Return the class planned from a plan's text, in words, with its sheets as a ZIP (base64)."""
    from hoopwright.programme.class_file import class_in
    from hoopwright.programme.class_work import work_out

    source = class_in(whole_class(text, beside.households), Path("class"), beside.own)
    weights, order = {name: work for name, (work, _) in STEPS.items()}, list(STEPS)
    weights["shortages"] *= len(source.not_sold)
    weights["sheets"] += 5 / len(source.beds)
    if source.budget is None:
        weights["budget"] = 0.0

    def tell(step: str, share: float, words: str = "") -> None:
        before = sum(weights[name] for name in order[: order.index(step)])
        done = (before + share * weights[step]) / sum(weights.values())
        progress(done, words or STEPS[step][1])

    worked = work_out(source, tell)
    if source.budget is not None and worked.order.total <= source.budget:
        weights["budget"] = 0.0
    _ = worked.shares, worked.budget, worked.shortages
    packed = io.BytesIO()
    from hoopwright.sheet.class_pages import class_files, paper_sheets, typical_bed

    # Letters only, as the command line prints unless told otherwise: sheets lie about.
    tell("sheets", 0.0, f"Printing the order, the cutting station and {len(source.beds)} kits.")
    today = datetime.date.today()
    files = class_files(worked, today, tell=partial(tell, "sheets"))
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as held:
        for name, data in files.items():
            held.writestr(name, data)
    told = {"sheets": paper_sheets(files), "typical": typical_bed(worked)}
    return {**_told(worked), **told, "zip": base64.b64encode(packed.getvalue()).decode("ascii")}


def _told(worked: WorkedClass) -> dict[str, Any]:
    """Return what the page says of a class."""
    from hoopwright.answers.spreadsheets import bought
    from hoopwright.answers.voice import plural
    from hoopwright.sheet.class_order import effect_words, missing_words, substitute_row
    from hoopwright.sheet.class_words import (
        budget_words,
        class_voice,
        dropped_words,
        household,
        together_words,
    )

    say, budget = class_voice(worked), worked.budget
    return {
        "answer": together_words(worked, say),
        "example": worked.order.example_prices,
        "unmet": list(worked.order.unmet),
        "order": [[line.name, *bought(line, say)] for line in worked.order.lines],
        "shares": [
            [
                share.letter,
                household(worked, share.letter, names=True),
                say.money(share.alone),
                say.money(share.pays),
            ]
            for share in worked.shares
        ],
        "budget": "" if budget is None else budget_words(budget, say),
        "left_out": [
            [one.what, say.money(one.saves), effect_words(one.effect, say.system, less=True)]
            for one in (() if budget is None or budget.left >= 0 else budget.left_out)
        ],
        "dropped": "" if budget is None else dropped_words(budget, say),
        "short": [
            {
                "what": missing_words(one, say),
                "beds": ", ".join(one.letters),
                "ways": [list(substitute_row(way, worked, say)) for way in one.substitutes],
            }
            for one in worked.shortages
        ],
        "stations": [[station.tool, plural(station.cuts, "cut")] for station in worked.stations],
    }
