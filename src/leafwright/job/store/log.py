"""A job's log: one line of JSON an entry, only ever added to, the same entry never twice."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, fields
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from leafwright.job.store.records import LogEntry, StoreError, half_character

#: A log entry's line has at most so many bytes.
LONGEST_LINE = 100_000
UNREAD = "unread"

_FIELDS = tuple(f.name for f in fields(LogEntry))


def whole_part(raw: bytes) -> int:
    """Return how many bytes of a log are whole lines; what follows was cut off in writing."""
    end = raw.rfind(b"\n") + 1
    # An editor leaves the last line without an end: if it reads as an entry, it is one.
    return len(raw) if end < len(raw) and _read(raw[end:]) is not None else end


def entries_of(raw: bytes) -> tuple[LogEntry, ...]:
    """Return a log's entries in the order in which they came, each id once, the first of it.

    A line that is no entry comes back as one of kind ``unread`` with its text in
    ``data["line"]``; a last line that was cut off in writing does not.
    """
    found: dict[str, LogEntry] = {}
    for number, line in enumerate(raw[: whole_part(raw)].split(b"\n"), start=1):
        if line.strip():
            entry = _read(line) or _unread(line, number)
            found.setdefault(entry.id, entry)
    return tuple(found.values())


def log_beside(job: Path) -> tuple[LogEntry, ...] | None:
    """Return the log of a job's folder, empty where nothing was kept yet; None for a bare file."""
    if not job.is_dir():
        return None
    file = job / "log.jsonl"
    return entries_of(file.read_bytes()) if file.exists() else ()


def new_among(entries: Sequence[LogEntry], there: Iterable[LogEntry]) -> tuple[LogEntry, ...]:
    """Return the entries that a log does not hold yet.

    Raises:
        StoreError: an entry cannot be kept, or another one of its id is there.
    """
    known = {entry.id: entry for entry in there}
    new: list[LogEntry] = []
    for entry in entries:
        _check(entry)
        kept = _read(line_of(entry))
        if kept != entry or kept is None:
            raise StoreError(
                f"{_named(entry)}: its data does not read back from JSON as it was. Nothing was "
                "kept. Send tables whose keys are texts, and lists."
            )
        if entry.id not in known:
            known[entry.id] = kept
            new.append(kept)
        elif known[entry.id] != kept:
            raise StoreError(
                f"{_named(entry)}: another entry has that id, about {known[entry.id].about!r} at "
                f"{known[entry.id].at}. Nothing was kept. Send it again with an id of its own."
            )
    return tuple(new)


def line_of(entry: LogEntry) -> bytes:
    """Return an entry's line with its end.

    Raises:
        StoreError: its data is no JSON, holds half a character, or is too long.
    """
    try:
        text = json.dumps(asdict(entry), ensure_ascii=False, allow_nan=False)
        line = text.encode("utf-8") + b"\n"
    except (TypeError, ValueError, RecursionError) as error:
        raise StoreError(
            f"{_named(entry)}: it cannot be written as JSON ({error}). Nothing was kept. Send "
            "texts, finite numbers, true, false, lists and tables of them."
        ) from None
    if len(line) > LONGEST_LINE:
        raise StoreError(
            f"{_named(entry)}: it takes {len(line):,} bytes and an entry has at most "
            f"{LONGEST_LINE:,}. Nothing was kept. Send it in parts."
        )
    return line


def _check(entry: LogEntry) -> None:
    for name in ("id", "at", "kind", "about", "who"):
        value = getattr(entry, name)
        if not isinstance(value, str) or (name in ("id", "kind") and not value.strip()):
            raise StoreError(
                f"{_named(entry)}: {name} is {value!r}. Nothing was kept. Send a text."
            )
    if entry.kind == UNREAD:
        raise StoreError(f"{_named(entry)}: {UNREAD!r} is kept for lines that are no entry.")
    try:
        at = datetime.fromisoformat(entry.at)
    except ValueError:
        at = None
    if at is None or at.utcoffset() != timedelta(0):
        would_do = datetime(2026, 3, 21, 9, 30, tzinfo=UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
        raise StoreError(
            f"{_named(entry)}: at is {entry.at!r}. Nothing was kept. Send a time in UTC, as "
            f"{would_do!r}."
        )
    data: Any = entry.data
    if not isinstance(data, dict):
        raise StoreError(f"{_named(entry)}: data is {data!r}. Nothing was kept. Send a table.")
    is_tick = isinstance(data.get("done"), bool) and isinstance(data.get("hash"), str)
    if entry.kind == "tick" and not is_tick:
        raise StoreError(
            f"{_named(entry)}: a tick's data is {data!r}. Nothing was kept. Send done (true or "
            "false) and hash, the hash of what was ticked."
        )


def _named(entry: LogEntry) -> str:
    return f"The log entry {str(entry.id)[:80]!r} cannot be kept"


def _read(line: bytes) -> LogEntry | None:
    try:
        read = json.loads(line)
    except (ValueError, RecursionError):
        return None
    if not isinstance(read, dict) or set(read) != set(_FIELDS):
        return None
    if rb"\ud" in line.lower() and half_character(json.dumps(read, ensure_ascii=False)):
        return None
    texts = all(isinstance(read[name], str) for name in _FIELDS if name != "data")
    return LogEntry(**read) if texts and read["id"] and isinstance(read["data"], dict) else None


def _unread(line: bytes, number: int) -> LogEntry:
    text = line.decode("utf-8", "replace").strip()
    return LogEntry(f"line {number}", "", UNREAD, "", {"line": text})
