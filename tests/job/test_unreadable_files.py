"""Files that hold no job at all: no TOML, no text, too much of it, or another form."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from leafwright.job.errors import JobError
from leafwright.job.file import DEEPEST, LONGEST, LONGEST_LINE, load_job
from tests.job.edits import EXAMPLES, edited, line_with, refused

QUOTES = (
    "text and lengths stand in quotes; in double quotes leave the last inch mark out, "
    'as in is = "10\'-6 11/16"'
)
BACKSLASH = "a backslash means something else in double quotes"
TWICE = "write it twice, or put the text in single quotes"


def not_loaded(path: Any) -> str:
    with pytest.raises(JobError) as caught:
        load_job(path)
    return str(caught.value)


# What is changed in the boathouse, some text of the line that is named, what is wrong, and what
# would do.
NO_TOML = {
    "a length without quotes": (
        ('is = "10\'-7"', "is = 10'-7"),
        "is = 10'-7",
        "something is left over behind the value",
        QUOTES,
    ),
    "an inch mark inside double quotes": (
        ('is = "10\'-7"', 'is = "10\'-7""'),
        '10\'-7""',
        "something is left over behind the value",
        QUOTES,
    ),
    "quotes that are not closed": (
        ('is = "10\'-7"', "is = \"10'-7"),
        "10'-7\n",
        "the quotes are not closed on this line",
        QUOTES,
    ),
    "single quotes that are not closed": (
        ('is = "10\'-7"', "is = '10 ft 7"),
        "'10 ft 7",
        "the quotes are not closed on this line",
        QUOTES,
    ),
    "a name without quotes": (
        ('"Boathouse doors"', "Boathouse doors"),
        "name = B",
        "this value cannot be read",
        QUOTES,
    ),
    "a key twice": (
        ("crew = 2", "crew = 2\ncrew = 3"),
        "crew = 3",
        "this is there already",
        "keep one and take the other out",
    ),
    "a table twice": (
        ("[basis]", "[job]"),
        "[job]\nsteel",
        "this table is there already",
        "put all its keys under the first one",
    ),
    "a key twice in braces": (
        ('width = "6 in",', 'width = "6 in", width = "7 in",'),
        "plate = {",
        "a key stands twice in these braces",
        "keep one and take the other out",
    ),
    "a table whose name is not closed": (
        ("[basis]", "[basis"),
        "[basis",
        "the name of the table is not closed",
        "write [name] or [[name]]",
    ),
    "a list that is not closed": (
        ('"24 ft"]', '"24 ft"'),
        'kerf = "0.094',
        "the list is not closed before this, or a comma is missing in it",
        'a list is written ["20 ft", "24 ft"]',
    ),
    "braces over two lines": (
        ('width = "6 in", length', 'width = "6 in"\nlength'),
        "plate = {",
        "the braces are not closed, or a comma is missing between them",
        'on one line, as in plate = { width = "6 in", length = "9 in" }',
    ),
    "a colon for an equals sign": (
        ("crew = 2", "crew : 2"),
        "crew : 2",
        "there is no = behind the key",
        'write key = "value"',
    ),
    "a sentence": (
        ("crew = 2", "- two people"),
        "- two people",
        "there is no = behind the key",
        'write key = "value"',
    ),
    "a line that is nothing": (
        ("crew = 2", "} crew = 2"),
        "} crew",
        "this is no table, key or remark",
        'write [table] or key = "value"; a remark begins with #',
    ),
    "a dot without a key behind it": (
        ("crew = 2", "crew. = 2"),
        "crew. = 2",
        "a key is missing here, or begins with a sign that no key has",
        'a key is letters, digits, - and _, as in leaf_height = "13\'-9"',
    ),
    "a path with backslashes": (
        ('paint = "1950s"', 'paint = "C:\\paint"'),
        "C:\\paint",
        BACKSLASH,
        TWICE,
    ),
    "a path with another": (
        ('paint = "1950s"', 'paint = "C:\\users"'),
        "C:\\users",
        BACKSLASH,
        TWICE,
    ),
    "a day that is not there": (
        ("2026-03-14", "2026-02-30"),
        "2026-02-30",
        "there is no such date or time",
        "a date is written 2026-03-14",
    ),
    "a sign that cannot be seen": (
        ("Boathouse doors", "Boat\0house doors"),
        "Boat\0house",
        "a sign that cannot be seen stands here",
        "type the line again",
    ),
}


@pytest.mark.parametrize("name", NO_TOML)
def test_a_text_that_is_no_toml_is_told_by_its_line(name: str) -> None:
    change, part, found, would_do = NO_TOML[name]
    text = edited("boathouse", change)
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, part)}: {found}\n"
        f"      {would_do}"
    )


def test_quotes_that_are_open_at_the_end_have_the_last_line() -> None:
    text = 'leafwright = 1\nnote = """\nand so on\n'
    assert refused(text) == (
        "job.toml: 1 thing to put right\n  job.toml, line 3: quotes are opened and never closed\n"
        f"      {QUOTES}"
    )
    assert "job.toml, line 3: quotes are opened" in refused(text.replace('"""', "'''").rstrip())


# ---------------------------------------------------------------- the form of the file


def test_a_newer_form_is_refused_and_left_untouched(tmp_path: Path) -> None:
    text = "leafwright = 2\nwhatever = { comes = true }\n"
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    assert not_loaded(file) == (
        f"{file}: 1 thing to put right\n"
        f'  {file}, line 1: key "leafwright": a job file of form 2; this program reads forms up '
        "to 1\n      use a newer Leafwright; nothing was changed"
    )
    assert file.read_text(encoding="utf-8") == text
    assert [found.name for found in tmp_path.iterdir()] == ["job.toml"]


