from __future__ import annotations

import itertools
import re
import tomllib
import types
import typing
from typing import Any, Literal

import pytest
from pydantic import BaseModel

from leafwright.job.file import read_job
from leafwright.job.model import BarrelHinge, FloorPivot, Job, ReadingTable
from leafwright.job.positions import statements
from leafwright.job.readings import NOT_READ
from leafwright.job.template import LONGEST_NAME, starting_file
from leafwright.pipeline import plan
from leafwright.records import Held
from leafwright.survey import Survey
from leafwright.units import Typed

System = Literal["feet-inch", "metric"]
Leaves = Literal["single", "pair"]

VARIANTS: list[tuple[System, Leaves]] = [
    ("feet-inch", "single"),
    ("feet-inch", "pair"),
    ("metric", "single"),
    ("metric", "pair"),
]
every_variant = pytest.mark.parametrize(("system", "leaves"), VARIANTS)


def uncommented(text: str) -> str:
    """Return the text with the # of every example taken away, as its maker might."""
    return re.sub(r"(?m)^#(?=[A-Za-z\[])", "", text)


@every_variant
def test_it_reads_as_it_stands(system: System, leaves: Leaves) -> None:
    job = read_job(starting_file("North gate", system=system, leaves=leaves))
    assert job.job.name == "North gate"
    assert job.job.system == system
    assert job.doorway.leaves == leaves
    assert [leaf.hand for leaf in job.leaf] == (
        ["left"] if leaves == "single" else ["left", "right"]
    )


@every_variant
def test_nothing_is_made_of_readings_that_are_still_to_be_taken(
    system: System, leaves: Leaves
) -> None:
    text = starting_file("North gate", system=system, leaves=leaves, to_read=True)
    job = read_job(text)
    plain = read_job(starting_file("North gate", system=system, leaves=leaves))
    assert [r.is_.si for r in job.reading] == [r.is_.si for r in plain.reading]
    assert {r.set_aside for r in job.reading} == {NOT_READ}
    made = plan(job)
    assert isinstance(made.survey, Held) and made.survey.why == (
        "nothing of the opening is read yet"
    )
    assert not made.for_cutting and isinstance(made.cuts, Held)
    # With all but the last read, that one is told of nowhere as if somebody had set it aside.
    last = text.rindex(f'set_aside = "{NOT_READ}"')
    taken = re.sub(rf'set_aside = "{NOT_READ}" +# EXAMPLE\n', "", text[:last]) + text[last:]
    found = plan(read_job(taken)).survey
    assert isinstance(found, Survey) and found.agreement == "agrees"
    assert not found.set_aside and len(found.adjusted) >= len(job.reading) - 1


@every_variant
def test_it_reads_with_every_example_uncommented(system: System, leaves: Leaves) -> None:
    plain = starting_file("North gate", system=system, leaves=leaves)
    job = read_job(uncommented(plain))
    # What came in with the examples: whole tables, and keys of those that were there.
    assert job.post is not None and job.wind is not None and job.power is not None
    assert job.mark and job.section and job.grade and job.offcut and job.answer and job.price
    assert len(job.leaf[0].infill) == 4 and len(job.leaf[0].brace) == 2
    assert job.building.anchor is not None and job.building.anchor.per_plate == 4
    assert isinstance(job.leaf[0].mount, FloorPivot)
    assert len(list(statements(uncommented(plain)))) > 2 * len(list(statements(plain)))


@every_variant
def test_it_reads_with_each_other_choice_in_place_of_the_first(
    system: System, leaves: Leaves
) -> None:
    text = starting_file("North gate", system=system, leaves=leaves)
    text = re.sub(r"(?m)^mid_rail = .*\n##(?=mid_rail)", "", text)
    start = text.index("mount]\n") - len("[leaf." if leaves == "single" else "[each_leaf.")
    end = text.index("\n##[") + 1
    text = text[:start] + text[end:].replace("\n##", "\n").removeprefix("##")
    for leaf in read_job(text).leaf:
        assert isinstance(leaf.mount, BarrelHinge)
        assert leaf.mount.clearance is not None
        assert leaf.mid_rail[0].height is not None
    assert not any(line.startswith("##") for line in text.splitlines())


