"""A job's history: every save in a file of its own, and what is said of them in ``names.json``."""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from leafwright.job.store.disk import sync_folder, write_new, write_whole
from leafwright.job.store.records import Version, half_character, text_of, version_of

_NAME = re.compile(r"(\d{6,18})-(\d{8}T\d{6}Z)\.toml")
_STAMP = "%Y%m%dT%H%M%SZ"
NAMES = "names.json"

#: Of times and numbers that a clock or a hand put far off, what can still be written as a date
#: [s], and counted on from.
_LATEST, _HIGHEST = 253_402_128_000.0, 10**15

#: What an entry was, where it was no plain save: a step back or forward, or a text laid aside
#: that never stood in the job file.
UNDO, REDO, ASIDE = "undo", "redo", "aside"


@dataclass(frozen=True, slots=True)
class Mark:
    """What is said of one entry: the maker's name for it, why it is there, what it was."""

    name: str = ""
    note: str = ""
    was: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a history: its number, when it was made [s], and its file."""

    number: int
    at: float
    file: Path


@dataclass(frozen=True, slots=True)
class History:
    """The entries of a job in order, and what is said of them."""

    folder: Path
    entries: tuple[Entry, ...]
    marks: dict[int, Mark]

    def mark(self, number: int) -> Mark:
        """Return what is said of an entry."""
        return self.marks.get(number, Mark())

    def standing(self) -> tuple[Entry, ...]:
        """Return the entries that once stood in the job file, in order."""
        return tuple(e for e in self.entries if self.mark(e.number).was != ASIDE)

    def newest_with(self, version: str) -> Entry | None:
        """Return the newest entry that holds a version, or None."""
        for entry in reversed(self.entries):
            if version_of(entry.file.read_bytes()) == version:
                return entry
        return None

    def steps(self, upto: Entry) -> tuple[list[Entry], list[Entry]]:
        """Return the saves that led to an entry, and those that were undone on the way to it.

        The last of the first list has the text of ``upto``; the one before it is what an undo
        goes back to. The last of the second list is what a redo goes forward to.
        """
        done: list[Entry] = []
        undone: list[Entry] = []
        for entry in self.standing():
            was = self.mark(entry.number).was
            if was == UNDO and len(done) > 1:
                undone.append(done.pop())
            elif was == REDO and undone:
                done.append(undone.pop())
            else:
                done.append(entry)
                undone.clear()
            if entry == upto:
                break
        return done, undone

    def versions(self) -> tuple[Version, ...]:
        """Return the list of entries as a maker sees it."""
        made: list[Version] = []
        for entry in self.entries:
            mark = self.mark(entry.number)
            version = version_of(entry.file.read_bytes())
            made.append(Version(entry.number, entry.at, version, mark.name, mark.note))
        return tuple(made)


def history_of(job: Path) -> History:
    """Return the history in a job's folder; files that are none of it are passed over."""
    folder = job / "history"
    entries: list[Entry] = []
    for file in folder.iterdir() if folder.is_dir() else ():
        if (read := name_read(file.name)) is not None and file.is_file():
            entries.append(Entry(*read, file))
    entries.sort(key=lambda entry: (entry.number, entry.at))
    with contextlib.suppress(FileNotFoundError, NotADirectoryError):
        marks = marks_of((folder / NAMES).read_bytes())
        return History(folder, tuple(entries), marks or {})
    return History(folder, tuple(entries), {})


def name_read(name: str) -> tuple[int, float] | None:
    """Return number and time [s] of a history file's name, or None where it is no such name."""
    found = _NAME.fullmatch(name)
    if found is None:
        return None
    try:
        at = datetime.strptime(found[2], _STAMP).replace(tzinfo=UTC).timestamp()
    except ValueError:
        return None
    return int(found[1]), at


def name_for(number: int, at: float) -> str:
    """Return the name of a history file."""
    return f"{number:06d}-{stamp(at)}.toml"


def stamp(at: float) -> str:
    """Return a time [s] as it stands in names of files, UTC."""
    return datetime.fromtimestamp(in_a_calendar(at), UTC).strftime(_STAMP)


def in_a_calendar(at: float) -> float:
    """Return a time [s], or the nearest that is a date, wherever a clock may stand."""
    return min(max(at, 0.0), _LATEST)


def marks_of(raw: bytes) -> dict[int, Mark] | None:
    """Return what a ``names.json`` says, or None where it cannot be read as one."""
    try:
        read = json.loads(raw)
        marks = {int(number): Mark(**said) for number, said in read.items()}
    except (ValueError, TypeError, AttributeError, RecursionError):
        return None
    fields = [text for mark in marks.values() for text in (mark.name, mark.note, mark.was)]
    readable = all(isinstance(text, str) and not half_character(text) for text in fields)
    return marks if readable and all(0 < number < _HIGHEST for number in marks) else None


def marks_written(marks: dict[int, Mark]) -> bytes:
    """Return the bytes of a ``names.json``; what is empty is left out."""
    told = {
        str(number): {key: text for key, text in asdict(marks[number]).items() if text}
        for number in sorted(marks)
    }
    told = {number: said for number, said in told.items() if said}
    return (json.dumps(told, indent=1) + "\n").encode("ascii")


def with_entry(history: History, raw: bytes, at: float, mark: Mark) -> tuple[History, Entry]:
    """Write one more entry to disk, and return the history with it, and the entry.

    What is said of it is written first, so that no entry stands there as what it is not.

    Raises:
        OSError: it could not be written; nothing of it is left but a number that is not used.
    """
    number = max([0, *(e.number for e in history.entries), *history.marks]) + 1
    if not history.entries and not history.folder.is_dir():
        history.folder.mkdir()
        sync_folder(history.folder.parent)
    if mark != Mark():
        history = with_marks(history, {**history.marks, number: mark}, at)
    entry = Entry(number, float(int(in_a_calendar(at))), history.folder / name_for(number, at))
    try:
        write_whole(entry.file, raw)
    except OSError:
        taken_back(entry)
        raise
    return History(history.folder, (*history.entries, entry), history.marks), entry


def with_marks(history: History, marks: dict[int, Mark], at: float) -> History:
    """Write what is said of the entries to disk, and return the history with it.

    A ``names.json`` that cannot be read is kept beside it under another name.
    """
    file = history.folder / NAMES
    if file.exists() and marks_of(file.read_bytes()) is None:
        write_new(history.folder / f"names-unread-{stamp(at)}.json", file.read_bytes())
    write_whole(file, marks_written(marks))
    return History(history.folder, history.entries, marks)


def taken_back(entry: Entry) -> None:
    """Take an entry out again whose text did not come to stand in the job file."""
    with contextlib.suppress(OSError):
        entry.file.unlink(missing_ok=True)


def kept_aside(history: History, raw: bytes) -> Entry | None:
    """Return the newest entry if it holds just these bytes laid aside already, or None."""
    newest: Sequence[Entry] = history.entries[-1:]
    for entry in newest:
        if history.mark(entry.number).was == ASIDE and entry.file.read_bytes() == raw:
            return entry
    return None


def text_with(history: History, version: str) -> str | None:
    """Return the text of a version that stands in the history, or None."""
    entry = history.newest_with(version)
    return None if entry is None else text_of(entry.file.read_bytes())
