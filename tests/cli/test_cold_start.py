"""What a command loads before it answers: nothing that it has no use for."""

import subprocess
import sys
from pathlib import Path

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"
UNUSED = {"numba", "scipy", "pandas", "typer", "rich", "numpy.ma", "numpy.random"} | {
    "ezdxf", "typst", "jinja2", "difflib", "hoopwright.answers.data",
}  # fmt: skip


def test_check_loads_no_compiler_and_no_reader_of_options() -> None:
    code = (
        "import sys\n"
        "from hoopwright.__main__ import main\n"
        f"sys.argv = ['hoopwright', 'check', {str(DEMO)!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        f"print(*sorted({UNUSED} & set(sys.modules)))\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )
    assert ran.stdout.splitlines()[-1] == ""
