from __future__ import annotations

import copy
import difflib
import tomllib
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.file import read_job, with_value
from leafwright.job.model import Job
from leafwright.job.positions import Path
from leafwright.job.shared import merged_leaves
from tests.job.edits import EXAMPLES, NAMES, edited


def values(data: Any, where: Path = ()) -> list[tuple[Path, Any]]:
    """Return every value in a file's data that is not itself a table or a list, and its place."""
    if isinstance(data, dict):
        return [pair for key, value in data.items() for pair in values(value, (*where, key))]
    if isinstance(data, list):
        return [pair for i, value in enumerate(data) for pair in values(value, (*where, i))]
    return [(where, data)]


PLACES = [(name, *pair) for name in NAMES for pair in values(tomllib.loads(EXAMPLES[name]))]


def changed(data: dict[str, Any], where: Path, value: Any) -> dict[str, Any]:
    new = copy.deepcopy(data)
    here: Any = new
    for part in where[:-1]:
        here = here[part]
    here[where[-1]] = value
    return new


def other_lines(old: str, new: str) -> list[str]:
    """Return the lines that were taken out and put in, marked - and +."""
    diff = difflib.ndiff(old.splitlines(keepends=True), new.splitlines(keepends=True))
    return [line for line in diff if line[0] in "+-"]


@given(st.data())
def test_only_the_one_value_is_changed(data: st.DataObject) -> None:
    name, where, old = data.draw(st.sampled_from(PLACES))
    # What a file may hold there does not matter here: the text is what is looked at.
    by_kind: dict[type, st.SearchStrategy[Any]] = {
        str: st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
        bool: st.booleans(),
        int: st.integers(-(2**63), 2**63 - 1),
        float: st.floats(allow_nan=False),
        date: st.dates(),
    }
    value = data.draw(by_kind[type(old)])
    text = EXAMPLES[name]
    new = with_value(text, where, value)
    assert tomllib.loads(new) == changed(tomllib.loads(text), where, value)
    assert new.count("\n") == text.count("\n")
    lines = [(a, b) for a, b in zip(text.split("\n"), new.split("\n"), strict=True) if a != b]
    assert len(lines) == (0 if value == old else 1)
    for before, after in lines:
        assert before.partition(" # ")[2] == after.partition(" # ")[2] or "#" in str(value)


LENGTHS = [
    (name, where)
    for name, where, value in PLACES
    if isinstance(value, str) and value.endswith((" in", " mm"))
    # The sizes of a pivot must nest, so that one alone cannot be anything.
    if where[-1] not in ("thickness", "section", "pin_diameter", "sleeve_bore", "sleeve_outside")
    if where[-1] != "ball_diameter"
]


@given(st.sampled_from(LENGTHS), st.integers(1, 400), st.sampled_from(("in", "mm")))
def test_the_changed_text_reads_as_the_job_with_that_value(
    place: tuple[str, Path], number: int, unit: str
) -> None:
    name, where = place
    value = f"{number} {unit}"
    text = EXAMPLES[name]
    expected = Job.model_validate(merged_leaves(changed(tomllib.loads(text), where, value)))
    assert read_job(with_value(text, where, value)) == expected


def test_the_remark_behind_a_value_stays() -> None:
    new = with_value(EXAMPLES["boathouse"], ("each_leaf", "infill", 0, "kind"), "panel")
    assert other_lines(EXAMPLES["boathouse"], new) == [
        '- kind = "boards"                      # cedar\n',
        '+ kind = "panel"                      # cedar\n',
    ]


def test_a_value_in_braces_is_changed_where_it_stands() -> None:
    where = ("each_leaf", "mount", "plate", "width")
    new = with_value(EXAMPLES["boathouse"], where, "7 in")
    assert other_lines(EXAMPLES["boathouse"], new)[1:] == [
        '+ plate = { thickness = "1/2 in", width = "7 in", length = "9 in", grade = "A36" }\n',
    ]


