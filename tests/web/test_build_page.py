"""The Build page: cards, marks and shopping to tick off, kept with the plan and without a net."""

import re
from pathlib import Path

import pytest
from browsing import FLAGS, HIDDEN, Watched, axe_source, until
from served import CHROMIUM, DEMO

from hoopwright import design_of
from hoopwright.answers.facts import voice_of
from hoopwright.sheet.marks import marks_table
from hoopwright.web.beside import read_here


def boxes(client, plan):
    """Return each tick of the page by its key: whether it is on."""
    found = re.findall(
        r'<input type="checkbox" name="on" value="([^"]+)"([^>]*)>', _page(client, plan)
    )
    return {key: " checked" in rest for key, rest in found}


def _page(client, plan):
    answer = client.get(f"{plan}/build")
    assert answer.status_code == 200
    return answer.text


def test_every_mark_of_the_sheet_stands_on_the_page_to_tick(client, plan):
    design = design_of(read_here(DEMO))
    marks = [row[1] for row in marks_table(design, voice_of(design)).rows]
    page = re.sub(r"<[^>]+>", "", _page(client, plan)).replace("\N{NO-BREAK SPACE}", " ")
    for number, mark in enumerate(marks, start=1):
        assert f"Hoop {number}: {mark}" in page
    assert (
        sum(key.startswith("mark-") for key in boxes(client, plan))
        == len(marks)
        == len(design.hoops)
    )


def test_ticks_are_kept_with_the_plan_and_not_held_to_other_words(client, plan):
    before = boxes(client, plan)
    assert not any(before.values())
    first = next(iter(before))
    marks = [key for key in before if key.startswith("mark-")]
    form = {"shown": list(before), "on": [first, *marks]}
    assert client.post(f"{plan}/build/ticks", data=form).status_code == 303
    assert [key for key, on in boxes(client, plan).items() if on] == [first, *marks]
    assert "All marks are made" in _page(client, plan)
    form = {"shown": [first], "on": []}
    answer = client.post(f"{plan}/build/ticks", data=form, headers={"accept": "application/json"})
    assert answer.json()["at"] > 0
    assert not boxes(client, plan)[first]
    assert boxes(client, plan)[marks[0]]

    assert client.post(f"{plan}/choices", data={"bed.length": "14 ft"}).status_code == 200
    after = boxes(client, plan)
    moved = [key for key in after if key.startswith("mark-") and key not in before]
    assert moved
    assert not any(after[key] for key in moved)
    assert "Ticked before the plan changed" in _page(client, plan)


@pytest.mark.parametrize(
    "form",
    [
        {},
        {"shown": "nonsense"},
        {"shown": "step-" + "a" * 200 + "-01234567"},
        {"shown": [f"step-a{n}-01234567" for n in range(401)]},
    ],
)
def test_what_is_no_tick_is_refused_in_words(client, plan, form):
    answer = client.post(f"{plan}/build/ticks", data=form)
    assert answer.status_code == 422
    assert "no ticks" in answer.text
    assert not any(boxes(client, plan).values())


def test_ticks_of_a_plan_that_is_not_there_are_refused(client):
    form = {"shown": "step-mark-01234567", "on": "step-mark-01234567"}
    assert client.post("/plans/nobody/build/ticks", data=form).status_code == 404


def test_the_manifest_and_the_worker_are_ours(client, plan):
    manifest = client.get(f"{plan}/build.webmanifest")
    assert manifest.headers["content-type"].startswith("application/manifest+json")
    told = manifest.json()
    assert told["start_url"] == f"{plan}/build"
    assert all(icon["src"].startswith("/static/") for icon in told["icons"])
    assert "manifest-src 'self'" in manifest.headers["content-security-policy"]
    worker = client.get("/worker.js")
    assert worker.headers["content-type"].startswith("text/javascript")


@pytest.fixture(scope="module")
def browser():
    if not Path(CHROMIUM).exists():
        pytest.skip(f"needs Debian's chromium at {CHROMIUM}")
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


def begun(server, text=DEMO):
    import json
    import urllib.request

    body, kind = json.dumps({"text": text}).encode(), {"content-type": "application/json"}
    request = urllib.request.Request(server.url + "/api/plans", body, kind)
    made = json.loads(urllib.request.urlopen(request, timeout=300).read())
    return f"{server.url}/plans/{made['id']}/build"


