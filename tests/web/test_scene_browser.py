"""The model in a real browser, drawn by software; where nothing can draw it the drawing stays."""

import json
import urllib.request
from pathlib import Path

import pytest
from browsing import FLAGS, WITHOUT, Watched, axe_source, settled, until
from served import CHROMIUM, DEMO

pytestmark = pytest.mark.skipif(
    not Path(CHROMIUM).exists(), reason=f"needs Debian's chromium at {CHROMIUM}"
)
DRAWS = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--ignore-gpu-blocklist"]


@pytest.fixture(scope="module", params=[DRAWS, WITHOUT], ids=["webgl", "no webgl"])
def browser(request):
    playwright = pytest.importorskip("playwright.sync_api")
    flags = [one for one in FLAGS if one != "--disable-gpu"] + request.param
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=flags)
        yield opened, request.param is DRAWS
        opened.close()


@pytest.fixture(scope="module")
def bed(server):
    body = json.dumps({"text": DEMO}).encode()
    request = urllib.request.Request(
        server.url + "/api/plans", body, {"content-type": "application/json"}
    )
    made = json.loads(urllib.request.urlopen(request, timeout=300).read())
    return f"{server.url}/plans/{made['id']}"


def test_a_page_weighs_little_and_the_model_is_fetched_only_where_it_is_drawn(browser, server, bed):
    """What goes over the line [kB], compressed: measured as 112 without the model, 300 with it."""
    chromium, draws = browser
    watched = Watched(chromium, server, viewport={"width": 1280, "height": 900})
    page, answers = watched.page, []
    page.on("requestfinished", lambda request: answers.append(request))
    page.goto(bed)
    if draws:
        page.wait_for_selector("#scene[data-shown]")
    settled(page)
    sizes = {one.url: one.sizes()["responseBodySize"] / 1e3 for one in answers}
    whole = sum(sizes.values())
    model = sum(size for url, size in sizes.items() if "/three-" in url or "/scene" in url)
    print(f"{whole:.0f} kB, of it the model {model:.0f}")
    assert whole - model < 140
    assert (100 < model < 220) if draws else model == 0
    fonts = [url for url in sizes if "/fonts/" in url]
    assert fonts
    assert all(url.endswith(".woff2") for url in fonts)
    for one in answers:
        kind = one.response().headers.get("content-type", "")
        if kind.startswith(("text/", "application/json")) and sizes[one.url] > 1.1:
            assert one.response().headers.get("content-encoding") == "gzip", one.url
    watched.context.close()
    assert watched.wrong == []


def test_the_model_is_pulled_turned_and_stormed_or_the_drawing_stays(browser, server, bed):
    chromium, draws = browser
    watched = Watched(chromium, server, viewport={"width": 1280, "height": 900})
    page = watched.page
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    if draws:
        page.add_init_script(f"({COUNTED})()")
    page.goto(bed)
    if not draws:
        settled(page)
        assert page.is_visible("#picture svg")
        assert page.is_hidden("#scene")
        watched.context.close()
        assert watched.wrong == []
        return
    page.wait_for_selector("#scene[data-shown]")
    until(page, "() => document.querySelector('#picture').hidden")
    _keys_change_the_plan(page)
    page.evaluate(SHONE)
    linked = page.evaluate("window.linked")
    # By now each has been drawn with shadows and, hurried, without.
    _keys_change_the_plan(page)
    page.evaluate(SHONE)
    assert page.evaluate("window.linked") == linked > 0, "a changed bed compiles no shader anew"
    _storm_is_told(page)
    _a_bed_tips_over_its_lee_board(page)
    assert not [url for url in asked if url.endswith("/days")]
    _a_day_is_told(page)
    assert len([url for url in asked if url.endswith("/days")]) == 1
    axe = axe_source()
    if axe:
        page.evaluate(axe)
        found = page.evaluate("axe.run('#main').then((found) => found.violations)")
        assert [one["id"] for one in found] == []
    wider = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(wider) <= 0, width
    watched.context.close()
    assert watched.wrong == []


