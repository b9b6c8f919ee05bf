"""A class made, kept, ordered and printed in the browser; the command line reads the same file."""

import io
import re
import time
import tomllib
import zipfile

import pytest

from hoopwright.programme.class_file import read_class
from hoopwright.programme.class_work import work_out
from hoopwright.web.choices import choices
from hoopwright.web.households import ClassForm, FormError, class_text, kept_form, pasted

ROWS = {"household": ["Ana", "Bo", ""], "differs-1-bed.box": ["standing"]} | {
    "bed.length": ["", "8 ft", ""],
    "bed.width": ["", "3 ft", ""],
    "hoops.pipe": ["", "", ""],
    "hoops.stock_length": ["", "8 ft", ""],
}

#: As the plan's form calls fabric-1.5.
FABRIC = next(one.label for one in choices()["cover.material"].options if one.value == "fabric-1.5")


def test_a_class_is_kept_ordered_and_printed(client, plan, tmp_path):
    kept = client.post(f"{plan}/class", data=ROWS | {"budget": ["100"], "day": ["2027-04-17"]})
    assert kept.status_code == 303, kept.text
    page = client.get(f"{plan}/class").text
    assert 'value="Bo"' in page
    assert re.search(r'name="differs-1-bed.box".*?<option value="standing" selected>', page)
    client.post(f"{plan}/work/class")
    end = time.monotonic() + 240
    while "All sheets of the class" not in page:
        assert time.monotonic() < end
        time.sleep(0.3)
        page = client.get(f"{plan}/class").text
    assert "Over the budget" in page
    packed = zipfile.ZipFile(io.BytesIO(client.get(f"{plan}/class/sheets.zip").content))
    assert {"order.pdf", "cutting-station.pdf", "kit-A.pdf", "card-B.pdf", "labels.pdf"} <= set(
        packed.namelist()
    )
    assert "sheets of paper, front and back" in page
    # The file taken away gives the command line the same order.
    file = tmp_path / "class.toml"
    file.write_bytes(client.get(f"{plan}/class/class.toml").content)
    worked = work_out(read_class(file))
    assert f"{worked.order.total:,.2f}" in page
    assert [bed.household for bed in worked.source.beds] == ["Ana", "Bo"]
    assert worked.designs["B"].bed.outer_length == pytest.approx(8 * 0.3048)


def test_a_bed_that_cannot_be_is_said_where_and_nothing_is_kept(client, plan):
    wrong = ROWS | {"bed.length": ["a mile", "", ""]}
    answer = client.post(f"{plan}/class", data=wrong)
    assert answer.status_code == 422
    assert "bed A" in answer.text
    assert "a mile" in answer.text
    assert client.get(f"{plan}/class/class.toml").status_code == 404


def test_no_file_of_the_servers_is_read_for_a_class(client, plan):
    for key in ("plan", "prices"):
        answer = client.post(f"{plan}/class", data=ROWS | {f"differs-2-{key}": ["/etc/passwd"]})
        assert answer.status_code == 422
        assert "root:" not in answer.text


def test_thirty_households_are_pasted_from_a_spreadsheet(client, plan):
    lines = ["Household\tbed.length\tWidth\tFilm, fabric or mesh"]
    lines += [f"Household {n}\t{8 + n % 3} ft\t3 ft\t{FABRIC}" for n in range(1, 31)]
    assert client.post(f"{plan}/class", data={"pasted": "\n".join(lines)}).status_code == 303
    data = tomllib.loads(client.get(f"{plan}/class/class.toml").text)
    assert len(data["beds"]) == 30
    assert data["beds"][3] == {
        "household": "Household 4",
        "bed": {"length": "9 ft", "width": "3 ft"},
        "cover": {"material": "fabric-1.5"},
    }


def test_a_form_comes_back_as_it_was_kept():
    form = ClassForm(
        pasted("Ana, 8 ft, 3 ft\nBo, , "), budget="2500", missing=(("pvc40-1/2", "10 ft", ""),)
    )
    back = kept_form(class_text(form))
    assert back == form


def test_what_else_differs_is_picked_by_its_name_and_kept_under_its_key(client, plan):
    """Without a script: a field is asked for, comes back empty, is filled in, and goes again."""
    form = {key: value for key, value in ROWS.items() if "differs" not in key}
    asked = {"add": "yes", "of": "2", "what": "bed.box", "pasted": "Cy\t9 ft"}
    page = client.post(f"{plan}/class", data=form | asked).text
    offered = re.search(r'name="what">(.*?)</select>', page).group(1)
    assert '<option value="cover.material">Film, fabric or mesh</option>' in offered
    assert "bed.length" not in offered
    assert '<label>Box <select name="differs-2-bed.box"' in re.sub(r"\s+", " ", page)
    assert "Cy\t9 ft</textarea>" in page
    assert client.get(f"{plan}/class/class.toml").status_code == 404

    def kept(value):
        client.post(f"{plan}/class", data=form | {"differs-2-bed.box": value})
        return tomllib.loads(client.get(f"{plan}/class/class.toml").text)["beds"]

    assert kept("standing")[1]["bed"] == {"length": "8 ft", "width": "3 ft", "box": "standing"}
    assert kept("")[1]["bed"] == {"length": "8 ft", "width": "3 ft"}
    assert 'name="differs-2' not in client.get(f"{plan}/class").text


@pytest.mark.parametrize(
    ("text", "says"), [("Household\tcolour\nAna\tred", "colour"), ("name\tbed.length\tfoo", "foo")]
)
def test_a_column_that_is_not_known_is_named(text, says):
    with pytest.raises(FormError, match=says):
        pasted(text)
