"""A job's log: only added to, the same entry once, a line cut off in writing not counted."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leafwright.job.store import LogEntry, Store, StoreError

AT = "2026-03-21T09:30:00Z"


@pytest.fixture(autouse=True, scope="module")
def no_waiting() -> Iterator[None]:
    """Spare the disk: nothing here depends on when it has written what it was given."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(os, "fsync", lambda handle: None)
        yield


ENTRIES = st.builds(
    lambda number: LogEntry(f"id-{number}", AT, "reading", f"left/{number}", {"is": "½ in"}, "two"),
    st.integers(0, 6),
)


def tick(id_: str, *, done: Any = True, about: str = "left/brace-1") -> LogEntry:
    return LogEntry(id_, AT, "tick", about, {"done": done, "hash": "0f3a"}, "one")


def a_store(folder: Path) -> Store:
    store = Store(folder)
    store.new("gate", "leafwright = 1\n")
    return store


@given(st.lists(st.lists(ENTRIES, max_size=4), max_size=5))
def test_the_same_entry_is_kept_once_however_often_it_is_sent(
    batches: list[list[LogEntry]],
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store, seen = a_store(Path(folder)), []
        for batch in batches:
            new = [e for i, e in enumerate(batch) if e not in seen and e not in batch[:i]]
            assert store.append("gate", batch) == tuple(new)
            seen += new
        assert store.log("gate") == tuple(seen)
        for batch in batches:
            assert store.append("gate", batch) == ()
        assert store.log("gate") == tuple(seen)


@pytest.mark.parametrize("cut", range(1, 40, 6))
def test_a_last_line_cut_off_in_writing_is_not_counted_and_mended_by_the_next(
    tmp_path: Path, cut: int
) -> None:
    store = a_store(tmp_path)
    store.append("gate", [tick("one"), tick("two")])
    file = tmp_path / "gate" / "log.jsonl"
    file.write_bytes(file.read_bytes()[: -1 - cut])
    assert store.log("gate") == (tick("one"),)
    assert store.append("gate", [tick("three")]) == (tick("three"),)
    assert store.log("gate") == (tick("one"), tick("three"))
    assert file.read_bytes().count(b"\n") == 2


def test_a_last_line_that_an_editor_left_without_an_end_counts(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.append("gate", [tick("one")])
    file = tmp_path / "gate" / "log.jsonl"
    file.write_bytes(file.read_bytes().rstrip())
    store.append("gate", [tick("two")])
    assert store.log("gate") == (tick("one"), tick("two"))


@pytest.mark.parametrize(
    "line",
    [
        b"not json",
        b"\xff\xfe",
        b"[1, 2]",
        b'{"id": "x"}',
        b"[" * 20_000,
        b'{"id": 1, "at": "", "kind": "", "about": "", "data": {}, "who": ""}',
        b'{"id": "x", "at": "", "kind": "", "about": "", "data": ' + b"9" * 5000 + b', "who": ""}',
    ],
)
def test_a_damaged_line_is_shown_as_unread_and_stops_nothing(tmp_path: Path, line: bytes) -> None:
    store = a_store(tmp_path)
    store.append("gate", [tick("one")])
    file = tmp_path / "gate" / "log.jsonl"
    file.write_bytes(line + b"\n" + file.read_bytes())
    store.append("gate", [tick("two")])
    unread, *others = store.log("gate")
    assert others == [tick("one"), tick("two")]
    assert (unread.id, unread.kind) == ("line 1", "unread")
    assert unread.data["line"] == line.decode("utf-8", "replace")


def test_an_undo_leaves_the_log_as_it_is(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.save("gate", "leafwright = 2\n", base=store.read("gate").version)
    store.append("gate", [tick("one")])
    store.undo("gate", base=store.read("gate").version)
    assert store.read("gate").text == "leafwright = 1\n"
    assert store.log("gate") == (tick("one"),)


@pytest.mark.parametrize(
    "entry, words",
    [
        (tick(""), "id is ''"),
        (LogEntry("x", AT, "", "a"), "kind is ''"),
        (LogEntry("x", AT, "unread", "a"), "'unread' is kept for lines that are no entry"),
        (LogEntry("x", "yesterday", "tick", "a"), "at is 'yesterday'.*as '2026-03-21T09:30:00Z'"),
        (LogEntry("x", "2026-03-21T09:30:00", "tick", "a"), "Send a time in UTC"),
        (LogEntry("x", "2026-03-21T09:30:00+02:00", "tick", "a"), "Send a time in UTC"),
        (tick("x", done=1), "a tick's data is {'done': 1.*Send done"),
        (LogEntry("x", AT, "tick", "a"), "a tick's data is {}"),
        (LogEntry("x", AT, "reading", "a", {"is": float("nan")}), "cannot be written as JSON"),
        (LogEntry("x", AT, "reading", "a", {"is": {1}}), "cannot be written as JSON"),
        (LogEntry("x", AT, "reading", "a", {"is": "\ud800"}), "cannot be written as JSON"),
        (LogEntry("x", AT, "reading", "a", {"is": "x" * 100_001}), "has at most 100,000"),
        (LogEntry("x", AT, "reading", "a", {1: "x"}), "does not read back from JSON as it was"),  # type: ignore[dict-item]
        (LogEntry("x", AT, "reading", "a", ["x"]), r"data is \['x'\]"),  # type: ignore[arg-type]
    ],
)
def test_an_entry_that_cannot_be_kept_is_refused_with_all_sent_with_it(
    tmp_path: Path, entry: LogEntry, words: str
) -> None:
    store = a_store(tmp_path)
    with pytest.raises(StoreError, match=f"(?s)The log entry .* cannot be kept: .*{words}"):
        store.append("gate", [tick("good"), entry])
    assert store.log("gate") == ()


def test_another_entry_of_a_known_id_is_refused_since_one_would_be_lost(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    store.append("gate", [tick("one")])
    with pytest.raises(StoreError, match=r"another entry has that id, about 'left/brace-1'"):
        store.append("gate", [tick("one", about="right/brace-1")])
    assert store.log("gate") == (tick("one"),)


def test_an_entry_with_line_ends_and_strange_signs_in_it_is_one_line(tmp_path: Path) -> None:
    store = a_store(tmp_path)
    odd = LogEntry("a\nb", AT, "reading", "\u2028\x85\r", {"": "½\n\x00"}, "<b>")
    store.append("gate", [odd])
    assert store.log("gate") == (odd,)
    assert (tmp_path / "gate" / "log.jsonl").read_bytes().count(b"\n") == 1
