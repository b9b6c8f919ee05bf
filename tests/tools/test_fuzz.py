"""A short round of the hostile inputs; `make fuzz` makes the long one."""

import os
import random
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
import fuzz

KINDS = ("backup", "class", "forecast", "list", "logger", "plan", "weather")


@pytest.mark.parametrize("kind", KINDS)
def test_hostile_inputs_end_in_an_answer_or_in_words(kind):
    assert sorted(fuzz.kinds()) == list(KINDS)
    for seed in range(12):
        wrong = fuzz.finding(kind, seed)
        assert not wrong, f"--kind {kind} --seed {seed}: {wrong}"


def test_an_error_that_nobody_wrote_for_a_person_is_a_finding(monkeypatch):
    def broken(path):
        raise KeyError("a bug")

    monkeypatch.setitem(fuzz.kinds(), "plan", fuzz.Kind((b"x",), "bed.toml", broken))
    assert "a bug" in fuzz.finding("plan", 1)


@pytest.mark.skipif(os.name != "posix", reason="pipes with names")
def test_a_wait_for_what_never_comes_is_a_finding(monkeypatch):
    """Of the wall's clock: such a wait takes none of the processor's time."""
    monkeypatch.setattr(fuzz, "ODD", 1)
    monkeypatch.setattr(fuzz, "WAIT", 1)
    monkeypatch.setitem(fuzz.kinds(), "plan", fuzz.Kind((b"x",), "bed.toml", Path.read_bytes))
    seed = next(filter(_is_pipe, range(99)))
    assert "waited" in fuzz.finding("plan", seed)


def _is_pipe(seed):
    chance = random.Random(f"plan {seed}")
    return chance.randrange(1) == 0 and chance.random() < 0.5


def test_the_inputs_are_sound_before_they_are_spoilt(tmp_path):
    """Else nothing but the first line of a reader would be tried."""
    for kind in ("backup", "class", "forecast", "list", "plan"):
        made = fuzz.kinds()[kind]
        for base in made.bases:
            path = tmp_path / made.name
            path.write_bytes(base)
            made.read(path)
