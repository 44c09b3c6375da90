"""A shelf on a disk as disks are: folders of others, links, wrong clocks, files that are gone."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from leafwright.job.store import Conflict, LogEntry, Saved, Store, StoreError

TEXT = '[job]\nname = "Gate"\ncrew = 2\n'
NOBODY = 65534


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    Store(tmp_path).new("gate", TEXT)
    return tmp_path


@pytest.fixture
def somebody() -> Iterator[None]:
    """Somebody whom the disk refuses what it refuses: root may do anything."""
    if not hasattr(os, "seteuid"):
        pytest.skip("the system has no such rights")
    was = os.geteuid()
    if was == 0:
        os.seteuid(NOBODY)
    yield
    os.seteuid(was)


def given_to_nobody(folder: Path) -> None:
    # What Python loads only when it is wanted may be where nobody may look.
    Store(folder).save("gate", TEXT + "# once\n", base=Store(folder).read("gate").version)
    if os.geteuid() == 0:
        for place in (folder, *folder.rglob("*")):
            shutil.chown(place, NOBODY)
        for above in folder.parents:
            if str(above).startswith("/tmp/"):
                above.chmod(above.stat().st_mode | 0o011)


def test_a_folder_that_may_not_be_looked_into_keeps_no_job_from_being_served(
    shelf: Path, request: pytest.FixtureRequest
) -> None:
    for name in ("lost+found", "barn"):
        (shelf / name).mkdir()
    given_to_nobody(shelf)
    for name in ("lost+found", "barn"):
        (shelf / name).chmod(0)
    request.getfixturevalue("somebody")
    try:
        store = Store(shelf)
        # One that is named as jobs are is listed, and says why it cannot be read.
        assert [job.slug for job in store.jobs()] == ["barn", "gate"]
        with pytest.raises(StoreError, match="Permission denied"):
            store.read("barn")
        assert isinstance(store.save("gate", "# new\n", base=store.read("gate").version), Saved)
    finally:
        for name in ("lost+found", "barn"):
            (shelf / name).chmod(0o700)


def test_a_file_that_may_not_be_read_beside_a_job_of_its_name_stops_nothing(
    shelf: Path, request: pytest.FixtureRequest
) -> None:
    given_to_nobody(shelf)
    (shelf / "gate.toml").write_text(TEXT)
    (shelf / "gate.toml").chmod(0)
    request.getfixturevalue("somebody")
    assert Store(shelf).read("gate").text == TEXT + "# once\n"
    assert "gate" in [job.slug for job in Store(shelf).jobs()]


def test_what_is_no_file_in_the_history_is_passed_over(shelf: Path) -> None:
    history = shelf / "gate" / "history"
    (history / "000002-20260101T000000Z.toml").mkdir()
    (history / "000003-20260101T000000Z.toml").symlink_to(shelf / "nowhere")
    store = Store(shelf)
    saved = store.save("gate", "# new\n", base=store.read("gate").version)
    assert isinstance(saved, Saved)
    assert [store.version_text("gate", v.number) for v in store.versions("gate")] == [
        TEXT,
        "# new\n",
    ]


@pytest.mark.parametrize("number", ["999999999", "1000000000", "123456789012345"])
def test_a_save_after_a_very_high_number_is_in_the_history(shelf: Path, number: str) -> None:
    (shelf / "gate" / "history" / f"{number}-20260101T000000Z.toml").write_text(TEXT)
    store = Store(shelf)
    saved = store.save("gate", "# new\n", base=store.read("gate").version)
    assert isinstance(saved, Saved)
    assert store.versions("gate")[-1].version == saved.version
    assert isinstance(store.undo("gate", base=saved.version), Saved)


@pytest.mark.parametrize(
    "names",
    [
        '{"99999999999999999999": {"name": "x"}}',
        '{"-5": {"name": "x"}}',
        r'{"1": {"name": "\ud8"}}',
    ],
)
def test_names_that_no_history_has_are_kept_aside_and_stop_no_save(shelf: Path, names: str) -> None:
    file = shelf / "gate" / "history" / "names.json"
    file.write_text(names.replace(r"\ud8", r"\ud800"))
    store = Store(shelf)
    assert store.versions("gate")[0].name == ""
    saved = store.save("gate", "# new\n", base=store.read("gate").version, note="why")
    assert isinstance(saved, Saved)
    assert store.versions("gate")[-1].version == saved.version
    assert [p.read_text() for p in file.parent.glob("names-unread-*")] == [
        names.replace(r"\ud8", r"\ud800")
    ]


def test_half_a_character_in_the_log_is_an_unread_line(shelf: Path) -> None:
    line = (
        r'{"id": "a", "at": "2026-03-21T09:30:00Z", "kind": "answer", "about": "\ud800", '
        r'"data": {"says": "\udfff"}, "who": ""}'
    )
    (shelf / "gate" / "log.jsonl").write_text(line + "\n")
    (entry,) = Store(shelf).log("gate")
    assert entry.kind == "unread" and entry.data["line"] == line
    fine = line.replace(r"\ud800", r"\ud83d\udeaa").replace(r"\udfff", "")
    (shelf / "gate" / "log.jsonl").write_text(fine + "\n")
    (entry,) = Store(shelf).log("gate")
    assert isinstance(entry, LogEntry) and entry.about == "🚪"


def test_a_job_file_that_is_a_link_stays_one_and_what_it_leads_to_is_written(
    shelf: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    real = tmp_path_factory.mktemp("synced") / "gate-real.toml"
    file = shelf / "gate" / "job.toml"
    file.rename(real)
    file.symlink_to(real)
    store = Store(shelf)
    saved = store.save("gate", "# new\n", base=store.read("gate").version)
    assert isinstance(saved, Saved)
    assert file.is_symlink() and real.read_text() == "# new\n"
    assert sorted(p.name for p in real.parent.iterdir()) == [real.name]


@pytest.mark.parametrize("at", [-5e9, -1.0, 0.0, 3e11, 1e20])
def test_a_clock_that_is_far_off_stops_no_save(shelf: Path, at: float) -> None:
    store = Store(shelf, now=lambda: at)
    saved = store.save("gate", "# new\n", base=store.read("gate").version)
    assert isinstance(saved, Saved)
    last = store.versions("gate")[-1]
    assert last.version == saved.version and 0.0 <= last.at < 3e11


def test_a_clock_that_goes_back_leaves_the_order_of_saves(shelf: Path) -> None:
    texts = [TEXT]
    for number, at in enumerate((2e9, 1e9, 1.5e9, 5e8)):
        store = Store(shelf, now=lambda at=at: at)  # type: ignore[misc]
        texts.append(f"# {number}\n")
        saved = store.save("gate", texts[-1], base=store.read("gate").version)
    store = Store(shelf)
    assert [store.version_text("gate", v.number) for v in store.versions("gate")] == texts
    assert isinstance(saved, Saved)
    undone = store.undo("gate", base=saved.version)
    assert isinstance(undone, Saved) and undone.text == texts[-2]


@pytest.mark.parametrize("lost", ["gone", "no text"])
def test_an_earlier_version_is_had_back_where_the_file_is_gone_or_no_text(
    shelf: Path, lost: str
) -> None:
    file = shelf / "gate" / "job.toml"
    if lost == "gone":
        file.unlink()
    else:
        file.write_bytes(TEXT.encode("utf-16"))
    store = Store(shelf)
    with pytest.raises(StoreError):
        store.read("gate")
    lying = store.lying("gate")
    assert lying.text == ""
    back = store.restore("gate", 1, base=lying.version)
    assert isinstance(back, Saved) and back.text == TEXT
    assert store.read("gate").text == TEXT == file.read_text()
    kept = [v for v in store.versions("gate") if v.version == lying.version]
    assert len(kept) == (0 if lost == "gone" else 1)


@pytest.mark.parametrize("tables", [".".join(["a"] * 1000), ".".join(["a"] * 61)])
def test_a_file_with_tables_hundreds_deep_is_kept_and_fails_nothing(
    tmp_path: Path, tables: str
) -> None:
    text = f'{tables} = 1\n[job]\nname = "Gate"\n'
    store = Store(tmp_path)
    first = store.new("gate", text)
    with pytest.raises(StoreError, match="is not TOML as it is"):
        store.set_values("gate", [(("job", "name"), "Barn")], base=first.version)
    theirs = store.save("gate", text + "# theirs\n", base=first.version)
    assert isinstance(theirs, Saved)
    mine = store.save("gate", text.replace("Gate", "Barn"), base=first.version)
    assert isinstance(mine, Conflict) and store.read("gate").text == theirs.text
    assert store.rename("gate", "Barn").text == theirs.text
    assert store.duplicate("barn", "Copy").text == theirs.text
    assert store.import_(store.export("barn"), "came").text == theirs.text
