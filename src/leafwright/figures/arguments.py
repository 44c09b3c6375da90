"""The arguments of a handbook function as keys that a maker types, and what was typed as values.

A record is typed field by field (``lift.horizontal=15 in``), a list of numbers with semicolons, a
list of records with their numbers (``bolts.1.x=…``). A section or a grade is typed in words.
"""

from __future__ import annotations

import dataclasses
import enum
import functools
import inspect
import re
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from leafwright.figures.docstrings import Entry, said_by, without_unit
from leafwright.figures.records import Argument, FigureError
from leafwright.handbook import catalogue
from leafwright.handbook.grades import Grade
from leafwright.handbook.outlines import Outline
from leafwright.handbook.sections import SectionProperties
from leafwright.records import Unit
from leafwright.units import UnitError, families

Scale = Callable[[str, float], float]
"""Turns a value in a docstring's unit into one of a consistent set: unit, value."""

_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_SECTION_FORMS = ("HSS 2 x 2 x 1/8", "flat 3 x 3/8 in", "SHS 40 x 40 x 3")
#: Records that are typed as the name of a section.
SECTIONS = (catalogue.CatalogueSection, SectionProperties, Outline)
#: Words in an argument's meaning that make a temperature [K] a difference of two.
_DIFFERENCE = ("differ", "change", "rise", "warmer", "growth", "swing of temperature")
_STRESS = ("stress", "strength", "modulus", "elastic")
_MANY_ITEMS = 40


class NotTypedError(Exception):
    """An argument that nobody could type; the message is the reason in plain words."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One argument or field to fill: its key, its type, and what is said of it."""

    key: str
    hint: Any
    meaning: str
    unit: str
    default: Any

    @property
    def needed(self) -> bool:
        """Whether it must be given."""
        return self.default is inspect.Parameter.empty


def slots_of(function: Callable[..., Any], entries: Sequence[Entry]) -> tuple[Slot, ...]:
    """Return the arguments of a function, each with what its docstring says of it.

    Raises: NotTypedError for a function that takes any number of arguments.
    """
    hints = typing.get_type_hints(function, include_extras=True)
    said = {entry.name: entry for entry in entries}
    slots = []
    for name, parameter in inspect.signature(function).parameters.items():
        if parameter.kind in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD):
            raise NotTypedError(f"it takes any number of {name}")
        entry = said.get(name, Entry(name, "", ""))
        hint = hints.get(name, float)
        unit = _with_difference(entry.unit or unit_of(hint), entry.meaning)
        if bare(hint) is int:
            unit = unit or "-"
        slots.append(Slot(name, hint, entry.meaning, unit, parameter.default))
    return tuple(slots)


def arguments_of(slots: Sequence[Slot]) -> tuple[Argument, ...]:
    """Return everything that can be typed for these slots, records taken apart.

    Raises: NotTypedError where one of them cannot be typed.
    """
    return tuple(argument for slot in slots for argument in _arguments(slot))


def filled(slots: Sequence[Slot], typed: Mapping[str, str], scale: Scale) -> dict[str, Any]:
    """Return the value of every slot by its key, from what was typed.

    Raises: FigureError with every problem that was found.
    """
    problems: list[str] = []
    values: dict[str, Any] = {}
    for slot in slots:
        try:
            values[slot.key] = _value(slot, typed, scale)
        except FigureError as error:
            problems.extend(error.problems)
    if problems:
        raise FigureError(tuple(problems))
    return values


def typed_number(slot_unit: str, text: str) -> tuple[float, str]:
    """Return a typed number in its docstring's unit, and that unit.

    A docstring may leave the choice between units (``N, N m or Pa``): the first that reads what
    was typed is taken.

    Raises: UnitError where none reads it.
    """
    refusals: list[UnitError] = []
    for unit in alternatives(slot_unit):
        measure = families.measure_of(unit)
        if measure is None:
            measure = families.measure_of("-")
            assert measure is not None
        try:
            return float(measure.read(text).exact / measure.one), unit
        except UnitError as error:
            refusals.append(error)
    raise refusals[-1] if len(refusals) == 1 else UnitError(" Or: ".join(map(str, refusals)))


def alternatives(unit: str) -> list[str]:
    """Return the units among which a docstring leaves the choice."""
    return [part.strip() for part in unit.replace(" or ", ",").split(",") if part.strip()] or ["-"]