def test_a_form_far_ahead_is_not_written_out() -> None:
    assert "a job file of form 1000 or more; this" in refused("leafwright = " + "9" * 2000)
    assert "a job file of form 1000 or more; this" in refused("leafwright = 0x" + "f" * 2400)


def test_a_file_without_its_form_is_asked_for_it() -> None:
    text = edited("boathouse", ("leafwright = 1 ", ""))
    assert refused(text) == (
        "job.toml: 1 thing to put right\n"
        '  job.toml: key "leafwright": the number of the file\'s form is not there\n'
        "      write leafwright = 1 at the top, above every table"
    )


@pytest.mark.parametrize(
    ("form", "shown"),
    [
        ('"1"', "'1'"),
        ("1.0", "1.0"),
        ("true", "true"),
        ("0", "0"),
        ("-1", "-1"),
        ("{}", "an empty table"),
    ],
)
def test_a_form_that_is_no_number_is_shown(form: str, shown: str) -> None:
    text = edited("boathouse", ("leafwright = 1 ", f"leafwright = {form} "))
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, 'leafwright =')}: "
        f'key "leafwright": found {shown}\n      write leafwright = 1'
    )


# ---------------------------------------------------------------- too little and too much


@pytest.mark.parametrize("text", ["", "\n \n", "\t\r\n"])
def test_an_empty_file_says_how_to_begin(text: str) -> None:
    assert refused(text) == (
        "job.toml: 1 thing to put right\n  job.toml: the file is empty\n"
        "      begin with one that works: leafwright new NAME.toml"
    )


def test_a_huge_text_is_refused() -> None:
    assert refused(EXAMPLES["boathouse"] + "# more\n" * (LONGEST // 7)) == (
        "job.toml: 1 thing to put right\n  job.toml: it has more than 300,000 characters\n"
        "      a job file has some ten thousand: is this the right one?"
    )


def test_a_huge_file_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    with file.open("wb") as new:
        new.truncate(10**10)  # sparse: reading all of it would fill any memory
    assert "it has more than 300,000 characters" in not_loaded(file)


def test_a_huge_line_is_refused() -> None:
    text = edited("boathouse", ('paint = "1950s"', f'paint = "{"x" * LONGEST_LINE}"'))
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, 'paint = ')}: "
        f"a line of {LONGEST_LINE + 10:,} characters\n      break it up; a line has at most 2,500"
    )


@pytest.mark.parametrize(
    "deep",
    [
        "x = " + "[" * 500 + "]" * 500,
        "x = " + "{a=" * 500 + "1" + "}" * 500,
        "[" + ".".join("x" * 500) + "]",
        ".".join("x" * 500) + " = 1",
    ],
)
def test_deep_nesting_is_refused(deep: str) -> None:
    said = refused(f"leafwright = 1\n{deep}\n")
    assert said in (
        "job.toml: 1 thing to put right\n"
        '  job.toml, line 2: key "x": tables or lists in one another, 20 deep or more\n'
        "      no job file has more than six",
        "job.toml: 1 thing to put right\n"
        "  job.toml: brackets in brackets, hundreds deep\n"
        "      close them sooner",
    )


def test_leaves_that_nest_alike_do_not_run_away() -> None:
    names = ".".join("x" * 400)
    text = f"leafwright = 1\n[each_leaf.{names}]\n[[leaf]]\n[leaf.{names}]\n"
    assert "20 deep or more" in refused(text)


def test_what_a_job_holds_is_not_too_deep() -> None:
    assert DEEPEST > 6
    assert 'key "x": no such key' in refused(f"leafwright = 1\nx = {'[' * 15}{']' * 15}\n")


def test_a_number_beyond_64_bits_is_refused() -> None:
    text = edited("boathouse", ("crew = 2", "crew = 0x" + "f" * 2000))
    assert refused(text) == (
        f"job.toml: 1 thing to put right\n  job.toml, line {line_with(text, 'crew = ')}: "
        '[job], key "crew": a whole number of 19 digits or more\n      write one that can be meant'
    )


# ---------------------------------------------------------------- files


def test_a_missing_file_says_how_to_make_one(tmp_path: Path) -> None:
    file = tmp_path / "gate.toml"
    assert not_loaded(file) == (
        f"{file}: 1 thing to put right\n  {file}: there is no such file\n"
        "      name a job file, or make one: leafwright new NAME.toml"
    )


def test_a_folder_without_a_job_is_told_so(tmp_path: Path) -> None:
    assert not_loaded(tmp_path) == (
        f"{tmp_path}: 1 thing to put right\n  {tmp_path}: this folder holds no job.toml\n"
        "      name a folder that does, or a job file itself"
    )


def test_a_job_toml_that_is_a_folder_cannot_be_read(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.mkdir()
    # Why is in the system's own words.
    assert not_loaded(tmp_path).startswith(
        f"{file}: 1 thing to put right\n  {file}: it cannot be read: "
    )


def test_a_text_that_is_not_utf_8_is_told_by_its_line(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_bytes(EXAMPLES["boathouse"].replace("doors", "düre").encode("latin-1"))
    assert not_loaded(file) == (
        f"{file}: 1 thing to put right\n"
        f"  {file}, line {line_with(EXAMPLES['boathouse'], 'doors', 'name = ')}: "
        "this is not text in UTF-8\n      save the file as UTF-8"
    )


def test_a_picture_is_no_job(tmp_path: Path) -> None:
    file = tmp_path / "gate.png"
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    assert "line 1: this is not text in UTF-8" in not_loaded(file)


@pytest.mark.parametrize("name", ["gate\0.toml", "x" * 5000])
def test_a_name_that_no_file_has_is_refused(name: str) -> None:
    said = not_loaded(name)
    assert "this is not the name of a file" in said or "it cannot be read: " in said
