"""A page in a real browser, watched: what it asks and says, waiting, and the keyboard's way."""

import os
import time
from pathlib import Path

from served import ROOT

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
WITHOUT = ["--disable-3d-apis"]


HIDDEN = """() => {
  const one = document.activeElement;
  const box = one.getBoundingClientRect();
  const [x, y] = [box.left + Math.min(box.width, 40) / 2, box.top + Math.min(box.height, 30) / 2];
  const over = document.elementFromPoint(x, y);
  const label = one.labels && [...one.labels].some((label) => label.contains(over));
  const seen = over && (one.contains(over) || over.contains(one) || label);
  const part = ["choices-side", "answers", "look"].find((id) => one.closest("#" + id)) || "";
  return { id: one.id, tag: one.tagName, part, hidden: !seen, y, over: over?.className };
}"""


def axe_source():
    places = [os.environ.get("HOOPWRIGHT_AXE", ""), ROOT / "node_modules/axe-core/axe.min.js"]
    return next((Path(p).read_text() for p in places if str(p) and Path(p).is_file()), None)


class Watched:
    """A page, and everything that went wrong on it."""

    def __init__(self, chromium, server, **looks):
        self.context = chromium.new_context(accept_downloads=True, **looks)
        self.context.set_default_timeout(180_000)  # for a slow machine with much to do
        self.page = self.context.new_page()
        self.wrong, self.url = [], server.url
        self.page.on("console", self._heard)
        self.page.on("pageerror", lambda error: self.wrong.append(f"error: {error}"))
        self.page.on("request", self._asked)

    def _heard(self, message):
        # None of the page's: the graphics driver's remarks on how fast it draws, and that a request
        # under way was given up when a person went on to another page. What fails says so besides.
        theirs = ("GL Driver Message", "htmx:sendAbort", "htmx:afterRequest")
        if message.type in ("error", "warning") and not any(t in message.text for t in theirs):
            self.wrong.append(f"console: {message.text}")

    def _asked(self, request):
        if not request.url.startswith((self.url, "data:", "blob:")):
            self.wrong.append(f"asked {request.url}")


def until(page, expression, argument=None, seconds=300):
    """Wait for something to become true; Playwright's own wait would break the page's CSP."""
    end = time.monotonic() + seconds
    while not page.evaluate(expression, argument):
        assert time.monotonic() < end, f"never became true: {expression}"
        page.wait_for_timeout(30)


def settled(page):
    """Wait until nothing is asked of the server and nothing is being swapped."""
    until(page, "() => !document.querySelector('.htmx-request, .htmx-swapping')")
    page.wait_for_load_state("networkidle")


def visible_focus(page):
    return page.evaluate(
        """() => {
            const one = document.activeElement;
            const seen = one.matches('.views input') ? one.nextElementSibling : one;
            const style = getComputedStyle(seen);
            return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
        }"""
    )


def open_example(page, server):
    """Open the example from the first page, and wait for its picture."""
    page.goto(server.url)
    page.click("text=Open the example")
    page.wait_for_selector("#picture svg")


def go_to(page, wanted, most=400):
    """Reach what a selector names with Tab alone, and see that it is marked as focused."""
    for _ in range(most):
        if page.evaluate("one => document.activeElement?.matches(one)", wanted):
            assert visible_focus(page), f"no mark of focus on {wanted}"
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{wanted} cannot be reached with Tab")


def go_to_page(page, name):
    """Go to another page of a plan by its link among the page's, with the keyboard alone."""
    go_to(page, f"nav a[href$='/{name}']", 500)
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/{name}")
