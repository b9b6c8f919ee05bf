"""Plans read whole, and every problem named at once."""

import json
import re
from pathlib import Path

import jsonschema
import pytest

from hoopwright.design import design_of
from hoopwright.plan import PlanError, read_plan, read_plan_text
from hoopwright.plan.model import Plan
from hoopwright.plan.schema import plan_schema
from hoopwright.plan.starter import METRIC_DEFAULTS, METRIC_EXAMPLES, starter_plan
from hoopwright.season.crops import crops
from hoopwright.tables.overlay import OwnFile

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"


def problems(text):
    with pytest.raises(PlanError) as caught:
        read_plan_text(text)
    return {problem.key: problem.says for problem in caught.value.problems}


def test_an_empty_plan_is_a_plan():
    plan = read_plan_text("").plan
    assert plan.bed.length == pytest.approx(8 * 0.3048)
    assert plan.hoops.pipe == "pvc40-1/2"


def test_five_lines_are_enough():
    plan = read_plan_text('units = "us"\n[bed]\nlength = "12 ft"\nwidth = "3 ft"\n').plan
    assert plan.bed.width == pytest.approx(0.9144)


def test_all_problems_at_once_each_with_what_to_do():
    found = problems(
        """
        unit = "us"
        [bed]
        lenght = "12 ft"
        width = "3"
        courses = 9
        [hoops]
        pipe = "pvc4-1/2"
        height = "3 ft"
        stock_length = "10 ft"
        embed = "2 ft"
        spacing = "12 ft"
        [cover]
        style = "wraped"
        [[stock]]
        item = "pvc40-12"
        """
    )
    assert 'did you mean "units"' in found["unit"]
    assert 'did you mean "length"' in found["bed.lenght"]
    assert "no unit" in found["bed.width"]
    assert "1 ft to 8 ft" in found["bed.width"]
    assert "4" in found["bed.courses"]
    assert 'did you mean "pvc40-1/2"' in found["hoops.pipe"]
    assert "keep one" in found["hoops.height"]
    assert "up to" in found["hoops.embed"]
    assert "6 in to 8 ft" in found["hoops.spacing"]
    assert 'did you mean "wrapped"' in found["cover.style"]
    assert "not in the catalogue" in found["stock[1].item"]
    assert len(found) == 10


@pytest.mark.parametrize(
    ("text", "key", "part"),
    [
        ('[bed]\nwidth = "4 ft"\nlength = "3 ft"', "bed.width", "swap"),
        ('[hoops]\nembed = "4 in"\nstraps_per_leg = 2', "hoops.straps_per_leg", "no room"),
        ('[hoops]\nfirst_offset = "4 ft"\nlast_offset = "4 ft"', "hoops.first_offset", "least"),
        ('[hoops]\nstock_length = "5 ft"', "hoops.stock_length", "too short"),
        ('[cover]\nroll_up = "none"\nmesh_band = "1 ft"', "cover.mesh_band", "rolls up"),
        ('[[stock]]\nitem = "pvc40-1/2"', "stock[1].length", "how long"),
        ('[[stock]]\nitem = "film-6mil"\nlength = "10 ft"', "stock[1].width", "how wide"),
        ('bed = "big"', "bed", "[bed]"),
        ('[wishes]\nanimals = "deer"', "wishes.animals", "square brackets"),
        ("[bed]\nwidth = 1.2", "bed.width", "no unit"),
        ('[season]\ncrops = ["tomatoe"]', "season.crops[1]", "tomato"),
        ('[season]\ncover_from = "31 Feb"', "season.cover_from", "15 Mar"),
        ('[season]\nmorning = "half past"', "season.morning", "7:30"),
        ('[site]\nweather = "nowhere.epw"', "site.weather", "folder"),
    ],
)
def test_contradictions_and_shapes(text, key, part):
    assert part in problems(text)[key]


def test_not_toml_says_where():
    assert "line 2" in problems("units = 'us'\n[bed\n")[""]


def test_files_that_are_no_plans(tmp_path):
    binary = tmp_path / "a.toml"
    binary.write_bytes(b"\xff\xfe\x00name")
    huge = tmp_path / "b.toml"
    huge.write_bytes(b"#" * 2_000_000)
    for path, words in (
        (binary, "UTF-8"),
        (huge, "1 MB"),
        (tmp_path, "plan"),
        (DEMO / "x", "plan"),
    ):
        with pytest.raises(PlanError, match=words):
            read_plan(path)


def test_a_byte_order_mark_and_crlf_are_no_trouble(tmp_path):
    path = tmp_path / "bed.toml"
    path.write_bytes(b'\xef\xbb\xbfunits = "us"\r\n[bed]\r\nlength = "12 ft"\r\n')
    assert read_plan(path).plan.bed.length == pytest.approx(3.6576)


def test_own_catalogue_rows_and_prices(tmp_path):
    (tmp_path / "mine.toml").write_text(
        '[[pipe]]\nkey = "my-tube"\nlike = "pvc40-3/4"\nsource = "my own calipers"\n'
        '[[price]]\nthing = "my-tube"\nsold_as = "stick"\n"length [ft]" = 10\n'
        '"price [USD]" = 4.10\ndate = "2026-11"\nsource = "my store"\n'
    )
    plan = tmp_path / "bed.toml"
    plan.write_text('catalogue = "mine.toml"\n[hoops]\npipe = "my-tube"\n')
    read = read_plan(plan)
    assert read.catalogue.pipe(read.plan.hoops.pipe).outside_diameter == pytest.approx(0.02667)
    assert read.catalogue.prices_of("my-tube")[0].price == pytest.approx(4.10)


