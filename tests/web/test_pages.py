"""What the pages show and do, asked of the application itself."""

import csv
import io
import json
import re
import subprocess
import sys
import tomllib
import zipfile

import pytest
from markupsafe import escape
from served import DEMO, ROOT, seen

from hoopwright.sheet.cautions import SCREENS, cautions_on
from hoopwright.web.context import keys_called
from hoopwright.web.processes import WorkFailed

BY_HTMX = {"hx-request": "true"}
QUESTIONS = {
    "length": "10 ft",
    "width": "4 ft",
    "place": "Marrow Valley",
    "exposure": "open",
    "gust": "60 mph",
    "trouble": ["wind", "animals"],
    "crops": "tall",
    "item": "pvc40-1/2",
    "item_length": "10 ft",
    "count": "3",
}


def text_of(client, plan):
    return client.get(f"/api{plan}/text").text


def test_five_questions_begin_a_plan(client):
    made = client.post("/plans", data=QUESTIONS)
    assert made.status_code == 303
    data = tomllib.loads(text_of(client, made.headers["location"]))
    assert data["bed"]["length"] == "10 ft"
    assert data["site"]["gust"] == "60 mph"
    assert data["holding"]["pin"] is True
    assert data["wishes"]["animals"] == ["rabbit", "deer"]
    assert data["hoops"]["height"] == "48 in"
    assert data["stock"] == [{"item": "pvc40-1/2", "length": "10 ft", "count": 3}]
    page = client.get(made.headers["location"]).text
    assert 'id="bed"' in page
    assert "$" in page


@pytest.mark.parametrize(
    "changed", [{"length": "2.4 m", "width": "1.2 m", "metric": "yes", "gust": "100 km/h"}, {}]
)
@pytest.mark.parametrize("crops", ["low", "middle", "tall"])
def test_every_trouble_gives_a_plan_that_can_be_worked_out(client, crops, changed):
    troubles = ["frost", "wind", "hail", "animals", "heat"]
    made = client.post("/plans", data=QUESTIONS | changed | {"crops": crops, "trouble": troubles})
    assert made.status_code == 303, made.text
    assert client.get(made.headers["location"]).status_code == 200


def test_the_example_is_the_demo():
    from hoopwright.web.five_questions import example_text

    demo = (ROOT / "demo" / "high-valley.toml").read_text(encoding="utf-8")
    assert example_text() == demo, "copy demo/high-valley.toml to src/hoopwright/web/examples/"


def test_a_wrong_answer_is_named_and_nothing_begun(client):
    before = len(client.get("/api/plans").json())
    wrong = client.post("/plans", data=QUESTIONS | {"length": "twelve"})
    assert wrong.status_code == 422
    assert '<a href="#length">Length</a>: ' in wrong.text
    field = re.search(r'<input[^>]*id="length".*?</div>', wrong.text, re.S).group()
    assert 'aria-invalid="true"' in field
    assert "twelve" in re.search(r'id="length-problem">(.+?)</p>', field, re.S).group(1)
    assert 'value="10 ft"' not in wrong.text.split('id="width"')[0]
    assert len(client.get("/api/plans").json()) == before


def test_plans_in_the_list_have_names_of_their_own_a_picture_and_a_day(client):
    for _ in range(2):
        client.post("/plans", data=QUESTIONS)
    page = client.get("/").text
    names = re.findall(r'<a href="/plans/[^"]+">([^<]+)</a> <span class="of">\d+ \w+ 20\d\d<', page)
    assert len(set(names)) == len(names) >= 2
    svg = client.get(re.search(r'src="(/plans/[^"]+/thumbnail\.svg)"', page).group(1))
    assert svg.headers["content-type"].startswith("image/svg+xml")
    assert "<path" in svg.text or "<polyline" in svg.text
    assert "<text" not in svg.text


@pytest.mark.parametrize(
    "page", ["", "/limits", "/season", "/today", "/choose", "/evidence", "/take", "/work/changes"]
)
def test_every_page_opens(client, plan, page):
    assert client.get(plan + page).status_code == 200


