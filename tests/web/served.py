"""A server of one's own for tests, and what they start it with."""

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEMO = (ROOT / "tests" / "usual_bed.toml").read_text(encoding="utf-8")
#: Debian's, where it is here the one without a window's machinery, which takes a third less time.
CHROMIUM = max(("/usr/bin/chromium-headless-shell", "/usr/bin/chromium"), key=os.path.exists)


def settings(folder, limits=None, **changed):
    """What a test's server may do; a piece of work may take as long as a slow machine needs."""
    from hoopwright.web.settings import ServerLimits, ServerSettings

    patient = replace(limits or ServerLimits(), seconds=300.0)
    hosts = frozenset({"testserver"})
    return ServerSettings(folder, hosts=hosts, workers=2, limits=patient, **changed)


def seen(client, plan):
    """Return what a form filled now says it was filled from."""
    return client.get(f"/api{plan}").headers["etag"].strip('"')


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Server:
    """`hoopwright serve` as a person starts it."""

    def __init__(self, folder, *words):
        self.folder, self.words = folder, words
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.process = None

    def start(self):
        """Start, and return the seconds until the first page was there."""
        begun = time.perf_counter()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "hoopwright", "serve", "--folder", str(self.folder)]
            + ["--port", str(self.port), *self.words],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env=os.environ | {"PYTHONUNBUFFERED": "1"},
        )
        while time.perf_counter() - begun < 180:
            try:
                with urllib.request.urlopen(self.url, timeout=30) as answer:
                    answer.read()
                return time.perf_counter() - begun
            except (urllib.error.URLError, ConnectionError):
                assert self.process.poll() is None, self.process.stdout.read()
                time.sleep(0.02)
        raise AssertionError("the server did not start")

    def stop(self):
        self.process.terminate()
        self.process.wait(120)

    def kill(self):
        self.process.kill()
        self.process.wait(120)
