"""Every command as a person runs it: output, files, errors, and what it does not import."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from person import run

from hoopwright.cli.text import labelled, table

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "tests" / "usual_bed.toml"


def test_check_says_facts_and_findings_worst_first():
    done = run("check", DEMO)
    assert done.returncode == 0, done.stderr
    assert "Juniper Bench" in done.stdout
    words = [line.split()[0] for line in done.stdout.splitlines() if line.strip()]
    order = [word for word in words if word in ("stop", "change", "watch", "fine")]
    rank = {"stop": 0, "change": 1, "watch": 2, "fine": 3}
    assert [rank[word] for word in order] == sorted(rank[word] for word in order)
    assert max(len(line) for line in done.stdout.splitlines()) <= 96


def test_json_is_json_in_si():
    check = json.loads(run("check", DEMO, "--json").stdout)
    assert check["bed"]["outer_length_m"] == pytest.approx(3.6576)
    assert check["hoops"]["number"] == 7
    cut = json.loads(run("cut", DEMO, "--json").stdout)
    assert cut["cost"]["total"] == pytest.approx(sum(line["total"] for line in cut["lines"]))


def test_cut_as_words_and_as_csv():
    words = run("cut", DEMO).stdout
    assert "Shopping list" in words
    assert "Example prices" in words
    csv = run("cut", DEMO, "--csv").stdout.splitlines()
    assert csv[0].startswith("item,size,buy")
    assert len(csv) > 8


@pytest.mark.parametrize(
    "words",
    [
        ("check",),
        ("cut",),
        ("draw", "--out", "drawings"),
        ("compare", "--try", "spacing=2ft,3ft", "--no-climate"),
    ],
)
def test_codes_and_licensed_practice_are_named(tmp_path, words, monkeypatch):
    monkeypatch.chdir(tmp_path)
    command, *rest = words
    said = " ".join(run(command, DEMO, *rest).stdout.split())
    assert "Local codes rule; ask a licensed engineer" in said


def test_new_writes_a_plan_that_checks_and_never_overwrites(tmp_path):
    assert run("new", "bed.toml", cwd=tmp_path).returncode == 0
    before = (tmp_path / "bed.toml").read_bytes()
    again = run("new", "bed.toml", cwd=tmp_path)
    assert again.returncode == 2
    assert "is there already" in again.stderr
    assert (tmp_path / "bed.toml").read_bytes() == before
    assert run("check", "bed.toml", cwd=tmp_path).returncode == 0
    assert run("new", "metric.toml", "--metric", cwd=tmp_path).returncode == 0
    assert "mm" in run("check", "metric.toml", cwd=tmp_path).stdout


def test_new_takes_a_place_by_its_name_and_asks_which(tmp_path):
    done = run("new", "bed.toml", "--place", "gunnison, colorado", cwd=tmp_path)
    assert "38.55 N, 106.93 W (GeoNames, CC BY 4.0)" in done.stderr
    text = (tmp_path / "bed.toml").read_text(encoding="utf-8")
    assert 'latitude = "38.55 N"' in text
    again = run("new", "other.toml", "--place", "Gunnison", cwd=tmp_path)
    assert again.returncode == 2
    assert "Gunnison, Utah" in again.stderr
    assert not (tmp_path / "other.toml").exists()


def test_draw_writes_svg_and_dxf(tmp_path):
    done = run("draw", DEMO, "--out", tmp_path / "drawings")
    assert done.returncode == 0, done.stderr
    suffixes = {path.suffix for path in (tmp_path / "drawings").iterdir()}
    assert suffixes == {".svg", ".dxf"}


@pytest.mark.parametrize(("kind", "start"), [("pdf", b"%PDF"), ("html", b"<!"), ("md", b"# ")])
def test_sheet_in_three_formats(tmp_path, kind, start):
    """With a season of few years in the PDF."""
    plan, path = tmp_path / "bed.toml", tmp_path / f"bed.{kind}"
    few = re.sub("crops = .*", 'years = 3\ncrops = ["kale"]', DEMO.read_text(encoding="utf-8"))
    plan.write_text(few, encoding="utf-8")
    done = run("sheet", plan, "--out", path, *(() if kind == "pdf" else ("--no-season",)))
    assert done.returncode == 0, done.stderr
    assert path.read_bytes().lower().startswith(start.lower())


def test_schema_and_catalogue():
    assert json.loads(run("schema").stdout)["title"] == "Hoopwright plan"
    assert "pvc40-1/2" in run("catalogue", "pipe").stdout
    assert "ASTM" in run("catalogue", "pipe", "pvc40-1/2").stdout


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("check", "nowhere.toml"), "nowhere.toml"),
        (("check", "."), "."),
        (("check", ROOT / "demo" / "class.toml"), "`hoopwright class` reads it"),
        (("class", DEMO), "is the plan of one bed"),
        (("catalogue", "pipes"), 'did you mean "pipe"'),
        (("catalogue", "pipe", "pvc40-1/3"), 'did you mean "pvc40-1'),
        (("sheet", DEMO, "--no-season", "--out", "/nowhere/at/all/x.pdf"), "/nowhere"),
        (("cut",), "PLAN"),
        (("flatten",), "flatten"),
    ],
)
def test_mistakes_end_in_one_message_and_exit_code_2(words, says):
    done = run(*words)
    assert done.returncode == 2
    assert says in done.stderr
    assert "Traceback" not in done.stderr


def test_a_bad_plan_names_file_key_and_range(tmp_path):
    (tmp_path / "bad.toml").write_text('[bed]\nwidth = "40 ft"\nlenght = "1 ft"\n')
    done = run("check", "bad.toml", cwd=tmp_path)
    assert done.returncode == 2
    lines = done.stderr.strip().splitlines()
    assert len(lines) == 2
    assert all(line.startswith("bad.toml: bed.") for line in lines)
    assert "1 ft to 8 ft" in done.stderr


def imported(*words):
    code = (
        "import sys; sys.argv = ['hoopwright', *sys.argv[1:]]\n"
        "from hoopwright.cli.main import main\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "print('MODULES', *sorted(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, words)], capture_output=True, text=True, timeout=300
    )
    return set(done.stdout.splitlines()[-1].split()[1:])


@pytest.mark.parametrize("words", [("--help",), ("readings", "--help"), ("catalogue", "--sources")])
def test_a_list_is_whole_and_fits_a_terminal_of_80_columns(words):
    said = run(*words, env={"COLUMNS": "80"}).stdout
    assert max(map(len, said.splitlines())) <= 80
    assert "..." not in said.replace("[ARGS]...", "")


def test_heads_of_several_words_go_over_several_lines_before_rows_are_taken_apart(monkeypatch):
    monkeypatch.setenv("COLUMNS", "40")
    head = ("Month", "Mean of the days", "Rain of it", "Humidity %")
    assert table(head, [("December", "17", "1.0", "72")], right=(1, 2, 3)).splitlines() == [
        "            Mean",
        "              of  Rain",
        "             the    of  Humidity",
        "  Month     days    it         %",
        "  ------------------------------",
        "  December    17   1.0        72",
    ]


def test_a_label_and_its_words_never_run_into_each_other():
    for length in range(1, 24):
        first = labelled("x" * length, "words", 18).splitlines()[0]
        assert first == "  " + "x" * length or first[length + 2 :].startswith("  ")


def test_help_imports_nothing_heavy():
    heavy = {"numpy", "pydantic", "highspy", "ezdxf", "typst", "numba", "rich"}
    assert not heavy & imported("--help")


def test_files_written_are_listed_as_json(tmp_path):
    for words in (
        ("new", tmp_path / "bed.toml"),
        ("draw", DEMO, "--out", tmp_path / "drawings"),
        ("sheet", DEMO, "--no-season", "--format", "md", "--out", tmp_path / "bed.md"),
    ):
        files = json.loads(run(*words, "--json").stdout)["files"]
        assert files
        assert all(Path(name).is_file() for name in files)


def test_limits_says_what_one_gust_asks():
    words = run("limits", DEMO, "--no-changes", "--gust", "60 mph").stdout
    assert "A gust of 60 mph" in words
    assert "Pull along a leg" in words
    data = json.loads(run("limits", DEMO, "--no-changes", "--gust", "60 mph", "--json").stdout)
    assert data["at_gust"]["gust_m_s"] == pytest.approx(26.8224)
    for wrong in ("60", "600 mph", "windy"):
        done = run("limits", DEMO, "--no-changes", "--gust", wrong)
        assert done.returncode == 2
        assert done.stderr.startswith("--gust:")


def test_limits_says_why():
    told = run("limits", DEMO, "--why", "opens").stdout
    assert "First there" in told
    assert "tie of a rail at one hoop: 60, 180, 450" in told
    data = json.loads(run("limits", DEMO, "--why", "rail-ties-give", "--json").stdout)
    first = data["inputs"][0]
    assert first["name"] == "tie of a rail at one hoop"
    assert 0.6 < first["correlation"] < 1
    assert first["range"] == [60, 180, 450]
    assert all(" 0 %" not in line for line in told.splitlines() if "First there" in line)
    assert "\n\n\n" not in run("limits", DEMO, "--why", "moves").stdout
    done = run("limits", DEMO, "--why", "nothing")
    assert done.returncode == 2
    assert done.stderr.startswith("--why: no rung 'nothing'")


def test_a_pull_test_is_written_into_the_plan_and_narrows_the_rung(tmp_path):
    plan = tmp_path / "bed.toml"
    plan.write_text('# Mine\n[bed]\nlength = "12 ft"  # long\n')
    assert "glasses" in run("pull", plan).stdout
    done = run("pull", plan, "38 lb", "45 lb", "41 lb", "--aged", "--json")
    assert done.returncode == 0, done.stderr
    slips = json.loads(done.stdout)
    spans = [slips[when]["middle"] / slips[when]["careful"] for when in ("before", "after")]
    assert spans[1] < spans[0]
    text = plan.read_text()
    assert "# Mine" in text
    assert "# long" in text
    assert 'pull_test = ["38 lb", "45 lb", "41 lb"]' in text
    refused = run("pull", plan, "38")
    assert refused.returncode == 2
    assert "holding.pull_test[1]" in refused.stderr
    assert plan.read_text() == text


def test_a_pull_test_goes_into_a_plan_with_a_byte_order_mark(tmp_path):
    """As an editor of another system writes it; every other command reads such a plan."""
    plan = tmp_path / "bed.toml"
    plan.write_bytes(b'\xef\xbb\xbf[bed]\r\nlength = "12 ft"\r\n')
    done = run("pull", plan, "38 lb")
    assert done.returncode == 0, done.stderr
    assert 'pull_test = ["38 lb"]' in plan.read_text()
