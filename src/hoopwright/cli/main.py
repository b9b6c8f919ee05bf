"""The `hoopwright` command: its name, its commands, and what it says when something is wrong."""

import sys

import typer

from hoopwright.cli import (
    advise,
    catalogue,
    check,
    class_,
    climate,
    compare,
    cut,
    draw,
    limits,
    new,
    pull,
    readings,
    schema,
    season,
    sheet,
    store,
    sweep,
    vent,
)
from hoopwright.cli.door import enter
from hoopwright.cli.options import Commands

app = typer.Typer(
    name="hoopwright",
    cls=Commands,
    help="Design, check, cut, price and build covered raised beds.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.command(name="new")(new.new)
app.command(name="check")(check.check)
app.command(name="limits")(limits.limits)
app.command(name="pull")(pull.pull)
app.command(name="cut")(cut.cut)
app.command(name="draw")(draw.draw)
app.command(name="sheet")(sheet.sheet)
app.command(name="climate")(climate.climate)
app.command(name="season")(season.season)
app.command(name="vent")(vent.vent)
app.command(name="store")(store.store)
app.command(name="class")(class_.class_)
app.command(name="compare")(compare.compare)
app.command(name="advise")(advise.advise)
app.command(name="sweep")(sweep.sweep)
app.add_typer(readings.app, name="readings")
app.command(name="schema")(schema.schema)
app.command(name="catalogue")(catalogue.catalogue)


def main() -> None:
    """Run the command line; a person's mistake ends in one message and exit code 2."""
    enter(_run)


def _run() -> None:
    _narrow(sys.argv[1:])
    app()


def _narrow(arguments: list[str]) -> None:
    """Leave only the command asked for, where it is one: each costs a hundredth of a second."""
    asked = [one for one in app.registered_commands if one.name == next(iter(arguments), "")]
    if asked:
        # One command alone would be taken for the whole program, without its name.
        app.callback()(lambda: None)
        app.registered_commands, app.registered_groups = asked, []
