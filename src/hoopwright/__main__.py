"""The whole `hoopwright` command: the command line, and the browser's server as one of its words.

The two doors know nothing of each other; they are joined here.
"""

from __future__ import annotations

import gc
import sys
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from hoopwright.cli.door import enter

if TYPE_CHECKING:
    import typer


def main() -> None:
    """Run the command line; `check PLAN`, asked most often, needs no reader of options."""
    asked = sys.argv[1:]
    if len(asked) == 2 and asked[0] == "check" and not asked[1].startswith("-"):
        from hoopwright.cli.checked import print_check

        gc.disable()  # It is over before there is anything worth collecting.
        try:
            enter(lambda: print_check(Path(asked[1])))
        finally:
            gc.enable()
        return
    from hoopwright.cli import main as command_line

    whole_app()
    command_line.main()


@cache
def whole_app() -> typer.Typer:
    """Return the command line with the server among its words."""
    from hoopwright.cli.main import app
    from hoopwright.web.serve import serve

    app.command(name="serve")(serve)
    return app


if __name__ == "__main__":
    main()
