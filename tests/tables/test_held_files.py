"""A user's file held as text is read as one in a folder, and refused in the same words."""

import pytest

from hoopwright.season.crops import crops
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.overlay import OwnFile, overlay_rows
from hoopwright.tables.reader import TableError

PRICES = "thing,sold as,length [ft],price [USD],date\npvc40-1/2,stick,10,4.25,2026-10\n"
ROWS = '[[pipe]]\nkey = "my-tube"\nname = "x"\nlike = "pvc40-3/4"\n"wall [mm]" = 3\n'
VARIETY = '[[crop]]\nkey = "my-radish"\nlike = "radish"\nname = "mine"\n'


@pytest.mark.parametrize(
    ("name", "text", "table"),
    [
        ("price.csv", PRICES, None),
        ("mine.csv", PRICES, "price"),
        ("rows.toml", ROWS, None),
        ("rows.toml", "[[pipe]]\n\n[[nothing]]\n", None),
        ("rows.toml", "a = ", None),
        ("rows.toml", "pipe = 3", None),
        ("mine.csv", "thing,price\n1\n", "price"),
        ("mine.csv", PRICES.replace("4.25", "-1"), "price"),
        ("mine.csv", PRICES.replace("pvc40-1/2", "pvc"), "price"),
        ("mine.csv", "", "price"),
        ("stuff.csv", PRICES, None),
    ],
)
def test_from_a_text_as_from_a_folder(tmp_path, name, text, table):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")

    def outcome(source):
        try:
            return Catalogue().with_overlay(source, table).overlays
        except TableError as error:
            return str(error).replace(str(path), name)

    held, on_disk = outcome(OwnFile(name, text)), outcome(path)
    assert str(held) == str(on_disk).replace(str(path), name)


def test_varieties_from_a_text():
    assert crops(OwnFile("mine.toml", VARIETY))["my-radish"].like == "radish"
    assert "my-radish" not in crops()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("deep.toml", "x = " + "[" * 5000),
        ("long.toml", "x = " + "9" * 6000),
        ("wide.csv", "a" * 200_000 + "\n"),
        ("none.txt", "x"),
        ("none", "x"),
    ],
)
def test_what_is_no_list_is_refused_in_one_message(name, text):
    with pytest.raises(TableError):
        overlay_rows(OwnFile(name, text), ("price",), "price")
