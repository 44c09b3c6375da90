"""`leafwright site`: the leaves swung, stood up, read on site and put right, from the shell."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leafwright import cli

EXAMPLES = Path(__file__).parents[1] / "examples"
PARTS = ("swing", "stand", "drift", "fit-up", "align")


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    """Return the exit code of a command, and what it said with its lines run together."""
    code = cli.main(list(words))
    told = capsys.readouterr()
    assert not told.err
    return code, " ".join(told.out.split())


def document(capsys: pytest.CaptureFixture[str], *words: str) -> Any:
    cli.main([*words, "--json"])
    return json.loads(capsys.readouterr().out)


def job_with(tmp_path: Path, more: str, name: str = "boathouse") -> str:
    """Return the path of an example with more written under it."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    file = tmp_path / f"{name}.toml"
    file.write_text(f"{text}\n{more}", encoding="utf-8")
    return str(file)


def table(name: str, **values: str) -> str:
    lines = [f'{key.rstrip("_")} = "{value}"' for key, value in values.items()]
    return "\n".join([f"[[{name}]]", *lines, "", ""])


def millimetres(metres: float) -> str:
    return f"{1000 * metres:.3f} mm"


# ---------------------------------------------------------------- all of it


def test_site_alone_is_one_screen_of_all_parts(capsys: pytest.CaptureFixture[str]) -> None:
    code = cli.main(["site", str(EXAMPLES / "boathouse.toml")])
    lines = capsys.readouterr().out.splitlines()
    assert code == cli.TO_BE_DECIDED
    assert len(lines) <= 45
    told = " ".join(" ".join(lines).split())
    for part in PARTS:
        assert f"(site {part})" in told
    assert "Left leaf: not read yet" in told


