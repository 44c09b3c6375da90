"""`leafwright seams`: every seam told, and what the log of a job's folder has not ticked yet."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema
from leafwright.job.store.log import line_of
from leafwright.job.store.records import LogEntry

EXAMPLES = Path(__file__).parents[1] / "examples"
GATE = str(EXAMPLES / "yard-gate.toml")


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """Return the exit code of a command, and what it said with its lines run together."""
    code = cli.main(list(words))
    return code, " ".join(capsys.readouterr().out.split())


def test_every_seam_is_told_with_the_reasons_for_none(capsys: pytest.CaptureFixture[str]) -> None:
    code, told = run(capsys, "seams", GATE)
    assert code == cli.TO_BE_DECIDED
    assert "Left leaf: 26 seams of its own, 8 of what holds it; symbols by AWS A2.4:2020" in told
    assert 'A-4 upper edge, on A-HS: fillet 3/16 in all along, 2" long; vertical' in told
    assert "A-9 its tab, on A-MS and A-BR: fillet 3/16 in all along, length not given" in told
    assert "A-HS hanging stile, lower end: it runs through: nothing stands before its end" in told
    assert "not to be stood up while a seam is left" in told


def test_json_keeps_to_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["seams", GATE, "--json"])
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, document_schema("seams"))
    assert document["left"] is None
    assert [len(leaf["frame"]) for leaf in document["seams"]["leaves"]] == [26, 26]


def test_left_wants_a_folder_and_counts_its_ticks(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert cli.main(["seams", GATE, "--left"]) == cli.BAD_INPUT
    assert "give the folder that holds job.toml" in capsys.readouterr().err
    shutil.copy(GATE, tmp_path / "job.toml")
    cli.main(["seams", str(tmp_path), "--json"])
    document = json.loads(capsys.readouterr().out)
    assert [len(left["shop"]) for left in document["left"]] == [30, 30]
    data = {"done": True, "hash": "another"}
    entry = LogEntry(
        "t1", "2026-03-21T09:30:00Z", "tick", "seam/left/top rail/nose/face", data, "bench"
    )
    (tmp_path / "log.jsonl").write_bytes(line_of(entry))
    _, told = run(capsys, "seams", str(tmp_path), "--left")
    assert "34 of 34 seams are not ticked yet: 30 on pad and bench, before it is stood up" in told
    assert "changed since the tick: A-23" in told
    assert "[!] A-23" in told
    assert "Together" not in told
