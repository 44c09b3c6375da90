"""What a handbook function gives back, taken apart into numbers and words with their units."""

from __future__ import annotations

import dataclasses
import enum
import math
import typing
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from leafwright.figures.arguments import (
    alternatives,
    bare,
    fields_of,
    is_array,
    is_number,
    is_truth,
)
from leafwright.figures.records import Result, Value
from leafwright.handbook.catalogue import Catalogue
from leafwright.units import families


def is_told(hint: Any) -> bool:
    """Return whether a type of result holds anything that can be told in numbers or words."""
    hint = bare(hint)
    if hint is Catalogue:
        return False
    if is_number(hint) or is_truth(hint) or is_array(hint) or hint is str:
        return True
    if isinstance(hint, type) and issubclass(hint, enum.Enum):
        return True
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin is typing.Literal:
        return True
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        return any(is_told(field.hint) for field in fields_of(hint))
    if isinstance(origin, type) and issubclass(origin, (Sequence, Mapping)):
        told = [part for part in inner if part is not Ellipsis]
        return bool(told) and all(is_told(part) for part in told)
    return bool(inner) and origin is not None and all(is_told(part) for part in inner)


def results_of(value: Any, unit: str, *, name: str = "") -> tuple[Result, ...]:
    """Return what a result holds, a record's fields by their names.

    value: what the function gave. unit: of a bare number in it, as the docstring states it.
    """
    if isinstance(value, enum.Enum):
        return (_word(name, str(value.value)),)
    if isinstance(value, (bool, np.bool_)):
        return (_word(name, "yes" if value else "no", value=bool(value)),)
    if isinstance(value, str):
        return (_word(name, value),) if value else ()
    if isinstance(value, (int, float, np.number)):
        return (number_result(name, float(value), alternatives(unit)[0]),)
    if isinstance(value, np.ndarray):
        return results_of(value.tolist(), unit, name=name)
    if isinstance(value, Mapping):
        parts = [results_of(v, unit, name=_joined(name, str(k))) for k, v in value.items()]
        return tuple(result for part in parts for result in part)
    if isinstance(value, (list, tuple)):
        parts = [results_of(v, unit, name=_joined(name, str(k))) for k, v in enumerate(value, 1)]
        return tuple(result for part in parts for result in part)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        parts = [
            results_of(getattr(value, f.key), f.unit or unit, name=_joined(name, f.key))
            for f in fields_of(type(value))
            if is_told(f.hint)
        ]
        return tuple(result for part in parts for result in part)
    return ()


def number_result(name: str, number: float, unit: str, *, source: str = "") -> Result:
    """Return one number with its unit, shown in both families."""
    customary, metric = families.show_both(number, unit)
    value: Value = number if math.isfinite(number) else None
    return Result(name, value, unit, customary, metric, source)


def _word(name: str, word: str, *, value: Value = None) -> Result:
    return Result(name, word if value is None else value, "", word, word)


def _joined(name: str, more: str) -> str:
    return f"{name}.{more}" if name else more
