"""Writing so that what was acknowledged is on disk, and nothing half written ever stands there."""

from __future__ import annotations

import contextlib
import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from leafwright.job.store.records import StoreError

#: How often, and how long apart [s], a lock that another program holds is tried.
LOCK_TRIES, LOCK_PAUSE = 1500, 0.02

_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)


@contextlib.contextmanager
def said(undone: str, state: str) -> Iterator[None]:
    """Turn what the operating system refuses into a StoreError in the maker's words.

    Args:
        undone: what was not done, as ``"boathouse" was not saved``.
        state: how things stand now, as a whole sentence.
    """
    try:
        yield
    except OSError as error:
        why = error.strerror or str(error)
        file = f" ({error.filename})" if error.filename else ""
        raise StoreError(
            f"{undone}: {why}{file}. {state} See that the disk has room and the folder may be "
            "written, then do it again."
        ) from error


def write_all(handle: int, data: bytes) -> None:
    """Write all of ``data`` to an open file and wait until it is on the disk."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]
    os.fsync(handle)


def sync_folder(folder: Path) -> None:
    """Wait until a folder's list of names is on the disk; Windows does so by itself."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def write_new(file: Path, data: bytes) -> None:
    """Write a file that is not there yet; its folder's list is not waited for."""
    handle = os.open(file, _NEW, 0o666)
    try:
        write_all(handle, data)
    finally:
        os.close(handle)


def write_whole(file: Path, data: bytes) -> None:
    """Put ``data`` in the place of a file: whoever looks sees the old whole or the new whole.

    Call it only under `locked`, since what is half written has one fixed name beside the file.
    Where the file is a link, what it leads to is written, and the link stays.

    Raises:
        OSError: it was not done for sure; the file is the old whole or the new whole.
    """
    if file.is_symlink():
        file = Path(os.path.realpath(file))
    half = file.with_name(f".{file.name}.new")
    half.unlink(missing_ok=True)
    try:
        write_new(half, data)
        half.replace(file)
    except OSError:
        with contextlib.suppress(OSError):
            half.unlink(missing_ok=True)
        raise
    sync_folder(file.parent)


def append_whole(file: Path, data: bytes, keep: int) -> None:
    """Add ``data`` to a file after its first ``keep`` bytes; what follows those is cut off.

    Raises:
        OSError: nothing was added, or a part that the next call cuts off.
    """
    new = not file.exists()
    handle = os.open(file, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
    try:
        os.ftruncate(handle, keep)
        os.lseek(handle, keep, os.SEEK_SET)
        try:
            write_all(handle, data)
        except OSError:
            with contextlib.suppress(OSError):
                os.ftruncate(handle, keep)
            raise
    finally:
        os.close(handle)
    if new:
        sync_folder(file.parent)


@contextlib.contextmanager
def locked(shelf: Path) -> Iterator[None]:
    """Hold a shelf to oneself; other threads and programs that ask for it wait.

    Raises:
        StoreError: another program held it all the while, or it cannot be locked.
    """
    with said(f"The folder {shelf} could not be locked", "Nothing was changed."):
        handle = os.open(shelf / ".lock", os.O_RDWR | os.O_CREAT, 0o666)
    try:
        with said(f"The folder {shelf} could not be locked", "Nothing was changed."):
            for _ in range(LOCK_TRIES):
                if _lock(handle):
                    break
                time.sleep(LOCK_PAUSE)
            else:
                raise StoreError(
                    f"The folder {shelf} is held by another program, for "
                    f"{LOCK_TRIES * LOCK_PAUSE:.0f} s now. Nothing was changed. Close the other "
                    "one, then do it again."
                )
        yield
    finally:
        os.close(handle)


def _lock(handle: int) -> bool:
    """Return whether the lock is ours; it ends when the file is closed."""
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except PermissionError:
            return False
        return True
    try:
        import fcntl
    except ImportError:
        # Where Python cannot lock there is one program to a shelf, as in a browser's sandbox.
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
