"""The model's numbers over the web: asked, bent by a pulled size, refused in words."""

import json


def test_the_scene_is_the_bed_with_its_storm_and_its_handles(client, plan):
    told = client.get(f"{plan}/scene").json()
    handles = {one["key"]: one for one in told["bed"]["handles"]}
    assert set(handles) == {"bed.length", "bed.width", "hoops.height", "hoops.spacing"}
    width = handles["bed.width"]
    assert width["low"] < width["value"] < width["high"]
    assert abs(width["high"] - 8 * 0.3048) < 1e-9  # the plan's own range
    assert {"wind", "snow"} == set(told["storm"])
    page = client.get(plan).text
    for one in handles.values():
        assert f'id="{one["field"]}"' in page


def test_a_pulled_size_bends_the_hoop_and_saves_nothing(client, plan):
    before = client.get(f"{plan}/scene").json()["bed"]
    bent = client.post(f"{plan}/bend", data={"bed.width": "44 in"}).json()
    assert bent["box"]["width"] > before["box"]["width"]
    tops = [max(y for _, y in bed["hoops"]["line"]) for bed in (before, bent)]
    # The same pipe over a wider bed stands lower.
    assert tops[1] < tops[0]
    assert client.get(f"{plan}/scene").json()["bed"] == before


def test_a_size_that_cannot_be_is_refused_in_words(client, plan):
    answer = client.post(f"{plan}/bend", data={"bed.width": "40 ft"})
    assert answer.status_code == 422
    assert "Width" in answer.json()["problems"][0]
    assert "8 ft" in answer.json()["problems"][0]


def test_numbers_go_compressed(client, plan):
    plain = client.get(f"{plan}/scene", headers={"accept-encoding": "identity"})
    small = client.get(f"{plan}/scene", headers={"accept-encoding": "gzip"})
    assert small.headers["content-encoding"] == "gzip"
    assert int(small.headers["content-length"]) < 0.5 * len(json.dumps(plain.json()))


def test_the_page_says_in_short_how_the_bed_stands_and_offers_the_next_step(client, plan):
    page = client.get(plan).text
    short = page[page.index('id="verdict"') : page.index('id="status"')]
    for word in ("Fits", "Wind", "Snow", "Cost", "Warmth", "Work it out"):
        assert word in short
