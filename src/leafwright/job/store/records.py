"""What a shelf hands out: saved versions, conflicts, the history's list, log entries."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from typing import Any

from leafwright.job.positions import Path

#: A job's text is kept up to this length [characters]; a longer one is not read as a job either.
LONGEST_TEXT = 300_000


class StoreError(Exception):
    """Something a shelf cannot do: what, why, and what would do, in the maker's words."""


@dataclass(frozen=True, slots=True)
class Saved:
    """One version of one job, as it is on disk.

    Attributes:
        slug: the job's short name, as in an address.
        text: the job file's text; empty where the file cannot be read as text (`Store.read` says
            why).
        version: first 16 hex digits of the SHA-256 of the text in UTF-8.
        modified: when the file was last written [s], POSIX time.
    """

    slug: str
    text: str
    version: str
    modified: float


@dataclass(frozen=True, slots=True)
class ConflictKey:
    """One key that two people changed; an absent value is None.

    Attributes:
        where: tables, numbers and key down to it, as they stand on disk (or stood before); empty
            where the texts can only be compared as a whole.
        theirs: what is on disk now.
        mine: what was asked for.
        before: what both started from.
    """

    where: Path
    theirs: object
    mine: object
    before: object


@dataclass(frozen=True, slots=True)
class Conflict:
    """A save that was not made, because the disk moved on; both texts are kept.

    Attributes:
        slug: the job.
        current: what is on disk now, unchanged.
        keys: what both changed, each to something else.
        kept: name of the history entry that holds the whole text of mine.
    """

    slug: str
    current: Saved
    keys: tuple[ConflictKey, ...]
    kept: str


@dataclass(frozen=True, slots=True)
class Version:
    """One entry of a job's history.

    Attributes:
        number: counted up from 1; numbers are never given twice, but some may be missing.
        at: when it was saved [s], POSIX time, to the second.
        version: as `Saved.version`.
        name: what the maker called it, or empty.
        note: why it is there, or empty.
    """

    number: int
    at: float
    version: str
    name: str
    note: str


@dataclass(frozen=True, slots=True)
class LogEntry:
    """One line of a job's log: a tick, a reading taken on site, an answer.

    Attributes:
        id: unique; the same entry sent twice is kept once.
        at: ISO 8601, UTC, as ``2026-03-21T09:30:00Z``.
        kind: ``tick``, ``reading``, ``answer`` …; ``unread`` is a line that is no entry.
        about: key of what it is about, as ``left/brace-1``.
        data: what was said of it; a tick has ``done`` (bool) and ``hash`` of what was ticked.
        who: who wrote it.
    """

    id: str
    at: str
    kind: str
    about: str
    data: dict[str, Any] = field(default_factory=dict)
    who: str = ""


def text_of(raw: bytes) -> str | None:
    """Return the text of a job file's bytes, or None where they are not text in UTF-8."""
    try:
        return raw.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError:
        return None


def half_character(text: str) -> bool:
    """Return whether a text holds half a character, which no page and no file can show."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return True
    return False


def version_of(raw: bytes) -> str:
    """Return the version of a job file's bytes: 16 hex digits of the SHA-256 of its text."""
    text = text_of(raw)
    return hashlib.sha256(raw if text is None else text.encode("utf-8")).hexdigest()[:16]


def bytes_of(text: str) -> bytes:
    """Return the bytes of a job's text as they are written to disk.

    Raises:
        StoreError: the text is too long, or holds half a character.
    """
    if len(text) > LONGEST_TEXT:
        raise StoreError(
            f"The text was not saved: it has {len(text):,} characters, and a job file has at most "
            f"{LONGEST_TEXT:,}. Take out what is no part of the job."
        )
    try:
        return text.removeprefix("\ufeff").encode("utf-8")
    except UnicodeEncodeError as error:
        line = text.count("\n", 0, error.start) + 1
        raise StoreError(
            f"The text was not saved: line {line} holds {text[error.start]!r}, which is half a "
            "character. Type that character again, and save."
        ) from None
