from __future__ import annotations

import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.positions import Path, line_of, positions, statements
from tests.job.edits import EXAMPLES, NAMES

TEXT = """\
# [not a table]
leafwright = 1

[job] # ] a remark with brackets [[
name = "a # b = [c"   # x = 1
  seen_from = 'd"'

[ building . anchor ]
kind = "x"
building.anchor = 3
"q.x" . "y\\u0041" = 4
'' = 5

[[reading]]
kind = "distance"
[[reading]]
kind = "level"
[reading.more]
at = "BL"

[[leaf]]
hand = "left"
[leaf.mount]
kind = "floor pivot"
plate = { width = "6 in", of = ["{", '}'] }
[[leaf.infill]]
kind = "sheet"
[[leaf.infill]]
kind = "mesh"
[[leaf]]
hand = "right"
[leaf.mount]
kind = "hinge"
[[leaf.infill]]
kind = "boards"

[stock]
lengths = [ # [
  "20 ft", # ]
  '24 ft',
  [ "]" ],
]
note = \"\"\"
[fake]
fake = 1 \\\"\"\" still "" in it
\"\"\"\"\"
other = '''
[fake]
x = 2 \\'''
after = 7
day = 2026-03-14 10:00:00
"""

LINES: dict[Path, int] = {
    ("leafwright",): 2,
    ("job",): 4,
    ("job", "name"): 5,
    ("job", "seen_from"): 6,
    ("building",): 8,
    ("building", "anchor"): 8,
    ("building", "anchor", "kind"): 9,
    ("building", "anchor", "building"): 10,
    ("building", "anchor", "building", "anchor"): 10,
    ("building", "anchor", "q.x"): 11,
    ("building", "anchor", "q.x", "yA"): 11,
    ("building", "anchor", ""): 12,
    ("reading",): 14,
    ("reading", 0): 14,
    ("reading", 0, "kind"): 15,
    ("reading", 1): 16,
    ("reading", 1, "kind"): 17,
    ("reading", 1, "more"): 18,
    ("reading", 1, "more", "at"): 19,
    ("leaf",): 21,
    ("leaf", 0): 21,
    ("leaf", 0, "hand"): 22,
    ("leaf", 0, "mount"): 23,
    ("leaf", 0, "mount", "kind"): 24,
    ("leaf", 0, "mount", "plate"): 25,
    ("leaf", 0, "infill"): 26,
    ("leaf", 0, "infill", 0): 26,
    ("leaf", 0, "infill", 0, "kind"): 27,
    ("leaf", 0, "infill", 1): 28,
    ("leaf", 0, "infill", 1, "kind"): 29,
    ("leaf", 1): 30,
    ("leaf", 1, "hand"): 31,
    ("leaf", 1, "mount"): 32,
    ("leaf", 1, "mount", "kind"): 33,
    ("leaf", 1, "infill"): 34,
    ("leaf", 1, "infill", 0): 34,
    ("leaf", 1, "infill", 0, "kind"): 35,
    ("stock",): 37,
    ("stock", "lengths"): 38,
    ("stock", "note"): 43,
    ("stock", "other"): 47,
    ("stock", "after"): 50,
    ("stock", "day"): 51,
}


def at(data: Any, path: Path) -> Any:
    for part in path:
        data = data[part]
    return data


def test_every_table_and_key_has_the_line_it_begins_on() -> None:
    tomllib.loads(TEXT)
    assert positions(TEXT) == LINES


def test_line_ends_of_windows_change_no_line() -> None:
    assert positions(TEXT.replace("\n", "\r\n")) == LINES


def test_only_a_line_feed_ends_a_line() -> None:
    # Python's own splitlines() would count three more lines here.
    text = 'a = "x\u2028y\u0085z"\nb = "\u2029"\nc = 1\n'
    assert tomllib.loads(text)["c"] == 1
    assert positions(text) == {("a",): 1, ("b",): 2, ("c",): 3}


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("leaf", 0, "mount", "plate", "width"), 25),
        (("stock", "lengths", 1), 38),
        (("leaf", 1, "mount", "plate"), 32),
        (("leaf", 7), 21),
        (("nowhere", "at all"), None),
        ((), None),
    ],
)
def test_what_has_no_line_has_that_of_what_it_stands_in(path: Path, line: int | None) -> None:
    assert line_of(positions(TEXT), path) == line


@pytest.mark.parametrize("name", NAMES)
def test_the_line_of_a_key_begins_with_that_key(name: str) -> None:
    lines = EXAMPLES[name].split("\n")
    data = tomllib.loads(EXAMPLES[name])
    found = positions(EXAMPLES[name])
    assert set(data) <= {path[0] for path in found}
    for path, number in found.items():
        at(data, path)
        line = lines[number - 1]
        header = [str(part) for part in path if isinstance(part, str)]
        assert line.startswith((f"{path[-1]} =", f"[{'.'.join(header)}", f"[[{'.'.join(header)}"))


@pytest.mark.parametrize("name", NAMES)
def test_a_statement_ends_where_its_last_line_does(name: str) -> None:
    text = EXAMPLES[name]
    for statement in statements(text):
        assert text[statement.end : statement.end + 1] in ("\n", "")
        assert tomllib.loads(text[: statement.end]) is not None


KEYS = st.one_of(
    st.sampled_from(("a", "b", "leaf", "A-1", "a.b", "", 'q"', "x y", "é", "a\\b", "#", "[k]")),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=4),
)
SCALARS = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=12),
    st.sampled_from(('"""', "'''", "[", "]]", "{", "a\nb = 1\n", "# c", "\\", '\\"')),
    st.integers(-9, 9),
    st.booleans(),
)
DATA = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=3)),
    max_leaves=12,
)


@given(st.dictionaries(KEYS, DATA, max_size=4))
def test_of_any_file_every_place_is_there_and_no_table_is_left_out(data: dict[str, Any]) -> None:
    text = tomlkit.dumps(data)
    assert tomllib.loads(text) == data
    found = positions(text)
    for path in found:
        at(data, path)
    assert {path[0] for path in found if path} == set(data)


@given(st.text("[]{}=.#\"'\\\n ab", max_size=40))
def test_any_text_is_gone_through_to_its_end(text: str) -> None:
    lines = text.count("\n") + 1
    assert all(1 <= line <= lines for line in positions(text).values())