def tables_of(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    if typing.get_origin(annotation) in (types.UnionType, typing.Union, tuple, typing.Annotated):
        return [table for part in typing.get_args(annotation) for table in tables_of(part)]
    return []


def keys_of(table: type[BaseModel]) -> set[tuple[str, str]]:
    """Return every key that the model knows, with the name of its table."""
    found: set[tuple[str, str]] = set()
    for name, field in table.model_fields.items():
        found.add((table.__name__, field.alias or name))
        for inner in tables_of(field.annotation):
            found |= keys_of(inner)
    return found


@every_variant
def test_every_key_of_the_model_appears(system: System, leaves: Leaves) -> None:
    text = starting_file("North gate", system=system, leaves=leaves)
    tables = {key for table, key in keys_of(Job) if table == "Job"} - {"leafwright"}
    for table in tables:
        assert re.search(rf"(?m)^#?\[+{table}\]", text), f"no [{table}]"
    keys = {key for table, key in keys_of(Job) if table != "Job"} | {"leafwright"}
    assert len(keys) > 120
    missing = {key for key in keys if not re.search(rf"(?m)(^#*|[{{,] *){key} = ", text)}
    missing -= {key for key in keys if re.search(rf"(?m)^#?\[+\w+\.{key}\]", text)}
    assert not missing


def given(value: Any) -> set[tuple[str, str]]:
    """Return the keys that a job was given, with the names of their tables."""
    found: set[tuple[str, str]] = set()
    if isinstance(value, BaseModel):
        for name in value.model_fields_set:
            field = type(value).model_fields[name]
            found.add((type(value).__name__, field.alias or name))
            found |= given(getattr(value, name))
    elif isinstance(value, tuple):
        for inner in value:
            found |= given(inner)
    return found


def given_by_examples() -> set[tuple[str, str]]:
    text = starting_file("North gate", system="metric", leaves="pair")
    return given(read_job(uncommented(text)))


def test_between_them_the_examples_give_every_key_of_every_table() -> None:
    found = given_by_examples()
    for system, leaves in VARIANTS:
        text = starting_file("North gate", system=system, leaves=leaves)
        found |= given(read_job(uncommented(text)))
        swapped = re.sub(r"(?m)^mid_rail = .*\n##(?=mid_rail)", "", text)
        found |= given(read_job(swapped))
    # Barrel hinges are seen to above; what all readings share is shown at one of them.
    shared = {field.alias or name for name, field in ReadingTable.model_fields.items()}
    found |= {(table, key) for table, key in keys_of(Job) if table == "BarrelHinge"}
    found |= {
        (table, key)
        for table, key in keys_of(Job)
        if ("Reading" in table and key in shared)
        or (table.startswith(("FitUp", "Hung")) and key in {*shared, "stage"})
    }
    assert keys_of(Job) - found == set()
    assert {("DistanceReading", key) for key in shared} <= given_by_examples()
    assert ("FitUpDistance", "stage") in given_by_examples()


@every_variant
def test_every_table_has_a_line_that_says_what_it_is_for(system: System, leaves: Leaves) -> None:
    lines = starting_file("North gate", system=system, leaves=leaves).splitlines()
    tables = {key for table, key in keys_of(Job) if table == "Job"} - {"leafwright", "leaf"}
    for table in tables:
        assert any(re.match(rf"# \[+{table}\]+(:| of kind)", line) for line in lines), table
    assert any(re.match(r"(# |)\[+(each_)?leaf\]", line) and "what" in line for line in lines)


@every_variant
def test_readings_are_marked_as_examples(system: System, leaves: Leaves) -> None:
    text = starting_file("North gate", system=system, leaves=leaves)
    assert text.count("EXAMPLE: put your own tape readings here") == 1
    assert text.index("EXAMPLE: put your own") < text.index("[[reading]]\nkind")
    taken = [line for line in text.splitlines() if line.startswith("is = ")]
    assert len(taken) == len(tomllib.loads(text)["reading"])
    assert all(line.endswith("# EXAMPLE") for line in taken)


@every_variant
def test_lengths_are_of_one_system(system: System, leaves: Leaves) -> None:
    job = read_job(uncommented(starting_file("North gate", system=system, leaves=leaves)))

    def typed(value: Any) -> list[str]:
        if isinstance(value, Typed):
            return [value.text]
        if isinstance(value, BaseModel):
            return [text for _, inner in value for text in typed(inner)]
        if isinstance(value, tuple):
            return [text for inner in value for text in typed(inner)]
        return []

    texts = typed(job)
    assert len(texts) > 60
    inches = [text for text in texts if re.search(r"\bin\b|\bft\b|'|\blb|ksi|\bga\b|mph", text)]
    metric = [text for text in texts if re.search(r"mm\b|[0-9] m\b|kg|N\b|MPa|m/s", text)]
    assert (metric if system == "feet-inch" else inches) == []


@every_variant
def test_it_is_made_for_reading(system: System, leaves: Leaves) -> None:
    text = starting_file("North gate", system=system, leaves=leaves)
    assert text.endswith("\n") and "\n\n\n" not in text
    assert "$" not in text
    for line in text.splitlines():
        assert len(line) <= 100
        assert line == line.rstrip()


@pytest.mark.parametrize(
    "name", ['Door "A"', "C:\\gates", "Tor für 3 €", "#1 # $name $$", "two\nlines", "x" * 80]
)
def test_any_name_is_kept(name: str) -> None:
    text = starting_file(name, system="metric", leaves="single")
    assert read_job(text).job.name == name


@pytest.mark.parametrize("name", ["", "x" * 81])
def test_a_name_that_no_job_has_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match=rf"a job's name has 1 to 80 characters, not {len(name)}"):
        starting_file(name, system="metric", leaves="single")
    assert LONGEST_NAME == 80


def test_the_variants_differ() -> None:
    texts = [starting_file("x", system=system, leaves=leaves) for system, leaves in VARIANTS]
    assert all(a != b for a, b in itertools.combinations(texts, 2))