def test_opened_once_it_ticks_and_turns_cards_without_a_connection(browser, server):
    watched = Watched(browser, server, viewport={"width": 390, "height": 844})
    page, address = watched.page, begun(server)
    page.goto(address)
    until(page, "() => document.querySelector('#build').dataset.kept === 'yes'")
    assert watched.wrong == []

    watched.context.set_offline(True)
    page.reload()
    assert page.locator(".card:visible").count() == 1
    assert page.inner_text(".card:visible h3").startswith("Step 1 of")
    page.click("#card-next")
    assert page.inner_text(".card:visible h3").startswith("Step 2 of")
    assert page.evaluate("document.activeElement.matches('.card h3')")
    ticked = page.locator(".card:visible .card-done input[type=checkbox]")
    ticked.check()
    key = ticked.input_value()
    until(page, "() => document.querySelector('#kept').innerText.includes('1 tick is kept')")
    page.reload()
    assert page.is_checked(f"#{key}")
    mark = page.locator("[data-figure]")
    page.evaluate("location.hash = document.querySelector('#marks').closest('.card').id")
    page.wait_for_selector("#marked")
    first = mark.inner_text()
    page.click("#marked")
    assert mark.inner_text() != first
    # A page that was never opened is not there, and that is said.
    page.goto(address.removesuffix("/build") + "/limits")
    assert "No connection to the server" in page.inner_text("main")
    page.click("text=Build page 1")
    page.wait_for_selector(".card")

    watched.context.set_offline(False)
    page.reload()
    until(page, "() => document.querySelector('#kept').innerText.startsWith('All ticks')")
    assert page.is_checked(f"#{key}")
    other = Watched(
        browser, server, viewport={"width": 390, "height": 844}, java_script_enabled=False
    )
    other.page.goto(address)
    assert other.page.is_checked(f"#{key}")
    assert other.page.locator(".card:visible").count() > 10
    other.page.uncheck(f"#{key}")
    other.page.click("text=Keep the ticks >> nth=-1")
    assert not other.page.is_checked(f"#{key}")
    for one in (watched, other):
        one.context.close()
        # While it is offline the browser itself remarks on what could not be fetched.
        assert [w for w in one.wrong if "net::ERR" not in w and "503" not in w] == []


def test_without_https_on_a_network_it_says_so_and_an_open_page_goes_on(browser, server):
    """A browser gives a page over plain http no service worker, but on the machine itself."""
    watched = Watched(browser, server, viewport={"width": 390, "height": 844})
    page, address = watched.page, begun(server)
    page.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false })")
    page.goto(address)
    until(page, "() => document.querySelector('#kept').innerText.includes('https')")
    assert "leave the page open and it goes on without a connection" in page.inner_text("#kept")
    assert (
        page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    )
    watched.context.set_offline(True)
    page.click("#card-next")
    assert page.inner_text(".card:visible h3").startswith("Step 2 of")
    page.locator(".card:visible .card-done input[type=checkbox]").check()
    until(page, "() => document.querySelector('#kept').innerText.includes('1 tick is kept')")
    watched.context.set_offline(False)
    until(page, "() => document.querySelector('#kept').innerText.startsWith('All ticks')")
    watched.context.close()
    assert [w for w in watched.wrong if "net::ERR" not in w] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_by_keyboard_on_a_phone_nothing_with_the_focus_is_hidden(browser, server, scheme):
    looks = {"viewport": {"width": 390, "height": 600}, "color_scheme": scheme}
    watched = Watched(browser, server, **looks)
    page = watched.page
    page.goto(begun(server))
    page.focus("#marked") if page.is_visible("#marked") else None
    seen = set()
    for _ in range(120):
        page.keyboard.press("Tab")
        told = page.evaluate(HIDDEN)
        assert told["hidden"] is False, told
        seen.add(told["id"])
        if told["id"] == "card-next":
            break
    assert "card-next" in seen
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.matches('.card:not([hidden]) h3')")
    sizes = page.evaluate(SMALLEST)
    assert sizes >= 12, sizes
    axe = axe_source()
    if axe:
        page.evaluate(axe)
        found = page.evaluate("axe.run(document).then((found) => found.violations)")
        assert [(one["id"], one["nodes"][0]["html"][:200]) for one in found] == []
    watched.context.close()
    assert watched.wrong == []


#: The smallest letters of all pictures [px], as they stand on this screen.
SMALLEST = """() => Math.min(...[...document.querySelectorAll('.card')].flatMap((card) => {
  const was = card.hidden;
  card.hidden = false;
  const sizes = [...card.querySelectorAll('svg text')].map((text) =>
    parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().d);
  card.hidden = was;
  return sizes;
}))"""
