"""`hoopwright class`: one order, one cutting station and a kit for every bed of a class."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson
from hoopwright.cli.sheet import Kind

if TYPE_CHECKING:
    from hoopwright.answers.voice import Voice
    from hoopwright.programme.class_work import WorkedClass


def class_(
    file: Annotated[Path, typer.Argument(metavar="CLASS", help="Class file (TOML).")],
    out: Annotated[
        Path | None, typer.Option(help="Folder for the sheets: order, station, book, kits, labels.")
    ] = None,
    format: Annotated[Kind, typer.Option(help="pdf, html or md.")] = "pdf",
    names: Annotated[
        bool, typer.Option("--names", help="Print household names; without it letters only.")
    ] = False,
    json: AsJson = False,
) -> None:
    """Order for a whole class at once; who pays what, what to cut, what to do if it is short."""
    import datetime

    from hoopwright.cli import outputs
    from hoopwright.programme.class_file import read_class
    from hoopwright.programme.class_work import work_out

    source = read_class(file)
    if out is not None:
        outputs.spare((out / "labels.csv", out / f"order.{format}"), file)
    worked = work_out(source)
    if out is not None:
        from hoopwright import writing
        from hoopwright.sheet.class_pages import class_files, paper_sheets

        files = class_files(worked, datetime.date.today(), names=names, format=format)
        if not json:
            typer.echo(f"{paper_sheets(files)} sheets of paper, front and back.")
        out.mkdir(parents=True, exist_ok=True)
        text.print_files([writing.write(out / name, data) for name, data in files.items()], json)
    else:
        print(text.as_json(class_data(worked)) if json else _words(worked, names))
    if not json:
        print("\n" + text.paragraph(text.GUIDANCE))


def class_data(worked: WorkedClass) -> dict[str, Any]:
    """Return a class as data for machines: money in the list's currency, lengths in metres."""
    from hoopwright.answers.data import order_data

    bulk, budget = worked.bulk, worked.budget
    return {
        "name": worked.source.name,
        "order": order_data(worked.order),
        "total": worked.order.total,
        "alone": bulk.alone_total,
        "saving": bulk.saving,
        "shelf_worth": bulk.shelf_worth,
        "gap": bulk.gap,
        "shares": [
            {"bed": share.letter, "pays": share.pays, "alone": share.alone}
            for share in worked.shares
        ],
        "budget": None if budget is None else {"budget": budget.budget, "left": budget.left},
    }


def _words(worked: WorkedClass, names: bool) -> str:
    from hoopwright.answers.spreadsheets import sold_as
    from hoopwright.sheet.class_words import class_voice, household, together_words

    say = class_voice(worked)
    lines = [worked.source.name, ""]
    lines += [f"  Cannot be bought as planned: {says}" for says in worked.order.unmet]
    lines.append(text.indented(together_words(worked, say)))
    if worked.order.example_prices:
        lines.append("  Example prices, invented: put in your own.")
    rows = [
        (line.name, sold_as(line, say), str(line.buy), say.money(line.total))
        for line in worked.order.lines
    ]
    lines += ["", text.table(("What to buy", "Sold as", "Buy", "Total"), rows, right=(2, 3)), ""]
    shares = [
        (
            share.letter,
            *([household(worked, share.letter, names)] if names else ()),
            say.money(share.alone),
            say.money(share.pays),
        )
        for share in worked.shares
    ]
    head = ("Bed", *(["Household"] if names else ()), "Alone", "Share")
    lines.append(text.table(head, shares, right=(len(head) - 2, len(head) - 1)))
    lines += _budget_words(worked, say)
    lines += _shortage_words(worked, say)
    return "\n".join(lines)


def _budget_words(worked: WorkedClass, say: Voice) -> list[str]:
    from hoopwright.sheet.class_order import effect_words
    from hoopwright.sheet.class_words import budget_words, dropped_words

    budget = worked.budget
    if budget is None:
        return []
    lines = ["", f"  {budget_words(budget, say)}"]
    if budget.left >= 0:
        return lines
    for one in budget.left_out:
        words = f"saves {say.money(one.saves)}. {effect_words(one.effect, say.system, less=True)}"
        lines.append(text.labelled(one.what, words, 34))
    dropped = dropped_words(budget, say)
    return [*lines, f"  {dropped}"] if dropped else lines


def _shortage_words(worked: WorkedClass, say: Voice) -> list[str]:
    from hoopwright.sheet.class_order import missing_words, substitute_row

    lines: list[str] = []
    for one in worked.shortages:
        beds = ", ".join(one.letters)
        lines += ["", f"  Out of stock: {missing_words(one, say)}, for bed {beds}"]
        for way in one.substitutes:
            what, adds, does = substitute_row(way, worked, say)
            lines.append(text.labelled(what, f"adds {adds}. {does}", 34))
        if not one.substitutes:
            lines.append("  Nothing listed works in its place.")
    return lines
