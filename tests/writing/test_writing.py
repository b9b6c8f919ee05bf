"""One writer: whole or not at all, and never over what was read."""

import os
import re
from pathlib import Path

import pytest

from hoopwright import writing

SOURCES = Path(__file__).parents[2] / "src" / "hoopwright"


def test_a_file_is_whole_or_as_it_was(tmp_path):
    file = tmp_path / "plan.toml"
    file.write_text("before")
    with pytest.raises(ZeroDivisionError), writing.whole(file) as part:
        part.write_text(f"half of {1 / 0}")
    assert file.read_text() == "before"
    assert os.listdir(tmp_path) == ["plan.toml"]
    writing.write(file, "after\n")
    assert file.read_bytes() == b"after\n"
    assert os.listdir(tmp_path) == ["plan.toml"]


def test_a_disk_that_fails_leaves_what_was_there(tmp_path, monkeypatch):
    file = tmp_path / "plan.toml"
    file.write_text("before")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left") as told:
        writing.write(file, "after")
    assert told.value.filename == str(file)
    assert file.read_text() == "before"
    assert os.listdir(tmp_path) == ["plan.toml"]


def test_an_input_is_spared_by_whatever_name(tmp_path):
    plan = tmp_path / "plan.toml"
    plan.write_text("")
    link = tmp_path / "link.toml"
    link.symlink_to(plan)
    for output in (plan, link, tmp_path / ".." / tmp_path.name / "plan.toml"):
        with pytest.raises(writing.WouldOverwrite, match="give another name"):
            writing.spare_inputs([None, output], [plan, None])
    writing.spare_inputs([tmp_path / "new.toml", None], [plan])


def test_nothing_else_in_the_program_writes_a_file():
    """But for files in a folder that is deleted at once."""
    spared = {"writing/__init__.py", "web/beside.py", "store/backup.py"}
    pattern = re.compile(r"\.write_text\(|\.write_bytes\(|\bopen\([^)]*[\"'][wax]b?[\"']")
    found = {
        path.relative_to(SOURCES).as_posix()
        for path in SOURCES.rglob("*.py")
        if pattern.search(path.read_text(encoding="utf-8"))
    }
    assert found <= spared | {"cli/hours.py"}  # which writes to the part that `whole` gave it
