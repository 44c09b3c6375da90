"""`leafwright nest`: sticks, running marks, costs and what if, from the shell."""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leafwright import cli
from leafwright.documents.records import document_json, document_schema
from leafwright.documents.sticks import nest_document
from leafwright.job.file import read_job
from leafwright.pipeline import plan
from leafwright.shop.what_if import Asked

EXAMPLES = Path(__file__).parents[1] / "examples"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(["nest", *words])
    out, err = capsys.readouterr()
    return code, out, err


def example(name: str) -> str:
    return str(EXAMPLES / f"{name}.toml")


def document(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    _, out, _ = run(capsys, *words, "--json")
    return json.loads(out)


def inches(text: str) -> float:
    """A length of the terminal in inches: 13'-9 5/8", 5/8\"."""
    found = re.fullmatch(r"(?:(\d+)'-)?(?:(\d+) ?)?(?:(\d+)/(\d+))?\"", text)
    assert found, text
    feet, whole, top, bottom = (int(g) if g else 0 for g in found.groups())
    return 12 * feet + whole + (top / bottom if bottom else 0)


LENGTH = r"((?:\d+'-)?(?:\d+ ?)?(?:\d+/\d+)?\")"


def rows_of(block: str) -> list[tuple[float, float, float]]:
    """The rows of one stick: how long, from where, to where [in]."""
    found = re.findall(rf" {{2,}}{LENGTH} {{2,}}{LENGTH} {{2,}}{LENGTH}$", block, re.M)
    return [(inches(a), inches(b), inches(c)) for a, b, c in found]


def test_marks_run_from_the_hooked_end_and_leave_the_saw_its_cut(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Each next mark lies past the last by the saw's cut of 0.094", to the tape's sixteenth."""
    _, out, _ = run(capsys, example("boathouse"))
    blocks = [rows_of(block) for block in out.replace("\u00a0", " ").split("  Stick ")[1:]]
    assert sum(map(len, blocks)) == 17
    for rows in blocks:
        assert rows[0][1] == pytest.approx(0.5 + 0.094, abs=1 / 32)
        for long, begins, ends in rows:
            assert ends - begins == pytest.approx(long, abs=1 / 16 + 1e-9)
        for (_, _, end), (_, begin, _) in itertools.pairwise(rows):
            assert begin - end == pytest.approx(0.094, abs=1 / 16 + 1e-9)


def test_it_says_least_only_of_what_is_proven_and_marks_sticks_for_stiles(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, err = run(capsys, example("boathouse"))
    assert (code, err) == (0, "")
    told = " ".join(out.split())
    assert "the least that these pieces can cost from these sticks, proven" in told
    assert "sight along each stick marked" in told
    for block in out.split("  Stick ")[1:]:
        piece = any(f"-{stile} " in block for stile in ("HS", "MS"))
        assert piece == ("* pick it straight" in block)


def test_the_document_keeps_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    found = document(capsys, example("boathouse"))
    jsonschema.validate(found, document_schema("nest"))
    (section,) = found["stock"]["sections"]
    assert found["cost"] == pytest.approx(section["cost"])
    assert found["what_if"] is None


def test_every_question_keeps_the_schema() -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    made = plan(read_job(text), upto="shop")
    for question in (Asked("without", what="24 ft"), Asked("short"), Asked("rack only")):
        found = document_json(nest_document(made, question))
        jsonschema.validate(found, document_schema("nest"))
        assert found["what_if"]["asked"]["kind"] == question.kind
        assert found["what_if"]["cases"]


def test_what_if_tells_what_else_would_do_and_what_it_costs(
    capsys: pytest.CaptureFixture[str],
) -> None:
    _, out, _ = run(capsys, example("boathouse"), "--without", "24 ft")
    told = " ".join(out.split())
    assert told.startswith("Boathouse doors")
    assert "What if 24 ft is not to be had?" in told
    assert re.search(r"That is [\d.]+ USD more", told.replace("\u00a0", " "))
    assert "Nothing waits" in told


@pytest.mark.parametrize(
    ("words", "told"),
    [
        pytest.param(("--without", "25 ft"), "nothing that is sold goes by '25 ft'", id="length"),
        pytest.param(("--short", "0"), "0 sticks short cannot be", id="none short"),
        pytest.param(("--short", "-2"), "-2 sticks short cannot be", id="fewer than none"),
    ],
)
def test_a_question_that_cannot_be_is_refused_with_what_would_do(
    words: tuple[str, ...], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, example("boathouse"), *words)
    assert (code, out) == (2, "")
    assert told in err
    assert "Traceback" not in err
