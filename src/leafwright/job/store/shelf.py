"""The shelf: jobs in a folder of the maker's choice, that phones and programs edit at once."""

from __future__ import annotations

import contextlib
import shutil
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path as FilePath

from leafwright.job.positions import Path
from leafwright.job.store import bundle, history, log
from leafwright.job.store.disk import append_whole, locked, said, sync_folder, write_new
from leafwright.job.store.history import REDO, UNDO, Entry, History, Mark, history_of
from leafwright.job.store.places import JOB, on_disk, places_of, used_names, was_made_of
from leafwright.job.store.records import (
    Conflict,
    LogEntry,
    Saved,
    StoreError,
    Version,
    bytes_of,
    text_of,
)
from leafwright.job.store.save import is_known, noticed, restored, saved_over, stepped
from leafwright.job.store.slug import slug_of, unused
from leafwright.job.store.values import with_name, with_values

#: A job's name, and a version's, has at most so many characters.
LONGEST_NAME = 80

LOG = "log.jsonl"
_OLDER_LEFT_OUT = "versions older than this were left out of the export"


class Store:
    """A shelf of jobs. Whatever a method returned is on disk; what it replaced is in the history.

    Every method that writes holds the shelf's lock, so that threads and programs agree. Every
    method raises StoreError where it cannot do what was asked.
    """

    def __init__(self, shelf: FilePath, *, now: Callable[[], float] = time.time) -> None:
        """Take a folder as the shelf; it is made when something is first kept in it.

        Args:
            shelf: the folder.
            now: the clock [s], POSIX time.
        """
        self._shelf = shelf
        self._now = now

    @property
    def shelf(self) -> FilePath:
        """The folder that the jobs lie in."""
        return self._shelf

    # ------------------------------------------------------------------ reading

    def jobs(self) -> tuple[Saved, ...]:
        """Return every job of the shelf, by slug; a file that is no text has an empty one here."""
        with said(f"The jobs in {self._shelf} could not be listed", "Nothing was changed."):
            places = places_of(self._shelf)
        return tuple(_lying(slug, place) for slug, place in sorted(places.items()))

    def lying(self, slug: str) -> Saved:
        """Return a job as it lies there, even one whose file is gone or no text: that is empty."""
        with said(f"{slug!r} could not be read", "Nothing was changed."):
            return _lying(slug, self._place(slug))

    def read(self, slug: str) -> Saved:
        """Return a job as it is on disk; what was changed there by hand joins the history."""
        with said(f"{slug!r} could not be read", "Nothing was changed."):
            place = self._place(slug)
            disk = on_disk(place)
        # A shelf that can only be read, or is busy, can still be read.
        with contextlib.suppress(OSError, StoreError):
            if place.is_dir() and not is_known(disk, history_of(place)):
                with self._held(slug):
                    disk, _ = noticed(self._place(slug))
        if disk.text is None:
            raise _no_text(slug)
        return disk.saved(slug)

    def versions(self, slug: str) -> tuple[Version, ...]:
        """Return a job's history, oldest first; it is empty for a bare file."""
        with said(f"The history of {slug!r} could not be read", "Nothing was changed."):
            return history_of(self._place(slug)).versions()

    def version_text(self, slug: str, number: int) -> str:
        """Return the text of one version."""
        with said(f"Version {number} of {slug!r} could not be read", "Nothing was changed."):
            text = text_of(_entry(slug, history_of(self._place(slug)), number).file.read_bytes())
        if text is None:
            raise StoreError(f"Version {number} of {slug!r} is not text in UTF-8. Choose another.")
        return text

    def log(self, slug: str) -> tuple[LogEntry, ...]:
        """Return a job's log in the order in which it came.

        A line that was damaged comes back as an entry of kind ``unread``, its text in
        ``data["line"]``; a last line that was cut off in writing, which nobody was told was
        kept, does not.
        """
        with said(f"The log of {slug!r} could not be read", "Nothing was changed."):
            return log.entries_of(_log_of(self._place(slug)))

    def export(self, slug: str) -> bytes:
        """Return a zip of a job: ``job.toml``, ``log.jsonl``, ``history/``.

        Of a history that is larger than what `import_` lets in, the newest versions are in it, and
        the oldest of these has a note that says so.
        """
        with said(f"{slug!r} could not be exported", "Nothing was changed."):
            place = self._place(slug)
            raw = on_disk(place).raw
            record = history_of(place)
            texts = [(e, e.file.read_bytes()) for e in reversed(record.entries)]
            texts = list(reversed(texts[: bundle.room_for([len(text) for _, text in texts])]))
            marks = dict(record.marks)
            if 0 < len(texts) < len(record.entries):
                first = texts[0][0].number
                mark = record.mark(first)
                note = "; ".join(filter(None, (mark.note, _OLDER_LEFT_OUT)))
                marks[first] = Mark(mark.name, note, mark.was)
            entries = _log_of(place)
        names = history.marks_written(marks) if marks else b""
        files = tuple((entry.file.name, text) for entry, text in texts)
        return bundle.packed(bundle.Bundle(raw, entries[: log.whole_part(entries)], names, files))

    # ------------------------------------------------------------------ saving

    def save(self, slug: str, text: str, *, base: str, note: str = "") -> Saved | Conflict:
        """Save a job's text; return what is on disk then, or the conflict that kept it off.

        If the disk moved on since ``base``, what changed from there to ``text`` is merged into it
        key by key (`merge.merged`). Where both changed the same key, nothing on disk changes and
        the text is kept in the history. A save that changes nothing makes no version.

        Args:
            slug: the job.
            text: its new text, which need not be a job that can be read.
            base: version of the text that was edited.
            note: why, for the history.
        """
        bytes_of(text)
        with self._held(slug):
            folder = self._folder(slug)
            return saved_over(slug, folder, text, base=base, note=note, at=self._now())

    def set_values(
        self, slug: str, edits: Sequence[tuple[Path, object]], *, base: str, note: str = ""
    ) -> Saved | Conflict:
        """Save a job with some of its values changed, by the same rules as `save`.

        Args:
            slug: the job.
            edits: place and new value of each, one after the other; None takes it out, and in a
                list the number after the last adds an entry. Tables on the way are made.
            base: version of the text that the places are in.
            note: why, for the history.
        """
        with self._held(slug):
            folder = self._folder(slug)
            disk, record = noticed(folder)
            start = disk.text
            if disk.version != base:
                start = history.text_with(record, base) or disk.text
            if start is None:
                raise _no_text(slug)
            text = with_values(slug, start, edits)
            return saved_over(slug, folder, text, base=base, note=note, at=self._now())

    def undo(self, slug: str, *, base: str) -> Saved | Conflict:
        """Save the text from before the last change, and return it; the log stays as it is.

        If the disk moved on since ``base``, the change that led to ``base`` is taken out of what
        is there now, by the same rules as `save`.
        """
        with self._held(slug):
            return stepped(slug, self._folder(slug), UNDO, base=base, at=self._now())

    def redo(self, slug: str, *, base: str) -> Saved | Conflict:
        """Save the text that the last undo took away, and return it; a save ends what can be."""
        with self._held(slug):
            return stepped(slug, self._folder(slug), REDO, base=base, at=self._now())

    def restore(self, slug: str, number: int, *, base: str) -> Saved | Conflict:
        """Save the text of an earlier version, by the same rules as `save`.

        Where the job's file is gone, there is nothing that it could be in the way of.
        """
        text, note = self.version_text(slug, number), f"version {number} again"
        with self._held(slug):
            folder = self._folder(slug)
            return restored(slug, folder, text, base=base, note=note, at=self._now())

    def name_version(self, slug: str, number: int, name: str) -> None:
        """Give a version a name; an empty one takes the name away."""
        name = name.strip()
        if name:
            _check_name(name)
        with self._held(slug):
            record = history_of(self._place(slug))
            mark = record.mark(_entry(slug, record, number).number)
            marks = {**record.marks, number: Mark(name, mark.note, mark.was)}
            history.with_marks(record, marks, self._now())

    def append(self, slug: str, entries: Sequence[LogEntry]) -> tuple[LogEntry, ...]:
        """Add entries to a job's log, and return those that it did not have.

        An entry whose id is there already, alike in all, is there once; all are added or none.
        """
        with self._held(slug):
            place = self._place(slug)
            raw = _log_of(place)
            new = log.new_among(entries, log.entries_of(raw))
            if new:
                keep = log.whole_part(raw)
                begin = b"" if raw[:keep].endswith(b"\n") or not keep else b"\n"
                lines = begin + b"".join(map(log.line_of, new))
                append_whole(self._folder(slug) / LOG, lines, keep)
            return new

    # ------------------------------------------------------------------ whole jobs

    def new(self, name: str, text: str) -> Saved:
        """Keep a new job under a slug made of its name, and return it; nothing is written over."""
        raw = bytes_of(text)
        with self._held(name):
            return self._made(self._unused(name), lambda folder: self._begin(folder, raw, ""))

    def duplicate(self, slug: str, name: str) -> Saved:
        """Keep a job's text as a new job of another name; history and log stay with the first."""
        name = _check_name(name)
        with self._held(slug):
            raw = bytes_of(with_name(self._text(slug), name))
            note = f"copied from {slug}"
            return self._made(self._unused(name), lambda folder: self._begin(folder, raw, note))

    def rename(self, slug: str, name: str) -> Saved:
        """Give a job another name, in its text and as its slug; history and log go with it."""
        name = _check_name(name)
        with self._held(slug):
            folder = self._folder(slug)
            base, text = on_disk(folder).version, with_name(self._text(slug), name)
            saved_over(slug, folder, text, base=base, note="renamed", at=self._now())
            own = {slug, folder.name.casefold()}
            slug = unused(slug_of(name), used_names(self._shelf) - own)
            if slug != folder.name:
                folder = folder.rename(self._shelf / slug)
                sync_folder(self._shelf)
            return on_disk(folder).saved(slug)

    def remove(self, slug: str) -> FilePath:
        """Move a job to ``.removed`` in the shelf, from where it can be moved back."""
        with self._held(slug):
            place = self._place(slug)
            removed = self._shelf / ".removed"
            if not removed.is_dir():
                removed.mkdir()
            tail = place.suffix if place.is_file() else ""
            used = {p.name.removesuffix(tail) for p in removed.iterdir()}
            name = f"{slug[:40].rstrip('-')}-{history.stamp(self._now()).lower()}"
            target = place.rename(removed / (unused(name, used) + tail))
            sync_folder(removed)
            sync_folder(self._shelf)
            return target

    def import_(self, data: bytes, name: str) -> Saved:
        """Keep a job that was sent here, and return it; nothing is written over.

        Args:
            data: a job file's text, or a zip as `export` makes it; a stranger's may hold anything.
            name: what to make the slug of, as the name of the file that was sent.
        """
        sent = bundle.unpacked(data)

        def fill(folder: FilePath) -> None:
            (folder / "history").mkdir()
            for file, raw in sent.history:
                write_new(folder / "history" / file, raw)
            if sent.names:
                write_new(folder / "history" / history.NAMES, sent.names)
            if sent.log:
                write_new(folder / LOG, sent.log)
            write_new(folder / JOB, sent.job)
            sync_folder(folder / "history")
            noticed(folder, note=f"brought in as {name[:LONGEST_NAME]!r}")

        stem = name.replace("\\", "/").rpartition("/")[2]
        for ending in (".toml", ".zip"):
            stem = stem[: -len(ending)] if stem.lower().endswith(ending) else stem
        with self._held(name[:LONGEST_NAME]):
            return self._made(self._unused(stem), fill)

    # ------------------------------------------------------------------ under the lock

    @contextlib.contextmanager
    def _held(self, slug: str) -> Iterator[None]:
        with said(f"{slug!r} was not saved", "The last whole version is on disk."):
            if not self._shelf.is_dir():
                self._shelf.mkdir(parents=True, exist_ok=True)
            with locked(self._shelf):
                yield

    def _place(self, slug: str) -> FilePath:
        places = places_of(self._shelf)
        if slug not in places:
            there = ", ".join(sorted(places)[:10]) or "none"
            raise StoreError(
                f"There is no job {slug[:LONGEST_NAME]!r} in {self._shelf}. There are: {there}."
            )
        return places[slug]

    def _text(self, slug: str) -> str:
        text = on_disk(self._place(slug)).text
        if text is None:
            raise _no_text(slug)
        return text

    def _unused(self, name: str) -> str:
        return unused(slug_of(name), used_names(self._shelf))

    def _folder(self, slug: str) -> FilePath:
        """Return a job's folder; a bare file is made into one, and goes when that is on disk."""
        place = self._place(slug)
        bare = place if place.is_file() else self._shelf / f"{slug}.toml"
        if place.is_file():
            disk = on_disk(place)
            note = f"as found in {place.name}"
            self._made(slug, lambda folder: self._begin(folder, disk.raw, note, at=disk.modified))
            place = self._shelf / slug
        # An editor may have written to it meanwhile; then it stays, as a job of its own.
        if bare.is_file() and was_made_of(place, bare):
            bare.unlink()
            sync_folder(self._shelf)
        return place

    def _made(self, slug: str, fill: Callable[[FilePath], None]) -> Saved:
        """Make a job's folder, which nobody sees until it is whole."""
        new, made = self._shelf / ".new", self._shelf / slug
        if new.exists():
            shutil.rmtree(new)
        new.mkdir()
        try:
            fill(new)
            sync_folder(new)
            new.rename(made)
        except (OSError, StoreError):
            shutil.rmtree(new, ignore_errors=True)
            raise
        sync_folder(self._shelf)
        return on_disk(made).saved(slug)

    def _begin(self, folder: FilePath, raw: bytes, note: str, *, at: float | None = None) -> None:
        moment = self._now() if at is None else at
        history.with_entry(history_of(folder), raw, moment, Mark(note=note))
        write_new(folder / JOB, raw)


def _lying(slug: str, place: FilePath) -> Saved:
    try:
        return on_disk(place).saved(slug)
    except (OSError, StoreError):
        return Saved(slug, "", "", 0.0)


def _no_text(slug: str) -> StoreError:
    return StoreError(
        f"The job file of {slug!r} is not text in UTF-8. Nothing was changed. Open it in an editor "
        "and save it as UTF-8, or restore an earlier version."
    )


def _entry(slug: str, record: History, number: int) -> Entry:
    for entry in record.entries:
        if entry.number == number:
            return entry
    raise StoreError(
        f"{slug!r} has no version {number!r}. Choose one of its {len(record.entries)} versions."
    )


def _log_of(place: FilePath) -> bytes:
    try:
        return (place / LOG).read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return b""


def _check_name(name: str) -> str:
    name = name.strip()
    if not 0 < len(name) <= LONGEST_NAME:
        raise StoreError(
            f"The name {name[:LONGEST_NAME]!r} has {len(name)} characters. Nothing was changed. "
            f"Give it 1 to {LONGEST_NAME}."
        )
    return name