def test_the_half_minute_opens_to_why(client, plan):
    """Plain links: each figure to what is asked and held, the inputs and the sources."""
    page = client.get(f"{plan}/limits").text
    assert page.index("Nine in ten stand") < page.index("Half stand") < page.index('id="ladder"')
    for rung in ("opens", "rail-ties-give", "pipe-cracks-wet", "hail-through-new"):
        assert f'href="{plan}/limits/why/{rung}"' in page
        why = client.get(f"{plan}/limits/why/{rung}").text
        assert "What moves it most" in why
        assert "From</dt>" in why
    assert "it holds" in client.get(f"{plan}/limits/why/opens").text
    gone = client.get(f"{plan}/limits/why/no-such-thing")
    assert gone.status_code == 404
    assert "no such figure" in gone.text


def test_pages_call_the_keys_of_a_plan_as_their_fields_are_called(client, plan):
    key = r"\b(?:site|holding|hoops|cover)\.[a-z_]+\b"
    page = client.get(f"{plan}/limits").text
    assert "(“Your pulls at the rail’s ties”)" in page
    for shown in (page, client.get(plan).text.split('id="answers-list"')[1]):
        # Names and addresses of the form keep the keys; words do not.
        assert not re.findall(key, re.sub(r"<[^>]*>", " ", shown))


def test_a_failure_of_ours_ends_in_words(client, plan, monkeypatch):
    def fails(task, *arguments, **options):
        raise WorkFailed(f"{task}: OSError: no room left")

    monkeypatch.setattr(client.app.state.processes, "ask", fails)
    answer = client.get(f"{plan}/take/drawings.zip")
    assert answer.status_code == 500
    assert "drawings: OSError: no room left." in answer.text
    assert "Try it once more." in answer.text


@pytest.mark.parametrize("screen", [name for name in SCREENS if name != "class"])
def test_every_screen_of_steps_or_storms_shows_its_cautions(client, plan, screen):
    page = client.get(plan if screen == "bed" else f"{plan}/{screen}").text
    for words in cautions_on(screen):
        assert str(escape(words)) in page


def test_a_change_redraws_all_and_keeps_comments(client, plan):
    form = {"bed.length": "10 ft", "base": seen(client, plan)}
    answer = client.post(f"{plan}/choices", data=form, headers=BY_HTMX)
    assert answer.status_code == 200
    assert 'id="answers-list" hx-swap-oob' in answer.text
    assert "<svg" in answer.text
    text = text_of(client, plan)
    assert tomllib.loads(text)["bed"]["length"] == "10 ft"
    comments = re.findall(r"#.*", DEMO)
    assert comments
    assert re.findall(r"#.*", text) == comments


def test_costs_and_ladder_on_the_page_are_those_of_the_command_line(client, plan, tmp_path):
    """The page and the CLI say the same of the same plan."""
    file = tmp_path / "bed.toml"
    file.write_text(text_of(client, plan), encoding="utf-8")
    told = json.loads(_cli("check", str(file), "--json"))
    ours = client.get(f"/api{plan}/check").json()
    assert ours == told
    assert f"${told['cost']['total']:,.2f}" in client.get(plan).text