@functools.cache
def fields_of(kind: type) -> tuple[Slot, ...]:
    """Return the fields of a record as slots, units by their types or by the docstring."""
    hints = typing.get_type_hints(kind, include_extras=True)
    fields = [field for field in dataclasses.fields(kind) if field.init]
    said = {e.name: e for e in said_by(kind, [field.name for field in fields]).entries}
    slots = []
    for field in fields:
        default: Any = inspect.Parameter.empty
        if field.default is not dataclasses.MISSING:
            default = field.default
        elif field.default_factory is not dataclasses.MISSING:
            default = field.default_factory()
        entry = said.get(field.name) or Entry(field.name, _in_prose(kind, field.name), "")
        unit = unit_of(hints[field.name]) or entry.unit
        meaning = _with_difference(unit, entry.meaning + field.name)
        slots.append(Slot(field.name, hints[field.name], entry.meaning, meaning, default))
    return tuple(slots)


def _in_prose(kind: type, name: str) -> str:
    """Return what a record's docstring says of a field in a sentence, or the field's own name."""
    # Several fields may share their words: ``a`` and ``b``: from here to there.
    shared = r"(?:(?:,| and)\s+``\w+``)*"
    found = re.search(rf"``{name}``{shared}:?([^`.;]+)", inspect.getdoc(kind) or "")
    words = without_unit(found[1]) if found else ""
    words = re.sub(r"^(?:is|are) |(?:,? and|,)$", "", words)
    return words if words not in ("", "and") else name.replace("_", " ")


def bare(hint: Any) -> Any:
    """Return a type without its unit, and without None where it may be left out."""
    if typing.get_origin(hint) is typing.Annotated:
        return bare(typing.get_args(hint)[0])
    if _is_union(hint):
        parts = [part for part in typing.get_args(hint) if part is not types.NoneType]
        if len(parts) == 1:
            return bare(parts[0])
    return hint


def is_number(hint: Any) -> bool:
    """Return whether a type is a number, or a number or an array of them."""
    hint = bare(hint)
    if _is_union(hint):
        return any(is_number(part) for part in typing.get_args(hint))
    return isinstance(hint, type) and (
        (issubclass(hint, (int, float, np.floating, np.integer)) and not issubclass(hint, bool))
        and not issubclass(hint, enum.Enum)
    )


def is_truth(hint: Any) -> bool:
    """Return whether a type is a yes or no, or such for each of an array."""
    hint = bare(hint)
    if _is_union(hint):
        return any(is_truth(part) for part in typing.get_args(hint))
    return hint is bool or hint is np.bool_


def is_array(hint: Any) -> bool:
    """Return whether a type is an array and nothing else."""
    hint = bare(hint)
    return hint is np.ndarray or typing.get_origin(hint) is np.ndarray


def _is_union(hint: Any) -> bool:
    return typing.get_origin(hint) in (typing.Union, types.UnionType)


def unit_of(hint: Any) -> str:
    """Return the unit that a type carries, of a list that of its first item, or nothing."""
    if typing.get_origin(hint) is typing.Annotated:
        for extra in typing.get_args(hint)[1:]:
            if isinstance(extra, Unit):
                return "-" if extra.symbol == "1" else extra.symbol
    inner = typing.get_args(hint)
    if _is_union(hint) or typing.get_origin(hint) in (tuple, Sequence):
        return next((unit for part in inner if (unit := unit_of(part))), "")
    return ""


def _with_difference(unit: str, meaning: str) -> str:
    if unit == "K" and any(word in meaning for word in _DIFFERENCE):
        return families.DIFFERENCE
    return unit


def _choices(hint: Any) -> tuple[Any, ...]:
    """Return the values of a type that has few, or nothing."""
    if typing.get_origin(hint) is typing.Literal:
        return tuple(typing.get_args(hint))
    if isinstance(hint, type) and issubclass(hint, enum.Enum):
        return tuple(hint)
    return ()


def _word(value: Any) -> str:
    return str(value.value) if isinstance(value, enum.Enum) else str(value)


def _is_record(hint: Any) -> bool:
    return isinstance(hint, type) and dataclasses.is_dataclass(hint)


def items_of(hint: Any) -> tuple[Any, int | None] | None:
    """Return the type of a list's items and how many it has (None for any), or None for no list."""
    hint = bare(hint)
    if is_array(hint):
        return float, None
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    if origin is tuple and inner:
        if len(inner) == 2 and inner[1] is Ellipsis:
            return inner[0], None
        alike = all(is_number(part) for part in inner)
        return (inner[0], len(inner)) if alike else None
    if isinstance(origin, type) and issubclass(origin, Sequence) and inner:
        return inner[0], None
    return None


