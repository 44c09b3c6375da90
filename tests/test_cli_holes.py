"""`leafwright holes`: every hole of every part, from the shell."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema

EXAMPLES = Path(__file__).parents[1] / "examples"


def test_the_boathouse_tells_each_hole_from_its_own_edges(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code = cli.main(["holes", str(EXAMPLES / "boathouse.toml")])
    out, err = capsys.readouterr()
    assert not err
    assert code == 4  # something is asked: how the leaves are finished, how the posts are fixed
    told = " ".join(out.replace("\u00a0", " ").split())
    assert "A-HS hanging stile" in told and "B-HS hanging stile" in told
    assert "hook the tape on its lower end" in told
    # Pin 5, ball 1-1/2, less the spacer 1/2: 6 in.
    assert (
        'Access hole to the grease fitting, 1-1/4 in hole, face, toward the dock side: 6" along, '
        '1 1/4" from its hinge edge, through one wall' in told
    )
    assert "#3 twist drill, then 1/4-28 tap" in told
    assert "4 x 1/2 in in the slab, through A-FP" in told
    assert "opposite hand" not in told


def test_the_json_keeps_to_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["holes", str(EXAMPLES / "kiln-shed.toml"), "--json"])
    document: Any = json.loads(capsys.readouterr().out)
    jsonschema.validate(document, document_schema("holes"))
    keys = {q["key"] for q in document["quantities"]}
    for part in document["holes"]["parts"]:
        for hole in part["holes"]:
            assert {hole[name]["quantity"] for name in ("along", "across", "diameter")} <= keys
            assert hole["tools"]


def test_a_hole_that_its_bolt_does_not_go_through_says_so(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    old = 'bolt = { size = "1/2-13", grade = "A325", hole = "9/16 in" }'
    assert old in text
    job = tmp_path / "job.toml"
    job.write_text(text.replace(old, old.replace("1/2-13", "3/4-10").replace("9/16", "5/8")))
    assert cli.main(["holes", str(job)]) == 4
    told = " ".join(capsys.readouterr().out.split())
    assert "DO NOT DRILL: a 3/4 in bolt does not go through a hole of 5/8 in" in told
    assert "drill 13/16 in, its standard hole" in told
