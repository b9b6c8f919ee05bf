"""A class worked out for the page: its order, who pays what, and all its sheets in one file."""

from __future__ import annotations

import base64
import datetime
import io
import time
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hoopwright.web.beside import Beside, Progress
from hoopwright.web.households import whole_class
from hoopwright.web.pace import StagePace

if TYPE_CHECKING:
    from hoopwright.programme.class_file import ClassFile
    from hoopwright.programme.class_work import WorkedClass

#: What is said of each step.
STEPS = {
    "beds": "Working out every bed, then one order for all.",
    "strength": "Working out what every bed stands.",
    "budget": "Weighing what could be left out to keep the budget.",
    "shortages": "Looking for what works for what is out of stock.",
    "sheets": "",
}
#: Seconds of a bed's strength and of its card, until they have been measured in the work itself.
AT_FIRST = (0.1, 0.15)
#: What leaving something out takes of a bed's strength, for most of it stays; another pipe's.
LEFT_OUT, OTHER = 0.15, 0.8
#: In cards: what a changed bed takes beside its strength, a bed's list, and all other sheets.
CHANGED, KIT, NO_CARDS = 0.1, 0.2, 10.0
#: Ways to do without a thing that are tried, about.
WAYS = 5


def class_worked(text: str, beside: Beside, progress: Progress) -> dict[str, Any]:
    """Return the class planned from a plan's text, in words, with its sheets as a ZIP (base64)."""
    from hoopwright.programme.class_file import class_in
    from hoopwright.programme.class_work import work_out

    source = class_in(whole_class(text, beside.households), Path("class"), beside.own)
    stages = StagePace(progress, _thought(source, *AT_FIRST, over=source.budget is not None))

    def tell(step: str, share: float, words: str = "") -> None:
        stages.tell(step, share, words or STEPS[step])

    worked = work_out(source, tell)
    over = source.budget is not None and worked.order.total > source.budget
    from hoopwright.sheet.class_pages import bed_card, class_files, paper_sheets, typical_bed

    # What the rest will take is told by what these take; all of it is needed later.
    today, ready, took = datetime.date.today(), dict[str, bytes](), (0.0, 0.0)
    tell("strength", 0.0)
    for letter in worked.letters[:2]:
        begun = time.monotonic()
        _ = worked.designs[letter].ladder
        between = time.monotonic()
        ready[f"card-{letter}"] = bed_card(worked, letter, today)
        took = between - begun, time.monotonic() - between
    stages.thought |= _thought(source, *took, over)
    for number, design in enumerate(worked.designs.values()):
        tell("strength", number / len(source.beds))
        _ = design.ladder
    _ = worked.shares, worked.budget, worked.shortages
    packed = io.BytesIO()
    # Letters only, as the command line prints unless told otherwise: sheets lie about.
    tell("sheets", 0.0, f"Printing the order, the cutting station and {len(source.beds)} kits.")

    def printed(part: float, words: str) -> None:
        tell("sheets", 0.95 * part, words)  # labels and packing come after

    files = class_files(worked, today, tell=printed, ready=ready)
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as held:
        for name, data in files.items():
            held.writestr(name, data)
    told = {"sheets": paper_sheets(files), "typical": typical_bed(worked)}
    return {**_told(worked), **told, "zip": base64.b64encode(packed.getvalue()).decode("ascii")}


def _thought(source: ClassFile, ladder: float, card: float, over: bool) -> dict[str, float]:
    """Return the seconds that each step will take, by those of a bed's strength and of a card."""
    from hoopwright.programme.budget import OPTIONS

    beds = len(source.beds)
    # Beds whose plans differ in no more than their names share their strength.
    plans = {repr(bed.read.plan.model_copy(update={"name": ""})) for bed in source.beds}
    strength = len(plans) * ladder
    left_out, other = (share * strength + beds * CHANGED * card for share in (LEFT_OUT, OTHER))
    return {
        "beds": 0.2 * beds * card,
        "strength": strength + 2 * card,
        "budget": over * len(OPTIONS) * left_out,
        "shortages": WAYS * len(source.not_sold) * other,
        "sheets": (max(0, beds - 2) + KIT * beds + NO_CARDS) * card,
    }


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
