"""What a command loads before it answers: no compiler for one plan."""

import subprocess
import sys
from pathlib import Path

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"


def test_check_does_not_load_the_compiler() -> None:
    code = (
        "import sys\n"
        "from hoopwright.cli.main import main\n"
        f"sys.argv = ['hoopwright', 'check', {str(DEMO)!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print('numba' in sys.modules)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=True
    )
    assert ran.stdout.splitlines()[-1] == "False"
