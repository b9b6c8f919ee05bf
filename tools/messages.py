"""Gather every English message of the card, the labels and the kit, bring the catalogues up to date
and compile them; run after a change of words, or for a new language (its folder with an empty .po).
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path

from babel.messages import Catalog, Message
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "hoopwright"
LOCALE = SOURCE / "sheet" / "locale"
#: Calls whose first word is a message, and groups of a step's picture, which are told by title.
CALLS = {"tell": None, "message": None, "word": None}
FOLDERS = {"sheet": CALLS, "answers": CALLS, "drawing/steps": {**CALLS, "Group": (2,)}}
#: Tables of the catalogue whose names are the shop's labels: they stay, and a translation beside
#: them is welcome but not asked for.
LABELS = ["lumber", "batten", "stake", "pipe", "rail", "clip", "rail_clip", "strap", "screw"]
LABELS += ["cover", "cord"]
#: Things counted whose names are put together at run time: pieces, sheets, and what a step counts.
NOUNS = (
    *("hoop", "stick", "side board", "end board", "joint plate", "ridge", "brace", "lacing", "guy"),
    *("peg", "tie", "stake", "rod", "end batten", "side batten", "rail piece", "clip", "screw"),
    *("body sheet", "body strip", "end panel", "mesh band", "cord", "pipe", "rail", "batten"),
    *("strip", "cut piece", "rail tie"),
)
#: Pieces by name and number, as their labels have them.
PIECES = (
    *("hoop {a}", "brace {a}", "lacing {a}", "guy {a}", "peg {a}", "tie {a}"),
    *("stake {a}", "rail tie {a}"),
    *("rod {a}", "rail {a} piece {b}", "body strip {a}", "first end panel", "last end panel"),
    *("mesh band {a}", "first end batten", "last end batten", "left side batten"),
    "right side batten",
)
#: Words of the plan and of the parts list that stand in a message.
WORDS = (
    *("inside", "outside", "hold the hoop legs", "fix the straps", "fix the battens"),
    *("fix the boards", "pin the hoop legs", "hold the film on the hoops"),
    *("hold the rails", "hold the braces", "hold the lacing"),
)
#: What a step's picture shows that it has from other views, by its title.
SHOWN = (
    *(
        "Top strap",
        "Low strap",
        "Strap 1",
        "Strap 2",
        "Screw",
        "Batten",
        "Board",
        "Soil in the bed",
    ),
    *("Ground", "Film of the end panel", "End of the sheet"),
)
OPTIONAL = "The shop's label stays; this word stands beside it. May be left empty."


def template() -> Catalog:
    """Return every message, as code, tables and lists have them."""
    found = Catalog(project="hoopwright", charset="utf-8")
    for where, message, comment in _all():
        if message:
            found.add(message, locations=[(where, 0)], auto_comments=[comment] if comment else [])
    return found


def _all() -> Iterator[tuple[str, str | tuple[str, str], str]]:
    from hoopwright.drawing.steps.parts import PARTS
    from hoopwright.sheet.cautions import caution_rows
    from hoopwright.sheet.steps import step_rows, step_words_rows

    for folder, calls in FOLDERS.items():
        for path in sorted((SOURCE / folder).glob("*.py")):
            for _, message, _, _ in extract_from_file("python", path, keywords=calls):
                yield path.relative_to(SOURCE).as_posix(), str(message), ""
    for row in caution_rows():
        yield "sheet/data/caution.csv", row.short, ""
    for step in step_rows():
        yield "sheet/data/step.csv", step.short_title or "", ""
        yield "sheet/data/step.csv", step.key.replace("-", " ").capitalize(), "the picture's title"
    for words in step_words_rows():
        if words.where == "card":
            yield "sheet/data/step_words.csv", words.text, ""
    for message in (*PARTS, *PIECES, *WORDS, *SHOWN):
        yield "tools/messages.py", message, ""
    for noun in NOUNS:
        yield "tools/messages.py", (noun, f"{noun}s"), ""
    for table in LABELS:
        with (SOURCE / "tables" / "data" / f"{table}.csv").open(encoding="utf-8") as file:
            for line in csv.DictReader(file):
                yield f"tables/data/{table}.csv", line["name"], OPTIONAL


def fields(message: str) -> set[str]:
    """Return the names in braces of a message with how they are said."""
    return set(re.findall(r"\{[^}]*\}", message))


def compiled(catalog: Catalog) -> bytes:
    """Return a catalogue as the program reads it."""
    file = io.BytesIO()
    write_mo(file, catalog)
    return file.getvalue()


def catalogue_in(path: Path) -> Catalog:
    """Return the catalogue of a .po file."""
    with path.open("rb") as file:
        return read_po(file, locale=path.parts[-3])


def told(message: Message) -> bool:
    """Return whether a message has its translation, in the plural too."""
    return bool(message.string) and all(message.string)


def is_label(message: Message) -> bool:
    """Return whether a message is a shop's label, whose translation may be left out."""
    return OPTIONAL in message.auto_comments


def main() -> None:
    """Bring every catalogue up to date and print what each still lacks."""
    wanted = template()
    for path in sorted(LOCALE.glob("*/LC_MESSAGES/sheet.po")):
        held = catalogue_in(path)
        wanted.creation_date = held.creation_date  # the same messages give the same file
        held.update(wanted, no_fuzzy_matching=True)
        with path.open("wb") as file:
            write_po(file, held, width=100, include_lineno=False, omit_header=False)
        path.with_suffix(".mo").write_bytes(compiled(held))
        lacking = [one.id for one in held if one.id and not told(one) and not is_label(one)]
        print(f"{path.parts[-3]}: {len(held)} messages, {len(lacking)} without a translation")
        for message in lacking:
            print(f"  {message}")


if __name__ == "__main__":
    main()
