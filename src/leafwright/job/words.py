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

#: What is found where something must be given and is not.
MISSING = "this must be given and is not there"

#: A text found in a file is shown up to this many characters.
_LONGEST_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the data of a job file, and what the model says of it.

    Attributes:
        path: tables and keys, as in the file: without pydantic's names of union tags.
        tables: the tables on the way, outermost first; the last is the one that holds the key.
        field: what the model says of the key; None where it knows no such key.
        kinds: the tables that a ``kind`` there chooses from; empty where there is no choice.
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
    tables: list[type[BaseModel]] = []
    here: type[BaseModel] | None = top
    field: FieldInfo | None = None
    kinds: list[type[BaseModel]] = []
    for part in loc:
        if isinstance(part, int):
            path.append(part)
        elif kinds:
            here = next((table for table in kinds if _kind_of(table) == part), None)
            kinds = []
        elif part == "[key]" and path and field is None:
            # pydantic's mark that the key itself is wrong, as a price's; it is no place.
            continue
        else:
            path.append(part)
            field = None
            below: list[type[BaseModel]] = []
            if here is not None:
                tables.append(here)
                field = _fields(here).get(part)
                below = _models(field.annotation) if field else []
            here = below[0] if len(below) == 1 else None
            kinds = below if len(below) > 1 else []
    return Spot(tuple(path), tuple(tables), field, tuple(kinds))


def problem_words(error: ErrorDetails, spot: Spot, found: object) -> tuple[Path, str, str]:
    """Return where an error of pydantic is, what was found there, and what would do.

    Args:
        error: one of the details of a ``ValidationError``.
        spot: the place of it, from `spot_of`.
        found: the value there; None where there is none.
    """
    kind = error["type"]
    context = error.get("ctx", {})
    shown = f"found {as_written(found)}"
    if kind == "extra_forbidden":
        return spot.path, "no such key", _instead(spot)
    if kind == "missing":
        return spot.path, MISSING, _write(spot, with_name=True)
    if kind == "union_tag_not_found":
        place = (*spot.path, "kind")
        choice = _one_of(_kind_of(table) for table in spot.kinds)
        would_do = f"write kind = {choice}; it says what the rest means"
        return place, MISSING, would_do
    if kind == "union_tag_invalid" and isinstance(found, dict):
        kinds = [_kind_of(table) for table in spot.kinds]
        wrong = found.get("kind")
        would_do = f"{_near(wrong, kinds)}write {_one_of(kinds)}"
        return (*spot.path, "kind"), f"found {as_written(wrong)}", would_do
    if kind == "literal_error" and spot.field is not None:
        choices = _choices(spot.field.annotation)
        return spot.path, shown, f"{_near(found, choices)}write {_one_of(choices)}"
    if kind == "value_error":
        return spot.path, shown, str(context["error"])
    if kind == "tuple_type" and isinstance(found, dict) and spot.field is not None:
        if _models(spot.field.annotation):
            header = f": [[{spot.path[-1]}]]" if _is_top(spot) else ""
            return spot.path, shown, f"write its name in double brackets{header}"
    if kind == "model_type" and isinstance(found, list) and _is_top(spot):
        return spot.path, shown, f"write it once, in single brackets: [{spot.path[-1]}]"
    if kind == "string_too_short":
        return spot.path, shown, "write at least one character"
    if kind == "string_too_long":
        is_key = len(error["loc"]) > len(spot.path) and error["loc"][-1] == "[key]"
        text, of = (str(spot.path[-1]), "a key of ") if is_key else (str(found), "")
        length = f"found {of}{len(text):,} characters"
        return spot.path, length, f"at most {context['max_length']:,}"
    if kind == "too_short":
        return spot.path, shown, f"write at least {context['min_length']}"
    if kind == "too_long" and isinstance(found, list):
        return spot.path, f"found {len(found):,} of them", f"at most {context['max_length']:,}"
    return spot.path, shown, _write(spot)


# ---------------------------------------------------------------- what the model says


