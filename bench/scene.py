"""A pulled handle of the model, from the request to the drawn picture, part by part.

A page of `hoopwright serve` in headless Chromium pulls the handle of the length, a step further
when the last is drawn. What draws is named: software unless `--graphics` leaves the choice to the
browser, so that a machine with a graphics card can be held against one without. Parts of a pull:

server   : from the request sent to the first byte of the answer
network  : the rest until the numbers lie decoded in the page
meshes   : from the numbers to solids
drawing  : the picture handed to what draws, and waited for until its first pixel can be read
drawn    : all of it, the wait for the screen's next frame included
"""

from __future__ import annotations

import sys
import urllib.parse
from pathlib import Path

from bench.web import Browser, Server, load, percentile

CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--headless", "--no-sandbox", "--disable-background-networking", "--disable-quic"]
SOFTWARE = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"]
PULLS, SIZES = 60, {"wide": (1280, 900), "phone": (390, 844)}
PARTS = ("server", "network", "meshes", "drawing", "drawn")
ASKED = {0.5: 60, 0.95: 120}

PULLED = """async (pulls) => {
  const { Model } = await import("/static/scene-model.js");
  const scene = document.getElementById("scene");
  const canvas = scene.querySelector("canvas");
  const gl = canvas.getContext("webgl2");
  const now = () => performance.now();
  const at = {};
  const bend = (url) => String(url).endsWith("/bend");
  const fetched = window.fetch;
  window.fetch = async (...words) => {
    if (bend(words[0])) at.asked = now();
    return fetched(...words);
  };
  const json = Response.prototype.json;
  Response.prototype.json = async function () {
    const told = await json.call(this);
    if (!bend(this.url)) return told;
    at.read = now();
    const after = new MessageChannel();
    after.port1.onmessage = () => { at.built = now(); };
    after.port2.postMessage(null);
    return told;
  };
  const face = Model.prototype.face;
  Model.prototype.face = function (camera) {
    at.frame = now();
    face.call(this, camera);
  };
  // Of the pictures drawn meanwhile, the first that shows the answer.
  const drawn = () => new Promise((done) => {
    const look = () => {
      if (!at.read) return;
      scene.removeEventListener("drawn", look);
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
      at.finished = now();
      requestAnimationFrame(() => done(now()));
    };
    scene.addEventListener("drawn", look);
  });
  const handle = scene.querySelector(".handle");
  handle.setPointerCapture = () => {};
  const box = handle.getBoundingClientRect();
  let [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
  const point = (kind) => handle.dispatchEvent(
    new PointerEvent(kind, { clientX: x, clientY: y, bubbles: true }));
  point("pointerdown");
  const found = [];
  for (let n = 0; n < pulls; n += 1) {
    performance.clearResourceTimings();
    at.read = 0;
    const ready = drawn();
    x += n % 12 < 6 ? 8 : -8;
    point("pointermove");
    const end = await ready;
    const asked = performance.getEntriesByType("resource").find((one) => bend(one.name));
    const server = asked.responseStart - asked.requestStart;
    const [meshes, drawing] = [at.built - at.read, at.finished - at.frame];
    found.push([server, at.read - at.asked - server, meshes, drawing, end - at.asked]);
    await new Promise((done) => setTimeout(done, 40));
  }
  const about = gl.getExtension("WEBGL_debug_renderer_info");
  return [found, about ? gl.getParameter(about.UNMASKED_RENDERER_WEBGL) : ""];
}"""


def pulled(port: int, graphics: bool, size: tuple[int, int]) -> tuple[list[list[float]], str]:
    """Return the milliseconds of each part of every pull, and what draws."""
    from playwright.sync_api import sync_playwright

    plan = urllib.parse.urlsplit(Browser(port).post("/plans/example", [])).path
    with sync_playwright() as driver:
        flags = FLAGS + ([] if graphics else SOFTWARE)
        chromium = driver.chromium.launch(executable_path=CHROMIUM, args=flags)
        width, height = size
        page = chromium.new_page(viewport={"width": width, "height": height})
        page.goto(f"http://127.0.0.1:{port}{plan}")
        page.wait_for_selector("#scene[data-shown]", timeout=120_000)
        page.wait_for_timeout(1000)
        found, drawer = page.evaluate(PULLED, PULLS)
        chromium.close()
    return found, drawer


def main() -> None:
    """Print the figures."""
    graphics = "--graphics" in sys.argv
    if not Path(CHROMIUM).exists():
        print(f"needs Debian's chromium at {CHROMIUM}")
        return
    server = Server()
    for name, size in SIZES.items():
        found, drawer = pulled(server.port, graphics, size)
        print(f"{name}, {size[0]} px, drawn by {drawer}; {load()}")
        for share, asked in ASKED.items():
            took = [percentile([row[n] / 1e3 for row in found], share) for n in range(len(PARTS))]
            told = ", ".join(f"{part} {ms:.0f}" for part, ms in zip(PARTS, took, strict=True))
            print(f"  {share:.0%} of {PULLS} within, ms: {told} (asked, drawn: {asked})")
    server.stop()


if __name__ == "__main__":
    main()
