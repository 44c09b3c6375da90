"""A fault of our own in a few words, for a report; no traceback reaches a user."""

from __future__ import annotations

from pathlib import Path


def place_of_fault(error: BaseException) -> str:
    """Return what an error is called and where it arose, as ``ValueError in font.py, line 105``."""
    frame = error.__traceback__
    while frame is not None and frame.tb_next is not None:
        frame = frame.tb_next
    if frame is None:
        return type(error).__name__
    name = Path(frame.tb_frame.f_code.co_filename).name
    return f"{type(error).__name__} in {name}, line {frame.tb_lineno}"
