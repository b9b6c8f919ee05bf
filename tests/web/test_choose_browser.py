"""The page Choose in a real browser: a design found is taken and undone by keyboard alone."""

from pathlib import Path

import pytest
from browsing import FLAGS, WITHOUT, Watched, axe_source, go_to
from served import CHROMIUM, DEMO, Server
from small_search import WISHES, keep, small_search

from hoopwright.store import Store
from hoopwright.web.beside import Beside, read_here

pytestmark = pytest.mark.skipif(
    not Path(CHROMIUM).exists(), reason=f"needs Debian's chromium at {CHROMIUM}"
)


@pytest.fixture(scope="module")
def chosen(tmp_path_factory):
    """A server whose example has a search behind it, and that plan's page."""
    own, read = Server(tmp_path_factory.mktemp("chosen")), read_here(DEMO)
    beside = Beside(wishes=WISHES)
    with pytest.MonkeyPatch.context() as patch, Store(own.folder) as store:
        plan = store.plans.add("local", "Juniper Bench, bed 7", DEMO).id
        keep(store, plan, "choose", read, beside, small_search(DEMO, beside, patch))
    own.start()
    yield own, f"{own.url}/plans/{plan}"
    own.stop()


@pytest.fixture(scope="module")
def chromium():
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as driver:
        yield driver.chromium.launch(executable_path=CHROMIUM, args=[*FLAGS, *WITHOUT])


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_a_design_is_taken_and_undone_by_keyboard_alone(chosen, chromium, width, scheme):
    own, bed = chosen
    looks = {"viewport": {"width": width, "height": 844}, "color_scheme": scheme}
    watched = Watched(chromium, own, **looks)
    page = watched.page
    page.goto(f"{bed}/choose")
    wider = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(wider) <= 0
    axe = axe_source()
    if axe is not None:
        page.evaluate(axe)
        assert page.evaluate("axe.run(document)")["violations"] == []

    go_to(page, ".designs li:last-child button")
    page.keyboard.press("Enter")
    page.wait_for_url(bed)
    assert page.is_enabled("#undo")
    go_to(page, "#undo")
    page.keyboard.press("Enter")
    page.wait_for_selector("#undo[disabled]")
    page.goto(f"{bed}/choose")
    assert page.locator(".designs li").count() >= 1
    watched.context.close()
    assert watched.wrong == []
