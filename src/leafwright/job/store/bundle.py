"""A job in one zip, out and in. What comes in is a stranger's: looked at before it is inflated."""

from __future__ import annotations

import io
import stat
import struct
import tomllib
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.job.store.history import NAMES, marks_of, name_read
from leafwright.job.store.records import LONGEST_TEXT, StoreError, text_of

#: What a zip may hold at most: itself, all its files together, one file [bytes]; how many files;
#: and how many times a file may swell where it is larger than `SMALL` [bytes].
LARGEST_ZIP, LARGEST_WHOLE, LARGEST_FILE = 30_000_000, 100_000_000, 20_000_000
MOST_FILES, MOST_SWELL, SMALL = 5_000, 100, 1_000_000

#: History numbers above this leave too few for what is still to be saved.
HIGHEST_NUMBER = 900_000

JOB, LOG, HISTORY = "job.toml", "log.jsonl", "history/"

# What Python's reader raises for a zip that is damaged, or of a kind that it cannot read.
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    LookupError,
    OSError,
    OverflowError,
    RuntimeError,
    ValueError,
)

# The four bytes with which each file's line in a zip's list begins.
_LISTED = b"PK\x01\x02"


@dataclass(frozen=True, slots=True)
class Bundle:
    """A job's files: the job's text, its log, what is said of versions, the versions by name."""

    job: bytes
    log: bytes = b""
    names: bytes = b""
    history: tuple[tuple[str, bytes], ...] = ()


def packed(bundle: Bundle) -> bytes:
    """Return a zip of a job; the same job gives the same bytes.

    Raises:
        StoreError: it is larger than what is read again.
    """
    files: list[tuple[str, bytes]] = [(JOB, bundle.job)]
    files += [(LOG, bundle.log)] if bundle.log else []
    files += [(HISTORY + NAMES, bundle.names)] if bundle.names else []
    files += [(HISTORY + name, raw) for name, raw in bundle.history]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, raw in files:
            info = zipfile.ZipInfo(name)
            info.compress_type = _packing(name, raw)
            info.create_system = 3
            info.external_attr = (stat.S_IFREG | 0o644) << 16
            made.writestr(info, raw)
    if out.tell() > LARGEST_ZIP:
        raise _too_large("the zip", out.tell(), LARGEST_ZIP)
    return out.getvalue()


def _packing(name: str, raw: bytes) -> int:
    """Return how a file is packed: as it is, where it would swell more than is let in again."""
    if len(raw) > LARGEST_FILE:
        raise _too_large(repr(name), len(raw), LARGEST_FILE)
    swells = len(raw) > SMALL and len(raw) > MOST_SWELL * len(zlib.compress(raw))
    return zipfile.ZIP_STORED if swells else zipfile.ZIP_DEFLATED


def _too_large(what: str, size: int, most: int) -> StoreError:
    return StoreError(
        f"Nothing was exported: {what} has {size:,} bytes, and at most {most:,} are read again. "
        "Copy the job's folder itself instead."
    )


def room_for(sizes: Sequence[int]) -> int:
    """Return how many of the versions, newest first, a zip that can be read again has room for.

    Args:
        sizes: of the versions, newest first [bytes].
    """
    left, count = LARGEST_WHOLE - 3 * LARGEST_FILE, 0
    for size in sizes[: MOST_FILES - 10]:
        left -= size
        if left < 0:
            break
        count += 1
    return count


