"""Plans side by side, better and worse; the designs of a search taken, undone and held beside."""

import re
import time
from types import SimpleNamespace

import pytest
from served import DEMO
from small_search import WISHES, keep, small_search

from hoopwright.web.beside import Beside, read_here
from hoopwright.web.pace import Pace, StagePace, time_told, time_words


def test_plans_side_by_side_say_what_is_better_and_what_is_worse(client, plan):
    other = client.post(f"{plan}/variant").headers["location"]
    client.patch(f"/api{other}", json={"hoops.spacing": "18 in"})
    client.post(f"{plan}/choose/beside", data={"beside": other.split("/")[-1]})
    end = time.monotonic() + 240
    while "Table: better and worse" not in (page := client.get(f"{plan}/choose").text):
        assert time.monotonic() < end
        time.sleep(0.3)

    def senses(what):
        row = re.search(rf'<th scope="row">{what}</th>(.*?)</tr>', page, re.S).group(1)
        return re.findall(r'class="sense">(\w+)<', row)

    # More hoops cost more and stand more wind; the first plan is what others are held against.
    assert senses("Cost") == ["worse"]
    assert senses("Gust to plan for") == ["better"]
    assert "(variant 2): better in" in page
    assert 'class="worse"' in page
    # The choice is there when the page is opened again, and the answer with it.
    assert "checked> Juniper Bench, bed 7 (variant 2)" in client.get(f"{plan}/choose").text


@pytest.fixture
def found(client, plan, monkeypatch):
    """A search of a few designs, so that it is quick, kept as a job would keep it."""
    read, beside, told = read_here(DEMO), Beside(wishes=WISHES), []
    result = small_search(DEMO, beside, monkeypatch, lambda share, says: told.append(says))
    assert "4 of 4 designs weighed, every one." in told
    keep(client.app.state.store, plan.split("/")[-1], "choose", read, beside, result)
    return result


def test_a_design_that_was_found_is_taken_undone_and_held_beside(client, plan, found):
    page = client.get(f"{plan}/choose").text
    assert page.count("Take this design") == len(found["few"]) >= 1
    assert found["few"][0]["place"].endswith("nearest to the best in all at once")
    # The careful end comes first.
    assert all(one["does"].startswith("Plan for gusts up to ") for one in found["few"])
    number = next(
        n for n, one in enumerate(found["few"], 1) if "As the plan is" not in one["against"]
    )
    assert client.post(f"{plan}/choose/{number}").headers["location"] == plan
    cost = client.get(f"/api{plan}/order").json()["cost"]["total"]
    assert f"${cost:,.2f}" in found["few"][number - 1]["does"]
    client.post(f"{plan}/undo")
    assert client.get(f"/api{plan}").json()["text"] == DEMO
    assert client.post(f"{plan}/choose/{number}", data={"beside": "yes"}).status_code == 303
    assert client.get(f"/api{plan}").json()["text"] == DEMO
    page = client.get(f"{plan}/choose").text
    assert page.count('class="drawn"') == 2
    assert client.post(f"{plan}/choose/99").status_code == 409


def test_a_wish_that_cannot_be_read_is_said_at_its_field(client, plan):
    answer = client.post(f"{plan}/choose/search", data={"hold": "60", "cost": "much"})
    assert answer.status_code == 422
    assert re.search(r'id="wish-hold-problem">[^<]*unit', answer.text)
    assert "is no number; write it like 250" in answer.text
    assert 'value="much"' in answer.text
    assert client.get(f"/api{plan}/work/choose").json()["job"] is None


def test_a_search_is_begun_goes_on_unwatched_and_is_cancelled(client, plan):
    client.post(f"{plan}/choose/search", data={"hold": "30 mph"})
    page = client.get(f"{plan}/choose").text
    assert "<progress" in page
    assert 'value="30 mph"' in page
    client.post(f"{plan}/work/choose/cancel")
    assert "Cancelled." in client.get(f"{plan}/choose").text


def test_the_time_left_is_told_from_the_pace_since_the_first_news():
    """Compiling and starting are no part of the pace; a pace not yet known is not told."""
    pace = Pace()
    pace.heard(100.0, 0.02)
    assert pace.words(101.0) == ""
    pace.heard(102.0, 0.04)
    assert pace.words(102.0) == ""
    pace.heard(110.0, 0.12)
    assert pace.left(110.0) == pytest.approx(88.0)
    assert pace.left(115.0) == pytest.approx(83.0)
    assert pace.words(130.0) == " About 70 s more."
    # Quicker news, by what was done since 110 s: its own end would be at 169 s, and half of the
    # 198 s thought before stands.
    pace.heard(130.0, 0.42)
    assert pace.left(130.0) == pytest.approx((198.0 + 130.0 + 20.0 / 0.30 * 0.58) / 2 - 130.0)
    assert pace.words(200.0) == " Longer than it looked; not long now."


def test_work_in_stages_is_told_by_what_each_takes_in_the_run(monkeypatch):
    """The first stage took twice what was thought, the rest is put right by it: 4 s of 16."""
    clock, told = iter([0.0, 1.0, 4.0, 10.0, 16.0]), []
    monkeypatch.setattr("hoopwright.web.pace.time", SimpleNamespace(monotonic=lambda: next(clock)))
    pace = StagePace(lambda share, says: told.append(share), {"one": 2.0, "two": 6.0})
    pace.tell("one", 0.5, "")
    pace.thought["two"] = 12.0
    pace.tell("two", 0.0, "")
    pace.tell("two", 0.5, "")
    pace.tell("two", 1.0, "")
    # Half done at 1 s: 0.5 x (1 + 0.5 x 2) + 6 = 7 left. Then 12 of 16; 6 of 16; none.
    assert told == pytest.approx([1 / 8, 4 / 16, 10 / 16, 1.0])


@pytest.mark.parametrize(
    ("seconds", "told"),
    [
        (0.2, "1 s"),
        (7.4, "8 s"),
        (44.0, "45 s"),
        (91.0, "100 s"),
        (120.0, "2 min"),
        (121.0, "2 ½ min"),
        (600.0, "10 min"),
    ],
)
def test_a_time_is_told_to_its_unit(seconds, told):
    assert time_told(seconds) == told
    if seconds >= 10.0:
        assert time_words(seconds) == f"About {told} more."
