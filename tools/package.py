"""Build a wheel and an sdist and run the wheel in a clean environment outside the tree."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import tempfile
import time
import urllib.request
import venv
from pathlib import Path

ROOT = Path(__file__).parents[1]
PORT = 8769
#: Seconds in which the server must answer: a bound and not a measure.
PATIENCE = 300


def main() -> None:
    """Print what was built and run, or end with what failed."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        build = (sys.executable, "-m", "hatchling", "build", "-d", str(place / "dist"))
        subprocess.run(build, check=True, cwd=ROOT)
        (wheel,), (sdist,) = (place / "dist").glob("*.whl"), (place / "dist").glob("*.tar.gz")
        with tarfile.open(sdist) as held:
            names = {name.split("/", 1)[-1] for name in held.getnames()}
        for name in ("LICENSE", "README.md", "pyproject.toml", "src/hoopwright/__main__.py"):
            assert name in names, f"the sdist lacks {name}"
        program = _installed(place, wheel)
        (place / "work").mkdir()
        bed = (ROOT / "demo" / "high-valley.toml").read_text(encoding="utf-8")
        (place / "work" / "bed.toml").write_text(bed, encoding="utf-8")
        for words in (
            ("check", "bed.toml"),
            ("sheet", "bed.toml", "--out", "bed.pdf"),
            ("season", "bed.toml"),
        ):
            _run(place, program, *words)
        assert (place / "work" / "bed.pdf").read_bytes().startswith(b"%PDF")
        _serve(place, program)
        print(f"{wheel.name} and {sdist.name}: check, sheet, season and serve ran outside the tree")


def _installed(place: Path, wheel: Path) -> Path:
    """Return the program of the wheel, installed with pinned dependencies and nothing of ours."""
    venv.create(place / "clean", with_pip=True)
    binaries = place / "clean" / ("Scripts" if os.name == "nt" else "bin")
    pip = (str(binaries / "python"), "-m", "pip", "install", "-qq", "--disable-pip-version-check")
    pins = str(ROOT / "requirements" / "runtime.txt")
    subprocess.run((*pip, "--require-hashes", "-r", pins), check=True)
    subprocess.run((*pip, "--no-deps", str(wheel)), check=True)
    return binaries / "hoopwright"


def _around(place: Path) -> dict[str, str]:
    """Return an environment that knows nothing of the tree, with caches of its own."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    return {**kept, "HOOPWRIGHT_CACHE": str(place / "cache"), "HOME": str(place)}


def _run(place: Path, program: Path, *words: str) -> None:
    begun = time.monotonic()
    subprocess.run(
        (str(program), *words),
        check=True,
        cwd=place / "work",
        env=_around(place),
        stdout=subprocess.DEVNULL,
    )
    print(f"  {words[0]} ran, {time.monotonic() - begun:.0f} s")


def _serve(place: Path, program: Path) -> None:
    asked = (str(program), "serve", "--port", str(PORT))
    server = subprocess.Popen(asked, cwd=place / "work", env=_around(place))
    try:
        end = time.monotonic() + PATIENCE
        while True:
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{PORT}/") as page:
                    assert "Hoopwright" in page.read().decode("utf-8")
                    break
            except OSError:
                assert server.poll() is None, "the server ended"
                assert time.monotonic() < end, "the server never answered"
                time.sleep(0.2)
        print("  serve answered")
    finally:
        server.terminate()
        server.wait()


if __name__ == "__main__":
    main()
