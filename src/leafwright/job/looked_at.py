"""A job file's data as typed, looked at without trusting its shape."""

from __future__ import annotations

from typing import Any

from leafwright.job.positions import Path

#: where, what was found, what would do
Broken = tuple[Path, str, str]

#: A longer text is refused by its field, and is no name to look for.
_LONGEST_NAME = 200


def as_table(value: object) -> dict[str, Any]:
    """Return a table, or an empty one where there is none."""
    return value if isinstance(value, dict) else {}


def as_tables(value: object) -> list[tuple[int, dict[str, Any]]]:
    """Return the tables in a list, each with its number from 0."""
    entries = value if isinstance(value, list) else []
    return [(i, entry) for i, entry in enumerate(entries) if isinstance(entry, dict)]


def as_name(value: object) -> str | None:
    """Return a text that may be a name, or None."""
    return value if isinstance(value, str) and len(value) <= _LONGEST_NAME else None
