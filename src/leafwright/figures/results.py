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
    unit_of,
)
from leafwright.figures.records import Result, Value
from leafwright.handbook.catalogue import Catalogue
from leafwright.units import families

#: What is told where a formula gives nothing: no stop, no region.
NOTHING = Result("", "none", "", "none", "none")


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


def results_of(value: Any, unit: str, *, name: str = "", hint: Any = None) -> tuple[Result, ...]:
    """Return what a result holds, a record's fields by their names.

    value: what the function gave. unit: of a bare number in it, as the docstring states it.
    hint: the value's type where it is a list whose items may have units of their own.
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
        return _of_many(value, unit, name)
    if isinstance(value, Mapping):
        parts = [results_of(v, unit, name=_joined(name, str(k))) for k, v in value.items()]
        return tuple(result for part in parts for result in part)
    if isinstance(value, (list, tuple)):
        hints = _of_items(hint, len(value))
        parts = [
            results_of(v, unit_of(h) or unit, name=_joined(name, str(k)), hint=h)
            for k, (v, h) in enumerate(zip(value, hints, strict=True), 1)
        ]
        return tuple(result for part in parts for result in part)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        parts = [
            results_of(
                getattr(value, f.key), f.unit or unit, name=_joined(name, f.key), hint=f.hint
            )
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


def _of_items(hint: Any, number: int) -> list[Any]:
    """Return the type of each item of a list, None where that is not said."""
    inner = typing.get_args(bare(hint))
    if len(inner) == 2 and inner[1] is Ellipsis:
        return [inner[0]] * number
    return list(inner) if len(inner) == number else [None] * number


def _of_many(values: np.ndarray[Any, Any], unit: str, name: str) -> tuple[Result, ...]:
    """Return the least and the greatest of many numbers, or how many of them hold."""
    if values.size == 1:
        return results_of(values.item(), unit, name=name)
    if values.size and values.dtype.kind == "b":
        return (_word(name, f"yes for {np.count_nonzero(values)} of {values.size}"),)
    if values.size and values.dtype.kind in "fiu":
        return results_of({"least": values.min(), "greatest": values.max()}, unit, name=name)
    return results_of(values.tolist(), unit, name=name)


def _word(name: str, word: str, *, value: Value = None) -> Result:
    return Result(name, word if value is None else value, "", word, word)


def _joined(name: str, more: str) -> str:
    return f"{name}.{more}" if name else more
