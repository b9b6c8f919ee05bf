"""The whole `hoopwright` command: the command line, and the browser's server as one of its words.

The two doors know nothing of each other; they are joined here.
"""

from hoopwright.cli.main import app, main
from hoopwright.web.serve import serve

app.command(name="serve")(serve)

if __name__ == "__main__":
    main()
