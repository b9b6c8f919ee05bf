"""`hoopwright store` and what `hoopwright serve` refuses, as a person runs them."""

import socket
import subprocess
import sys

from hoopwright.store import Store


def run(*words):
    return subprocess.run(
        [sys.executable, "-m", "hoopwright", *map(str, words)],
        capture_output=True,
        text=True,
        timeout=300,
    )


def test_backup_and_restore(tmp_path):
    kept, copy = tmp_path / "kept", tmp_path / "copy.sqlite3"
    with Store(kept) as store:
        plan = store.plans.add("local", "Bed", "# mine\n").id
        assert run("store", "backup", copy, "--folder", kept).returncode == 0
        busy = run("store", "restore", copy, "--folder", kept)
        assert busy.returncode == 2
        assert "in use" in busy.stderr
        store.plans.forget("local", plan)
    assert run("store", "restore", copy, "--folder", kept).returncode == 0
    with Store(kept) as store:
        assert store.plans.get("local", plan).text == "# mine\n"
    again = run("store", "backup", copy, "--folder", kept)
    assert (again.returncode, "already" in again.stderr) == (2, True)


def test_a_taken_port_and_a_taken_folder_end_in_one_message(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        refused = run("serve", "--folder", tmp_path / "a", "--port", port)
    assert refused.returncode == 2
    assert f"port {port} is taken" in refused.stderr
    with Store(tmp_path / "b"):
        refused = run("serve", "--folder", tmp_path / "b")
    assert refused.returncode == 2
    assert "in use" in refused.stderr
    assert len(refused.stderr.splitlines()) == 1
