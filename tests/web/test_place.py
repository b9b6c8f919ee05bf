"""Monthly means and skyline typed in the browser: to the plan's keys, cell by cell."""

import random
import re
import tomllib

import pytest
from rounds import turns
from served import DEMO

from hoopwright.design.growing import exposure_of, normals_of
from hoopwright.plan import read_plan_text
from hoopwright.store.whole import damaged
from hoopwright.units import MONTH_NAMES
from hoopwright.web.months import columns

HIGH = (28, 32, 42, 52, 62, 72, 82, 80, 70, 57, 40, 29)
LOW = (8, 11, 20, 27, 35, 42, 48, 46, 38, 29, 18, 8)


def months(high=HIGH, low=LOW, **more):
    cells = {f"maximum.{n}": str(value) for n, value in enumerate(high)}
    cells |= {f"minimum.{n}": str(value) for n, value in enumerate(low)}
    for name, values in more.items():
        cells |= {f"{name}.{n}": str(value) for n, value in enumerate(values)}
    return cells


def text_of(client, plan):
    return client.get(f"/api{plan}/text").text


def comments(text):
    return re.findall(r"#.*", text)


def test_typed_means_are_those_of_the_plan_and_of_the_generator(client, plan):
    form = months(wet_days=range(12), wind=[7] * 12) | {"site.weather": "normals"}
    answer = client.post(f"{plan}/place/months", data=form)
    assert answer.status_code == 303, answer.text
    text = text_of(client, plan)
    data = tomllib.loads(text)
    assert data["normals"]["maximum"] == [f"{value} F" for value in HIGH]
    assert data["normals"]["wet_days"] == list(range(12))
    assert "sun_hours" not in data["normals"]
    assert comments(text) == comments(DEMO)
    found = normals_of(read_plan_text(text).plan)
    assert found.maximum[6] == pytest.approx((82 - 32) / 1.8)
    assert found.wind_speed[0] == pytest.approx(7 * 0.44704)
    page = client.get(f"{plan}/place?done=months").text
    assert 'value="82"' in page
    assert "Saved." in page
    assert client.post(f"{plan}/undo", data={"to": "place"}).headers["location"].endswith("/place")
    assert text_of(client, plan) == DEMO
    client.post(f"{plan}/redo")
    assert text_of(client, plan) == text


def test_a_cell_left_alone_keeps_its_words_and_one_with_a_unit_its_unit(client):
    wrote = ", ".join(['"-2 C"', *(f'"{value} F"' for value in HIGH[1:])])
    low = ", ".join(f'"{value} F"' for value in LOW)
    text = f"{DEMO}\n[normals]\nmaximum = [{wrote}]  # almanac\nminimum = [{low}]\n"
    plan = f"/plans/{client.post('/api/plans', json={'text': text}).json()['id']}"
    page = client.get(f"{plan}/place").text
    assert re.search(r'id="maximum-0" name="maximum.0" value="28.4"', page)
    high = ("28.4", *HIGH[1:6], "30 C", *HIGH[7:])
    client.post(f"{plan}/place/months", data=months(high))
    after = text_of(client, plan)
    assert after == text.replace('"82 F"', '"30 C"')


def test_a_metric_plan_shows_and_takes_metric_units(client, plan):
    client.patch(f"/api{plan}", json={"units": "metric"})
    high, low = [round((v - 32) / 1.8) for v in HIGH], [round((v - 32) / 1.8) for v in LOW]
    form = months(high, low, precipitation=[20] * 12)
    assert client.post(f"{plan}/place/months", data=form).status_code == 303
    data = tomllib.loads(text_of(client, plan))
    assert data["normals"]["maximum"][6] == "28 C"
    assert data["normals"]["precipitation"][0] == "20 mm"
    page = client.get(f"{plan}/place").text
    assert "Mean high [°C]" in page
    assert "−51 to 49 °C" in page


@pytest.mark.parametrize(
    ("form", "cell", "says"),
    [
        (months((*HIGH[:11], 500)), "maximum-11", "Accepted: −60 to 120 °F."),
        (months((*HIGH[:11], "warm")), "maximum-11", "Accepted: −60 to 120 °F."),
        (months((*HIGH[:11], "9 mph")), "maximum-11", "Accepted: −60 to 120 °F."),
        (months((*HIGH[:11], "")), "maximum-11", "Wanted: −60 to 120 °F."),
        (months(wet_days=[32] * 12), "wet_days-0", "Accepted: 0 to 31 days."),
        (months(wet_days=[1] * 11), "wet_days-11", "Wanted: 0 to 31 days."),
        (months(sun_hours=["nan"] * 12), "sun_hours-3", "Accepted: 0 to 24 hours."),
        (months(high=[""] * 12), "maximum-0", "Wanted: −60 to 120 °F."),
    ],
)
def test_a_refused_value_is_told_at_its_cell_and_nothing_is_saved(client, plan, form, cell, says):
    answer = client.post(f"{plan}/place/months", data=form)
    assert answer.status_code == 422
    assert re.search(
        rf'id="{cell}"[^>]*aria-invalid="true" aria-describedby="{cell}-p', answer.text
    )
    assert re.search(rf'id="{cell}-problem">{re.escape(says)}<', answer.text)
    assert f'href="#{cell}"' in answer.text
    assert 'value="82"' in answer.text or form["maximum.6"] != "82"
    assert text_of(client, plan) == DEMO


