"""A tick in the log: whether what it is about is done, or another thing since it was ticked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime

from leafwright.job.store import LogEntry


def ticks_of(log: Sequence[LogEntry]) -> dict[str, LogEntry]:
    """Return the last tick about each thing."""
    return {entry.about: entry for entry in log if entry.kind == "tick"}


def state_of(entry: LogEntry | None, hash: str) -> tuple[str, str]:
    """Return open, done or changed, with when it was ticked; ``hash`` is what the thing is now."""
    if entry is None or not entry.data.get("done"):
        return "open", ""
    return ("done" if entry.data.get("hash") == hash else "changed"), moment(entry.at)


def moment(at: str) -> str:
    """Return the moment of a log entry by the clock on the wall here, to the minute."""
    try:
        return datetime.fromisoformat(at).astimezone().strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return at[:16].replace("T", " ")


def tick_id(about: str) -> str:
    """Return the id on the page of the button that ticks a thing."""
    return "tick-" + re.sub(r"[^A-Za-z0-9]+", "-", about).strip("-")
