"""Whatever a file holds, it is a job or it is told what is wrong: nothing else ever happens."""

from __future__ import annotations

import copy
import re
import tomllib
from datetime import date, datetime, time
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.errors import JobError, Problem
from leafwright.job.file import load_job, read_job
from leafwright.job.model import Job
from leafwright.job.positions import Path
from leafwright.job.template import starting_file
from tests.job.edits import EXAMPLES, NAMES

# Words of pydantic, of tomllib and of Python itself, which mean nothing to a maker.
JARGON = re.compile(
    r"Input should|should have at|should be|valid (string|dict|tuple|integer|number|boolean|date)"
    r"|validation|pydantic|Value error|_forbidden|_type\b|_parsing|literal\[|\bNone\b|NoneType"
    r"|\bTrue\b|\bFalse\b|datetime\.|Traceback|Error\b|\bdict\b|\btuple\b|\bstr\b|\bint\b|\bfloat\b"
    r"|\bbool\b|namespace|(line|column) [0-9]+, column"
)


def problems(text: str) -> tuple[Problem, ...]:
    """Return what is wrong with a text, none where it is a job; anything but a JobError fails."""
    try:
        job = read_job(text, "job.toml")
    except JobError as error:
        assert error.problems
        said = str(error)
        assert said.startswith(f"job.toml: {len(error.problems)} thing")
        return error.problems
    assert isinstance(job, Job)
    return ()


def is_there(data: Any, path: Path) -> bool:
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return False
    return True


def check(text: str, data: dict[str, Any]) -> tuple[Problem, ...]:
    """Return what is wrong with a text that is TOML, each in a place that the maker can find."""
    found = problems(text)
    lines = text.count("\n") + 1
    for problem in found:
        assert problem.line is None or 1 <= problem.line <= lines
        assert is_there(data, problem.where[:-1]), problem
        assert problem.line is not None or len(problem.where) == 1
    return found


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    assert problems(text)


@given(st.binary(max_size=200))
def test_any_bytes(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = tmp_path_factory.mktemp("any") / "job.toml"
    file.write_bytes(data)
    with pytest.raises(JobError):
        load_job(file)


@given(
    st.sampled_from(NAMES),
    st.floats(0, 1, exclude_max=True),
    st.integers(0, 12),
    st.one_of(st.text("\"'[]{}=.,#\\\n 01/-abx", max_size=6), st.text(max_size=4)),
)
def test_an_example_with_a_piece_knocked_out_and_another_in_its_place(
    name: str, share: float, length: int, new: str
) -> None:
    text = EXAMPLES[name]
    start = int(share * len(text))
    problems(text[:start] + new + text[start + length :])


# ---------------------------------------------------------------- data of any shape

WORDS = sorted(set(re.findall(r"[A-Za-z_]+(?= = )", "".join(EXAMPLES.values()))))
TYPED = sorted(set(re.findall(r'(?<= = ")[^"]+(?=")', "".join(EXAMPLES.values()))))
KEYS = st.one_of(
    st.sampled_from([*Job.model_fields, "each_leaf", *WORDS]),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=5),
)
SCALARS = st.one_of(
    st.sampled_from(TYPED),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=10),
    st.integers(-(2**70), 2**70),
    st.floats(),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
)
DATA = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=4)),
    max_leaves=15,
)


@given(st.dictionaries(KEYS, DATA, max_size=8))
def test_data_of_any_shape(data: dict[str, Any]) -> None:
    text = tomlkit.dumps({**data, "leafwright": 1})
    check(text, tomllib.loads(text))


def places(data: Any, where: Path = ()) -> list[Path]:
    inner = data.items() if isinstance(data, dict) else enumerate(data)
    found: list[Path] = []
    for part, value in inner:
        found.append((*where, part))
        if isinstance(value, dict | list):
            found += places(value, (*where, part))
    return found


PLACES = [
    (name, place)
    for name in NAMES
    for place in places(tomllib.loads(EXAMPLES[name]))
    if place != ("leafwright",)
]


