"""The reader: headers with units, SI once, and refusals that name file, line and column."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.tables.figures import figures_by_owner
from hoopwright.tables.overlay import overlay_rows
from hoopwright.tables.reader import (
    SURENESS,
    RawRow,
    TableError,
    count,
    counts,
    figure,
    number,
    numbers,
    records_of,
    rows_of_text,
    text,
    texts,
)


@dataclass(frozen=True)
class Insulation:
    key: Annotated[str, text()]
    thickness: Annotated[float, number("m", 0.001, 0.5)]
    share: Annotated[float | None, number("-", 0, 1, optional=True)]
    lengths: Annotated[tuple[float, ...], numbers("m", 0.1, 10)]
    pieces: Annotated[int, count(1, 10)]
    packs: Annotated[tuple[int, ...], counts(1, 100)]
    words: Annotated[tuple[str, ...], texts()]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


def rows_at(path: Path) -> list[RawRow]:
    return rows_of_text(path.read_text(encoding="utf-8"), str(path))


HEADER = "key,thickness [in],share [%],lengths [ft],pieces [-],packs [-],words,source,sure\n"


def rows(tmp_path: Path, body: str, header: str = HEADER) -> list[Insulation]:
    path = tmp_path / "insulation.csv"
    path.write_text(header + body, encoding="utf-8")
    return records_of(rows_at(path), Insulation)


def test_a_row_arrives_in_si_with_lists_and_blanks(tmp_path: Path) -> None:
    (row,) = rows(tmp_path, 'cork,1.5,,8;10,2,25;100,a;b,"a, book",read\n')

    assert row.thickness == pytest.approx(0.0381, rel=1e-12)  # 1 in = 25.4 mm exactly
    assert row.share is None
    assert row.lengths == pytest.approx((2.4384, 3.048), rel=1e-12)  # 1 ft = 0.3048 m exactly
    assert (row.pieces, row.packs, row.words) == (2, (25, 100), ("a", "b"))
    assert row.source == "a, book"


@pytest.mark.parametrize(
    ("body", "parts"),
    [
        ("cork,abc,,8,2,,,s,memory\n", ("line 2", "thickness [in]", "'abc'")),
        ("cork,,,8,2,,,s,memory\n", ("line 2", "'thickness'", "empty")),
        ("cork,1500,,8,2,,,s,memory\n", ("line 2", "plausible", "1500 in")),
        ("cork,nan,,8,2,,,s,memory\n", ("line 2", "plausible")),
        ("cork,1,,8,2.5,,,s,memory\n", ("line 2", "pieces", "whole")),
        ("cork,1,,8,2,,,,memory\n", ("line 2", "'source'", "empty")),
        ("cork,1,,8,2,,,s,hearsay\n", ("line 2", "sure", "hearsay", "assumption")),
        ("cork,1,,8,2,,,s,memory\ncork,1,8\n", ("line 3", "3 cells under 9")),
        ("cork,1,150,8,2,,,s,memory\n", ("line 2", "share [%]", "plausible")),
    ],
)
def test_a_bad_row_names_file_line_and_column(
    tmp_path: Path, body: str, parts: tuple[str, ...]
) -> None:
    with pytest.raises(TableError) as caught:
        rows(tmp_path, body)

    for part in ("insulation.csv", *parts):
        assert part in str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "part"),
    [
        ("thickness [in]", "thickness", "carries its unit"),
        ("thickness [in]", "thickness [lb]", "unit [lb] is none of"),
        ("thickness [in]", "thickness in]", "not of the form"),
        ("thickness [in]", "thicknes [in]", "nearest: thickness"),
        ("share [%]", "thickness [mm]", "stands twice"),
        ("source", "source [-]", "no unit"),
    ],
)
def test_a_bad_header_is_told(tmp_path: Path, old: str, new: str, part: str) -> None:
    with pytest.raises(TableError, match="insulation") as caught:
        rows(tmp_path, "cork,1,,8,2,,,s,memory\n", HEADER.replace(old, new))

    assert part in str(caught.value)


def test_a_slipped_decimal_point_like_cork_at_65_is_refused(tmp_path: Path) -> None:
    """A published list once gave cork 65 W/(m K) for 0.065; ranges catch such a slip."""
    assert len(rows(tmp_path, "cork,19,,8,2,,,s,memory\n")) == 1
    with pytest.raises(TableError, match="decimal point"):
        rows(tmp_path, "cork,19.9,,8,2,,,s,memory\n")


@dataclass(frozen=True)
class Stuff:
    key: str
    modulus: Annotated[object, figure("Pa", 1e6, 1e12)]
    share: Annotated[object, figure("-", 0, 1, optional=True)]


def test_a_long_table_gives_figures_with_range_and_source(tmp_path: Path) -> None:
    path = tmp_path / "stuff.csv"
    head = "of,property,likely,low,high,unit,source,sure\n"
    path.write_text(head + "steel,modulus,29000,28500,30000,ksi,a book,read\n")
    steel = figures_by_owner(rows_at(path), Stuff)["steel"]

    assert steel.modulus.likely == pytest.approx(199.948e9, rel=1e-4)  # 1 ksi = 6.894757 MPa
    assert steel.share is None

    for body, part in (
        ("steel,modulus,1,2,3,ksi,s,memory\n", "between its low and high"),
        ("steel,modulos,2,1,3,ksi,s,memory\n", "nearest: modulus"),
        ("steel,modulus,2,1,3,in,s,memory\n", "unit [in]"),
        ("steel,share,.5,.4,.6,-,s,memory\n", "no row for 'modulus'"),
    ):
        path.write_text(head + body)
        with pytest.raises(TableError) as caught:
            figures_by_owner(rows_at(path), Stuff)
        assert part in str(caught.value)
        assert "line 2" in str(caught.value)


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_with_one_message(
    tmp_path_factory: pytest.TempPathFactory, content: str
) -> None:
    """No content may raise anything but a TableError that names the file."""
    path = tmp_path_factory.mktemp("any") / "any.csv"
    path.write_bytes(content.encode("utf-8", "surrogatepass"))
    message = "any.csv"
    try:
        text = path.read_bytes().decode("utf-8", "surrogatepass")
        records_of(rows_of_text(text, str(path)), Insulation)
    except TableError as error:
        message = str(error)

    assert "any.csv" in message


def test_latin_1_and_a_missing_file_are_told(tmp_path: Path) -> None:
    path = tmp_path / "pipe.csv"
    path.write_bytes("key,größe [in]\n".encode("latin-1"))
    with pytest.raises(TableError, match="UTF-8"):
        overlay_rows(path, ("pipe",))
    with pytest.raises(TableError, match="none"):
        overlay_rows(tmp_path / "none.csv", ("pipe",))
