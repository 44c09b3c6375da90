"""A figure worked as the program itself called it: the same working, from values in SI.

What nobody could type at a shell is told too: a record by its parts, a list by its numbers, many
values at once by their range, and anything else by its name.
"""

from __future__ import annotations

import dataclasses
import enum
import inspect
import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any, Literal

import numpy as np

from leafwright.figures import arguments
from leafwright.figures.arguments import Slot, alternatives, fields_of, items_of
from leafwright.figures.find import Found, found_named
from leafwright.figures.formulas import is_number
from leafwright.figures.records import PutIn, Result, Step, Worked
from leafwright.figures.results import NOTHING, is_told, results_of
from leafwright.figures.steps import in_other_units, steps_of
from leafwright.figures.unit_sets import KIPS, MILLIMETRES, POUNDS, UnitSet
from leafwright.figures.work import about, usable
from leafwright.handbook import outlines
from leafwright.handbook.catalogue import Catalogue, CatalogueSection
from leafwright.handbook.grades import Grade
from leafwright.records import Working
from leafwright.units import families

System = Literal["feet-inch", "metric"]

#: The unit of a number whose docstring leaves the choice, where the caller does not say.
_ANY_SI = "SI"
_NONE_NAMED: Mapping[str, str] = MappingProxyType({})
_DEEPEST = 3
_MOST = 24
_FORCE_OR_STRESS = re.compile(r"(-?[\d.]+) (kip(?!·in)|ksi)")
_HEAVY_STRESS = (10.0, 5000.0)
"""Stress from which steel is meant [ksi], and from which it is no stress but a modulus."""


def shown(
    working: Working, *, system: System = "feet-inch", units: Mapping[str, str] = _NONE_NAMED
) -> Worked:
    """Return a figure worked with the values with which it was called.

    working: the formula's place (see `figure_of`), its arguments in SI, and what came of them;
    the results are those, not worked again. system: the family of the steps' numbers, where the
    formula holds in it. units: by key, the unit of an argument whose docstring leaves the choice
    (``{"nominal": "N m"}``); without it such a number is told in SI.

    Steps are left out where the lines cannot be gone through, where an argument is many values at
    once, and where the formula does not give the same again.

    Raises: FigureError for a name that the handbook does not have, and for nothing else.
    """
    found = found_named(working.figure)
    given = dict(working.given)
    slots = (
        *found.slots,
        *(_unknown(key) for key in given.keys() - {s.key for s in found.slots}),
    )
    slots = tuple(dataclasses.replace(s, unit=_unit(s, units)) for s in slots)
    values = {
        slot.key: _plain(given.get(slot.key, slot.default), slot.hint)
        for slot in slots
        if slot.key in given or not slot.needed
    }
    put_in = tuple(
        dataclasses.replace(put, left_out=slot.key not in given)
        for slot in slots
        if slot.key in values
        for put in _put_in(slot, values[slot.key])
    )
    unit = _result_unit(found, slots)
    results = _results(working.value, unit)
    words, steps = _steps(found, slots, values, results, unit, _unit_set(system, put_in))
    return Worked(
        figure=found.figure,
        put_in=put_in,
        units=words,
        steps=steps,
        results=(*results, *usable(found, results)),
        cautions=(*about(results), *found.figure.cautions),
    )


def shown_each(workings: Iterable[Working], *, system: System = "feet-inch") -> tuple[Worked, ...]:
    """Return several figures worked one after the other, as those of one check; see `shown`.

    A number whose docstring leaves the choice of its unit has that of the earlier result which it
    is, as where a nominal strength is made an available one.
    """
    made: list[Worked] = []
    units: dict[float, str] = {}
    for working in workings:
        choices = {
            slot.key: units[value]
            for slot in found_named(working.figure).slots
            for value in [_plain(dict(working.given).get(slot.key), slot.hint)]
            if len(alternatives(slot.unit)) > 1 and isinstance(value, float) and value in units
        }
        made.append(shown(working, system=system, units=choices))
        units |= {r.value: r.unit for r in made[-1].results if isinstance(r.value, float)}
    return tuple(made)


