"""How far a long command is, drawn at the terminal while it works."""

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn


def bar() -> Progress:
    """Return a bar with its words and the time left, on the error stream; gone when it ends."""
    columns = (TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn())
    return Progress(*columns, console=Console(stderr=True), transient=True)
