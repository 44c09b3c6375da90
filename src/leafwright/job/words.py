"""What is wrong with a value, and what would do, in the maker's words.

pydantic finds the errors; its own sentences are for programmers, so none of them is shown.
"""

from __future__ import annotations

import difflib
import types
import typing
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any, Literal

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from leafwright.job.model import Job
from leafwright.job.positions import Path

#: A text found in a file is shown up to this many characters.
_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the merged data of a job file, and what the model says of it.

    Attributes:
        path: tables and keys, as in the file: without pydantic's names of union tags.
        tables: every table on the way, outermost first; the last holds the key.
        field: the field of the key; None where the table has no such key.
        kinds: the tables that a ``kind`` chooses from, where the place is one of those.
    """

    path: Path
    tables: tuple[type[BaseModel], ...]
    field: FieldInfo | None
    kinds: tuple[type[BaseModel], ...]


def as_written(value: object) -> str:
    """Return a value of a TOML file as its maker wrote it; lists and tables only named."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}" if value else "an empty list"
    if isinstance(value, Mapping):
        return "a table" if value else "an empty table"
    return repr(value)


def spot_of(loc: Path, top: type[BaseModel] = Job) -> Spot:
    """Return the place that pydantic's ``loc`` means, walking down the model from ``top``."""
    path: list[str | int] = []
    tables = (top,)
    field: FieldInfo | None = None
    kinds: tuple[type[BaseModel], ...] = ()
    known = True
    for part in loc:
        if isinstance(part, int):
            path.append(part)
        elif kinds:
            tables = (*tables[:-1], *(t for t in kinds if _kind_of(t) == part))
            kinds = ()
        elif part != "[key]":
            path.append(part)
            field = _fields(tables[-1]).get(part) if known else None
            below = _models(field.annotation) if field else []
            known = bool(below)
            kinds = tuple(below) if len(below) > 1 else ()
            tables = (*tables, below[0]) if below else tables
    # The key's own table is not on the way to it, unless an entry of it is what is meant.
    return Spot(tuple(path), tables, field, kinds)
