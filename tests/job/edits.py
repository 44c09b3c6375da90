"""Job files for tests: the examples, small edits of them, and what a refused one says."""

from __future__ import annotations

from pathlib import Path

import pytest

from leafwright.job.errors import JobError, Problem
from leafwright.job.file import read_job

FOLDER = Path(__file__).parents[2] / "examples"
NAMES = ("boathouse", "kiln-shed", "yard-gate")
EXAMPLES = {name: (FOLDER / f"{name}.toml").read_text(encoding="utf-8") for name in NAMES}


def edited(example: str, *changes: tuple[str, str]) -> str:
    """Return an example with the first place of each old text changed to the new one."""
    text = EXAMPLES[example]
    for old, new in changes:
        assert old in text, f"{example} has no {old!r} to change"
        text = text.replace(old, new, 1)
    return text


def line_with(text: str, part: str, after: str = "") -> int:
    """Return the number of the first line that holds ``part``, at or after one with ``after``."""
    return text[: text.index(part, text.index(after))].count("\n") + 1


def refused(text: str) -> str:
    """Return what is said about a text that is no job file."""
    with pytest.raises(JobError) as caught:
        read_job(text, "job.toml")
    return str(caught.value)


def told_about(text: str) -> Problem:
    """Return the one thing that is wrong with a text."""
    with pytest.raises(JobError) as caught:
        read_job(text, "job.toml")
    assert len(caught.value.problems) == 1, str(caught.value)
    return caught.value.problems[0]
