"""How long a command takes from cold, beside a bare `import numpy` on the same machine.

Each is a process of its own with its byte code at hand, in turn; processor time and time by the
clock, the least of several runs of each.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from hoopwright.cli.door import THREADS

DEMO = Path(__file__).parents[1] / "tests" / "usual_bed.toml"
ROUNDS = 7
ASKED = 3.0


def run(arguments: list[str], kept: str) -> tuple[float, float]:
    """Processor time and time by the clock [s] of one process."""
    leave_out = {"PYTHONDONTWRITEBYTECODE", *THREADS}
    environment = {key: value for key, value in os.environ.items() if key not in leave_out}
    environment["PYTHONPYCACHEPREFIX"] = kept
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments], env=environment, stdout=subprocess.DEVNULL, check=True
    )
    took, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return used, took


def main() -> None:
    """Print the times and their ratios."""
    works = {
        "import numpy": ["-c", "import numpy"],
        "hoopwright check": ["-m", "hoopwright", "check", str(DEMO)],
        "hoopwright limits": ["-m", "hoopwright", "limits", str(DEMO)],
    }
    least = dict.fromkeys(works, (float("inf"), float("inf")))
    with tempfile.TemporaryDirectory() as kept:
        for round_number in range(ROUNDS + 1):
            for name, arguments in works.items():
                used, took = run(arguments, kept)
                # The first round only writes the byte code.
                if round_number:
                    least[name] = min(least[name][0], used), min(least[name][1], took)
    used, took = least["import numpy"]
    for name, (own, clock) in least.items():
        print(
            f"{name:<20}{own * 1e3:7.0f} ms processor{clock * 1e3:7.0f} ms clock"
            f"{own / used:7.2f} x{clock / took:7.2f} x"
        )
    print(f"(asked of check: at most {ASKED:g} x)")


if __name__ == "__main__":
    main()
