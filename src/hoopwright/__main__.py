"""`python -m hoopwright` is the `hoopwright` command."""

from hoopwright.cli.main import main

main()
