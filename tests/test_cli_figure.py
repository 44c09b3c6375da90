"""`leafwright figure` as a maker types it: the list, a card, a figure worked, and its JSON."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest

from leafwright import cli
from leafwright.figures import figures


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(list(words))
    told = capsys.readouterr()
    return code, told.out, told.err


def schema(capsys: pytest.CaptureFixture[str]) -> Any:
    code, out, _ = run(capsys, "schema", "figure")
    assert code == cli.OK
    return json.loads(out)


def test_the_list_names_all_by_subject(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "figure")
    assert (code, err) == (cli.OK, "")
    for figure in figures():
        assert f"\n  {figure.name}" in out
    assert out.index("\nSECTIONS") < out.index("\nWELDS") < out.index("\nLIFTING")


def test_a_subject_lists_its_own(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "figure", "contact and pivots")
    assert code == cli.OK
    assert "CONTACT AND PIVOTS" in out and "WELDS" not in out


def test_a_name_alone_shows_its_card(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "figure", "two-leg-sling")
    assert code == cli.OK
    assert "force, as in 24 lbf or 11 kgf" in out
    assert 'As in: leafwright figure two_leg_sling load="24 lbf" angle="15 deg"' in out


def test_it_is_worked_with_formula_numbers_and_both_families(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, err = run(capsys, "figure", "two_leg_sling", "load=800 lb", "angle=45 deg")
    assert (code, err) == (cli.OK, "")
    assert "Source: Statics" in out
    assert "Rule: Statics: T = W / (2·sin θ), inward part T·cos θ." in out
    assert "tension = 0.5·load/sin(angle)" in out
    assert "= 0.5·800 lb/sin(45°)" in out
    assert "tension = 565.7 lbf = 2.516 kN" in out
    assert "Refused: where the legs are level or less." in out
    assert "Caution: Nobody under or beside a load that can fall." in out


def test_bad_input_is_told_and_exits_2(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "figure", "two_leg_sling", "load", "angle=45 deg")
    assert (code, out) == (cli.BAD_INPUT, "")
    assert "'load' is not a key with its value: write KEY=VALUE" in err
    code, _, err = run(capsys, "figure", "two_leg_sling", "load=1 lb", "load=2 lb")
    assert code == cli.BAD_INPUT and "load is given twice: '1 lb' and '2 lb'" in err
    code, _, err = run(capsys, "figure", "slingg")
    assert code == cli.BAD_INPUT and "no figure 'slingg'" in err and "lists them all" in err


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("heat",),
        ("thermal_growth",),
        ("thermal_growth", "length=4 m", "alpha=12 ppm/K", "difference=40 K"),
    ],
)
def test_json_holds_to_its_schema(
    words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(capsys, "figure", *words[:1], "--json", *words[1:])
    assert code == cli.OK
    jsonschema.validate(json.loads(out), schema(capsys))


def test_json_is_si_at_full_precision(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("thermal_growth", "length=4 m", "alpha=12 ppm/K", "difference=40 K")
    _, out, _ = run(capsys, "figure", *words, "--json")
    made = json.loads(out)["worked"]
    assert made["results"][0]["value"] == pytest.approx(4 * 12e-6 * 40, rel=1e-15)
    assert made["results"][0]["unit"] == "m"
    assert made["put_in"][1] == {
        "key": "alpha",
        "typed": "12 ppm/K",
        "value": 12e-6,
        "unit": "1/K",
        "customary": "6.667 ppm/F",
        "metric": "12 ppm/K",
        "meaning": "coefficient of linear thermal expansion",
        "left_out": False,
    }