@pytest.mark.parametrize("words", [["site", "--json", "swing"], ["site", "swing", "--json"]])
def test_the_part_may_stand_before_or_after_an_option(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    cli.main([*words, str(EXAMPLES / "kiln-shed.toml")])
    assert "swing" in json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("name", ["boathouse", "kiln-shed", "yard-gate"])
def test_every_part_is_by_its_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    whole = document(capsys, "site", str(EXAMPLES / f"{name}.toml"))
    told = {"site": whole, **{part: whole[part.replace("-", "_")] for part in PARTS}}
    for part, data in told.items():
        cli.main(["schema", part])
        schema = json.loads(capsys.readouterr().out)
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.validate(data, schema)


def test_a_part_alone_says_what_the_whole_says_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    job = str(EXAMPLES / "kiln-shed.toml")
    whole = document(capsys, "site", job)
    for part in PARTS:
        assert document(capsys, "site", part, job) == whole[part.replace("-", "_")]


@pytest.mark.parametrize("part", ["overview", *PARTS])
def test_bad_input_is_said_without_a_traceback(
    part: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = table("hung", kind="gap", leaf="left", where="hel", at="5 in", is_="1/2 in")
    code = cli.main(["site", part, job_with(tmp_path, more)])
    told = capsys.readouterr()
    assert (code, told.out) == (cli.BAD_INPUT, "")
    assert "hel" in told.err
    assert "Traceback" not in told.err


def test_a_site_command_without_a_job_says_what_it_wants(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as gone:
        cli.main(["site", "swing"])
    assert gone.value.code == cli.BAD_INPUT
    assert "usage: leafwright site swing" in capsys.readouterr().err


def test_readings_that_disagree_stop_the_work_on_site_too(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out = run(capsys, "site", "drift", str(EXAMPLES / "kiln-shed.toml"))
    assert code == cli.TO_BE_DECIDED
    assert "STOP: the readings of the opening do not agree" in out


def test_a_job_whose_leaves_cannot_be_placed_says_why_in_every_part(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "kiln-shed.toml").read_text(encoding="utf-8")
    file = tmp_path / "tight.toml"
    file.write_text(
        text.replace('closing_gap = "5 mm"', 'closing_gap = "2000 mm"'), encoding="utf-8"
    )
    for part in ("overview", *PARTS):
        code, out = run(capsys, "site", part, str(file))
        assert code == cli.TO_BE_DECIDED
        assert "held, because" in out
        document(capsys, "site", part, str(file))


# ---------------------------------------------------------------- swing


def test_swing_tells_gaps_by_angle_the_pair_and_where_each_gap_goes(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out = run(capsys, "site", "swing", str(EXAMPLES / "boathouse.toml"))
    assert code == cli.OK
    assert "Left leaf, opening toward you It opens to" in out
    assert 'The left leaf to the left jamb post: least 3/16", at 58.0° open.' in out
    assert "open heel left side of the reveal floor 0°" in out
    assert "Meeting edges, toward you: the leaves may open together, or either one first." in out
    assert "Clear opening, toward you: greatest" in out
    assert "sweep of the heel corner of the left leaf 1.108 in" in out
    assert "meeting gap, as hung: 0.250 in" in out
    assert "Cautions: what a moving gap can catch" in out


def test_the_angle_table_is_the_curve_at_every_15_degrees(
    capsys: pytest.CaptureFixture[str],
) -> None:
    job = str(EXAMPLES / "kiln-shed.toml")
    turn = document(capsys, "site", "swing", job)["swing"]["leaves"][0]["turns"][0]
    _, out = run(capsys, "site", "swing", job)
    at_45 = min(range(61), key=lambda i: abs(turn["heel"]["angles"][i] - math.pi / 4))
    heel, nose = (1000 * turn[key]["gaps"][at_45] for key in ("heel", "nose"))
    assert f"45° {heel:.0f} mm {nose:.0f} mm" in out


def test_an_obstacle_in_the_way_stops_the_swing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = """
[[obstacle]]
name = "bollard"
from = ["2 ft", "0 in", "2 ft"]
to = ["3 ft", "3 ft", "3 ft"]
"""
    code, out = run(capsys, "site", "swing", job_with(tmp_path, more))
    assert code == cli.SHORT
    assert "bollard" in out
    assert "TOUCHES" in out


# ---------------------------------------------------------------- standing up


def test_stand_tells_cautions_first_the_way_and_the_hands(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out = run(capsys, "site", "stand", str(EXAMPLES / "boathouse.toml"))
    assert code == cli.TO_BE_DECIDED
    assert out.index("! Needs a hoist or lift: 11 people") < out.index("Onto its pins:")
    assert "Onto its pins: captive plate, top pin put in afterwards" in out
    assert "Not drop on, top pin put in afterwards: the room over the leaf is too little" in out
    assert "Way in: it goes in from the" in out
    assert "Greatest push 232 lbf, at 44°" in out
    assert "To walk it up: 11 people. The crew is 2." in out
    assert "it SLIDES: chock it" in out


def test_a_leaf_that_cannot_be_stood_up_stops_with_the_proof(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = """
[site]
approach = "toward side"
lift = "hoist"

[[obstacle]]
name = "boat rack"
from = ["-2 ft", "0 in", "3 ft"]
to = ["14 ft", "15 ft", "6 ft"]
"""
    file = job_with(tmp_path, more)
    code, out = run(capsys, "site", "stand", file)
    assert code == cli.TO_BE_DECIDED
    assert "STOP: the left leaf cannot be stood up under the head" in out
    assert "IT DOES NOT GO IN. No way keeps the margin: boat rack bars it." in out
    assert "This is proven for every position and tilt" in out
    _, told = run(capsys, "plan", file)
    assert "STOP: the left leaf cannot be stood up under the head" in told
    assert "it DOES NOT GO IN under the head" in told


def test_pins_that_are_not_known_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "kiln-shed.toml").read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if "_pin_length" not in line]
    (tmp_path / "kiln.toml").write_text("\n".join(kept), encoding="utf-8")
    _, out = run(capsys, "site", "stand", str(tmp_path / "kiln.toml"))
    assert "It needs bottom_pin_length of the mount; top_pin_length of the mount." in out


# ---------------------------------------------------------------- drift


def test_drift_without_a_plumb_line_says_so_and_how_to_write_one(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out = run(capsys, "site", "drift", str(EXAMPLES / "boathouse.toml"))
    assert code == cli.OK
    assert "Its axis is taken as plumb: no plumb line at its pins was read yet." in out
    assert '[[hung]] kind = "plumb" leaf = "left"' in out
    assert "Push at its closing edge" in out


def test_a_leaning_axis_drifts_and_says_what_to_slide(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = table(
        "hung",
        kind="plumb",
        leaf="left",
        direction="through the wall",
        over="13 ft",
        is_="1 in",
        toward="viewer",
    )
    code, out = run(capsys, "site", "drift", job_with(tmp_path, more))
    assert code == cli.SHORT
    assert "Left leaf: it DRIFTS by itself" in out
    assert "as it was read" in out
    assert 'slide the top pin plate 1 1/16" away from you' in out


# ---------------------------------------------------------------- on the pad


def test_fit_up_without_readings_says_which_eight_to_take_and_how_to_write_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out = run(capsys, "site", "fit-up", str(EXAMPLES / "boathouse.toml"))
    assert code == cli.OK
    assert "Eight numbers tell a leaf's shape in its plane" in out
    assert "8. A string along the closing edge" in out
    assert "Twist: the height of the bottom hinge corner" in out
    cli.main(["site", "fit-up", str(EXAMPLES / "boathouse.toml")])
    printed = capsys.readouterr().out
    example = printed[printed.index("  [[fit_up]]") :]
    code, out = run(capsys, "site", "fit-up", job_with(tmp_path, example))
    assert "Tacked." in out  # what it prints can be written as it stands


def pad_readings(width: float, height: float, lean: float, *, stage: str = "tacked") -> str:
    """Return six distances of the left leaf, its top leaning toward the closing edge [m]."""
    places = {
        "bottom hinge": (0.0, 0.0),
        "bottom closing": (width, 0.0),
        "top hinge": (lean, height),
        "top closing": (width + lean, height),
    }
    pairs = [
        ("bottom hinge", "bottom closing"),
        ("top hinge", "top closing"),
        ("bottom hinge", "top hinge"),
        ("bottom closing", "top closing"),
        ("bottom hinge", "top closing"),
        ("bottom closing", "top hinge"),
    ]
    return "".join(
        table(
            "fit_up",
            kind="distance",
            leaf="left",
            **{"from": a},
            to=b,
            is_=millimetres(math.dist(places[a], places[b])),
            stage=stage,
        )
        for a, b in pairs
    )


def test_a_racked_leaf_tells_the_corner_to_push_and_what_is_not_known(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    leaf = document(capsys, "site", "fit-up", str(EXAMPLES / "boathouse.toml"))["leaves"][0]
    more = pad_readings(leaf["width"], leaf["height"], 0.010)
    file = job_with(tmp_path, more)
    data = document(capsys, "site", "fit-up", file)["leaves"][0]["tacked"]
    rack = next(item for item in data["items"] if item["key"] == "rack")
    assert rack["value"] == pytest.approx(0.010, abs=2e-5)  # typed to a thousandth of a mm
    code, out = run(capsys, "site", "fit-up", file)
    assert code == cli.SHORT
    assert "What to push, first things first:" in out
    assert "corner" in data["pushes"][0]["words"]
    assert " ".join(data["pushes"][0]["words"].split())[1:] in out
    assert "Bow of the hinge edge: a string along the hinge edge" in out
    assert "Right leaf" in out
    assert "Eight numbers tell" in out  # the right one is still to be read


def test_the_first_leaf_as_welded_splits_the_gaps_anew_for_the_second(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    leaves = document(capsys, "site", "fit-up", str(EXAMPLES / "boathouse.toml"))["leaves"]
    wide = 0.004
    more = pad_readings(leaves[0]["width"] + wide, leaves[0]["height"], 0.0, stage="welded")
    file = job_with(tmp_path, more)
    split = document(capsys, "site", "align", file)["resplit"]
    assert split["width"] == pytest.approx(leaves[1]["width"] - wide, abs=1e-4)
    _, out = run(capsys, "site", "align", file)
    assert "The second leaf, made to suit the first as it came out:" in out
    assert "it is not the first one turned about" in out
    _, out = run(capsys, "site", "fit-up", file)
    assert "As it came out, welded:" in out


def test_floor_points_of_the_pad_are_packed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    heights = {("0 ft", "0 ft"): "0 in", ("5 ft", "0 ft"): "1/4 in", ("0 ft", "13 ft"): "1/8 in"}
    more = "".join(
        table("fit_up", kind="height", leaf="left", x=x, y=y, is_=high)
        for (x, y), high in heights.items()
    )
    _, out = run(capsys, "site", "fit-up", job_with(tmp_path, more))
    assert "Packers under it" in out
    assert '1/4"' in out


# ---------------------------------------------------------------- hung


def test_align_without_readings_says_what_to_read_and_how_to_write_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(capsys, "site", "align", str(EXAMPLES / "kiln-shed.toml"))
    assert "Nothing was read of it hung yet." in out
    assert "Place along the wall: the heel gap near the bottom, leaf closed" in out
    cli.main(["site", "align", str(EXAMPLES / "kiln-shed.toml")])
    printed = capsys.readouterr().out
    example = printed[printed.index("  [[hung]]") :]
    _, out = run(capsys, "site", "align", job_with(tmp_path, example, "kiln-shed"))
    assert "How it hangs:" in out
    assert "top pin stands 5 mm to the right of plumb" in out.lower()


def test_hung_readings_give_the_moves_and_foretell_the_gaps(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    leaf = document(capsys, "site", "align", str(EXAMPLES / "boathouse.toml"))["leaves"][0]
    off = 0.25 * 0.0254 + 0.0004  # a little over, so that what is left is not under the least
    more = "".join(
        table(
            "hung",
            kind="gap",
            leaf="left",
            where="heel",
            at=millimetres(share * leaf["height"]),
            is_=millimetres(leaf["heel_gap"] + off),
        )
        for share in (0.05, 0.95)
    )
    file = job_with(tmp_path, more)
    data = document(capsys, "site", "align", file)["leaves"][0]["hung"]
    slides = {move["key"]: move["exact"] for move in data["moves"]}
    # The gap is a quarter inch too wide at the left jamb: both plates go to the left.
    assert slides["bottom plate/along wall"] == pytest.approx(-off, abs=1e-5)
    assert data["gaps"][0]["after"] == pytest.approx(leaf["heel_gap"] + 0.0004, abs=1e-5)
    code, out = run(capsys, "site", "align", file)
    assert code == cli.OK
    assert out.index("! Before a plate or a hinge is loosened") < out.index("What to move")
    assert 'Slide the bottom plate left 1/4"' in out
    assert "after the moves" in out
    assert "Not known yet, and what to read for it:" in out
    _, told = run(capsys, "site", file)
    assert 'slide the bottom plate left 1/4"' in told


def test_moves_that_leave_too_little_are_not_to_be_made(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    leaf = document(capsys, "site", "align", str(EXAMPLES / "kiln-shed.toml"))["leaves"][0]
    more = table(
        "hung",
        kind="gap",
        where="heel",
        at=millimetres(0.95 * leaf["height"]),
        is_=millimetres(leaf["heel_gap"]),
    )
    more += table(
        "hung",
        kind="plumb",
        direction="in the wall",
        over="1500 mm",
        is_="6 mm",
        toward="right",
    )
    code, out = run(capsys, "site", "align", job_with(tmp_path, more, "kiln-shed"))
    assert code == cli.SHORT
    assert "STOP: after these moves too little would be left at the heel gap" in out
    assert "DO NOT make these moves before what stops them is settled" in out
