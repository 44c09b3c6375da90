"""What may stand at a place of the job file, as its model says: the forms are made from it."""

from __future__ import annotations

import re
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any, Literal

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from leafwright.job import typed
from leafwright.job.model import Job, LeafTable
from leafwright.job.positions import Path
from leafwright.units import Rate

Kind = Literal[
    "length",
    "corner",
    "text",
    "choice",
    "yes-no",
    "whole",
    "number",
    "date",
    "panel",
    "list",
    "table",
    "tables",
    "rates",
]

#: What is typed with big keys: lengths of every sort.
_LENGTHS = frozenset(
    info.description
    for alias in (typed.Length, typed.Gap, typed.Size, typed.Thickness)
    for info in typing.get_args(alias)
    if isinstance(info, FieldInfo)
)
#: Three lengths that are one corner of a box.
_CORNERS = frozenset(
    info.description for info in typing.get_args(typed.Place) if isinstance(info, FieldInfo)
)
#: A word or a size: it is typed.
_RESTS = frozenset(
    info.description for info in typing.get_args(typed.Rest) if isinstance(info, FieldInfo)
)
_EXAMPLES = re.compile(r"like (.+)$")


@dataclass(frozen=True, slots=True)
class Slot:
    """One key of a table of the job file.

    Attributes:
        table: the name of the table's model.
        key: the key as it stands in the file.
        kind: what may stand there.
        needed: whether the table cannot be read without it.
        default: what holds where nothing is written; None where nothing does.
        choices: the words to choose from.
        models: the tables that may stand there; more than one are told apart by their ``kind``.
        example: what would do, in words.
    """

    table: str
    key: str
    kind: Kind
    needed: bool
    default: Any
    choices: tuple[str, ...]
    models: tuple[type[BaseModel], ...]
    example: str


@cache
def slots(model: type[BaseModel]) -> Mapping[str, Slot]:
    """Return what may stand in a table, by key, in the model's order."""
    return {slot.key: slot for slot in _slots(model)}


def _slots(model: type[BaseModel]) -> Iterator[Slot]:
    for name, field in model.model_fields.items():
        parts = list(_parts(field.annotation))
        models = tuple(p for p in parts if isinstance(p, type) and issubclass(p, BaseModel))
        choices = tuple(
            str(word)
            for part in parts
            if typing.get_origin(part) is Literal
            for word in typing.get_args(part)
        )
        told = field.description or next(
            (p.description for p in parts if isinstance(p, FieldInfo) and p.description), ""
        )
        default = None if field.default is PydanticUndefined else field.default
        yield Slot(
            model.__name__,
            field.alias or name,
            _kind(parts, models, choices, told),
            field.is_required(),
            default if isinstance(default, str | int | float | bool) else None,
            choices,
            models,
            _example(told),
        )


def _parts(annotation: Any) -> Iterator[Any]:
    """Yield a type and everything that it is put together from."""
    yield annotation
    if typing.get_origin(annotation) is not Literal:
        for part in typing.get_args(annotation):
            yield from _parts(part)


def _kind(
    parts: list[Any],
    models: tuple[type[BaseModel], ...],
    choices: tuple[str, ...],
    told: str,
) -> Kind:
    origins = [typing.get_origin(part) for part in parts]
    if told in _CORNERS:
        return "corner"
    if told in _RESTS:
        return "text"
    if tuple in origins:
        return "tables" if models else "list"
    if models:
        return "table"
    if Rate in parts:
        return "rates"
    if choices:
        return "panel" if int in parts else "choice"
    plain: dict[Any, Kind] = {bool: "yes-no", int: "whole", float: "number", date: "date"}
    for part in parts:
        if isinstance(part, type) and part in plain:
            return plain[part]
    return "length" if told in _LENGTHS else "text"


def _example(told: str) -> str:
    found = _EXAMPLES.search(told)
    return found[1].replace('"', "") if found else ""


# ---------------------------------------------------------------- at a place


def model_at(where: Path, data: Mapping[str, Any]) -> type[BaseModel] | None:
    """Return the table that stands, or may stand, at a place; None where none may.

    Of tables that are told apart by their ``kind`` it is the one that the data names there.
    """
    model: type[BaseModel] = Job
    for number, part in enumerate(where):
        if isinstance(part, int):
            if number == 0 or isinstance(where[number - 1], int):
                return None
            continue
        if number == 0 and part == "each_leaf":
            model = LeafTable
            continue
        slot = slots(model).get(part)
        if slot is None or not slot.models:
            return None
        if len(slot.models) == 1:
            model = slot.models[0]
            continue
        here = where[: number + 2] if slot.kind == "tables" else where[: number + 1]
        found = model_of_kind(slot, kind_at(here, data))
        if found is None:
            return None
        model = found
    return model


def model_of_kind(slot: Slot, kind: str) -> type[BaseModel] | None:
    """Return the table of a ``kind`` among those that a key may hold."""
    return next((model for model in slot.models if kind_of(model) == kind), None)


def kind_of(model: type[BaseModel]) -> str:
    """Return the ``kind`` by which a table is told from others in its place, or nothing."""
    slot = slots(model).get("kind")
    return slot.choices[0] if slot and len(slot.choices) == 1 else ""


def kind_at(where: Path, data: Mapping[str, Any]) -> str:
    """Return the ``kind`` of the table at a place; a leaf's own may be that of all leaves."""
    found = value_at(data, (*where, "kind"))
    if found is None and len(where) > 2 and where[0] == "leaf":
        found = value_at(data, ("each_leaf", *where[2:], "kind"))
    return str(found or "")


def slot_at(where: Path, data: Mapping[str, Any]) -> Slot | None:
    """Return what may stand at a place that ends with a key; None where nothing may."""
    if not where or not isinstance(where[-1], str):
        return None
    if where == ("each_leaf",):
        return None
    model = model_at(where[:-1], data)
    return slots(model).get(where[-1]) if model else None


def value_at(data: Any, where: Path) -> Any:
    """Return what the job file's data holds at a place, or None."""
    here = data
    for part in where:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            return None
    return here


def value_of(slot: Slot | None, text: str) -> object:
    """Return what a field's text is in the file; a text that it cannot be stays one, to be told."""
    text = text.strip() if slot is None or slot.kind != "text" else text
    if slot is None:
        return text
    if slot.kind == "list":
        return [part.strip() for part in re.split(r"[;\n]", text) if part.strip()]
    if slot.kind == "tables" and slot.key == "mid_rail":
        heights = [part.strip() for part in re.split(r"[;\n]", text) if part.strip()]
        return [rail_of(height) for height in heights if height != "none"]
    if slot.kind == "yes-no" and text in ("yes", "no"):
        return text == "yes"
    if slot.kind in ("whole", "panel") and re.fullmatch(r"-?[0-9]{1,9}", text):
        return int(text)
    if slot.kind == "number" and re.fullmatch(r"-?[0-9]{0,9}\.?[0-9]{1,12}", text):
        return float(text) if "." in text else int(text)
    if slot.kind == "date":
        try:
            return date.fromisoformat(text)
        except ValueError:
            return text
    return text


def rail_of(height: str) -> dict[str, str]:
    """Return the table of a mid rail at a height, or half way up."""
    return {"at": "half"} if height == "half" else {"height": height}
