"""The commands as a maker types them: what they print, what they write, how they exit."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from leafwright import cli, plan, read_job
from leafwright.job.file import with_value
from leafwright.records import Verdict

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "examples"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = cli.main(list(words))
    told = capsys.readouterr()
    return code, told.out, told.err


def test_plan_tells_how_the_job_stands_and_exits_4_with_open_questions(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, err = run(capsys, "plan", str(EXAMPLES / "boathouse.toml"))
    assert (code, err) == (cli.TO_BE_DECIDED, "")
    assert "Boathouse doors, revision B, seen from the dock side" in out
    assert "the readings agree with one another" in out
    assert "set aside: BL to TR" in out
    assert "A-B1 pressed" in out
    assert "turned round: nose drops" in out
    assert "ASK   the floor slab" in out
    assert "Taken by default" in out
    assert "Not worked out yet" in out


def test_plan_exits_3_where_a_check_is_short_and_says_stop(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = run(capsys, "plan", str(EXAMPLES / "kiln-shed.toml"))
    assert code == cli.SHORT
    assert out.index("STOP: the readings of the opening do not agree") < out.index("Checks:")
    assert "nothing of this plan is for cutting" in out
    assert "What would decide it best: read the top width again" in out
    assert "Largest rectangle that fits: held, because the readings do not agree" in out
    assert "closing gap, as hung: 5.00 mm" in out
    assert "the crew is 2" in out


def test_plan_exits_0_where_nothing_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    text += '\n[site]\nlift = "hoist"\n'
    asked = [c.key for c in plan(read_job(text), upto="site").checks if c.verdict is Verdict.ASK]
    for key in asked:
        text += (
            f'\n[[answer]]\nabout = "{key}"\nsays = "looked at and found good"\n'
            'by = "a licensed engineer"\ndocument = "letter 12"\non = 2026-04-01\n'
        )
    file = tmp_path / "answered.toml"
    file.write_text(text, encoding="utf-8")
    code, out, _ = run(capsys, "plan", str(file))
    assert code == cli.OK
    assert "0 ask" in out


def test_plan_as_json_is_whole_and_full_precision(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "plan", "--json", str(EXAMPLES / "boathouse.toml"))
    data = json.loads(out)
    assert code == cli.TO_BE_DECIDED
    assert data["for_cutting"] is True
    assert data["examined"]["doubts"]["verdict"] == "agrees"
    assert [leaf["key"] for leaf in data["site"]["leaves"]] == ["left", "right"]
    width = next(q for q in data["quantities"] if q["key"] == "left/width")
    assert width["unit"] == "m"
    assert width["value"] == pytest.approx(1.4968, abs=1e-4)
    assert len(repr(width["value"])) > 10


def test_plan_upto_a_stage_stops_there(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "plan", "--upto", "survey", str(EXAMPLES / "boathouse.toml"))
    assert "only run up to survey" in out
    _, out, _ = run(capsys, "plan", "--upto", "shop", str(EXAMPLES / "boathouse.toml"))
    assert "On site: held, because only run up to shop" in out
    assert "Cut list: 17 pieces" in out


def test_a_bad_job_file_is_told_all_at_once_on_stderr(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "boathouse.toml").read_text(encoding="utf-8")
    file = tmp_path / "bad.toml"
    file.write_text(
        text.replace('meeting_gap = "1/4 in"', 'meting_gap = "1/4 in"').replace(
            'kerf = "0.094 in"', 'kerf = "12-6 1/2"', 1
        ),
        encoding="utf-8",
    )
    for command in ("plan", "packet", "survey", "site"):
        code, out, err = run(capsys, command, str(file))
        assert (code, out) == (cli.BAD_INPUT, "")
        assert "2 things to put right" in err
        assert "did you mean 'meeting_gap'?" in err
        assert "line " in err
    assert not list(tmp_path.glob("bad-packet"))


@pytest.mark.parametrize("missing", ["nothing-here.toml", "nowhere/job.toml"])
def test_a_file_that_is_not_there_is_said_plainly(
    missing: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = run(capsys, "plan", str(tmp_path / missing))
    assert code == cli.BAD_INPUT
    assert "no such file" in err
    assert "leafwright new" in err


def test_new_writes_a_file_that_plans_and_never_overwrites(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "mill-door.toml"
    code, out, _ = run(capsys, "new", str(file))
    assert code == cli.OK
    assert "leafwright plan" in out
    assert cli.main(["plan", str(file)]) in (cli.OK, cli.SHORT, cli.TO_BE_DECIDED)
    before = file.read_bytes()
    code, _, err = run(capsys, "new", str(file))
    assert code == cli.BAD_INPUT
    assert "is there already" in err
    assert file.read_bytes() == before


@pytest.mark.parametrize("flags", [[], ["--metric"], ["--single"], ["--metric", "--single"]])
def test_new_knows_both_unit_families_and_one_leaf_or_two(
    flags: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "gate.toml"
    assert cli.main(["new", str(file), *flags]) == cli.OK
    capsys.readouterr()
    code, out, err = run(capsys, "plan", str(file))
    assert code != cli.BAD_INPUT, err
    assert bool(re.search(r"\d mm", out)) == ("--metric" in flags)


def test_packet_exits_0_whatever_it_says(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(
        capsys, "packet", str(EXAMPLES / "yard-gate.toml"), "--out", str(tmp_path / "p")
    )
    assert code == cli.OK
    assert "NOT FOR CUTTING" in out
    assert (tmp_path / "p" / "packet.pdf").stat().st_size > 20_000


def test_packet_says_what_it_wrote_as_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(
        capsys, "packet", str(EXAMPLES / "kiln-shed.toml"), "--json", "--out", str(tmp_path / "p")
    )
    told = json.loads(out)
    assert code == cli.OK
    assert told["for_cutting"] is False
    assert all(Path(file).exists() for file in told["files"])


@pytest.mark.skipif(os.name != "posix", reason="a folder that cannot be written to, as POSIX has")
def test_a_place_that_cannot_be_written_to_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    blocked = tmp_path / "a-file"
    blocked.write_text("not a folder", encoding="utf-8")
    code, _, err = run(
        capsys, "packet", str(EXAMPLES / "kiln-shed.toml"), "--out", str(blocked / "p")
    )
    assert code == cli.BAD_INPUT
    assert err.startswith("Cannot read or write")


@pytest.mark.parametrize(
    "what", ["plan", "job", "survey", "site", "swing", "stand", "drift", "fit-up", "align"]
)
def test_schema_prints_a_json_schema(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "schema", what)
    assert code == cli.OK
    assert json.loads(out)["$schema"].endswith("2020-12/schema")


def test_a_fault_of_our_own_is_said_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("a wheel came off")

    monkeypatch.setattr(cli, "_plan", broken)
    code, out, err = run(capsys, "plan", "x.toml")
    assert (code, out) == (cli.OWN_FAULT, "")
    assert "a fault of Leafwright, not of your job" in err
    assert "a wheel came off" in err
    assert "Traceback" not in err


def test_stopping_by_hand_is_quiet(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_plan", stopped)
    code, _, err = run(capsys, "plan", "x.toml")
    assert code == 130
    assert "Traceback" not in err


def test_a_reader_that_goes_away_is_no_fault() -> None:
    command = f"{sys.executable} -m leafwright.cli schema plan | head -c 10"
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(
        command, shell=True, capture_output=True, text=True, env=environment, check=False
    )
    assert "Traceback" not in done.stderr
    assert "fault" not in done.stderr


def test_a_folder_that_holds_job_toml_is_a_job(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "kiln-shed.toml").read_text(encoding="utf-8")
    (tmp_path / "job.toml").write_text(
        with_value(text, ("reading", 2, "set_aside"), "misread"), encoding="utf-8"
    )
    code, out, _ = run(capsys, "plan", str(tmp_path))
    assert code == cli.TO_BE_DECIDED
    assert "Kiln shed door" in out


def test_the_readme_example_of_python_runs() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    code = text.split("```python\n")[1].split("```")[0]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=environment,
        check=True,
    )
    clear, may = done.stdout.split()
    assert float(clear) == pytest.approx(2.835, abs=0.001)
    assert may == "True"


def test_the_readme_job_file_reads_but_for_what_it_leaves_out() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    job = text.split("```toml\n")[1].split("```")[0]
    assert read_job(job).doorway.leaves == "pair"


def test_the_readme_picture_is_what_the_demo_draws_now() -> None:
    command = [
        sys.executable,
        "-c",
        "import sys; sys.path.insert(0, 'docs'); "
        "import make_picture; sys.stdout.write(make_picture.picture())",
    ]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONIOENCODING": "utf-8"}
    done = subprocess.run(command, capture_output=True, cwd=ROOT, env=environment, check=True)
    kept = (ROOT / "docs" / "doorway.svg").read_text(encoding="utf-8")
    assert done.stdout.decode("utf-8").splitlines() == kept.splitlines(), "run: make picture"
