from __future__ import annotations

import tomllib
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
import tomlkit

from leafwright.job.file import load_job, read_job
from leafwright.job.model import BarrelHinge, DistanceReading, FloorPivot, Job
from tests.job.edits import EXAMPLES, FOLDER, NAMES, edited

INCH = Fraction(254, 10_000)


def as_typed(job: Job) -> dict[str, Any]:
    """Return what a job was given, as plain data: each quantity as it was typed."""
    given = job.model_dump(by_alias=True, exclude_unset=True)
    return {key: _lists(value) for key, value in given.items()}


def _lists(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _lists(inner) for key, inner in value.items()}
    if isinstance(value, tuple):
        return [_lists(inner) for inner in value]
    return value


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_read_from_its_file(name: str) -> None:
    read = load_job(FOLDER / f"{name}.toml")
    assert read.text == EXAMPLES[name]
    assert read.name.endswith(f"{name}.toml")
    assert read.job == read_job(EXAMPLES[name])


def test_a_folder_is_read_by_its_job_toml(tmp_path: Any) -> None:
    (tmp_path / "job.toml").write_text(EXAMPLES["kiln-shed"], encoding="utf-8")
    read = load_job(tmp_path)
    assert read.job.job.name == "Kiln shed door"
    assert read.name == str(tmp_path / "job.toml")


@pytest.mark.parametrize("name", NAMES)
def test_everything_typed_is_kept_as_typed(name: str) -> None:
    typed = tomllib.loads(EXAMPLES[name])
    kept = as_typed(read_job(EXAMPLES[name]))
    for data in (typed, kept):
        data.pop("each_leaf", None)
    if name != "kiln-shed":  # the only one whose leaves share nothing
        del typed["leaf"], kept["leaf"]
    assert kept == typed


def test_a_length_keeps_its_text_and_its_exact_value() -> None:
    first = read_job(EXAMPLES["boathouse"]).reading[0]
    assert isinstance(first, DistanceReading)
    assert first.is_.text == "10'-6 11/16"
    assert first.is_.exact == (126 + Fraction(11, 16)) * INCH


def test_other_quantities_are_kept_too() -> None:
    job = read_job(EXAMPLES["boathouse"])
    assert job.job.surveyed == date(2026, 3, 14)
    assert job.building.beam_load is not None and job.building.beam_load.text == "600 lb/ft"
    assert job.price["frame_tube"].text == "1.15 /lb"
    assert job.price["frame_tube"].per == "kg"
    infill = job.leaf[0].infill[0]
    assert infill.density is not None and infill.density.text == "23 lb/ft3"


def test_a_sheet_may_be_given_by_its_gauge() -> None:
    thickness = read_job(EXAMPLES["yard-gate"]).leaf[0].infill[0].thickness
    assert thickness is not None
    assert thickness.text == "14 ga"
    # 0.0747 in: Manufacturers' Standard Gauge, as in units/gauges.py
    assert thickness.exact == Fraction("0.0747") * INCH


@pytest.mark.parametrize("name", NAMES)
def test_a_job_written_out_reads_as_the_same_job(name: str) -> None:
    job = read_job(EXAMPLES[name])
    assert read_job(tomlkit.dumps(as_typed(job))) == job


def test_line_ends_of_windows_and_a_byte_order_mark_change_nothing(tmp_path: Any) -> None:
    text = EXAMPLES["boathouse"].replace("\n", "\r\n")
    file = tmp_path / "job.toml"
    file.write_bytes(b"\xef\xbb\xbf" + text.encode("utf-8"))
    assert load_job(file).job == read_job(EXAMPLES["boathouse"])


# ---------------------------------------------------------------- what leaves share


def test_each_leaf_holds_for_every_leaf() -> None:
    left, right = read_job(EXAMPLES["yard-gate"]).leaf
    assert (left.hand, right.hand) == ("left", "right")
    assert left.frame == right.frame == "HSS 2 x 2 x 3/16"
    assert left.model_copy(update={"hand": "right"}) == right


def test_a_leaf_s_own_keys_win() -> None:
    text = edited("boathouse", ('hand = "right"', 'hand = "right"\nswing = "away"'))
    left, right = read_job(text).leaf
    assert (left.swing, right.swing) == ("both", "away")
    assert left.frame == right.frame


def test_tables_of_a_leaf_merge_with_what_leaves_share() -> None:
    text = edited(
        "boathouse",
        (
            'hand = "right"',
            'hand = "right"\nmount = { spacer = "1 in", plate = { width = "7 in" } }',
        ),
    )
    left, right = (leaf.mount for leaf in read_job(text).leaf)
    assert isinstance(left, FloorPivot) and isinstance(right, FloorPivot)
    assert left.spacer is not None and left.spacer.text == "1/2 in"
    assert right.spacer is not None and right.spacer.text == "1 in"
    assert right.plate is not None and left.plate is not None
    assert right.plate == left.plate.model_copy(update={"width": right.plate.width})
    assert right.plate.width.text == "7 in"
    assert right.pin_diameter == left.pin_diameter


def test_a_mount_of_another_kind_replaces_the_shared_one() -> None:
    other = 'mount = { kind = "barrel hinge", standoff = "2 in", heights = ["8 in", "9 ft"] }'
    text = edited("boathouse", ('hand = "right"', f'hand = "right"\n{other}'))
    left, right = (leaf.mount for leaf in read_job(text).leaf)
    assert isinstance(left, FloorPivot)
    assert isinstance(right, BarrelHinge)
    assert right.pin_diameter is None
    assert [height.text for height in right.heights] == ["8 in", "9 ft"]


def test_a_list_of_a_leaf_is_taken_whole() -> None:
    text = edited("boathouse", ('hand = "right"', 'hand = "right"\nbrace = [{ pattern = "X" }]'))
    left, right = read_job(text).leaf
    assert [brace.pattern for brace in left.brace] == ["one diagonal"]
    assert [brace.pattern for brace in right.brace] == ["X"]
    assert right.brace[0].foot is None