def _cli(*words):
    done = subprocess.run(
        [sys.executable, "-m", "hoopwright", *words], capture_output=True, text=True, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_a_refused_change_says_why_and_changes_nothing(client, plan):
    before = text_of(client, plan)
    form = {"bed.length": "a mile", "base": seen(client, plan)}
    answer = client.post(f"{plan}/choices", data=form, headers=BY_HTMX)
    assert answer.status_code == 200
    slot = re.search(r'id="choice-bed-length-problem".*?</p>', answer.text).group()
    assert "Not changed" in slot
    assert text_of(client, plan) == before


def test_what_can_be_changed_is_changed_beside_what_cannot(client, plan):
    form = {"bed.length": "a mile", "bed.width": "40 in", "base": seen(client, plan)}
    client.post(f"{plan}/choices", data=form, headers=BY_HTMX)
    bed = tomllib.loads(text_of(client, plan))["bed"]
    assert (bed["length"], bed["width"]) == ("12 ft", "40 in")


def test_a_stale_form_overwrites_nothing_it_did_not_change(client, plan):
    """Two tabs: each changes its own field; the second was filled from the first revision."""
    base = seen(client, plan)
    client.post(f"{plan}/choices", data={"bed.length": "10 ft", "bed.width": "3 ft", "base": base})
    client.post(f"{plan}/choices", data={"bed.length": "12 ft", "bed.width": "40 in", "base": base})
    bed = tomllib.loads(text_of(client, plan))["bed"]
    assert (bed["length"], bed["width"]) == ("10 ft", "40 in")


def test_a_tick_taken_away_in_a_whole_form_is_a_no(client, plan):
    client.post(f"{plan}/choices", data={"holding.pin": "yes", "base": seen(client, plan)})
    assert tomllib.loads(text_of(client, plan))["holding"]["pin"] is True
    client.post(f"{plan}/choices", data={"bed.length": "10 ft", "base": seen(client, plan)})
    assert tomllib.loads(text_of(client, plan))["holding"]["pin"] is True
    whole = {"whole": "yes", "wishes.workers": ["adult", "child"], "base": seen(client, plan)}
    client.post(f"{plan}/choices", data=whole | {"cover.lacing": "yes"})
    data = tomllib.loads(text_of(client, plan))
    assert data["holding"]["pin"] is False
    assert data["wishes"]["animals"] == []
    assert data["wishes"]["workers"] == ["adult", "child"]


def test_undo_and_redo(client, plan):
    first = text_of(client, plan)
    client.post(f"{plan}/choices", data={"bed.length": "10 ft", "base": seen(client, plan)})
    second = text_of(client, plan)
    assert client.post(f"{plan}/undo", headers=BY_HTMX).status_code == 200
    assert text_of(client, plan) == first
    client.post(f"{plan}/redo")
    assert text_of(client, plan) == second


def test_height_takes_the_place_of_stock_length(client, plan):
    client.post(
        f"{plan}/choices",
        data={"hoops.height": "40 in", "base": seen(client, plan)},
        headers=BY_HTMX,
    )
    hoops = tomllib.loads(text_of(client, plan))["hoops"]
    assert hoops["height"] == "40 in"
    assert "stock_length" not in hoops


def test_things_at_hand_come_and_go(client, plan):
    row = {"item": "pvc40-1/2", "length": "10 ft", "count": "7"}
    assert client.post(f"{plan}/stock", data=row, headers=BY_HTMX).status_code == 200
    assert len(tomllib.loads(text_of(client, plan))["stock"]) == 2
    before = client.get(f"/api{plan}/order").json()["cost"]["total"]
    client.post(f"{plan}/stock/1/remove")
    assert len(tomllib.loads(text_of(client, plan))["stock"]) == 1
    assert client.get(f"/api{plan}/order").json()["cost"]["total"] > before
    wrong = client.post(f"{plan}/stock", data={"item": "moonbeam"}, headers=BY_HTMX)
    assert wrong.status_code == 422
    assert "moonbeam" in wrong.text


@pytest.mark.parametrize("view", ["bed", "turned", "plan", "side", "end", "leg", "gust", "snow"])
def test_views_are_drawn_and_remembered(client, plan, view):
    answer = client.post(f"{plan}/look", data={"view": view, "gust": "50", "turn": "200"})
    assert "<svg" in answer.text
    assert f'id="view-{view}" value="{view}" checked' in client.get(plan).text


def test_a_turned_bed_turns(client, plan):
    seen = {
        client.post(f"{plan}/look", data={"view": "turned", "turn": str(turn)}).text
        for turn in range(0, 360, 45)
    }
    assert len(seen) == 8


def test_a_stronger_gust_says_more(client, plan):
    """Every rung that half of the beds have passed by a gust is named, and none that is not."""
    rungs = client.get(f"/api{plan}/limits").json()["rungs"]
    for gust in (10, 60, 110):
        page = client.post(f"{plan}/look", data={"view": "gust", "gust": str(gust)}).text
        below = re.search(r'class="below".*?</p>', page, re.S).group()
        by_then = re.search(r"half of the beds: (.*?)\.", below)
        named = by_then.group(1).count(";") + 1 if by_then else 0
        passed = [r for r in rungs if r["hazard"] == "wind" and r["middle"] <= gust * 0.44704]
        assert named == len(passed)


def test_variants_stand_side_by_side_with_differences_marked(client, plan):
    other = client.post(f"{plan}/variant").headers["location"]
    client.post(f"{other}/choices", data={"hoops.spacing": "2 ft", "base": seen(client, other)})
    page = client.get(f"{plan}/choose").text
    assert page.count('class="drawn"') == 2
    row = re.search(r'<th scope="row">Widest gap between hoops</th>(.*?)</tr>', page, re.S).group(1)
    assert "differs" in row
    assert "2\N{NO-BREAK SPACE}ft" in row
    cost = re.search(r'<th scope="row">Cost</th>(.*?)</tr>', page, re.S).group(1)
    assert "differs" in cost
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))