def _fields(table: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the fields of a table by their keys in the file."""
    return {field.alias or name: field for name, field in table.model_fields.items()}


def _models(annotation: Any) -> list[type[BaseModel]]:
    """Return the tables that a field's type may hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    if typing.get_origin(annotation) in (types.UnionType, typing.Union, tuple, typing.Annotated):
        return [model for part in typing.get_args(annotation) for model in _models(part)]
    return []


def _is_top(spot: Spot) -> bool:
    """Return whether a place is a key of the whole file."""
    return spot.tables == (Job,)


def _kind_of(table: type[BaseModel]) -> str:
    return str(typing.get_args(table.model_fields["kind"].annotation)[0])


def _choices(annotation: Any) -> list[str]:
    """Return the words that a field's type lets a maker choose from."""
    if typing.get_origin(annotation) is Literal:
        return [str(word) for word in typing.get_args(annotation)]
    return [word for part in typing.get_args(annotation) for word in _choices(part)]


def _is_list(annotation: Any) -> bool:
    if typing.get_origin(annotation) is tuple:
        return True
    return any(_is_list(part) for part in typing.get_args(annotation))


def _described(annotation: Any) -> str:
    """Return the description that a type of `typed` carries, or nothing."""
    for part in typing.get_args(annotation):
        if isinstance(part, FieldInfo) and part.description:
            return part.description
        if inner := _described(part):
            return inner
    return ""


def _write(spot: Spot, *, with_name: bool = False) -> str:
    """Return what would do at a place, going by the model: ``write text in quotes``."""
    field, name = spot.field, _name(spot.path)
    if field is None:
        return ""
    models = _models(field.annotation)
    if models:
        return _write_table(spot, name, models, is_list=_is_list(field.annotation))
    told = field.description or _described(field.annotation)
    choices = _choices(field.annotation)
    if choices and not told:
        return f"write {name} = {_one_of(choices)}"
    words = told or "text in quotes"
    if _is_list(field.annotation) and not field.description and not isinstance(spot.path[-1], int):
        return f'write a list between [ and ], as in {name} = ["…", "…"]'
    return f"write {f'{name} = ' if with_name else ''}{words}{_bounds(field)}"


def _write_table(spot: Spot, name: str, models: list[type[BaseModel]], *, is_list: bool) -> str:
    needed = [key for key, field in _fields(models[0]).items() if field.is_required()]
    if len(models) > 1:
        needed = ["kind"]
    keys = f" with {_listed(needed)}" if needed else ""
    if _is_top(spot):
        header = f"[[{name}]]" if is_list else f"[{name}]"
        return f"write the table {header}{keys}, its keys on lines below it"
    braces = "{ " + (", ".join(f"{key} = …" for key in needed) or "…") + " }"
    return f"write {name} = [{braces}]" if is_list else f"write {name} = {braces}"


def _bounds(field: FieldInfo) -> str:
    """Return the limits of a number in words: ``, more than 0 and at most 1000``."""
    words = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}
    parts = [
        f"{word} {limit}"
        for sign, word in words.items()
        for rule in field.metadata
        if (limit := getattr(rule, sign, None)) is not None
    ]
    return f", {' and '.join(parts)}" if parts else ""


def _instead(spot: Spot) -> str:
    """Return the nearest key to one that is not known, and all that are known there."""
    wrong = spot.path[-1]
    if not spot.tables:
        return ""
    *around, table = spot.tables
    keys = sorted(_fields(table), key=lambda key: key != "kind")
    if _is_top(spot):
        keys.append("each_leaf")
    hint = _near(wrong, keys)
    if not hint and any(wrong in _fields(outer) for outer in around):
        hint = "it is known in the table around this one: move it up to there; "
    return f"{hint}known here: {', '.join(keys)}"


# ---------------------------------------------------------------- words


def _name(path: Path) -> str:
    return next((part for part in reversed(path) if isinstance(part, str)), "")


def _near(found: object, words: Iterable[str]) -> str:
    by_lower = {word.lower(): word for word in words}
    close = difflib.get_close_matches(str(found)[:_LONGEST_SHOWN].lower(), by_lower, n=1)
    return f"did you mean {_quoted(by_lower[close[0]])}? " if close else ""


def _one_of(words: Iterable[str]) -> str:
    return _listed([_quoted(word) for word in words], last="or")


def _listed(words: list[str], last: str = "and") -> str:
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def _quoted(text: str) -> str:
    cut = text[:_LONGEST_SHOWN]
    more = "…" if len(text) > len(cut) else ""
    if "'" not in cut and cut.isprintable():
        return f"'{cut}'{more}"
    escaped = cut.replace("\\", "\\\\").replace('"', '\\"')
    signs = (sign if sign.isprintable() else ascii(sign)[1:-1] for sign in escaped)
    return f'"{"".join(signs)}"{more}'