def _unknown(key: str) -> Slot:
    return Slot(key, object, "", "", inspect.Parameter.empty)


def _unit(slot: Slot, units: Mapping[str, str]) -> str:
    choices = alternatives(slot.unit)
    if slot.key in units:
        return units[slot.key]
    return choices[0] if len(choices) == 1 else _ANY_SI


def _result_unit(found: Found, slots: Sequence[Slot]) -> str:
    """Return the unit of a bare number in the result; it may be that of an argument."""
    as_of = re.search(r"in (\w+)'s unit", found.figure.quantity)
    of_argument = next((s.unit for s in slots if as_of is not None and s.key == as_of[1]), "-")
    return found.figure.unit or of_argument


def _unit_set(system: System, put_in: Sequence[PutIn]) -> UnitSet:
    """Return the units to work in: of the feet-inch ones kips where forces or stresses are large.

    A modulus and a stiffness are always large, and say nothing of it.
    """
    if system == "metric":
        return MILLIMETRES
    least, most = _HEAVY_STRESS
    for put in put_in:
        for number, unit in _FORCE_OR_STRESS.findall("" if put.left_out else put.customary):
            if unit == "kip" or least <= abs(float(number)) < most:
                return KIPS
    return POUNDS


def _steps(
    found: Found,
    slots: tuple[Slot, ...],
    values: Mapping[str, Any],
    results: tuple[Result, ...],
    unit: str,
    chosen: UnitSet,
) -> tuple[str, tuple[Step, ...]]:
    if any(_is_many(value) for value in values.values()):
        return "", ()
    there = dataclasses.replace(found, slots=slots)
    units_of = {s.key: alternatives(s.unit)[0] for s in slots if arguments.is_number(s.hint)}
    try:
        if in_other_units(there, values, units_of, results, unit, _as_it_is) is None:
            return "", ()
        return steps_of(there, values, units_of, results, unit, chosen)
    except Exception:
        # The formula was worked already; a working that cannot be shown takes nothing from it.
        return "", ()


def _as_it_is(_: str, value: float) -> float:
    return value


# ---------------------------------------------------------------- what was put in


def _plain(value: Any, hint: Any) -> Any:
    """Return a value without NumPy where it is one number, and a list as a tuple."""
    if isinstance(value, np.generic):
        return value.item()
    if isinstance(value, np.ndarray):
        is_one = arguments.is_number(hint) or arguments.is_truth(hint) or value.ndim == 0
        if is_one:
            return value.item() if value.size == 1 else value
        return _plain(value.tolist(), hint)
    if isinstance(value, (list, tuple)):
        items = items_of(hint)
        return tuple(_plain(item, object if items is None else items[0]) for item in value)
    return value