def test_take_away(client, plan):
    pdf = client.get(f"{plan}/take/sheet.pdf")
    assert pdf.content.startswith(b"%PDF-")
    assert 'filename="juniper-bench-bed-7.pdf"' in pdf.headers["content-disposition"]
    assert client.get(f"{plan}/take/plan.toml").text == DEMO
    page = client.get(f"{plan}/take/sheet.html")
    assert "sandbox" in page.headers["content-security-policy"]
    with zipfile.ZipFile(io.BytesIO(client.get(f"{plan}/take/drawings.zip").content)) as packed:
        names = packed.namelist()
    assert "bed.dxf" in names
    assert "plan.svg" in names


def test_the_lists_agree_with_the_order(client, plan):
    order = client.get(f"/api{plan}/order").json()
    shopping = list(csv.DictReader(io.StringIO(client.get(f"{plan}/take/shopping.csv").text)))
    assert sum(float(row["total"]) for row in shopping) == pytest.approx(order["cost"]["total"])
    cuts = list(csv.DictReader(io.StringIO(client.get(f"{plan}/take/cuts.csv").text)))
    pieces = sum(len(s["pieces"]) for cut in order["sticks"] for s in cut["sticks"])
    sheets = sum(len(r["sheets"]) for cut in order["rolls"] for r in cut["rolls"])
    assert len(cuts) == pieces + sheets


def test_a_deleted_plan_is_gone(client, plan):
    client.post(f"{plan}/delete")
    gone = client.get(plan)
    assert gone.status_code == 404
    assert "No such plan" in gone.text


def test_every_key_of_the_plan_has_a_field(client, plan):
    """The page lacks nothing that a plan file can say, but files on disk and tables of rows."""
    from hoopwright.plan.model import Plan
    from hoopwright.plan.starter import key_shown

    page = client.get(plan).text
    for section, field in Plan.model_fields.items():
        inner = getattr(field.annotation, "model_fields", None)
        keys = {f"{section}.{name}": one for name, one in inner.items()} if inner else {}
        for name, one in (keys or {section: field}).items():
            on_disk = name in ("catalogue", "prices", "site.weather")
            if key_shown(one) is not None and not on_disk:
                assert f'name="{name}"' in page, name


@pytest.mark.parametrize(
    ("typed", "held"),
    [
        ("44.05, -110.3", ("44.05 N", "110.3 W")),
        ("44.05 n 110.3 w", ("44.05 N", "110.3 W")),
        ("-33.9; 151", ("33.9 S", "151 E")),
    ],
)
def test_the_place_is_taken_as_a_map_gives_it(client, typed, held):
    form = {"length": "10 ft", "width": "4 ft", "coordinates": typed, "elevation": "6200 ft"}
    made = client.post("/plans", data=form)
    assert made.status_code == 303
    text = client.get(f"{made.headers['location']}/take/plan.toml").text
    assert f'latitude = "{held[0]}"' in text
    assert f'longitude = "{held[1]}"' in text
    assert 'elevation = "6200 ft"' in text


def test_coordinates_that_are_none_are_refused_at_the_start_and_all_else_is_kept(client):
    form = {"length": "10 ft", "width": "4 ft", "coordinates": "over there", "elevation": "1 km"}
    refused = client.post("/plans", data=form)
    assert refused.status_code == 422
    assert "44.05, -110.3" in refused.text
    assert 'value="over there"' in refused.text


@pytest.mark.parametrize(
    ("weather", "then"), [("demo", ""), ("file", "/season#weather-title"), ("normals", "/place")]
)
def test_weather_of_ones_own_is_asked_for_next(client, weather, then):
    form = {"length": "10 ft", "width": "4 ft", "weather": weather}
    made = client.post("/plans", data=form).headers["location"]
    assert made.endswith(then)
    assert client.get(made).status_code == 200


def test_what_a_key_is_set_to_is_told_as_the_form_has_it():
    told = keys_called('(hoops.ridge = "pipe", hoops.brace = true; hoops.spacing; no.key = true)')
    assert told == (
        "(“Ridge line”: pipe, tick “Ridge tied back at the ends”; “Widest gap between hoops”; "
        "no.key = true)"
    )
