"""`leafwright cuts`: every piece, both its ends, which saw and how it is set, from the shell."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema

EXAMPLES = Path(__file__).parents[1] / "examples"


def told(capsys: pytest.CaptureFixture[str], name: str) -> str:
    code = cli.main(["cuts", str(EXAMPLES / f"{name}.toml")])
    out, err = capsys.readouterr()
    assert not err
    assert code == (0 if name == "boathouse" else 4)
    return " ".join(out.replace("\u00a0", " ").split())


def test_the_boathouse_by_hand(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, "boathouse")
    # A leaf of 165 in with two rails and a mid rail of 2-1/2 in leaves two panels 78.75 in high
    # and 53.93 in wide: atan(53.93 / 78.75) is 34.4° between brace and stile, and 55.6° from the
    # brace to the rail. The clear diagonal is √(53.93² + 78.75²) = 95.45 in, 7'-11 7/16.
    assert "4 × A-B1, A-B2, B-B1, B-B2: brace" in out
    assert "7'-11 7/16\" long point to long point" in out
    # 1-1/4 in · tan 34.4° = 0.856 in: the shallow side ends 94.59 in from the far long point.
    assert (
        "Cold saw, 34.4° right; the upper edge stays longer; stop 7'-10 9/16\", to the mark on the "
        "lower edge" in out
    )
    # 1-1/4 in · tan 55.6° = 1.826 in back, along √(1.25² + 1.826²) = 2.21 in of line.
    assert (
        'Grinder, by hand: from 1 1/4" up from the lower edge, at the long point, to the upper '
        'edge, 1 13/16" back; the line is 2 3/16" long on the face' in out
    )
    assert "17 pieces, 848 lb" in out


def test_the_kiln_shed_by_hand(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, "kiln-shed")
    assert "NOT FOR CUTTING until this is decided." in out
    # Two panels of 893.6 × 1074.6 mm clear: atan(893.6 / 1074.6) = 39.7°, its complement 50.3°;
    # half of 40 mm times their tangents is 16.6 and 24.1 mm back from 1397.6 mm.
    assert "Band saw, 39.7° right; the upper edge stays longer; stop 1381 mm" in out
    # It swings to the right only: the other side is cut with the piece turned over.
    assert "Band saw, 50.3° right; turn it over, its lower edge at the fence" in out
    assert "stop 1373 mm, to the mark on the upper edge" in out
    assert "Nothing here is cut by: grinder." in out


@pytest.mark.parametrize("name", ["yard-gate"])
def test_the_document_keeps_its_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    cli.main(["cuts", str(EXAMPLES / f"{name}.toml"), "--json"])
    found: Any = json.loads(capsys.readouterr().out)
    jsonschema.validate(found, document_schema("cuts"))
    for item in found["cuts"]["items"]:
        for end in (item["start"], item["end"]):
            assert end["cuts"], item["marks"]
            assert {cut["way"] for cut in end["cuts"]} <= {"saw", "by hand"}
