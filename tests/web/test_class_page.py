"""A class made, kept, ordered and printed in the browser; the command line reads the same file."""

import io
import time
import tomllib
import zipfile

import pytest

from hoopwright.programme.class_file import read_class
from hoopwright.programme.class_work import work_out
from hoopwright.web.households import ClassForm, FormError, class_text, form_of, pasted

ROWS = {"household": ["Ana", "Bo", ""], "other": ["bed.box = standing", "", ""]} | {
    "bed.length": ["", "8 ft", ""],
    "bed.width": ["", "3 ft", ""],
    "hoops.pipe": ["", "", ""],
    "hoops.stock_length": ["", "8 ft", ""],
}


def test_a_class_is_kept_ordered_and_printed(client, plan, tmp_path):
    kept = client.post(f"{plan}/class", data=ROWS | {"budget": ["100"], "day": ["2027-04-17"]})
    assert kept.status_code == 303, kept.text
    page = client.get(f"{plan}/class").text
    assert 'value="Bo"' in page
    assert 'value="bed.box = standing"' in page
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
        answer = client.post(
            f"{plan}/class", data=ROWS | {"other": [f"{key} = /etc/passwd", "", ""]}
        )
        assert answer.status_code == 422
        assert "root:" not in answer.text


def test_thirty_households_are_pasted_from_a_spreadsheet(client, plan):
    lines = ["Household\tbed.length\tWidth"]
    lines += [f"Household {n}\t{8 + n % 3} ft\t3 ft" for n in range(1, 31)]
    assert client.post(f"{plan}/class", data={"pasted": "\n".join(lines)}).status_code == 303
    data = tomllib.loads(client.get(f"{plan}/class/class.toml").text)
    assert len(data["beds"]) == 30
    assert data["beds"][3] == {
        "household": "Household 4",
        "bed": {"length": "9 ft", "width": "3 ft"},
    }


def test_a_form_comes_back_as_it_was_kept():
    form = ClassForm(
        pasted("Ana, 8 ft, 3 ft\nBo, , "), budget="2500", out_of_stock="pvc40-1/2, 10 ft"
    )
    back = form_of(class_text(form))
    assert back == form


@pytest.mark.parametrize(
    ("text", "says"), [("Household\tcolour\nAna\tred", "colour"), ("name\tbed.length\tfoo", "foo")]
)
def test_a_column_that_is_not_known_is_named(text, says):
    with pytest.raises(FormError, match=says):
        pasted(text)
