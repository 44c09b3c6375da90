"""`leafwright seams --order`: the steps of welding a leaf from the shell, and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema

EXAMPLES = Path(__file__).parents[1] / "examples"


def test_the_steps_are_told_and_kept_to_their_schema(capsys: pytest.CaptureFixture[str]) -> None:
    path = str(EXAMPLES / "boathouse.toml")
    assert cli.main(["seams", "--order", path, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, document_schema("weld-order"))
    left, right = document["leaves"]
    assert right["order"]["like"] == "left"
    assert cli.main(["seams", path, "--order"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    for leaf in (left, right):
        for step in leaf["steps"]:
            assert " ".join(step["words"].split()) in text
        for said in (*leaf["found"], *leaf["cautions"]):
            assert " ".join(said.split()) in text
    # Nobody knows what a weld draws in well enough for a length, so none is told of the leaf.
    assert "no length is given" in text
    assert "from memory" in text


def test_a_stop_is_told_and_exits_as_to_be_decided(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["seams", "--order", str(EXAMPLES / "yard-gate.toml")]) == 4
    out = capsys.readouterr().out
    assert out.count("STOP:") >= 1
    assert "the order matters little" in " ".join(out.split())


def test_no_such_file_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["seams", "--order", "nowhere.toml"]) == 2
    assert "nowhere.toml" in capsys.readouterr().err
