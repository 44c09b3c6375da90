"""What was acknowledged is on disk: killed at any moment, on a full disk, two at once."""

from __future__ import annotations

import errno
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leafwright.job.store import Conflict, Saved, Store, StoreError, disk
from tests.job.store_killed import entry, text
from tests.sizes import cases

ROOT = Path(__file__).parents[2]

needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills processes that it forked")


def in_processes(how: str, shelf: Path, count: int) -> list[list[str]]:
    """Return what each case's process promised before it was killed."""
    paths = os.pathsep.join([str(ROOT / "src"), str(ROOT)])
    done = subprocess.run(
        [sys.executable, "-m", "tests.job.store_killed", how, str(shelf), str(count)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": paths},
        check=False,
    )
    assert done.returncode == 0 and not done.stderr, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def check_nothing_lost(shelf: Path, said: list[str]) -> None:
    """Check a shelf whose writer was killed after it had promised what ``said`` says."""
    kept = [int(words.split()[1]) for words in said if words.startswith("saved")]
    logged = [int(words.split()[1]) for words in said if words.startswith("logged")]
    last = max(kept, default=0)
    whole = {text(number): number for number in range(last + 2)}
    raw = (shelf / "gate" / "job.toml").read_text()
    assert whole.get(raw) in (last, last + 1), f"promised {last}, on disk: {raw[:60]!r}"
    store = Store(shelf)
    assert store.read("gate").text == raw
    versions = store.versions("gate")
    texts = [whole[store.version_text("gate", version.number)] for version in versions]
    assert set(texts) >= {0, *kept}
    assert texts[-1] == whole[raw]
    log = store.log("gate")
    assert log[: len(logged)] == tuple(entry(number) for number in logged)
    assert len(log) <= len(logged) + 1
    # And the next one who saves sees nothing of what happened.
    store.append("gate", [entry(99)])
    result = store.save("gate", text(99), base=store.read("gate").version)
    assert isinstance(result, Saved) and store.log("gate")[-1] == entry(99)
    assert store.read("gate").text == text(99)
    assert isinstance(store.undo("gate", base=result.version), Saved)
    assert store.read("gate").text == raw


@needs_fork
def test_a_kill_at_any_moment_loses_nothing_that_was_promised(tmp_path: Path) -> None:
    said = in_processes("some time", tmp_path, cases(20, 200))
    assert len(said) == cases(20, 200)
    assert len({len(words) for words in said}) > 1
    for number, words in enumerate(said):
        check_nothing_lost(tmp_path / str(number), words)


@needs_fork
def test_a_kill_before_each_call_of_the_system_loses_nothing(tmp_path: Path) -> None:
    said = in_processes("each step", tmp_path, 400)
    # The last case came to its end; every one before was killed a step later than the one before.
    assert said[-1] == ["saved 1", "logged 1"]
    assert 20 < len(said) < 400
    for number, words in enumerate(said):
        check_nothing_lost(tmp_path / str(number), words)


@needs_fork
def test_two_programs_on_one_shelf_lose_nothing_of_each_other(tmp_path: Path) -> None:
    count = cases(15, 100)
    one, two = in_processes("racing", tmp_path, count)
    assert len(one) == len(two) == count
    store = Store(tmp_path)
    assert store.read("gate").text == f"[job]\none = {count}\ntwo = {count}\n"
    versions = {version.version for version in store.versions("gate")}
    assert len(store.versions("gate")) == 1 + 2 * count
    assert {words.split()[2] for words in one + two} <= versions
    ids = [entry.id for entry in store.log("gate")]
    for key in ("one", "two"):
        assert [i for i in ids if i.startswith(key)] == [f"{key}-{n + 1}" for n in range(count)]


# ---------------------------------------------------------------------- a full disk


def a_shelf(folder: Path) -> Store:
    store = Store(folder, now=lambda: 1_774_000_000.0)
    first = store.new("gate", '[job]\nname = "Gate"\ncrew = 2\n')
    second = store.set_values("gate", [(("job", "crew"), 3)], base=first.version, note="noted")
    assert isinstance(second, Saved)
    store.append("gate", [entry(1)])
    (folder / "bare.toml").write_text("[job]\n")
    return store


def base(store: Store, number: int = 0) -> str:
    return store.versions("gate")[number].version


OPERATIONS: dict[str, Callable[[Store], Any]] = {
    "save": lambda s: s.save("gate", "# new\n", base=base(s, -1), note="why"),
    "merge": lambda s: s.set_values("gate", [(("job", "name"), "Barn")], base=base(s)),
    "conflict": lambda s: s.set_values("gate", [(("job", "crew"), 5)], base=base(s)),
    "first save of a bare file": lambda s: s.save("bare", "# new\n", base=s.read("bare").version),
    "undo": lambda s: s.undo("gate", base=base(s, -1)),
    "name": lambda s: s.name_version("gate", 1, "sent"),
    "append": lambda s: s.append("gate", [entry(2), entry(3)]),
    "first append": lambda s: s.append("bare", [entry(2)]),
    "new": lambda s: s.new("gate", "# new\n"),
    "copy": lambda s: s.duplicate("gate", "Barn"),
    "rename": lambda s: s.rename("gate", "Barn"),
    "import": lambda s: s.import_(s.export("gate"), "came"),
    "remove": lambda s: s.remove("gate"),
}


#: Of each job its text, the texts of its versions, and the ids in its log.
Shelf = dict[str, tuple[str, tuple[str, ...], tuple[str, ...]]]


def state(store: Store) -> Shelf:
    """Return all that a shelf holds."""
    return {
        job.slug: (
            job.text,
            tuple(store.version_text(job.slug, v.number) for v in store.versions(job.slug)),
            tuple(entry.id for entry in store.log(job.slug)),
        )
        for job in store.jobs()
    }


def fill_disk(monkeypatch: pytest.MonkeyPatch, after: int, how: str) -> list[int]:
    """Let calls of the system fail after so many; return how many there were, as it grows.

    From then on all of them, writes too; or writes with half of it written; or only one call.
    """
    calls = [0]

    def full(call: Callable[..., Any], name: str) -> Callable[..., Any]:
        def asked(*arguments: Any, **more: Any) -> Any:
            calls[0] += 1
            if calls[0] <= after or (how == "once" and calls[0] > after + 1):
                return call(*arguments, **more)
            if how == "half" and name == "write":
                call(arguments[0], bytes(arguments[1])[: len(arguments[1]) // 2])
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        return asked

    for name in ("write", "fsync", "mkdir", "replace", "rename"):
        monkeypatch.setattr(os, name, full(getattr(os, name), name))
    return calls


@pytest.mark.parametrize("turn", range(cases(1, 3)))
@pytest.mark.parametrize("name", OPERATIONS)
def test_a_full_disk_at_any_point_is_said_and_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, turn: int
) -> None:
    # Only whether calls fail matters here, not how long the disk takes.
    monkeypatch.setattr(os, "fsync", lambda handle: None)
    operation = OPERATIONS[name]
    before = state(a_shelf(tmp_path / "model"))
    shutil.copytree(tmp_path / "model", tmp_path / "done")
    done = Store(tmp_path / "done", now=lambda: 1_774_000_000.0)
    operation(done)
    after = state(done)
    for point in range(100):
        shelf = tmp_path / str(point)
        shutil.copytree(tmp_path / "model", shelf)
        store = Store(shelf, now=lambda: 1_774_000_000.0)
        with monkeypatch.context() as patched:
            calls = fill_disk(patched, point, ("all", "half", "once")[(point + turn) % 3])
            words = said_by(operation, store)
        if calls[0] <= point:
            break
        assert "No space left on device" in words and "See that the disk has room" in words
        check_all_is_there(before, after, state(store))
        check_it_can_be_asked_again(operation, name, store, after)
    assert 1 < point < 99
    assert state(store) == after


def said_by(operation: Callable[[Store], Any], store: Store) -> str:
    """Return what a maker is told of an operation that was not done, or nothing."""
    try:
        operation(store)
    except StoreError as error:
        return str(error)
    return ""


def check_all_is_there(before: Shelf, after: Shelf, found: Shelf) -> None:
    """Check that each job stands as before or as after the operation, and none stands half."""
    for slug, job in before.items():
        # A job that was renamed or removed all the same is as it then is.
        kept = found.get(slug) or found.get("barn") or after.get(slug) or job
        done = after.get(slug) or after.get("barn") or job
        assert kept[0] in (job[0], done[0])
        assert set(kept[1]) >= set(job[1])
        assert kept[2] in (job[2], done[2])
    for slug in found.keys() - before.keys():
        assert found[slug] == after[slug]


def check_it_can_be_asked_again(
    operation: Callable[[Store], Any], name: str, store: Store, after: Shelf
) -> None:
    """Check that what failed is done when there is room, where it may be asked for twice."""
    if name in ("new", "copy", "import", "undo", "rename", "remove"):
        return
    assert isinstance(operation(store), Conflict) == (name == "conflict")
    found = state(store)
    assert [(slug, job[0], job[2]) for slug, job in found.items()] == [
        (slug, job[0], job[2]) for slug, job in after.items()
    ]


@pytest.mark.parametrize("how", ["all", "half", "once"])
def test_entries_sent_together_are_all_kept_or_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    store = a_shelf(tmp_path)
    with monkeypatch.context() as patched:
        fill_disk(patched, 0, how)
        assert "No space left on device" in said_by(OPERATIONS["append"], store)
    assert store.log("gate") == (entry(1),)


def test_what_was_said_of_a_save_that_failed_is_not_said_of_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for point in range(20):
        store = a_shelf(tmp_path / str(point))
        first = store.version_text("gate", 1)
        with monkeypatch.context() as patched:
            fill_disk(patched, point, "once")
            said_by(OPERATIONS["undo"], store)
        if store.read("gate").text != first:
            base = store.read("gate").version
            result = store.save("gate", "# new\n", base=base)
            assert isinstance(result, Saved)
            assert store.versions("gate")[-1].note == ""
            undone = store.undo("gate", base=result.version)
            assert isinstance(undone, Saved) and undone.version == base
            assert isinstance(store.undo("gate", base=base), Saved)
            assert store.read("gate").text == first


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps its lists of names by itself")
def test_what_was_acknowledged_was_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    events: list[tuple[str, int]] = []
    sync, replace, rename = os.fsync, os.replace, os.rename

    def synced(handle: int) -> None:
        events.append(("on disk", os.fstat(handle).st_ino))
        sync(handle)

    def placed(call: Callable[[Any, Any], None]) -> Callable[[Any, Any], None]:
        def place(old: Any, new: Any) -> None:
            events.append(("placed", Path(old).stat().st_ino))
            events.append(("in", Path(new).parent.stat().st_ino))
            call(old, new)

        return place

    monkeypatch.setattr(os, "fsync", synced)
    monkeypatch.setattr(os, "replace", placed(replace))
    monkeypatch.setattr(os, "rename", placed(rename))
    for name, operation in OPERATIONS.items():
        store = a_shelf(tmp_path / name)
        events.clear()
        operation(store)
        for number, (what, file) in enumerate(events):
            if what == "placed" and name != "remove":
                renamed = name == "rename" and number > len(events) - 4
                assert renamed or ("on disk", file) in events[:number], name
            elif what == "in":
                assert ("on disk", file) in events[number:], name
        if name == "append":
            log = (tmp_path / name / "gate" / "log.jsonl").stat().st_ino
            assert events == [("on disk", log)]


# ---------------------------------------------------------------------- the lock


def test_a_shelf_that_another_holds_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = a_shelf(tmp_path)
    monkeypatch.setattr(disk, "LOCK_TRIES", 3)
    saved = store.read("gate")
    with disk.locked(tmp_path):
        with pytest.raises(StoreError, match=r"is held by another program.*Close the other one"):
            store.save("gate", "# new\n", base=saved.version)
        (tmp_path / "gate" / "job.toml").write_text("# by hand\n")
        assert store.read("gate").text == "# by hand\n"
    assert isinstance(store.save("gate", "# new\n", base=store.read("gate").version), Saved)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="this user may write anywhere")
def test_a_shelf_that_may_only_be_read_can_be_read(tmp_path: Path) -> None:
    store = a_shelf(tmp_path)
    (tmp_path / "gate" / "job.toml").write_text("# by hand\n")
    for folder in (tmp_path, tmp_path / "gate", tmp_path / "gate" / "history"):
        folder.chmod(0o500)
    try:
        assert store.read("gate").text == "# by hand\n"
        with pytest.raises(StoreError, match="Permission denied"):
            store.new("barn", "# new\n")
    finally:
        for folder in (tmp_path, tmp_path / "gate", tmp_path / "gate" / "history"):
            folder.chmod(0o700)
