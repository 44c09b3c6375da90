"""`leafwright prove`: every check with its formulas, numbers and sources, from the shell."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_schema
from leafwright.job.file import read_job
from leafwright.pipeline import plan
from leafwright.records import Verdict

EXAMPLES = Path(__file__).parents[1] / "examples"
JOBS = ("boathouse", "kiln-shed", "yard-gate")


def path_of(name: str) -> str:
    return str(EXAMPLES / f"{name}.toml")


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    cli.main(["prove", *words])
    out, err = capsys.readouterr()
    assert not err
    return " ".join(out.split())


def document(capsys: pytest.CaptureFixture[str], name: str) -> Any:
    cli.main(["prove", path_of(name), "--json"])
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("name", JOBS)
def test_every_check_of_the_plan_stands_in_one_group(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    keys = sorted(check.key for check in plan(read_job(text)).checks)
    found = document(capsys, name)
    assert sorted(c["key"] for group in found["groups"] for c in group["checks"]) == keys


@pytest.mark.parametrize("name", JOBS)
def test_the_document_keeps_its_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    jsonschema.validate(document(capsys, name), document_schema("prove"))


def test_the_whole_tells_formula_numbers_and_source(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, "--whole", path_of("boathouse"))
    # A 2-1/2 in tube of 46 ksi steel over 13'-9 with its bottom and top held: KL/r is 176.
    assert "F_e = π²·E/L_c_over_r² = π²·29000 ksi/176.1² = 9.225 ksi" in out
    assert "[ANSI/AISC 360-22, E3 and E7; D2, Eqs. D2-1 and D2-2 (ASD)]" in out
    assert "Taken: joints rigid" in out


def test_without_it_what_is_ok_has_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, path_of("boathouse"))
    assert "F_e = " not in out
    assert "With every formula: leafwright prove --whole JOB" in out
    assert "axial force against its strength, pressed" in out


def test_a_metric_job_is_told_in_metric(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, "--whole", path_of("kiln-shed"))
    assert "N·mm" in out
    assert " ksi" not in out
    assert " kip" not in out


@pytest.mark.parametrize("name", JOBS)
def test_nothing_is_ok_without_a_demand_and_a_strength(name: str) -> None:
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for check in plan(read_job(text)).checks:
        if check.verdict is Verdict.OK and check.basis != "answered":
            assert check.demand is not None, check.key
            assert check.available is not None, check.key