def test_a_broken_overlay_is_a_problem_of_its_key(tmp_path):
    (tmp_path / "mine.csv").write_text("nonsense\n1\n")
    plan = tmp_path / "bed.toml"
    plan.write_text('prices = "mine.csv"\n')
    with pytest.raises(PlanError) as caught:
        read_plan(plan)
    assert [problem.key for problem in caught.value.problems] == ["prices"]


def test_the_demo_plan_reads():
    assert read_plan(DEMO).plan.site.elevation == pytest.approx(2042.16)


@pytest.mark.parametrize("answers", [{}, {"units": "metric"}, {"bed.length": "12 ft"}])
def test_the_starter_reads_back_also_with_every_key_uncommented(answers):
    text = starter_plan(answers)
    read_plan_text(text)
    lines = text.split("# What is at hand")[0].splitlines()
    tried = 0
    for number, line in enumerate(lines):
        if not re.fullmatch(r"# \w+ = .+", line) or line.startswith(("# catalogue", "# varieties")):
            continue
        tried += 1
        read_plan_text("\n".join([*lines[:number], line[2:], *lines[number + 1 :]]))
    assert tried > 20


def test_metric_defaults_are_of_keys_that_have_one_and_examples_of_those_that_have_none():
    for names, has in ((METRIC_DEFAULTS, True), (METRIC_EXAMPLES, False)):
        for key in names:
            section, name = key.split(".")
            field = Plan.model_fields[section].annotation.model_fields[name]
            assert (field.default is not None) is has, key


def test_a_metric_starter_shows_metric_values():
    text = starter_plan({"units": "metric"}).split("# What is at hand")[0]
    shown = re.findall(r"^(?:# )?\w+ = (.+)$", text, re.MULTILINE)
    assert not [value for value in shown if re.search(r"\d (ft|in|mph|psf|lb|F)\b", value)]
    assert 'inner_fabric = "fabric-' in text


def test_the_schema_accepts_what_we_accept_and_refuses_unknown_keys():
    import tomllib

    schema = plan_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    assert validator.is_valid(tomllib.loads(DEMO.read_text()))
    assert not validator.is_valid({"bed": {"lenght": "12 ft"}})
    assert not validator.is_valid({"bed": {"length": 12}})
    assert json.dumps(schema)


VARIETY = """
[[crop]]
key = "my-radish"
like = "radish"
name = "my radish"
"days to harvest [d]" = "20;24"
"""


def test_a_plan_names_a_file_of_its_own_varieties(tmp_path):
    (tmp_path / "mine.toml").write_text(VARIETY)
    (tmp_path / "bed.toml").write_text(
        '[season]\nvarieties = "mine.toml"\ncrops = ["my-radish", "radish"]\n'
    )
    read = read_plan(tmp_path / "bed.toml")
    known = crops(*read.varieties)
    assert known["my-radish"].habit.days_to_harvest.high == 24
    assert known["my-radish"].cold == known["radish"].cold
    assert design_of(read).varieties == read.varieties


@pytest.mark.parametrize(
    ("held", "says"),
    [
        (None, "mine.toml"),
        ('[[crop]]\nkey = "my-radish"\n', "mine.toml"),
        ('[[crop]]\nkey = "a"\nlike = "radish"\n"days to harvest [d]" = "24;20"\n', "days to"),
    ],
)
def test_a_bad_file_of_varieties_is_one_message(tmp_path, held, says):
    if held is not None:
        (tmp_path / "mine.toml").write_text(held)
    (tmp_path / "bed.toml").write_text('[season]\nvarieties = "mine.toml"\n')
    with pytest.raises(PlanError) as refused:
        read_plan(tmp_path / "bed.toml")
    assert len(refused.value.problems) == 1
    assert refused.value.problems[0].key == "season.varieties"
    assert says in str(refused.value)


def test_a_crop_of_no_table_is_refused_by_name(tmp_path):
    (tmp_path / "mine.toml").write_text(VARIETY)
    (tmp_path / "bed.toml").write_text('[season]\nvarieties = "mine.toml"\ncrops = ["my-radis"]\n')
    with pytest.raises(PlanError, match="my-radish"):
        read_plan(tmp_path / "bed.toml")


PRICES_HELD = OwnFile(
    "mine.csv", "thing,sold as,length [ft],price [USD],date\npvc40-1/2,stick,10,4.25,2026-10\n"
)


def test_a_file_held_beside_a_plan_is_read_and_no_other():
    read = read_plan_text('prices = "mine.csv"', beside=(PRICES_HELD,))
    prices = {price.price for price in read.catalogue.prices_of("pvc40-1/2") if price.length < 4}
    assert prices == {4.25}
    assert read_plan_text('prices = "mine.csv"', beside=(PRICES_HELD,)).catalogue is read.catalogue
    with pytest.raises(PlanError, match=r'prices: names "other\.csv", and no such list'):
        read_plan_text('prices = "other.csv"', beside=(PRICES_HELD,))
    for name in ("/etc/passwd", "../mine.csv", "./mine.csv"):
        with pytest.raises(PlanError, match="no such list is here"):
            read_plan_text(f'catalogue = "{name}"', beside=(PRICES_HELD,))
    with pytest.raises(PlanError, match="without a folder"):
        read_plan_text('prices = "mine.csv"')


def test_varieties_held_beside_a_plan():
    held = OwnFile("mine.toml", '[[crop]]\nkey = "my-radish"\nlike = "radish"\nname = "mine"\n')
    text = '[season]\nvarieties = "mine.toml"\ncrops = ["my-radish"]\n'
    assert read_plan_text(text, beside=(held,)).varieties == (held,)
    with pytest.raises(PlanError, match=r"season.varieties: names"):
        read_plan_text(text, beside=())