def _arguments(slot: Slot) -> list[Argument]:
    hint = bare(slot.hint)
    items = items_of(hint)
    if hint is catalogue.Catalogue:
        return []
    if hint is Grade:
        return [_argument(slot, "a grade of steel", tuple(_grades()))]
    if hint in SECTIONS:
        return [_argument(slot, "a section", _SECTION_FORMS)]
    if _choices(hint):
        return [_argument(slot, "one of", tuple(_word(choice) for choice in _choices(hint)))]
    if is_number(hint):
        return [_number_argument(slot)]
    if is_truth(hint):
        return [_argument(slot, "yes or no", ("yes", "no"))]
    if hint is str:
        return [_argument(slot, "a word", tuple(re.findall(r'"([^"]+)"', slot.meaning)))]
    if _is_record(hint):
        return [
            argument for field in fields_of(hint) for argument in _arguments(_within(slot, field))
        ]
    if items is not None:
        item, _ = items
        if _is_record(bare(item)):
            first = Slot(f"{slot.key}.1", item, slot.meaning, slot.unit, slot.default)
            return _arguments(first)
        if is_number(item) or _is_point(item) or _is_line(item):
            return [_list_argument(slot, item)]
    raise NotTypedError(f"{slot.key} is {_plain_type(hint)}, which no shell can type")


def _within(slot: Slot, field: Slot) -> Slot:
    """Return a field of a record as a slot of its own; the record's default fills it."""
    default = field.default
    if not slot.needed:
        default = getattr(slot.default, field.key, slot.default)
    return dataclasses.replace(field, key=f"{slot.key}.{field.key}", default=default)


def _is_point(hint: Any) -> bool:
    items = items_of(hint)
    return items is not None and items[1] is not None and is_number(items[0])


def _is_line(hint: Any) -> bool:
    inner = typing.get_args(bare(hint))
    return len(inner) == 2 and all(_is_point(part) for part in inner)


def _plain_type(hint: Any) -> str:
    name = getattr(hint, "__name__", str(hint))
    if typing.get_origin(hint) is not None:
        name = str(hint).replace("typing.", "").replace("collections.abc.", "")
    return f"a {name.replace('leafwright.handbook.', '')}"


def _argument(slot: Slot, kind: str, forms: tuple[str, ...]) -> Argument:
    return Argument(slot.key, slot.meaning, "", kind, forms, _otherwise(slot))


def _number_argument(slot: Slot) -> Argument:
    measures = [families.measure_of(unit) for unit in alternatives(slot.unit)]
    known = [measure for measure in measures if measure is not None]
    name = " or ".join(measure.name for measure in known) or f"number in {slot.unit}"
    forms = tuple(form for measure in known for form in _first_forms(measure, slot))
    if bare(slot.hint) is int:
        name, forms = "whole number", ("2",)
    return Argument(slot.key, slot.meaning, slot.unit or "-", name, forms, _otherwise(slot))


def _first_forms(measure: families.Measure, slot: Slot) -> tuple[str, ...]:
    """Return the forms of a measure, those of a stress first where it is one."""
    if measure.name != "pressure":
        return measure.forms
    words = f"{slot.key} {slot.meaning}"
    if slot.key.startswith("f_c") or "concrete" in words:
        return tuple(sorted(measure.forms, key=lambda form: " psi" not in form))
    stress = slot.key.split(".")[-1][:1] in "FEfG" or any(word in words for word in _STRESS)
    return tuple(sorted(measure.forms, key=lambda form: stress and "ksi" not in form))


def _list_argument(slot: Slot, item: Any) -> Argument:
    measure = families.measure_of(alternatives(slot.unit)[0])
    form = measure.forms[0] if measure else "1"
    zero = re.sub(r"^\S+", "0", form)
    many = (items_of(slot.hint) or (None, None))[1] or 2
    what, example = f"{many if many > 2 else 'several'} values", "; ".join([form] * many)
    if _is_point(item):
        what, example = "points", f"{zero}, {zero}; {form}, {zero}"
    elif _is_line(item):
        what = "lines"
        example = f"{zero}, {zero} to {zero}, {form}; {form}, {zero} to {form}, {form}"
    kind = f"{what}, parted by semicolons"
    return Argument(slot.key, slot.meaning, slot.unit or "-", kind, (example,), _otherwise(slot))


def _otherwise(slot: Slot) -> str:
    if slot.needed:
        return ""
    default = slot.default
    if isinstance(default, bool):
        return "yes" if default else "no"
    if isinstance(default, (int, float)):
        unit = alternatives(slot.unit)[0]
        if default != default or default in (float("inf"), float("-inf")):
            return "left open"
        customary, metric = families.show_both(float(default), unit)
        return customary if customary == metric else f"{customary} ({metric})"
    return "left open" if default is None else _word(default)


