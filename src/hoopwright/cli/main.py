"""The `hoopwright` command: its name, its commands, and what it says when something is wrong."""

from __future__ import annotations

import gc
import os
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

app = typer.Typer(
    name="hoopwright",
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
    # Matrices here are small: two threads to one of them take longer than one, far longer where
    # the cores are busy. Work is shared out by years, designs and visitors instead.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    # Loading a plan's rooms makes many things that stay: looking for rubbish among them is vain.
    gc.set_threshold(50_000, 20, 50)
    # We have no plug-ins of the plan reader, and looking for some reads every installed package.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    _narrow(sys.argv[1:])
    try:
        app()
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except (ValueError, KeyError, OSError) as error:
        if not _is_for_a_person(error):
            raise
        print(_plain(_words(error)), file=sys.stderr)
        sys.exit(2)


def _narrow(arguments: list[str]) -> None:
    """Leave only the command asked for, where it is one: each costs a hundredth of a second."""
    asked = [one for one in app.registered_commands if one.name == next(iter(arguments), "")]
    if asked:
        # One command alone would be taken for the whole program, without its name.
        app.callback()(lambda: None)
        app.registered_commands, app.registered_groups = asked, []


def _is_for_a_person(error: Exception) -> bool:
    """Return whether an error was written to be read: our own kinds, and files out of reach."""
    return isinstance(error, OSError) or type(error).__module__.startswith("hoopwright.")


def _plain(words: str) -> str:
    """Return words without what would drive a terminal, as a plan may hold it."""
    return "".join(mark if mark.isprintable() or mark == "\n" else "?" for mark in words)


def _words(error: Exception) -> str:
    if isinstance(error, OSError):
        return (
            f"{error.filename or 'file'}: {error.strerror or error}; check the path and try again"
        )
    return str(error)
