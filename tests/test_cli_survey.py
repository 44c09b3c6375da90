"""`leafwright survey`: the opening as found, and the reading that is wrong, named and sized."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from leafwright import cli

EXAMPLES = Path(__file__).parents[1] / "examples"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return the exit code of a command, and what it said with its lines run together."""
    code = cli.main(list(words))
    told = capsys.readouterr()
    return code, " ".join(told.out.split()), told.err


def changed(tmp_path: Path, name: str, *changes: tuple[str, str]) -> str:
    """Return the path of an example with some of its text changed."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file = tmp_path / f"{name}.toml"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_readings_that_agree_are_told_with_what_would_show_in_each(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, err = run(capsys, "survey", str(EXAMPLES / "boathouse.toml"))
    assert (code, err) == (cli.OK, "")
    assert out.startswith("Boathouse doors, revision B: the opening as found")
    assert out.index("THE READINGS AGREE") < out.index("smallest mistake that shows")
    assert 'BL to TL 14\'-2 3/4" 14\'-2 3/4" 0 in 5/8"' in out
    assert "floor left 20 in out above BL" in out
    assert "none would unchecked" in out
    assert "Set aside: BL to TR, read 17'-10 3/8\"; the rest say 17'-8 7/16\"" in out
    assert 'Floor under the left leaf: highest 3/16"' in out
    assert "out along its swing" in out
    assert "Head: lowest 14'-2 5/16\"" in out
    assert "Largest rectangle that fits, 95 % sure: 10'-6 9/16\" wide" in out
    assert 'tape sd: 1/16" – one person with a tape' in out


def test_a_reading_a_foot_off_is_named_sized_and_explained(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = changed(tmp_path, "boathouse", ('is = "10\'-6 11/16"', 'is = "11\'-6 11/16"'))
    code, out, _ = run(capsys, "survey", file)
    assert code == cli.SHORT
    assert "IN DOUBT: one of the readings is wrong. Without what is in doubt the rest agree." in out
    assert "The bottom width is about 11 15/16 in long against the rest; 10'-6 3/4\" fits" in out
    assert "perhaps it is a foot off" in out
    assert "Read again: the bottom width." in out
    assert "the bottom width 11'-3\" 10'-6 3/4\"" in out  # with it, and without it
    assert "it does not believe the bottom width" in out
    assert "STOP: the readings of the opening do not agree" in out


def test_readings_that_cannot_be_told_apart_come_with_what_would_decide(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = run(capsys, "survey", str(EXAMPLES / "kiln-shed.toml"))
    assert code == cli.SHORT
    assert "AMBIGUOUS" in out
    assert "One of these is wrong, and the readings cannot tell which:" in out
    assert "If the top width is the wrong one, it is about 10 mm short, and 999 mm fits" in out
    assert "To decide it best: read the top width again, from the other end" in out
    assert "it would come out at 999 mm if the top width is wrong" in out


def test_an_opening_with_nothing_over_it_has_no_head_and_an_unmapped_floor(
    capsys: pytest.CaptureFixture[str],
) -> None:
    _, out, _ = run(capsys, "survey", str(EXAMPLES / "yard-gate.toml"))
    assert "Head: open above." in out
    assert "of what it sweeps is not mapped" in out
    assert "IN DOUBT" in out  # the width half way up is marked in the list of readings


def test_readings_without_redundancy_are_unverified(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "kiln-shed.toml").read_text(encoding="utf-8")
    before, _, rest = text.partition("[[reading]]")
    _, wishes, doorway = rest.partition("[doorway]")
    few = [
        'kind = "distance"\nfrom = "BL"\nto = "BR"\nis = "1004 mm"',
        'kind = "distance"\nfrom = "BL"\nto = "TL"\nis = "2313 mm"',
        'kind = "distance"\nfrom = "BR"\nto = "TR"\nis = "2313 mm"',
        'kind = "plumb"\nfrom = "BL"\nto = "TL"\nis = "3 mm"\ntoward = "inward"',
        'kind = "plumb"\nfrom = "BR"\nto = "TR"\nis = "2 mm"\ntoward = "inward"',
        'kind = "rise"\nfrom = "BL"\nto = "BR"\nis = "-4 mm"',
    ]
    readings = "".join(f"[[reading]]\n{one}\n\n" for one in few)
    file = tmp_path / "few.toml"
    file.write_text(before + readings + wishes + doorway, encoding="utf-8")
    code, out, err = run(capsys, "survey", str(file))
    assert code != cli.BAD_INPUT, err
    assert "UNVERIFIED: nothing checks these readings: a wrong one would not show." in out
    assert "it would check 3 readings that nothing checks now" in out


def test_floors_are_not_told_where_no_leaf_fits(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = changed(tmp_path, "kiln-shed", ('closing_gap = "5 mm"', 'closing_gap = "2000 mm"'))
    code, out, _ = run(capsys, "survey", file)
    assert code == cli.SHORT
    assert "Floor under the leaves: held, because where the leaves swing is not known" in out


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_the_json_is_by_its_schema_and_full_precision(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    cli.main(["schema", "survey"])
    schema = json.loads(capsys.readouterr().out)
    cli.main(["survey", "--json", str(EXAMPLES / f"{name}.toml")])
    data = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(data, schema)
    assert data["heading"]["version"] == schema["version"]
    largest = data["examined"]["largest"]
    # Nothing is told of what fits from readings that disagree.
    assert largest.get("record") == "Held" or len(repr(largest["width"])) > 10
    known = {quantity["key"] for quantity in data["quantities"]}
    assert set(data["defaults"]) <= known
    assert {floor["under"]["highest"]["quantity"] for floor in data["floors"]} <= known


def test_a_file_that_cannot_be_read_is_said_plainly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = changed(tmp_path, "kiln-shed", ('to = "BR"', 'to = "BX"'))
    code, out, err = run(capsys, "survey", file)
    assert (code, out) == (cli.BAD_INPUT, "")
    assert "BX" in err
    assert "Traceback" not in err
