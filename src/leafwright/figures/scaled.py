"""The values of a formula's arguments turned into another consistent set of units."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from leafwright.figures.arguments import SECTIONS, Scale, Slot, alternatives, bare, fields_of
from leafwright.figures.formulas import is_number
from leafwright.handbook.catalogue import Catalogue
from leafwright.handbook.grades import Grade

#: Records that stay as they are: a section or a grade is one thing, not sizes put in.
_KEPT = (*SECTIONS, Grade, Catalogue)


def scaled_values(
    slots: Sequence[Slot], values: Mapping[str, Any], units_of: Mapping[str, str], scale: Scale
) -> dict[str, Any]:
    """Return every argument in another set of units.

    values: by key, in the formula's own units (SI). units_of: the unit of each plain number; the
    unit that the slot states holds for the others. scale: turns one number, by its unit.
    """
    return {
        slot.key: _scaled(values[slot.key], slot, units_of.get(slot.key, slot.unit), scale)
        for slot in slots
        if slot.key in values
    }


def _scaled(value: Any, slot: Slot, unit: str, scale: Scale) -> Any:
    if is_number(value) or (isinstance(value, np.ndarray) and value.dtype.kind in "fiu"):
        return value if bare(slot.hint) is int else scale(alternatives(unit)[0], value)
    if isinstance(value, (list, tuple)):
        return tuple(_scaled(item, slot, unit, scale) for item in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, (type, *_KEPT)):
        fields = {
            field.key: _scaled(getattr(value, field.key), field, field.unit or unit, scale)
            for field in fields_of(type(value))
        }
        return dataclasses.replace(value, **fields)
    return value