@given(st.sampled_from(PLACES), DATA, st.one_of(st.none(), KEYS))
def test_an_example_with_one_thing_put_in_its_place_or_beside_it(
    place: tuple[str, Path], value: Any, beside: str | None
) -> None:
    name, where = place
    data = tomllib.loads(EXAMPLES[name])
    here: Any = data
    for part in where[:-1]:
        here = here[part]
    here[where[-1] if beside is None or isinstance(here, list) else beside] = value
    if data.get("leafwright") != 1:
        return
    text = tomlkit.dumps(data)
    check(text, tomllib.loads(text))


# ---------------------------------------------------------------- every key, every wrong kind


def everything() -> dict[str, Any]:
    """Return a job file's data with every key that the model knows, from the starting file."""
    text = starting_file("all of it", system="metric", leaves="single")
    data = tomllib.loads(re.sub(r"(?m)^#(?=[A-Za-z\[])", "", text))
    data["each_leaf"] = copy.deepcopy(data["leaf"][0])
    data["leaf"] = [{"hand": "left"}]
    hinged = copy.deepcopy(data["each_leaf"])
    hinged["mount"] = {
        "kind": "barrel hinge",
        "standoff": "1 in",
        "heights": ["8 in", "80 in"],
        "pin_diameter": "1 in",
        "clearance": "1 mm",
    }
    data["leaf"].append(hinged)
    return data


def replaced(data: Any, value: Any, *, kinds: bool) -> Any:
    """Return data with every value that is no table or list of tables replaced."""
    if isinstance(data, dict):
        return {
            key: inner
            if key == "leafwright" or (key == "kind" and not kinds)
            else replaced(inner, value, kinds=kinds)
            for key, inner in data.items()
        }
    if isinstance(data, list) and data and isinstance(data[0], dict):
        return [replaced(inner, value, kinds=kinds) for inner in data]
    return value


def test_the_file_with_everything_is_nearly_sound() -> None:
    """So that what the next test tells of is of the values that it puts in."""
    assert [problem.where for problem in problems(tomlkit.dumps(everything()))] == [
        ("doorway", "leaves"),
        ("leaf", 1, "hand"),
    ]


WRONG = {
    "yes": True,
    "a whole number": -7,
    "a huge number": 2**62,
    "a number": 1.5,
    "no number": float("nan"),
    "no end": float("inf"),
    "nothing": "",
    "a word": "wrong",
    "a length": "-1 in",
    "a long text": "x" * 250,
    "a day": date(2026, 3, 14),
    "a time of day": datetime(2026, 3, 14, 10, 30),
    "a time": time(10, 30),
    "an empty list": [],
    "a list": [1, "two"],
    "a list of lists": [["8 in"]],
    "an empty table": {},
    "a table": {"kind": "sheet", "text": "1 in"},
    "a list of tables": [{"kind": 3}],
}


@pytest.mark.parametrize("kinds", [False, True])
@pytest.mark.parametrize("name", WRONG)
def test_every_key_with_a_value_of_a_wrong_kind_is_told_in_plain_words(
    name: str, kinds: bool
) -> None:
    data = replaced(everything(), WRONG[name], kinds=kinds)
    text = tomlkit.dumps(data)
    found = check(text, data)
    assert len(found) > 50
    for problem in found:
        words = f"{problem.found}\n{problem.would_do}"
        assert not JARGON.search(words), words
        assert problem.would_do, problem
        assert len(problem.found) < 400


def without(data: Any, number: int) -> Any:
    """Return data with the value of that number taken out of every table that has so many."""
    if isinstance(data, list):
        return [without(inner, number) for inner in data]
    if not isinstance(data, dict):
        return data
    plain = [key for key, value in data.items() if not isinstance(value, dict)]
    out = plain[number : number + 1] if "leafwright" not in data else []
    return {key: without(value, number) for key, value in data.items() if key not in out}


def test_keys_left_out_are_asked_for_in_plain_words_or_not_needed() -> None:
    whole = everything()
    asked: set[str | int] = set()
    for number in range(20):
        data = without(whole, number)
        for problem in check(tomlkit.dumps(data), data):
            words = f"{problem.found}\n{problem.would_do}"
            assert not JARGON.search(words), words
            if problem.found == "this must be given and is not there":
                assert problem.would_do.startswith("write "), problem
                asked.add(problem.where[-1])
    # Some that are needed, of every kind of value.
    needed = {"name", "kind", "is", "from", "leaves", "heights", "frame", "yield_strength", "on"}
    assert needed <= asked
