"""Hundreds of malformed plans, made by a seeded generator: each refused, none with a traceback."""

import random
import tomllib
from pathlib import Path

import pytest

from hoopwright.design import design_of
from hoopwright.plan import PlanError, read_plan_text

DEMO = (Path(__file__).parents[2] / "tests" / "usual_bed.toml").read_text()

KEYS = {
    "bed": ["length", "width", "board", "species", "courses", "legs", "measured", "box"],
    "hoops": ["pipe", "stock_length", "spacing", "embed", "straps_per_leg", "first_offset"],
    "cover": ["material", "style", "roll_up", "skirt", "rail", "batten", "turn", "mesh_band"],
    "site": ["latitude", "longitude", "elevation", "exposure", "name"],
    "wishes": ["animals", "workers"],
}
BAD = [
    "12", "true", "[]", "{}", '""', '" "', '"12"', '"1/0 in"', '"-3 ft"', '"1e9 ft"',
    '"12 parsec"', '"ft"', '"nan ft"', '"inf m"', '"999999 ft"', '"0 in and more"', "[1, 2]",
    '["x"]', "1979-05-27", "{a = 1}", '"\\u0000"', '"' + "9" * 300 + ' ft"', '"½"',
    '"１２ ft extra"', "-1", "1e308", "nan",
]  # fmt: skip


def spoilt(seed):
    """Return a plan spoilt in one to four ways."""
    chance = random.Random(seed)
    lines = [f'name = "plan {seed}"']
    for section in chance.sample(sorted(KEYS), chance.randint(1, 4)):
        lines.append(f"[{section}]")
        key = chance.choice(KEYS[section])
        how = chance.randrange(4)
        if how == 0:
            letters = list(key)
            letters.insert(chance.randrange(len(letters) + 1), chance.choice("qzx_"))
            lines.append(f'{"".join(letters)} = "1 ft"')
        elif how == 1 and key not in ("name",):
            lines.append(f"{key} = {chance.choice(BAD)}")
        elif how == 2:
            lines += [f'{key} = "1 ft"', f'{key} = "2 ft"']
        else:
            lines.append(f"{key} = [[[{chance.choice(BAD)}]]]")
    return "\n".join(lines)


def mutilated(seed):
    """Return the demo plan with characters cut, doubled or swapped for others."""
    chance = random.Random(seed)
    text = list(DEMO)
    for _ in range(chance.randint(1, 12)):
        place = chance.randrange(len(text))
        how = chance.randrange(3)
        if how == 0:
            del text[place : place + chance.randint(1, 20)]
        elif how == 1:
            text.insert(place, chance.choice('"[]{}=#\\\n\x00é½'))
        else:
            text[place] = chance.choice('"[]{}=xyz0123456789 ')
    return "".join(text)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(400))
def test_spoilt_plans_are_refused_in_one_message_each(seed):
    with pytest.raises(PlanError) as caught:
        read_plan_text(spoilt(seed), file="spoilt.toml")
    for line in str(caught.value).splitlines():
        assert line.startswith("spoilt.toml: ")
        assert "Traceback" not in line
    keys = [problem.key for problem in caught.value.problems]
    assert len(keys) == len(set(keys)), "one message for each key"
    assert all(len(problem.says) < 600 for problem in caught.value.problems)


@pytest.mark.parametrize("seed", range(300))
def test_mutilated_plans_are_read_or_refused_but_never_crash(seed):
    text = mutilated(seed)
    try:
        read = read_plan_text(text)
        design_of(read)
    except PlanError:
        return
    assert tomllib.loads(text)