def _is_many(value: Any) -> bool:
    """Return whether a value holds many at once, for which there is no one working."""
    if isinstance(value, np.ndarray):
        return value.size != 1
    if isinstance(value, (list, tuple)):
        return any(_is_many(item) for item in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return any(_is_many(getattr(value, f.name)) for f in dataclasses.fields(value))
    return False


def _put_in(slot: Slot, value: Any) -> list[PutIn]:
    try:
        return list(_parts(slot, value))
    except Exception:
        # A record that does not say what it holds is told by its name.
        return [_said(slot, _word(value))]


def _parts(slot: Slot, value: Any, depth: int = 0) -> Iterator[PutIn]:
    """Yield what an argument holds: itself, or each part of a record by its name."""
    if isinstance(value, bool):
        yield dataclasses.replace(_said(slot, "yes" if value else "no"), value=value)
    elif is_number(value):
        yield _number(slot, float(value))
    elif isinstance(value, outlines.Outline):
        yield _outline(slot, value)
    elif _is_record(value) and depth < _DEEPEST:
        kind: type = type(value)
        for field in fields_of(kind):
            part = dataclasses.replace(field, key=f"{slot.key}.{field.key}")
            yield from _parts(part, getattr(value, field.key), depth + 1)
    elif isinstance(value, (list, tuple)) and any(_is_record(item) for item in value):
        for number, item in enumerate(value[:_MOST], 1):
            yield from _parts(dataclasses.replace(slot, key=f"{slot.key}.{number}"), item, depth)
        if len(value) > _MOST:
            yield _said(slot, f"and {len(value) - _MOST} more", key=f"{slot.key}.…")
    elif isinstance(value, (list, tuple, np.ndarray)):
        customary, metric = (_listed(value, slot.unit, family) for family in (0, 1))
        unit = slot.unit if any(character.isdigit() for character in metric) else ""
        yield PutIn(slot.key, "", metric, unit, customary, metric, slot.meaning)
    else:
        yield _said(slot, _word(value))


def _is_record(value: Any) -> bool:
    named = (type, Catalogue, CatalogueSection, Grade, outlines.Outline)
    return dataclasses.is_dataclass(value) and not isinstance(value, named)


def _said(slot: Slot, word: str, *, key: str = "") -> PutIn:
    return PutIn(key or slot.key, "", word, "", word, word, slot.meaning)


def _number(slot: Slot, number: float) -> PutIn:
    if math.isnan(number) or (math.isinf(number) and number == slot.default):
        return PutIn(slot.key, "", None, slot.unit, "left open", "left open", slot.meaning)
    customary, metric = families.show_both(number, alternatives(slot.unit)[0])
    value = number if math.isfinite(number) else None
    return PutIn(slot.key, "", value, slot.unit or "-", customary, metric, slot.meaning)


def _outline(slot: Slot, outline: outlines.Outline) -> PutIn:
    left, right, bottom, top = outlines.extent(outline)
    widths, heights = (families.show_both(size, "m") for size in (right - left, top - bottom))
    customary, metric = (f"an outline {widths[i]} by {heights[i]}" for i in (0, 1))
    return PutIn(slot.key, "", metric, "", customary, metric, slot.meaning)


def _word(value: Any) -> str:
    """Return what is no number, in a word or two."""
    if value is None:
        return "left open"
    if isinstance(value, enum.Enum):
        return str(value.value)
    if isinstance(value, str):
        return value or "none"
    if isinstance(value, Grade):
        return value.name
    if isinstance(value, CatalogueSection):
        return f"{value.designation}, {value.grade.name}"
    if isinstance(value, Catalogue):
        return "the steel catalogue"
    if isinstance(value, Mapping):
        return f"a table of {len(value)} entries"
    name = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(value).__name__).lower()
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _listed(value: Any, unit: str, family: int, depth: int = 0) -> str:
    """Return a list in one family: points with commas, lines by their ends, the rest parted."""
    if isinstance(value, np.ndarray) and value.size != 1:
        return _range(value, unit, family)
    if isinstance(value, (list, tuple)):
        texts = [_listed(item, unit, family, depth + 1) for item in value[:_MOST]]
        if len(value) > _MOST:
            texts.append(f"and {len(value) - _MOST} more")
        holds_points = any(isinstance(item, (list, tuple)) for item in value)
        between = "; " if depth == 0 else " to " if holds_points else ", "
        return between.join(texts) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if is_number(value):
        return families.show_both(float(value), alternatives(unit)[0])[family]
    return _word(value)


def _range(values: np.ndarray[Any, Any], unit: str, family: int) -> str:
    if values.size == 0:
        return "none"
    if values.dtype.kind == "b":
        return f"yes for {np.count_nonzero(values)} of {values.size}"
    if values.dtype.kind not in "fiu":
        return f"{values.size} values"
    ends = (families.show_both(float(end), unit)[family] for end in (values.min(), values.max()))
    return f"{' to '.join(ends)}, {values.size} values"


# ---------------------------------------------------------------- what came of it


def _results(value: Any, unit: str) -> tuple[Result, ...]:
    try:
        is_named = dataclasses.is_dataclass(value) and not is_told(type(value))
        results = () if is_named else results_of(value, unit)
    except Exception:
        # A record that does not say what it holds is told by its name.
        results = ()
    if results:
        return results
    is_empty = value is None or (hasattr(value, "__len__") and len(value) == 0)
    word = _word(value)
    return (NOTHING if is_empty else Result("", word, "", word, word),)
