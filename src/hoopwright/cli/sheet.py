"""`hoopwright sheet`: the build sheet to print and carry to the bed."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Misused, PlanFile

Kind = Literal["pdf", "html", "md"]


def sheet(
    plan: PlanFile,
    out: Annotated[Path | None, typer.Option(help="File to write.")] = None,
    format: Annotated[Kind | None, typer.Option(help="pdf, html or md.")] = None,
    form: Annotated[
        Literal["card", "book"],
        typer.Option(help="card: two pages to build from; book: everything."),
    ] = "book",
    season: Annotated[
        bool,
        typer.Option(
            "--season/--no-season",
            help="Work out the season and add its pages; a card takes one worked out before.",
        ),
    ] = True,
    language: Annotated[
        str, typer.Option(help="The card's language: en, or a translation's short name, as es.")
    ] = "en",
    json: AsJson = False,
) -> None:
    """Write the build sheet: shopping, cuts, tape marks, steps, season, cautions and care.

    The card is the two pages to carry to the bed; the book is everything behind it.
    """
    import datetime

    from hoopwright import design_of, read_plan
    from hoopwright.answers.season_kept import kept_season
    from hoopwright.cli import outputs
    from hoopwright.sheet import write, write_card
    from hoopwright.tables.languages import words_of

    words_of(language)
    if language != "en" and form == "book":
        raise Misused(f"sheet --language {language}: the book is English; add --form card")
    if out is not None and not _suits(out, format):
        raise Misused(f"{out}: the sheet is a .pdf, .html or .md file; name it so")
    read = read_plan(plan)
    design = design_of(read)
    if form == "card":
        if (format or _kind_of(out)) != "pdf":
            raise Misused("sheet --form card: the card is a PDF; leave --format out")
        card = out or plan.with_name(f"{plan.stem}-card.pdf")
        outputs.spare((card,), plan)
        held = kept_season(read) if season else None
        today = datetime.date.today()
        pages = write_card(design, card, date=today, language=language, season=held)
        if pages > 2 and not json:
            typer.echo(f"The card of this bed takes {pages} pages.")
        text.print_files([card], json)
        return
    kind = format or _kind_of(out)
    path = out or plan.with_suffix(f".{kind}")
    outputs.spare((path,), plan)
    report = None
    if season:
        from hoopwright.cli.season import report_of

        report = report_of(read)
    write(design, path, format=kind, date=datetime.date.today(), season=report)
    text.print_files([path], json)


def _suits(out: Path, format: Kind | None) -> bool:
    """Return whether a file's name agrees with the format, which may be given or be its own."""
    suffix = out.suffix.lower()
    asked = {"htm": "html"}.get(suffix[1:], suffix[1:])
    return not suffix or asked == (format or _kind_of(out))


def _kind_of(out: Path | None) -> Kind:
    """Return the format that a file name asks for, PDF where it says nothing."""
    kinds: dict[str, Kind] = {".html": "html", ".htm": "html", ".md": "md"}
    return kinds.get(out.suffix.lower(), "pdf") if out else "pdf"
