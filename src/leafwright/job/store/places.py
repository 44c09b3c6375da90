"""Where each job of a shelf lies, under which slug, and what its file holds now."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from leafwright.job.store.history import history_of, in_a_calendar
from leafwright.job.store.records import LONGEST_TEXT, Saved, StoreError, text_of, version_of
from leafwright.job.store.slug import slug_of, unused

JOB = "job.toml"


@dataclass(frozen=True, slots=True)
class OnDisk:
    """A job file as it is: its bytes, its text (None: not UTF-8), and when it was written [s]."""

    raw: bytes
    text: str | None
    version: str
    modified: float

    def saved(self, slug: str) -> Saved:
        """Return it as a shelf hands it out."""
        return Saved(slug, self.text or "", self.version, self.modified)


def places_of(shelf: Path) -> dict[str, Path]:
    """Return each job's folder, or bare ``.toml`` file, by its slug.

    A folder is a job's if it holds ``job.toml`` or ``history``; one that may not be looked into is
    taken for one where it is named like one. A bare file that a job's folder was made of, and that
    a crash left there, is not listed again. Hidden names are passed over.
    """
    if not shelf.exists():
        return {}
    lying = sorted(p for p in shelf.iterdir() if not p.name.startswith("."))
    folders = [p for p in lying if _is_job(p)]
    bare = [p for p in lying if p.suffix == ".toml" and p.is_file()]
    found = {p.name: p for p in folders if slug_of(p.name) == p.name}
    names = {p.name.casefold() for p in lying}
    for folder in folders:
        if folder.name not in found:
            used = {*found, *(names - {folder.name.casefold()})}
            found[unused(slug_of(folder.name), used)] = folder
    for file in sorted(bare, key=lambda p: (slug_of(p.stem) != p.stem, p.name)):
        slug = slug_of(file.stem)
        if not (slug in found and was_made_of(found[slug], file)):
            found[unused(slug, {*found, *names})] = file
    return found


def _is_job(place: Path) -> bool:
    try:
        return (place / JOB).is_file() or (place / "history").is_dir()
    except OSError:
        # Of a disk's own folders, as lost+found, nobody may look into any; the shelf goes on.
        return slug_of(place.name) == place.name


def was_made_of(place: Path, bare: Path) -> bool:
    """Return whether a job's folder began as a bare file that still lies there as it was."""
    try:
        first = history_of(place).entries[:1] if place.is_dir() else ()
        return any(entry.file.read_bytes() == bare.read_bytes() for entry in first)
    except OSError:
        return False


def used_names(shelf: Path) -> set[str]:
    """Return what a new job may not be called: on some systems ``A`` and ``a`` are one folder."""
    return {*places_of(shelf), *(p.name.casefold() for p in shelf.iterdir())}


def on_disk(place: Path) -> OnDisk:
    """Return a job's file as it is now.

    Raises:
        StoreError: the folder has no job file, or the file is too large to be one.
        OSError: it cannot be read.
    """
    file = place / JOB if place.is_dir() else place
    try:
        about = file.stat()
        if about.st_size > 4 * LONGEST_TEXT:
            raise StoreError(
                f"{file} is no job file: it has {about.st_size:,} bytes. Nothing was changed. Move "
                "it away; an earlier version may be in the folder's history."
            )
        raw = file.read_bytes()
    except FileNotFoundError:
        raise StoreError(
            f"{file} is not there. Its versions are kept in {place / 'history'}: copy the newest "
            f"of them to {JOB}."
        ) from None
    return OnDisk(raw, text_of(raw), version_of(raw), in_a_calendar(about.st_mtime))