def _a_day_is_told(page):
    """By keys: sides up at a June noon and down at night, then the bed under a storm again."""
    page.focus("#day-hour")
    page.keyboard.press("ArrowRight")
    until(page, "() => document.querySelector('.day-told').innerText.includes(' 1 pm: sun ')")
    noon = page.inner_text(".day-told")
    assert noon.startswith("Invented weather. A clear day: ")
    assert " June of the year worked out" in noon
    assert "°F inside" in noon
    assert page.input_value("#storm-snow") == "0"
    assert page.locator(".day-curves path").count() == 5
    shone = page.evaluate(SHONE)
    page.keyboard.press("End")
    assert "midnight: sun down; sides down" in page.inner_text(".day-told")
    assert page.evaluate(SHONE) != shone
    sizes = page.evaluate(
        "[...document.querySelectorAll('.day-curves text')].map((one) =>"
        " parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().d)"
    )
    assert min(sizes) >= 12
    page.select_option("#day-month", "1")
    assert "cover off" in page.inner_text(".day-told")
    page.evaluate("document.querySelector('#storm-gust').value = 60")
    page.dispatch_event("#storm-gust", "input")
    assert page.inner_text(".day-told").startswith("Move the slider")
    assert "At 60 mph" in page.inner_text(".storm-told")


#: Shaders linked so far, counted from before the page's own scripts on.
COUNTED = """() => {
  const made = WebGL2RenderingContext.prototype, link = made.linkProgram;
  window.linked = 0;
  made.linkProgram = function (...words) { window.linked += 1; return link.apply(this, words); };
}"""

#: The picture as it is drawn next, to tell it from another.
SHONE = """() => new Promise((done) => {
  const scene = document.getElementById("scene");
  const drawn = () => done(scene.querySelector("canvas").toDataURL());
  scene.addEventListener("drawn", drawn, { once: true });
  document.querySelector("[data-look=corner]").click();
})"""

TIPPED = """async () => {
  const { Model } = await import("/static/scene-model.js");
  const { bed } = await (await fetch(document.getElementById("scene").dataset.from)).json();
  const model = new Model(bed);
  model.show({ failed: new Set(["tips"]), strained: new Set(), windy: true });
  model.root.updateMatrixWorld(true);
  const place = model.moved.position.clone();
  const edges = [-bed.box.width / 2, bed.box.width / 2];
  return edges.map((side) => model.moved.localToWorld(place.set(0, 0, side)).y);
}"""


def _a_bed_tips_over_its_lee_board(page):
    windward, lee = page.evaluate(TIPPED)
    assert windward > 0.1
    assert abs(lee) < 0.02


def _keys_change_the_plan(page):
    handle = page.get_by_role("slider", name="Length")
    before = page.input_value("#choice-bed-length")
    handle.focus()
    page.keyboard.press("PageUp")
    assert handle.get_attribute("aria-valuetext") != before
    until(page, "was => document.querySelector('#choice-bed-length').value !== was", before)
    settled(page)
    said = page.input_value("#choice-bed-length")
    until(
        page,
        "said => document.querySelector('.handle').getAttribute('aria-valuetext') === said",
        said,
    )
    page.focus(".stage")
    page.keyboard.press("ArrowLeft")


def _storm_is_told(page):
    assert page.inner_text(".storm-told").startswith("Calm")
    page.evaluate("document.querySelector('#storm-gust').value = 115")
    page.dispatch_event("#storm-gust", "input")
    told = page.inner_text(".storm-told")
    assert "At 115 mph" in told
    assert "Given way on half of the beds" in told
    until(page, "() => [...document.querySelectorAll('.handle')].every((one) => one.hidden)")
    page.evaluate("document.querySelector('#storm-snow').value = 2")
    page.dispatch_event("#storm-snow", "input")
    assert "2 in of wet snow" in page.inner_text(".storm-told")
    assert page.input_value("#storm-gust") == "0"
