"""A job file's values as plain data: read, told apart, and changed in one place."""

from __future__ import annotations

import copy
import functools
from typing import Any

from leafwright.job.positions import Path
from leafwright.job.toml_data import toml_data

#: Tables and lists that lie deeper in one another are gone through by nobody: no job has any.
_DEEPEST = 60


@functools.lru_cache(maxsize=16)
def data_of(text: str) -> dict[str, Any] | None:
    """Return a TOML text's data, not to be changed, or None where it is not TOML a job could be."""
    try:
        data = toml_data(text)
    # A number of thousands of digits, or brackets hundreds deep, are refused by Python itself.
    except (ValueError, RecursionError):
        return None
    level: list[Any] = [data]
    for _ in range(_DEEPEST):
        inner = [value.values() if isinstance(value, dict) else value for value in level]
        level = [v for values in inner for v in values if isinstance(v, dict | list)]
        if not level:
            return data
    return None


def same(one: Any, other: Any) -> bool:
    """Return whether two values are written alike: ``1``, ``1.0`` and ``true`` are not."""
    if type(one) is not type(other):
        return False
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, float):
        return repr(one) == repr(other)
    return bool(one == other)


def is_tables(value: Any) -> bool:
    """Return whether a value is a list of tables, and not empty."""
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def value_at(data: Any, where: Path) -> Any:
    """Return what stands at a place of the data, or None where nothing does."""
    here = data
    for part in where:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def change(data: dict[str, Any], where: Path, value: Any, *, insert: bool) -> None:
    """Change one value of the data itself; a list that is emptied is taken out.

    Args:
        data: a job file's data.
        where: tables, numbers and key down to it.
        value: the new value; None takes out what stands there.
        insert: put a list of values before what stands there in a list (made where there is none).

    Raises:
        KeyError, IndexError, TypeError, AttributeError: a table on the way is not there.
    """
    here: Any = data
    for part in where[:-2] if insert else where[:-1]:
        here = here[part]
    if insert:
        number: Any = where[-1]
        for offset, entry in enumerate(copy.deepcopy(value)):
            here.setdefault(where[-2], []).insert(number + offset, entry)
    elif value is not None:
        here[where[-1]] = copy.deepcopy(value)
    else:
        del here[where[-1]]
        if isinstance(here, list) and not here:
            change(data, where[:-1], None, insert=False)
