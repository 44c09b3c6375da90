"""`leafwright pack`: what to buy and take along, from the shell."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema

EXAMPLES = Path(__file__).parents[1] / "examples"
JOBS = ("boathouse", "kiln-shed", "yard-gate")


@pytest.mark.parametrize("name", JOBS)
def test_the_document_keeps_its_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    code = cli.main(["pack", str(EXAMPLES / f"{name}.toml"), "--json"])
    found = json.loads(capsys.readouterr().out)
    jsonschema.validate(found, document_schema("pack"))
    assert code == 4
    assert found["pack"]["buying"]["mass"] > 0.0


def test_the_boathouse_is_told_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["pack", str(EXAMPLES / "boathouse.toml")]) == 4
    said = " ".join(capsys.readouterr().out.split())
    for words in (
        "Buy Steel, by the stick",
        "Welding seams how many",
        "The welder draws: 25.4 A",
        "A-MS, B-MS (meeting stiles, 13'-9\")",
        "8 × clamps: one a joint and 2 over",
        "9 × anchors, 1/2 in (1 spare): bottom plates",
        "Hot work",
        "licensed electrician",
    ):
        assert words in said


def test_a_job_that_cannot_be_built_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "kiln-shed.toml").read_text(encoding="utf-8")
    job = tmp_path / "held.toml"
    job.write_text(text.replace('kind = "sheet"', 'kind = "glass"'), encoding="utf-8")
    assert cli.main(["pack", str(job)]) in (3, 4)
    out, err = capsys.readouterr()
    assert "held, because" in out and "Traceback" not in out + err
