"""On a system that is not this one: nothing that only POSIX has, and a terminal of few letters.

What a program finds there is simulated in a process of its own: the modules are not there, nor
the functions and signals; names of files are refused as Windows refuses them; standard output is
Windows-1252, or ASCII. A run on Windows itself it does not stand for.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from person import SMALL_BED

PLAN = f"""
name = "Grünes Beet, 苗床"
{SMALL_BED}years = 2
crops = ["radish"]
beside = []
"""
ELSEWHERE = """
import multiprocessing.popen_fork, os, re, shutil, signal, sys
for name in ("fcntl", "pwd", "grp", "resource", "termios", "tty", "pty", "syslog"):
    sys.modules[name] = None
# As there, where ending a process has no signal.
multiprocessing.popen_fork.Popen.kill = multiprocessing.popen_fork.Popen.terminate
for name in ("fork", "forkpty", "killpg", "getpgid", "setsid", "mkfifo"):
    delattr(os, name)
for name in ("SIGKILL", "SIGHUP", "SIGALRM", "SIGPROF", "SIGCHLD", "pthread_kill", "setitimer"):
    delattr(signal, name)
renamed = os.rename

def rename(source, target, **more):
    if os.path.exists(target):
        raise FileExistsError(target)
    renamed(source, target, **more)

def only_names(event, given):
    if event != "open" or not isinstance(given[0], str | os.PathLike):
        return
    name = os.fspath(given[0])
    writes = (given[1] or "r")[0] in "wxa" and not name.startswith("/dev")
    if writes and re.search(r'[<>:"|?*]|[. ]$', name):
        raise OSError(22, "no name there", name)
    ours = "hoopwright" in sys._getframe(1).f_code.co_filename
    if ours and os.path.isdir(name):
        raise PermissionError(13, "folders are not opened there", name)

os.rename = rename
sys.addaudithook(only_names)
from hoopwright.__main__ import main
"""
RUN = ELSEWHERE + "main()"
SERVE = (
    ELSEWHERE
    + """
import threading, time, urllib.request

def look():
    for _ in range(3000):
        try:
            page = urllib.request.urlopen("http://127.0.0.1:%s/" % sys.argv[3], timeout=60)
            print("page", page.status, flush=True)
            os._exit(0)
        except OSError:
            time.sleep(0.1)

threading.Thread(target=look, daemon=True).start()
main()
"""
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a plan and a saved forecast."""
    place = tmp_path_factory.mktemp("elsewhere")
    (place / "bed.toml").write_text(PLAN, encoding="utf-8")
    examples = resources.files("hoopwright.climate.forecast") / "examples"
    (place / "saved.json").write_bytes((examples / "national_grid.json").read_bytes())
    return place


def run(
    folder: Path, *words: str, program: str = RUN, letters: str = "cp1252"
) -> subprocess.CompletedProcess[bytes]:
    """Run a command there; it ends well, and its traceback is the test's."""
    kept = {"HOOPWRIGHT_CACHE": str(folder / "cache"), "PYTHONIOENCODING": letters}
    environment = {**os.environ, **kept, "XDG_DATA_HOME": str(folder), "PYTHONUTF8": "0"}
    done = subprocess.run(
        [sys.executable, "-c", program, *words],
        cwd=folder,
        env=environment,
        capture_output=True,
        timeout=900,
        check=False,
    )
    assert done.returncode == 0, done.stderr.decode(letters)[-3000:]
    return done


@pytest.mark.parametrize("letters", ["cp1252", "ascii"])
def test_a_name_that_the_terminal_lacks_is_printed_as_far_as_it_can(
    folder: Path, letters: str
) -> None:
    said = run(folder, "check", "bed.toml", letters=letters).stdout.decode(letters)
    assert said.startswith("Gr\u00fcnes Beet, ??" if letters == "cp1252" else "Gr?nes Beet, ??")
    data = json.loads(run(folder, "check", "bed.toml", "--json", letters=letters).stdout)
    assert data["name"] == "Gr\u00fcnes Beet, \u82d7\u5e8a"


def test_season_vent_and_sheet_run_there(folder: Path) -> None:
    first = run(folder, "season", "bed.toml", "--ics", "bed.ics", "--hours", "hours.csv")
    assert b"bed.ics" in first.stdout
    run(folder, "season", "bed.toml", "--ics", "bed.ics")  # over the one that is there
    vented = run(folder, "vent", "bed.toml", "--file", "saved.json").stdout
    assert vented.startswith(b"Forecast: U.S. National Weather Service")
    run(folder, "sheet", "bed.toml", "--out", "bed.pdf")
    assert (folder / "bed.pdf").read_bytes().startswith(b"%PDF")
    run(folder, "draw", "bed.toml", "--out", "drawn")
    assert len(list((folder / "drawn").iterdir())) > 5
    assert b"\r" not in (folder / "bed.toml").read_bytes()


def test_the_server_starts_there_and_its_store_is_saved_and_restored(folder: Path) -> None:
    import socket

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = str(probe.getsockname()[1])
    served = run(folder, "serve", "--port", port, "--folder", "kept", program=SERVE)
    assert b"page 200" in served.stdout
    run(folder, "store", "backup", "copy.sqlite3", "--folder", "kept")
    shutil.rmtree(folder / "new", ignore_errors=True)
    assert b"Restored" in run(folder, "store", "restore", "copy.sqlite3", "--folder", "new").stdout
