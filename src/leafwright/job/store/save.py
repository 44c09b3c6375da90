"""One save of one job: what is on disk joins the history, is merged with, and is replaced."""

from __future__ import annotations

import os
from pathlib import Path

from leafwright.job.store import history
from leafwright.job.store.disk import write_whole
from leafwright.job.store.history import ASIDE, UNDO, History, Mark, history_of
from leafwright.job.store.merge import differences, merged
from leafwright.job.store.places import JOB, OnDisk, on_disk
from leafwright.job.store.records import (
    Conflict,
    ConflictKey,
    Saved,
    StoreError,
    bytes_of,
    text_of,
)

FOUND = "found on disk: changed by hand, or by a save that was cut short"
_KEPT = "kept, not saved: the same was changed elsewhere"
_LEFT_OUT = "whole text of a save that was merged: not all its remarks are in the merged text"


def is_known(disk: OnDisk, record: History) -> bool:
    """Return whether what is on disk is what the history says was saved last."""
    standing = record.standing()
    return bool(standing) and standing[-1].file.read_bytes() == disk.raw


def noticed(folder: Path, *, note: str = FOUND) -> tuple[OnDisk, History]:
    """Return a job as it is and its history, with what was changed by hand in it."""
    disk, record = on_disk(folder), history_of(folder)
    if not is_known(disk, record):
        record, _ = history.with_entry(record, disk.raw, disk.modified, Mark(note=note))
    return disk, record


def saved_over(
    slug: str, folder: Path, text: str, *, base: str, note: str, at: float
) -> Saved | Conflict:
    """Put a text in the place of what is on disk, or merged into it if that moved on from base.

    Call it only under the shelf's lock, as the others here that write.
    """
    raw = bytes_of(text)
    disk, record = noticed(folder)
    if raw == disk.raw:
        return disk.saved(slug)
    if disk.version != base:
        before = history.text_with(record, base)
        if disk.text is None or before is None:
            keys = differences(disk.text or "", text)
            return _conflict(slug, disk, record, raw, keys, at)
        result = merged(before, disk.text, text)
        if result.conflicts:
            return _conflict(slug, disk, record, raw, result.conflicts, at)
        if result.left_out:
            record, _ = history.with_entry(record, raw, at, Mark("", _LEFT_OUT, ASIDE))
        raw = bytes_of(result.text)
        if raw == disk.raw:
            return disk.saved(slug)
    return _put(slug, folder, record, raw, Mark(note=note), at)


def restored(
    slug: str, folder: Path, text: str, *, base: str, note: str, at: float
) -> Saved | Conflict:
    """Put a text where the job's file is gone; where it is there, save over it."""
    if os.path.lexists(folder / JOB):
        return saved_over(slug, folder, text, base=base, note=note, at=at)
    return _put(slug, folder, history_of(folder), bytes_of(text), Mark(note=note), at)


def stepped(slug: str, folder: Path, was: str, *, base: str, at: float) -> Saved | Conflict:
    """Put back the text from before the last change, or the one that an undo took away.

    Raises:
        StoreError: there is no such text, or ``base`` is no version of the job.
    """
    disk, record = noticed(folder)
    standing = record.standing()
    start: history.Entry | None = standing[-1]
    if disk.version != base:
        start = History(record.folder, standing, record.marks).newest_with(base)
    if start is None:
        raise StoreError(
            f"There is nothing to {was} in {slug!r}: {base!r} is none of its versions. Nothing was "
            "changed. Read the job again."
        )
    done, undone = record.steps(start)
    steps = done[:-1] if was == UNDO else undone
    if not steps:
        why = "this is its first version" if was == UNDO else "nothing was undone just now"
        raise StoreError(f"There is nothing to {was} in {slug!r}: {why}.")
    raw = steps[-1].file.read_bytes()
    if disk.version == base:
        return _put(slug, folder, record, raw, Mark(note=was, was=was), at)
    text = text_of(raw)
    if text is None:
        raise StoreError(
            f"There is nothing to {was} in {slug!r}: what was there is not text in UTF-8, and "
            "cannot be merged with what is there now. Read the job again."
        )
    return saved_over(slug, folder, text, base=base, note=was, at=at)


def _put(slug: str, folder: Path, record: History, raw: bytes, mark: Mark, at: float) -> Saved:
    _, entry = history.with_entry(record, raw, at, mark)
    try:
        write_whole(folder / JOB, raw)
    except OSError:
        if not (folder / JOB).is_file() or (folder / JOB).read_bytes() != raw:
            history.taken_back(entry)
        raise
    return on_disk(folder).saved(slug)


def _conflict(
    slug: str,
    disk: OnDisk,
    record: History,
    raw: bytes,
    keys: tuple[ConflictKey, ...],
    at: float,
) -> Conflict:
    entry = history.kept_aside(record, raw)
    if entry is None:
        record, entry = history.with_entry(record, raw, at, Mark("", _KEPT, ASIDE))
    return Conflict(slug, disk.saved(slug), keys, entry.file.name)
