"""The server on this machine: port, key, demo, and the command that starts it."""

from __future__ import annotations

import os
import signal
import socket
import stat
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

import pytest

from leafwright.job.store import Store
from leafwright.web.serve import demo_folder, listening, session_key


def test_a_port_that_is_taken_is_told_and_the_next_is_tried() -> None:
    first = listening("127.0.0.1", None)
    second = listening("127.0.0.1", None)
    assert first.getsockname()[1] != second.getsockname()[1]
    with pytest.raises(OSError, match="in use"):
        listening("127.0.0.1", first.getsockname()[1])
    first.close()
    second.close()


def test_the_key_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    file = tmp_path / "state" / "session-key"
    key = session_key(file)
    assert session_key(file) == key and len(key) == 32
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    blocked = tmp_path / "file"
    blocked.write_text("")
    assert len(session_key(blocked / "session-key")) == 32


def test_the_demo_has_a_job_in_a_folder_of_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    first, second = demo_folder(), demo_folder()
    assert first != second and first.parent == tmp_path
    assert [job.slug for job in Store(first).jobs()] == ["boathouse-doors"]


def test_serve_prints_its_address_and_stops_when_told(tmp_path: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "leafwright.cli", "serve", str(tmp_path), "--no-browser"]
    started = subprocess.Popen(
        [*command, "--port", str(port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "src")},
    )
    try:
        assert started.stdout is not None
        assert f"http://127.0.0.1:{port}" in started.stdout.readline()
        assert "Ctrl-C" in started.stdout.readline()
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=20) as answer:
            assert answer.status == 200
        started.send_signal(signal.SIGINT)
        rest, _ = started.communicate(timeout=20)
    finally:
        started.kill()
        started.wait()
    assert "what was saved is on disk" in rest
    assert started.returncode == 0
    # Nothing of what was asked for stands in the log.
    assert "GET" not in rest


@pytest.mark.parametrize("port", ["0", "99999", "x"])
def test_what_is_no_port_is_refused(port: str) -> None:
    command = [sys.executable, "-m", "leafwright.cli", "serve", "--port", port]
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "src")}
    done = subprocess.run(command, capture_output=True, text=True, env=env, check=False)
    assert done.returncode == 2 and "from 1 to 65535" in done.stderr
