"""Looking things up, and a user's own rows laid over ours."""

import subprocess
import sys
from pathlib import Path

import pytest

from hoopwright.tables.catalogue import TABLES, Catalogue, UnknownKeyError
from hoopwright.tables.reader import TableError

INCH = 0.0254


def test_look_ups_answer_in_si() -> None:
    catalogue = Catalogue()

    assert catalogue.pipe("pvc40-3/4").outside_diameter == pytest.approx(1.050 * INCH)
    assert catalogue.board("2x12").width == pytest.approx(11.25 * INCH)
    assert catalogue.species("doug-fir-larch").specific_gravity == 0.50
    assert catalogue.cover("film-6mil-uv4").thickness == pytest.approx(0.1524e-3)
    assert catalogue.screw("screw-8x1-1/4").size.diameter == pytest.approx(0.164 * INCH)
    assert catalogue.reach("seated").from_one_side == pytest.approx(24 * INCH)


@pytest.mark.parametrize(
    ("method", "wrong", "near"),
    [
        ("pipe", "pvc-3/4", "pvc40-3/4"),
        ("board", "2x11", "2x12"),
        ("species", "douglas-fir", "doug-fir-larch"),
        ("cover", "film-6mil-uv", "film-6mil-uv4"),
        ("strap", "strap-ips-34", "strap-ips-3/4"),
        ("screw", "screw-8x1-1/3", "screw-8x1-1/4"),
        ("rail", "rail-emt3/4", "rail-emt-3/4"),
    ],
)
def test_a_wrong_key_names_the_nearest(method: str, wrong: str, near: str) -> None:
    with pytest.raises(UnknownKeyError) as caught:
        getattr(Catalogue(), method)(wrong)

    assert wrong in str(caught.value)
    assert near in str(caught.value)
    assert not str(caught.value).startswith("'")


def test_a_key_like_no_other_lists_what_there_is() -> None:
    with pytest.raises(UnknownKeyError, match="there are: adult, child, seated"):
        Catalogue().reach("zzzz")
    with pytest.raises(UnknownKeyError, match="no table"):
        Catalogue().everything_in("pipes!")


def test_every_table_can_be_listed() -> None:
    catalogue = Catalogue()
    assert all(catalogue.everything_in(table) for table in TABLES)


def overlay(tmp_path: Path, content: str, name: str = "mine.toml") -> Path:
    path = tmp_path / name
    path.write_text(content, encoding="utf-8")
    return path


def test_a_toml_overlay_adds_a_pipe_like_ours_in_other_units(tmp_path: Path) -> None:
    ours = Catalogue()
    theirs = ours.with_overlay(
        overlay(
            tmp_path,
            """
            [[pipe]]
            key = "my-tube"
            name = "25 mm tube"
            like = "pvc40-3/4"
            "outside diameter [mm]" = 25
            "wall [mm]" = 2.5
            "stock lengths [m]" = [2, 3]

            [[pipe_material]]
            of = "pvc"
            property = "strain limit"
            likely = 2.5
            low = 2.0
            high = 3.0
            unit = "%"
            """,
        )
    )

    tube = theirs.pipe("my-tube")
    assert tube.outside_diameter == pytest.approx(0.025)
    assert tube.wall == pytest.approx(0.0025)
    assert tube.inside_diameter == pytest.approx(0.020)
    # By hand: pi/4 (25^2 - 20^2) mm2 of 1400 kg/m3; the row it is like has 0.3185 printed.
    assert tube.mass_per_length == pytest.approx(0.2474, rel=1e-3)
    assert tube.stock_lengths == (2, 3)
    assert tube.sure == "user"
    assert tube.stuff.strain_limit.likely == pytest.approx(0.025)
    assert tube.stuff.strain_limit.sure == "user"
    assert "mine.toml" in tube.stuff.strain_limit.source
    with pytest.raises(UnknownKeyError):
        ours.pipe("my-tube")
    assert ours.pipe("pvc40-3/4").stuff.strain_limit.likely == pytest.approx(0.03)


def test_a_row_with_our_key_changes_only_what_it_gives(tmp_path: Path) -> None:
    theirs = Catalogue().with_overlay(
        overlay(tmp_path, '[[lumber]]\nkey = "2x12"\n"stock lengths [ft]" = [8, 12]\n')
    )

    board = theirs.board("2x12")
    assert board.stock_lengths == pytest.approx((2.4384, 3.6576))
    assert board.width == pytest.approx(11.25 * INCH)
    assert Catalogue().board("2x12").stock_lengths != board.stock_lengths