def test_a_new_key_comes_behind_the_last_of_its_table_not_below_the_next_heading() -> None:
    text = EXAMPLES["boathouse"]
    new = with_value(text, ("basis", "country"), "US")
    assert new == text.replace('method = "ASD"\n', 'method = "ASD"\ncountry = "US"\n')


def test_a_new_key_comes_behind_a_list_of_many_lines_and_a_remark() -> None:
    text = "[stock]\nlengths = [\n  '20 ft', # the usual ]\n]  # two\n\n# next\n[saw]\n"
    new = with_value(text, ("stock", "kerf"), "1/8 in")
    assert new == text.replace("]  # two\n", ']  # two\nkerf = "1/8 in"\n')


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("leaf", 0, "swing"), "away"),
        (("leaf", 1, "width"), "5'-0"),
        (("reading", 3, "sd"), '1/8"'),
        (("reading", 3, "on"), date(2026, 3, 14)),
        (("each_leaf", "mount", "axis"), "1 1/4 in"),
        (("each_leaf", "infill", 0, "note"), "cedar, # 1"),
        (("building", "anchor", "edge_distance"), "9 in"),
        (("price", "galvanizing"), "0.85 /lb"),
        (("price", "a kind of its own"), "2 /lb"),
        (("stock", "lengths"), ["20 ft", "40 ft"]),
        (("saw",), {"mitre_range": "45 deg"}),
        (("doorway", "transom"), {"shim": "1 in"}),
    ],
)
def test_a_key_may_be_new(where: Path, value: Any) -> None:
    text = EXAMPLES["boathouse"]
    new = with_value(text, where, value)
    assert tomllib.loads(new) == changed(tomllib.loads(text), where, value)
    read_job(new)
    gone = [line for line in other_lines(text, new) if line.startswith("-")]
    assert len(gone) <= 1
    assert [line for line in new.splitlines() if "# ---" in line] == [
        line for line in text.splitlines() if "# ---" in line
    ]


def test_a_new_key_of_the_whole_file_comes_before_its_tables() -> None:
    assert (
        with_value("a = 1 # one\n\n[b]\nc = 2\n", ("d",), 3) == "a = 1 # one\nd = 3\n\n[b]\nc = 2\n"
    )


def test_the_last_line_may_be_without_an_end() -> None:
    assert with_value("[b]\nc = 2", ("b", "d"), 3) == "[b]\nc = 2\nd = 3"
    assert with_value("[b]", ("b", "d"), 3) == "[b]\nd = 3"


@pytest.mark.parametrize("where", [("basis", "country"), ("job", "crew"), ("saw",)])
def test_line_ends_of_windows_are_kept(where: Path) -> None:
    text = EXAMPLES["boathouse"].replace("\n", "\r\n")
    value: Any = {"mitre_range": "45 deg"} if where == ("saw",) else 3
    new = with_value(text, where, value)
    assert new.count("\r\n") == new.count("\n")
    assert tomllib.loads(new) == changed(tomllib.loads(text), where, value)


def test_none_takes_a_key_out() -> None:
    text = EXAMPLES["boathouse"]
    assert with_value(text, ("job", "crew"), None) == text.replace("crew = 2\n", "")
    assert read_job(with_value(text, ("building", "anchor", "kind"), None)).building.anchor == (
        read_job(edited("boathouse", ('kind = "screw", ', ""))).building.anchor
    )


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("saw", "mitre_range"), "45 deg"),
        (("reading", 99, "is"), "1 in"),
        (("job", "crew", "size"), 3),
        (("job", "note"), None),
        ((), 3),
    ],
)
def test_a_place_that_is_not_there_is_refused(where: Path, value: Any) -> None:
    with pytest.raises(KeyError):
        with_value(EXAMPLES["boathouse"], where, value)


def test_a_place_that_is_not_there_is_named() -> None:
    with pytest.raises(KeyError, match=r'\[\[reading\]\] number 100, key "is": there is no'):
        with_value(EXAMPLES["boathouse"], ("reading", 99, "is"), "1 in")
