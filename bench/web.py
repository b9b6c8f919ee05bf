"""The browser's server: start to first page, a changed choice, and a room of visitors.

Everything is asked over HTTP of `hoopwright serve` as a person starts it. A change is one choice
of the demo plan set anew; the answer holds checks, ladder, costs and drawing. Load of other work
on the machine lengthens all of it, so the load average is printed beside.
"""

from __future__ import annotations

import http.client
import os
import random
import re
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
from pathlib import Path

from hoopwright.web.five_questions import example_text

CHANGES, PULLS = 500, 200
VISITORS, SECONDS, PAUSE = 30, 60.0, (2.0, 6.0)
Choice = tuple[str, str]


class Server:
    """`hoopwright serve` in a folder of its own."""

    def __init__(self, *words: str) -> None:
        """Start it, and note how long the first page took."""
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = int(probe.getsockname()[1])
        self._folder = tempfile.TemporaryDirectory()
        begun = time.perf_counter()
        command = [sys.executable, "-m", "hoopwright", "serve", "--folder", self._folder.name]
        self._process = subprocess.Popen(
            [*command, "--port", str(self.port), *words], stdout=subprocess.DEVNULL
        )
        while True:
            try:
                Browser(self.port).get("/")
                break
            except OSError:
                if self._process.poll() is not None:
                    raise RuntimeError("the server ended") from None
                time.sleep(0.01)
        self.first_page = time.perf_counter() - begun

    def stop(self) -> None:
        """End it."""
        self._process.terminate()
        self._process.wait()
        self._folder.cleanup()


class Browser:
    """One visitor's connection, kept open as a browser keeps it."""

    def __init__(self, port: int) -> None:
        """Connect to a server on this machine."""
        self._line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self._cookie = ""

    def get(self, path: str) -> str:
        """Return a page."""
        return self._ask("GET", path, None)

    def post(self, path: str, form: list[Choice]) -> str:
        """Send a form as htmx does and return the answer, or where it leads."""
        return self._ask("POST", path, urllib.parse.urlencode(form))

    def _ask(self, method: str, path: str, body: str | None) -> str:
        headers = {"hx-request": "true"} if path.endswith("/choices") else {}
        if body is not None:
            headers["content-type"] = "application/x-www-form-urlencoded"
        if self._cookie:
            headers["cookie"] = self._cookie
        self._line.request(method, path, body, headers)
        answer = self._line.getresponse()
        text = answer.read().decode()
        if answer.status >= 400:
            raise RuntimeError(f"{method} {path}: {answer.status} {text[:200]}")
        cookie = answer.getheader("set-cookie")
        self._cookie = cookie.split(";")[0] if cookie else self._cookie
        return answer.getheader("location") or text


def random_choice(draw: random.Random) -> Choice:
    """Return one choice set to something a person might try."""
    inches = {"bed.length": (60, 168), "bed.width": (28, 50), "hoops.spacing": (18, 44)}
    inches |= {"hoops.height": (26, 50), "cover.skirt": (2, 8), "cover.clip_spacing": (6, 18)}
    words = {
        "hoops.pipe": ["pvc40-1/2", "pvc40-3/4"],
        "hoops.ridge": ["none", "pipe", "cord"],
        "hoops.straps_per_leg": ["1", "2"],
        "cover.material": ["film-6mil-uv4", "film-woven"],
        "cover.style": ["framed", "wrapped"],
        "cover.roll_up": ["both", "one", "none"],
        "holding.stakes": ["none", "corners"],
        "holding.soil": ["bed mix", "clay", "sand"],
        "site.exposure": ["open", "town", "shore"],
        "bed.board": ["2x10", "2x12"],
        "bed.species": ["doug-fir-larch", "spruce-pine-fir"],
        "bed.box": ["new", "standing"],
    }
    key = draw.choice([*inches, *words, "site.gust", "name"])
    if key in inches:
        return key, f"{draw.randint(*inches[key])} in"
    if key in words:
        return key, draw.choice(words[key])
    return (
        (key, f"{draw.randint(40, 110)} mph")
        if key == "site.gust"
        else (key, f"Bed {draw.random()}")
    )


def change(browser: Browser, plan: str, choice: Choice, base: str) -> tuple[float, str]:
    """Return the seconds that a change took, and the stamp of the revision to go on from."""
    begun = time.perf_counter()
    answer = browser.post(f"{plan}/choices", [choice, ("base", base)])
    took = time.perf_counter() - begun
    assert "<svg" in answer
    return took, seen(answer)