def unpacked(data: bytes) -> Bundle:
    """Return the job in a zip, or in a job file's text.

    Raises:
        StoreError: it is neither, or holds anything that is no part of a job, or too much of it.
    """
    if len(data) > LARGEST_ZIP:
        raise _refused(f"it has {len(data):,} bytes, and at most {LARGEST_ZIP:,} are read")
    if not data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return Bundle(_toml(_job_text(data, "it")))
    if data.count(_LISTED) > MOST_FILES:
        raise _refused(f"it lists more than {MOST_FILES:,} files")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as opened:
            listed = opened.infolist()
            _check_list(listed)
            files = {i.filename: _inflated(opened, i) for i in listed if not i.is_dir()}
    except _DAMAGE as error:
        raise _refused(f"the zip is damaged: {error}") from None
    if JOB not in files:
        raise _refused(f"the zip holds no {JOB!r}")
    names = files.pop(HISTORY + NAMES, b"")
    marks = marks_of(names) if names else {}
    if marks is None or max(marks, default=0) > HIGHEST_NUMBER:
        raise _refused(f"{HISTORY + NAMES!r} in it is not a list of names")
    job, log = _job_text(files.pop(JOB), f"{JOB!r} in it"), files.pop(LOG, b"")
    history = sorted((name.removeprefix(HISTORY), raw) for name, raw in files.items())
    return Bundle(job, log, names, tuple(history))


def _refused(why: str) -> StoreError:
    return StoreError(
        f"Nothing was brought in: {why}. Choose a job file (TOML) or a zip that was written by "
        "export."
    )


def _job_text(raw: bytes, what: str) -> bytes:
    text = text_of(raw)
    if text is None or "\0" in text:
        raise _refused(f"{what} is not text in UTF-8")
    if len(text) > LONGEST_TEXT:
        raise _refused(
            f"{what} has {len(text):,} characters, and at most {LONGEST_TEXT:,} are read"
        )
    if not text.strip():
        raise _refused(f"{what} is empty")
    return raw


def _toml(raw: bytes) -> bytes:
    """Return a job file's bytes if they are TOML, since any text could have been chosen."""
    try:
        tomllib.loads((text_of(raw) or "").replace("\r\n", "\n"))
    except ValueError as error:
        raise _refused(f"it is not TOML: {error}") from None
    except RecursionError:
        raise _refused("it is not TOML: brackets in brackets, hundreds deep") from None
    return raw


def _check_list(listed: list[zipfile.ZipInfo]) -> None:
    """Refuse a zip for what it says of itself, before any of it is inflated."""
    if len(listed) > MOST_FILES:
        raise _refused(f"it lists {len(listed):,} files, and at most {MOST_FILES:,} are read")
    whole = sum(info.file_size for info in listed)
    if whole > LARGEST_WHOLE:
        raise _refused(f"it would swell to {whole:,} bytes, and at most {LARGEST_WHOLE:,} are read")
    seen: set[str | int] = set()
    for info in listed:
        name = info.orig_filename
        number = _number_in(name)
        if name != info.filename or number is None:
            raise _refused(f"{name[:100]!r} in it is no part of a job")
        if name in seen or (number > 0 and number in seen):
            raise _refused(f"{name!r} is in it twice")
        seen |= {name, number}
        mode = info.external_attr >> 16
        if stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR):
            raise _refused(f"{name!r} in it is a link or a device, not a file")
        if info.flag_bits & 1:
            raise _refused(f"{name!r} in it is locked with a password")
        if info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise _refused(f"{name!r} in it is packed in a way that is not read")
        swell = info.file_size / max(info.compress_size, 1)
        if info.file_size > LARGEST_FILE or (info.file_size > SMALL and swell > MOST_SWELL):
            raise _refused(f"{name!r} in it would swell to {info.file_size:,} bytes")


def _number_in(name: str) -> int | None:
    """Return the number of a version, 0 for what else belongs to a job, None for a stranger."""
    if name in (JOB, LOG, HISTORY, HISTORY + NAMES):
        return 0
    if not name.startswith(HISTORY):
        return None
    read = name_read(name.removeprefix(HISTORY))
    return read[0] if read is not None and 0 < read[0] <= HIGHEST_NUMBER else None


def _inflated(opened: zipfile.ZipFile, info: zipfile.ZipInfo) -> bytes:
    """Return a file's bytes, never more of them than the zip's list says."""
    with opened.open(info) as file:
        raw = file.read(info.file_size + 1)
    if len(raw) != info.file_size:
        raise _refused(f"{info.filename!r} in it is not as long as the zip says")
    return raw