def _value(slot: Slot, typed: Mapping[str, str], scale: Scale) -> Any:
    """Return the value of one slot; every problem in it is gathered."""
    hint = bare(slot.hint)
    items = items_of(hint)
    if hint is catalogue.Catalogue:
        return catalogue.load_catalogue()
    below = [key for key in typed if key.startswith(f"{slot.key}.")]
    if hint in (*SECTIONS, Grade) or (items is None and not _is_record(hint)):
        if slot.key in typed:
            return _read(slot, hint, typed[slot.key], scale)
        if slot.needed:
            raise FigureError((missing(slot),))
        is_scaled = isinstance(slot.default, (int, float)) and not isinstance(slot.default, bool)
        if is_scaled and is_number(hint) and not isinstance(slot.default, enum.Enum):
            return scale(alternatives(slot.unit)[0], slot.default)
        return slot.default
    if slot.key not in typed and not below and not slot.needed:
        return slot.default
    if _is_record(hint):
        fields = [_within(slot, field) for field in fields_of(hint)]
        values = filled(fields, typed, scale)
        return hint(**{key.removeprefix(f"{slot.key}."): v for key, v in values.items()})
    assert items is not None
    return _list(slot, hint, items, typed, scale)


def _list(
    slot: Slot,
    hint: Any,
    items: tuple[Any, int | None],
    typed: Mapping[str, str],
    scale: Scale,
) -> Any:
    item, _ = items
    if _is_record(bare(item)):
        made = []
        for number in range(1, _MANY_ITEMS + 1):
            prefix = f"{slot.key}.{number}"
            if number > 1 and not any(key.startswith(f"{prefix}.") for key in typed):
                break
            one = Slot(prefix, item, slot.meaning, slot.unit, inspect.Parameter.empty)
            made.append(_value(one, typed, scale))
        return tuple(made)
    if slot.key not in typed:
        raise FigureError((missing(slot),))
    parts = [part for part in typed[slot.key].split(";") if part.strip()]
    if _is_line(item):
        ends = [part.split(" to ") for part in parts]
        values: list[Any] = [tuple(_point(slot, end, scale) for end in pair) for pair in ends]
        is_wrong = any(len(pair) != 2 for pair in ends)
    elif _is_point(item):
        values = [_point(slot, part, scale) for part in parts]
        is_wrong = False
    else:
        values = [_read(slot, bare(item), part, scale) for part in parts]
        is_wrong = items[1] is not None and len(values) != items[1]
    if is_wrong or not values:
        raise FigureError((_not_a_list(slot, typed[slot.key]),))
    return np.array(values) if is_array(hint) else tuple(values)


def _point(slot: Slot, text: str, scale: Scale) -> tuple[float, ...]:
    numbers = text.split(",")
    if len(numbers) not in (2, 3):
        raise FigureError((_not_a_list(slot, text),))
    return tuple(_read(slot, float, number, scale) for number in numbers)


def _not_a_list(slot: Slot, text: str) -> str:
    [argument, *_] = _arguments(slot)
    return f"{slot.key}={text!r} is not read as {argument.kind}. As in: {argument.forms[0]}"


def _read(slot: Slot, hint: Any, text: str, scale: Scale) -> Any:
    try:
        return _read_one(slot, hint, text.strip(), scale)
    except (UnitError, catalogue.CatalogueError) as error:
        said = f" ({slot.meaning})" if slot.meaning else ""
        raise FigureError((f"{slot.key}{said}: {error}",)) from error


def _read_one(slot: Slot, hint: Any, text: str, scale: Scale) -> Any:
    if hint is Grade:
        grades = _grades()
        if text not in grades:
            raise UnitError(f"no grade {text!r}; one of {', '.join(grades)} would do")
        return grades[text]
    if hint in SECTIONS:
        section = catalogue.find(catalogue.load_catalogue(), text)
        if hint is SectionProperties:
            return section.properties()
        return section.mass_outline() if hint is Outline else section
    choices = _choices(hint)
    if choices:
        for choice in choices:
            if text.lower() in (_word(choice).lower(), getattr(choice, "name", "").lower()):
                return choice
        words = ", ".join(_word(choice) for choice in choices)
        raise UnitError(f"{text!r} is not one of its words; one of {words} would do")
    if is_number(hint):
        number, unit = typed_number(slot.unit, text)
        if hint is int:
            if not number.is_integer():
                raise UnitError(f"{text!r} is not a whole number; 2 would do")
            return int(number)
        return scale(unit, number)
    if is_truth(hint):
        if text.lower() not in _YES:
            raise UnitError(f"{text!r} is neither yes nor no; yes or no would do")
        return _YES[text.lower()]
    return text


def missing(slot: Slot) -> str:
    """Return what to say of an argument that was not given: what it is, and an example."""
    try:
        [argument, *_] = _arguments(slot)
    except NotTypedError as error:
        return str(error)
    unit = "" if argument.unit in ("", "-") else f" [{argument.unit}]"
    example = argument.forms[0] if argument.forms else "…"
    quoted = f'"{argument.key}={example}"' if " " in example else f"{argument.key}={example}"
    meaning = argument.meaning or argument.kind
    return f"{argument.key} is missing: {meaning}{unit}. Add, as in: {quoted}"


def _grades() -> dict[str, Grade]:
    return {grade.name: grade for grade in catalogue.load_catalogue().grades}