def seen(page: str) -> str:
    """Return the stamp of the revision that a page was filled from."""
    found = re.search(r'name="base"[^>]*value="([^"]+)"', page)
    assert found, page[:300]
    return found.group(1)


def percentile(times: list[float], share: float) -> float:
    """Return a percentile of times [ms]."""
    return 1e3 * sorted(times)[min(len(times) - 1, int(share * len(times)))]


def one_visitor(port: int, changes: int, seed: int = 1) -> list[float]:
    """Return the seconds of a run of changes by one visitor."""
    draw, browser = random.Random(seed), Browser(port)
    plan = urllib.parse.urlsplit(browser.post("/plans/example", [])).path
    base, times = seen(browser.get(plan)), []
    for _ in range(changes):
        took, base = change(browser, plan, random_choice(draw), base)
        times.append(took)
    return times


def pulled_handle(port: int, pulls: int, seed: int = 1) -> list[float]:
    """Return the seconds until the bent bed's numbers were there, for sizes pulled one by one."""
    draw, browser = random.Random(seed), Browser(port)
    plan, times = urllib.parse.urlsplit(browser.post("/plans/example", [])).path, []
    for _ in range(pulls):
        key, low, high = draw.choice((("bed.length", 60, 168), ("bed.width", 40, 50)))
        begun = time.perf_counter()
        browser.post(f"{plan}/bend", [(key, f"{draw.randint(low, high)} in")])
        times.append(time.perf_counter() - begun)
    return times


def a_room(port: int, code: str, visitors: int, seconds: float) -> tuple[list[float], list[str]]:
    """Return the seconds of every change that a room of visitors made, and what went wrong."""
    times: list[float] = []
    wrong: list[str] = []
    end = time.monotonic() + seconds

    def visit(seed: int) -> None:
        draw, browser = random.Random(seed), Browser(port)
        try:
            browser.post("/join", [("code", code)])
            plan = urllib.parse.urlsplit(browser.post("/plans/example", [])).path
            base = seen(browser.get(plan))
            time.sleep(draw.uniform(0.0, PAUSE[1]))
            # Everybody makes one change at least, however long it took to come in.
            while True:
                took, base = change(browser, plan, random_choice(draw), base)
                times.append(took)
                if time.monotonic() >= end:
                    break
                time.sleep(draw.uniform(*PAUSE))
        except Exception as error:
            wrong.append(f"{type(error).__name__}: {error}")

    threads = [threading.Thread(target=visit, args=(seed,)) for seed in range(visitors)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return times, wrong


def load() -> str:
    """Return how busy the machine is."""
    return f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores"


def main() -> None:
    """Print the figures."""
    assert Path(sys.executable).exists()
    assert example_text()
    alone = Server()
    print(f"start to first page                    {1e3 * alone.first_page:8.0f} ms (asked: 1000)")
    times = one_visitor(alone.port, CHANGES)
    pulls = pulled_handle(alone.port, PULLS)
    alone.stop()
    for share, most in ((0.5, 60), (0.95, 120)):
        took, drawn = percentile(pulls, share), f"(asked: {most}, drawn)"
        print(f"a pulled handle, {share:.0%} of {PULLS} within     {took:8.0f} ms {drawn}")
    for share, asked in ((0.5, ""), (0.95, "(asked: 150)"), (0.99, "")):
        took = percentile(times, share)
        print(f"a changed choice, {share:.0%} of {CHANGES} within     {took:8.0f} ms {asked}")
    print(f"  {load()}")
    room = Server("--lan", "127.0.0.1", "--code", "abcd-efgh")
    times, wrong = a_room(room.port, "abcd-efgh", VISITORS, SECONDS)
    room.stop()
    print(
        f"{VISITORS} visitors for {SECONDS:.0f} s, each pausing {PAUSE[0]:.0f} to {PAUSE[1]:.0f} s"
    )
    print(f"  {len(times)} changes, {len(wrong)} errors (asked: 0)")
    print(f"  95% within                           {percentile(times, 0.95):8.0f} ms (asked: 1000)")
    for words in sorted(set(wrong))[:5]:
        print(f"  {words}")
    print(f"  {load()}")


if __name__ == "__main__":
    main()