def test_own_prices_replace_ours_of_the_same_form_and_keep_the_rest(tmp_path: Path) -> None:
    path = overlay(
        tmp_path,
        "thing,sold as,length [ft],price [EUR],date,rate [USD]\n"
        "pvc40-3/4,stick,10,3.99,2027-03,1.1\n",
        "price.csv",
    )
    ours, theirs = Catalogue(), Catalogue().with_overlay(path)

    by_length = {round(price.length, 3): price for price in theirs.prices_of("pvc40-3/4")}
    own = by_length[3.048]
    assert (own.price, own.currency, own.example, own.date) == (3.99, "EUR", "no", "2027-03")
    assert by_length[6.096].example == "yes"
    assert len(theirs.prices) == len(ours.prices)


def test_overlays_stack_and_the_later_one_rules(tmp_path: Path) -> None:
    first = overlay(tmp_path, '[[reach]]\nkey = "child"\n"from one side [in]" = 16\n', "a.toml")
    second = overlay(tmp_path, '[[reach]]\nkey = "child"\n"from one side [in]" = 17\n', "b.toml")

    both = Catalogue().with_overlay(first).with_overlay(second)
    assert both.reach("child").from_one_side == pytest.approx(17 * INCH)


@pytest.mark.parametrize(
    ("content", "parts"),
    [
        ('[[pipes]]\nkey = "a"\n', ("pipes", "nearest: pipe")),
        ('\n\n[[pipe]]\nkey = "a"\nlike = "pvc40-3"\n', ("line 3", "'like'", "pvc40-3/4")),
        ('[[pipe]]\nname = "a"\n', ("line 1", "no 'key'")),
        ('[[pipe]]\nkey = "a"\nname = "a"\n', ("line 1", "'material'", "missing")),
        ('[[lumber]]\nkey="2x12"\n"width [in]" = 1125\n', ("line 1", "width [in]", "plausible")),
        ('[[lumber]]\nkey="2x12"\nwidth = 11\n', ("line 1", "width", "unit")),
        ('[[lumber]]\nkey="2x12"\n"wide [in]" = 11\n', ("line 1", "'wide'", "width")),
        ('[[lumber]]\nkey="2x12"\n"width [in]" = 1\n"width [mm]" = 9\n', ("given twice",)),
        ('[[lumber]]\nkey="2x12"\n"width [in" = 1\n', ("line 1", "not of the form")),
        ('[[lumber]]\nkey="2x12"\nname = {a = 1}\n', ("line 1", "key 'name'")),
        ('[lumber]\nkey="2x12"\n', ("[[lumber]]",)),
        ('[[price]]\nthing="2x12"\nsold_as="stick"\nprice=3\n', ("line 1", "price [USD]")),
        ('[[price]]\nthing="2x12"\nsold_as="box"\n"price [USD]"=3\n', ("box", "stick")),
        ('[[pipe]]\nkey = "a"\nlike = "pvc40-1"\nmaterial = "pvcc"\n', ("material", "pvc")),
        ("[[pipe]\n", ("TOML",)),
        (
            '[[price]]\nthing="2x13"\nsold_as="stick"\n"price [USD]"=3\n',
            ("line 1", "'thing'", "2x12"),
        ),
        (
            '[[roll]]\ncover="film-6"\n"width [ft]"=3\n"length [ft]"=30\n',
            ("line 1", "'cover'", "film-6mil"),
        ),
    ],
)
def test_a_bad_overlay_names_file_line_and_key(
    tmp_path: Path, content: str, parts: tuple[str, ...]
) -> None:
    with pytest.raises(TableError) as caught:
        Catalogue().with_overlay(overlay(tmp_path, content))

    for part in ("mine.toml", *parts):
        assert part in str(caught.value)


def test_other_files_are_refused(tmp_path: Path) -> None:
    with pytest.raises(TableError, match=r"\.toml or a \.csv"):
        Catalogue().with_overlay(overlay(tmp_path, "", "mine.json"))
    with pytest.raises(TableError, match="cannot be read"):
        Catalogue().with_overlay(tmp_path / "absent.toml")
    with pytest.raises(TableError, match="name the file after its table"):
        Catalogue().with_overlay(overlay(tmp_path, "key,name\na,b\n", "stuff.csv"))


def test_a_csv_may_name_its_table_in_a_column(tmp_path: Path) -> None:
    path = overlay(
        tmp_path, "table,key,name,like\ntool,saw-japan,Pull saw,saw\n", "things of mine.csv"
    )
    assert Catalogue().with_overlay(path).tools["saw-japan"].work == "battens and boards"


def test_the_catalogue_pulls_in_no_heavy_library() -> None:
    """The command line pays for what it imports: csv and dataclasses, nothing more."""
    code = (
        "import sys; from hoopwright.tables.catalogue import Catalogue; "
        "Catalogue().pipe('pvc40-1/2'); "
        "print([name for name in ('numpy', 'pydantic', 'tomlkit', 'numba') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"


def test_a_table_is_read_when_first_asked_for_and_once() -> None:
    catalogue = Catalogue()
    catalogue.pipe("pvc40-1/2")

    assert "covers" not in vars(catalogue)
    assert "prices" not in vars(catalogue)
    assert catalogue.pipes is catalogue.pipes