def test_means_that_do_not_go_together_are_told_above_the_table(client, plan):
    form = months(LOW, HIGH) | {"site.weather": "normals"}
    answer = client.post(f"{plan}/place/months", data=form)
    assert answer.status_code == 422
    assert "Mean low is not below" in answer.text
    form = months() | {"site.weather": "normals", "site.latitude": ""}
    answer = client.post(f"{plan}/place/months", data=form)
    assert answer.status_code == 422
    assert "are needed with normals" in answer.text
    stale = client.post(f"{plan}/place/months", data=months() | {"base": "77"})
    assert "changed since this page was opened" in stale.text
    assert text_of(client, plan) == DEMO


def test_emptied_means_go_and_a_plan_that_lives_on_them_keeps_them(client, plan):
    client.post(f"{plan}/place/months", data=months() | {"site.weather": "normals"})
    refused = client.post(f"{plan}/place/months", data={})
    assert refused.status_code == 422
    assert "is needed where site.weather is normals" in refused.text
    gone = client.post(f"{plan}/place/months", data={"site.weather": "demo"})
    assert gone.status_code == 303
    data = tomllib.loads(text_of(client, plan))
    assert "normals" not in data
    assert comments(DEMO) == [
        one for one in comments(text_of(client, plan)) if one != "# [normals]"
    ]


def sky(*points, **more):
    form = {}
    for place, (number, direction, height) in enumerate(points):
        form |= {f"direction.{place}": direction, f"height.{place}": height}
        form |= {} if number is None else {f"row.{place}": str(number)}
    return form | more


def test_the_skyline_gains_changes_and_loses_points(client, plan):
    before = exposure_of(read_plan_text(DEMO).plan, False)
    had = tomllib.loads(DEMO)["site"].get("skyline", [])
    count = len(had)
    kept = [(n, row["direction"], row["height"]) for n, row in enumerate(had)]
    more = sky(*kept, (None, "90", "12"), (None, "", ""), (None, "180 deg", "8.5"))
    assert client.post(f"{plan}/place/skyline", data=more).status_code == 303
    text = text_of(client, plan)
    rows = tomllib.loads(text)["site"]["skyline"]
    assert rows == [*had, {"direction": "90 deg", "height": "12 deg"}, rows[-1]]
    assert rows[-1] == {"direction": "180 deg", "height": "8.5 deg"}
    assert exposure_of(read_plan_text(text).plan, False).horizon != before.horizon
    assert comments(text) == comments(DEMO)
    page = client.get(f"{plan}/place").text
    assert page.count('name="direction.') == count + 2 + 3
    changed = sky(*kept, (count, "90", "20"), (count + 1, "180", "8.5"), remove=str(count + 1))
    assert client.post(f"{plan}/place/skyline", data=changed).status_code == 303
    rows = tomllib.loads(text_of(client, plan))["site"]["skyline"]
    assert rows == [*had, {"direction": "90 deg", "height": "20 deg"}]
    client.post(f"{plan}/undo")
    client.post(f"{plan}/undo")
    assert text_of(client, plan) == DEMO


@pytest.mark.parametrize(("direction", "height"), [("400", "5"), ("90", "85"), ("east", "5")])
def test_a_refused_point_is_told_at_its_cell(client, plan, direction, height):
    answer = client.post(f"{plan}/place/skyline", data=sky((None, direction, height)))
    assert answer.status_code == 422
    assert answer.text.count('aria-invalid="true"') == 1
    assert "Accepted: 0 deg to" in answer.text
    assert text_of(client, plan) == DEMO


def test_no_spoilt_table_breaks_the_server(client, plan):
    """Forms of nonsense: saved or refused in words, never a 5xx, and the plan still opens."""
    draw = random.Random(9)
    junk = [
        "",
        "5",
        "-5",
        "1e999",
        "nan",
        "9" * 300,
        "5 F",
        "½",
        "\x00",
        "<b>",
        "5;",
        "[",
        '"',
        "#",
    ]
    names = [column.name for column in columns(False)]
    for number in range(turns(200, 600)):
        if number % 2:
            form = {
                f"{draw.choice(names)}.{draw.randrange(14)}": draw.choice(junk) for _ in "x" * 40
            }
            form |= months() if number % 3 else {}
            answer = client.post(f"{plan}/place/months", data=form)
        else:
            points = [
                (draw.choice((None, None, 0, 1, 99)), draw.choice(junk), draw.choice(junk))
                for _ in range(draw.randrange(6))
            ]
            form = sky(*points, remove=draw.choice(("", "0", "x", "99")))
            answer = client.post(f"{plan}/place/skyline", data=form)
        assert answer.status_code in (303, 422), form
        assert "<b>" not in answer.text
    assert client.get(plan).status_code == 200
    assert client.get(f"{plan}/place").status_code == 200
    with client.app.state.store.reading() as base:
        assert damaged(base) == []


def test_every_cell_has_a_name_for_a_reader_of_the_screen(client, plan):
    page = client.get(f"{plan}/place").text
    for month in MONTH_NAMES:
        assert f'aria-label="{month}, mean high in °F"' in page
