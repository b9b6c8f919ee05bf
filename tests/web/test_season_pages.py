"""The season and the coming days on the page, from the same work as the command line's."""

import datetime
import os
import random
import re
from pathlib import Path

import pytest
from served import DEMO, ROOT
from test_jobs import wait_for

from hoopwright.season.crops import crops
from hoopwright.web.editing import edited

#: No place given, so no forecast service is asked; few years and crops, so that it is soon done.
PLACELESS = re.sub(r"(latitude|longitude).*\n", "", DEMO)
QUICK = edited(PLACELESS, {"season.years": "6", "season.crops": "lettuce-leaf, tomato, kale"})


def done(client, plan, kind):
    client.post(f"{plan}/work/{kind}")

    def over():
        shown = client.get(f"/api{plan}/work/{kind}").json()
        assert shown["job"]["state"] not in ("failed", "cancelled"), shown
        return shown["result"] if shown["job"]["state"] == "done" else None

    return wait_for(over, 180)


@pytest.fixture(scope="module")
def grown(client):
    """A plan whose season has been worked out, and the result."""
    made = client.post("/api/plans", json={"text": QUICK})
    assert made.status_code == 201, made.text
    plan = f"/plans/{made.json()['id']}"
    before = client.get(plan).text
    assert "Not worked out for this plan" in before
    assert client.get(f"{plan}/take/calendar.ics").status_code == 409
    return plan, done(client, plan, "season")


def test_the_season_page_shows_dates_plots_and_calendar(client, grown):
    plan, result = grown
    page = client.get(f"{plan}/season").text
    assert page.count('class="chart"') >= 6
    for grid in result["grids"]:
        assert grid["rows"][0][0] in page
        assert page.count(f'aria-label="Table: {grid["title"]}"') == 1
        assert grid["title"] in _section_of(page, f'aria-label="Table: {grid["title"]}"')
    assert "not a forecast" in page
    # Every figure of the demo valley is marked where it stands.
    for one in (*(plot["svg"] for plot in result["plots"]), *(g["note"] for g in result["grids"])):
        assert "Invented weather" in one
    assert result["short"]["says"].startswith("Invented weather. ")
    assert "invented weather" in result["short"]["short"]
    assert "Invented weather" in client.get(f"{plan}/season/day?day=100").text
    assert "invented weather" in client.get(plan).text


def _section_of(page, mark):
    """Return the headings of the section that a mark stands in, and nothing else."""
    at = page.index(mark)
    section = page[page.rindex("<section", 0, at) : page.index("</section>", at)]
    return re.findall(r"<h[23][^>]*>([^<]*)</h[23]>", section)


def test_degrees_and_days_stand_on_the_workbench(client, grown):
    plan, result = grown
    page = client.get(plan).text
    section = re.search(r'data-answer="season".*?</section>', page, re.S).group()
    words = result["short"]["says"].replace(" ", " ").split("(")[0].strip()
    assert words.split()[-1] in section
    assert "Not worked out" not in section


def test_comments_and_title_do_not_undo_it_but_a_choice_does(client, grown):
    plan, _ = grown
    text = client.get(f"/api{plan}/text").text
    client.put(f"/api{plan}", json={"text": text + "# a note\n"})
    client.patch(f"/api{plan}", json={"name": "Another title"})
    assert "Not worked out" not in client.get(plan).text
    client.patch(f"/api{plan}", json={"bed.length": "9 ft"})
    assert "Not worked out" in client.get(plan).text
    client.post(f"{plan}/undo")
    assert "Not worked out" not in client.get(plan).text


def test_a_day_says_what_the_data_say(client, grown):
    plan, result = grown
    for day in (0, 100, 200, 364):
        page = client.get(f"{plan}/season/day", params={"day": day}).text
        date = datetime.date(2001, 1, 1) + datetime.timedelta(days=day)
        assert f"{date.day} {date:%B}" in page
        for curve in result["data"]["frost_curves"].values():
            assert f"{round(100 * curve['chance'][day])} %" in page.replace("\xa0", " ")
        for crop, row in result["data"]["crops"].items():
            covered = list(row.values())[1]
            can = any(one["first"] <= day <= one["last"] for one in covered["stretches"])
            last = page.split("Can be started,")[-1]
            assert (crops()[crop].name in last) == can


def test_the_calendar_reads_back_in_a_general_library(client, grown):
    icalendar = pytest.importorskip("icalendar")
    plan, _ = grown
    answer = client.get(f"{plan}/take/calendar.ics")
    assert answer.status_code == 200
    held = icalendar.Calendar.from_ical(answer.content)
    events = list(held.walk("VEVENT"))
    assert len(events) > 5
    year = datetime.date.today().year + 1
    assert all(str(part["DTSTART"].dt)[:4] in (str(year), str(year + 1)) for part in events)


def test_the_coming_days_without_a_place_are_typical_ones_and_say_so(client, grown):
    plan, _ = grown
    assert "no forecast is asked" in client.get(f"{plan}/today").text
    result = done(client, plan, "today")
    assert len(result["days"]) >= 2
    page = client.get(f"{plan}/today").text
    assert "not what is coming" in page
    assert "Ask again" in page
    assert "Night:" in page


SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", ROOT.parent / "shared")) / "weather"


def test_a_weather_file_of_ones_own(client):
    files = sorted(SHARED.glob("*.epw"))
    if not files:
        pytest.skip(f"no weather files in {SHARED}; set HOOPWRIGHT_SHARED")
    plan = f"/plans/{client.post('/api/plans', json={'text': QUICK}).json()['id']}"
    sent = {"file": ("../../own.epw", files[0].read_bytes(), "text/plain")}
    assert client.post(f"{plan}/weather", files=sent).status_code == 303
    page = client.get(f"{plan}/season").text
    assert "a year of hours of" in page
    assert "Work it out" in page
    result = done(client, plan, "season")
    assert "Marrow Valley" not in result["origin"]
    assert client.post(f"{plan}/weather/forget").status_code == 303
    assert "invented demo valley" in client.get(f"{plan}/season").text


def test_what_is_no_weather_is_refused_in_words(client, plan):
    draw = random.Random(4)
    header = b"LOCATION,Here,-,-,-,-,45.0,-110.0,-7.0,1500.0\n"
    for body in (
        b"",
        b"\x00" * 5000,
        b"not weather",
        header,
        header + bytes(draw.randrange(256) for _ in range(20_000)),
        b"," * 100_000,
    ):
        answer = client.post(f"{plan}/weather", files={"file": ("x", body, "text/plain")})
        assert answer.status_code == 422
        assert "The weather file x cannot be used" in answer.text
        assert "/tmp" not in answer.text
    assert client.app.state.store.weathers.of(plan.rpartition("/")[2]) is None


def test_anothers_plan_takes_no_weather(client, plan):
    sent = {"file": ("x", b"not weather", "text/plain")}
    assert client.post("/plans/nobodys/weather", files=sent).status_code == 404


def test_a_variant_keeps_the_weather_of_its_plan(client, plan):
    store = client.app.state.store
    store.weathers.put("local", plan.rpartition("/")[2], "own.epw", "a year", b"hours")
    copy = client.post(f"{plan}/variant").headers["location"].rpartition("/")[2]
    assert store.weathers.of(copy) == store.weathers.of(plan.rpartition("/")[2])
    assert store.weathers.body(copy) == b"hours"
