"""What is no letter of any script is told with its line: a terminal would obey it."""

from __future__ import annotations

from pathlib import Path

import pytest

from leafwright.cli import main
from leafwright.job.errors import JobError
from leafwright.job.file import read_job

JOB = (Path(__file__).parents[2] / "examples" / "boathouse.toml").read_text(encoding="utf-8")
NAME = 'name = "Boathouse doors"'


@pytest.mark.parametrize("sign", ["0000", "0001", "001b", "000d", "0085", "009b", "ffff"])
def test_a_sign_that_cannot_be_seen_is_told_with_its_line(sign: str) -> None:
    with pytest.raises(JobError) as caught:
        read_job(JOB.replace(NAME, f'name = "Boat\\u{sign}house"', 1))
    (problem,) = caught.value.problems
    line = JOB[: JOB.index(NAME)].count("\n") + 1
    assert (problem.where, problem.line) == (("job", "name"), line)
    assert problem.found == f"a sign that cannot be seen (U+{sign.upper()})"


def test_so_it_is_in_a_key(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_text(JOB + '\n"a\\u001b[31m" = 1\n', encoding="utf-8")
    assert main(["plan", str(file)]) == 2
    said = capsys.readouterr().err
    assert "U+001B" in said and "\x1b" not in said


@pytest.mark.parametrize("name", ["船庫", "Tür 🚪", "two\\nlines", "tab\\there"])
def test_any_letter_and_a_line_end_may_be_written(name: str) -> None:
    assert read_job(JOB.replace(NAME, f'name = "{name}"', 1)).job.name[0] == name[0]


def test_a_size_smaller_than_anything_made_is_taken_for_a_slip() -> None:
    hair = '[[section]]\nname = "hair"\nshape = "round bar"\nwidth = "0.0000001 in"\n'
    with pytest.raises(JobError, match="less than a thousandth of a millimetre"):
        read_job(f"{JOB}\n{hair}")
