"""Single values set in a job's text, with the tables on the way made."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from leafwright.job.positions import Path
from leafwright.job.store.edit import Edit, EditError, edited
from leafwright.job.store.plain import data_of, value_at
from leafwright.job.store.records import StoreError


def with_name(text: str, name: str) -> str:
    """Return a job's text with its name changed; a text that has no place for it stays."""
    if not isinstance(value_at(data_of(text), ("job",)), dict):
        return text
    try:
        return edited(text, [Edit(("job", "name"), name)])
    except EditError:
        return text


def with_values(slug: str, text: str, edits: Sequence[tuple[Path, object]]) -> str:
    """Return a job's text with values changed one after the other; remarks stay.

    Raises:
        StoreError: the text is not TOML, or a value cannot be written in its place.
    """
    for where, value in edits:
        data = data_of(text)
        if data is None:
            raise StoreError(
                f"No value was set: the job file of {slug!r} is not TOML as it is. Nothing was "
                "changed. Put its text right first, or restore an earlier version."
            )
        try:
            text = edited(text, [_edit(data, tuple(where), value)])
        # What tomlkit says of a value that TOML has no form for.
        except (EditError, TypeError, ValueError) as error:
            raise StoreError(
                f"No value was set: {tuple(where)!r} cannot be {value!r} in the job file of "
                f"{slug!r} ({error}). Nothing was changed. Name a key that is there, or a new one "
                "of a table, and give a text, a number, true, false, a date, or a list or table "
                "of these."
            ) from None
    return text


def _edit(data: dict[str, Any], where: Path, value: object) -> Edit:
    if not where or any(isinstance(part, int) and part < 0 for part in where):
        raise EditError("that is no place in a job file")
    while value is not None and len(where) > 1 and value_at(data, where[:-1]) is None:
        last = where[-1]
        if isinstance(last, int):
            if last > 0:
                break
            where, value = where[:-1], [value]
        else:
            where, value = where[:-1], {last: value}
    there = value_at(data, where[:-1])
    is_next = isinstance(there, list) and where[-1] == len(there)
    if is_next and value is not None:
        return Edit(where, [value], insert=True)
    return Edit(where, value)
