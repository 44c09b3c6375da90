"""The working of a figure in the units that a maker thinks in, where the formula holds in them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from leafwright.figures.arguments import Scale
from leafwright.figures.find import Found
from leafwright.figures.records import Result, Step, Value
from leafwright.figures.results import NOTHING, results_of
from leafwright.figures.scaled import scaled_values
from leafwright.figures.unit_sets import METRES, UnitSet, odd, powers_of, scaled, scales
from leafwright.figures.working import working
from leafwright.units.families import plain_unit

_SAME_VALUE = 1e-9
_NOISE = 1e-12
_PLAIN = "plain numbers"


def steps_of(
    found: Found,
    values: Mapping[str, Any],
    units_of: Mapping[str, str],
    results: tuple[Result, ...],
    unit: str,
    chosen: UnitSet,
) -> tuple[str, tuple[Step, ...]]:
    """Return the units of the working in words, and its steps.

    values: every argument by its key, in the formula's own units. units_of: the unit of each plain
    number. results: what came of them; unit: of a bare number among them. chosen: the set of units
    to work in, where the formula holds in it; otherwise the steps are in SI.
    """
    in_metres, numbers = working(found.function, values, units_of)
    if not _come_to(in_metres, results):
        return "", ()
    if all(scales(u) for u in units_of.values()) and all(scales(r.unit) for r in results):
        steps = _in_chosen(found, values, units_of, results, unit, chosen, numbers)
        if [step.formula for step in steps] == [step.formula for step in in_metres]:
            pairs = zip(steps, in_metres, strict=True)
            words = chosen.words if _has_units(units_of, results) else _PLAIN
            return words, tuple(replace(s, value=m.value) for s, m in pairs)
    return METRES.words, in_metres


def _has_units(units_of: Mapping[str, str], results: tuple[Result, ...]) -> bool:
    units = (*units_of.values(), *(result.unit for result in results))
    return any(plain_unit(unit) not in ("-", "%") for unit in units)


def _come_to(steps: tuple[Step, ...], results: tuple[Result, ...]) -> bool:
    """Return whether the steps come to a result; half a working tells nothing."""
    numbers = {result.name: result.value for result in results if result.unit}
    found = [(step.name, step.value) for step in steps if not isinstance(step.value, bool)]
    if not numbers or not found:
        return bool(steps) and not numbers
    named = any(name in numbers and _are_same(value, numbers[name]) for name, value in found)
    return named or any(_are_same(found[-1][1], number) for number in numbers.values())


def _are_same(value: float, number: Value) -> bool:
    if not isinstance(number, float):
        return not math.isfinite(value)
    return abs(value - number) <= _SAME_VALUE * abs(number)


def in_other_units(
    found: Found,
    values: Mapping[str, Any],
    units_of: Mapping[str, str],
    results: tuple[Result, ...],
    unit: str,
    scale: Scale,
) -> Mapping[str, Any] | None:
    """Return the arguments in a unit set, or None where the function does not work in it.

    A function that holds constants with units gives another answer in another set.
    """
    try:
        own = scaled_values(found.slots, values, units_of, scale)
        with np.errstate(all="ignore"):
            again = results_of(found.function(**own), unit) or (NOTHING,)
    except (ValueError, ArithmeticError):
        return None
    for before, after in zip(results, again, strict=False):
        if isinstance(before.value, float) and isinstance(after.value, float):
            there = scale(before.unit, before.value)
            # Beside a force of a ton the last bits of a sum are no force.
            alike = [
                abs(r.value) for r in again if isinstance(r.value, float) and r.unit == after.unit
            ]
            noise = _NOISE * max(alike)
            if abs(there - after.value) > noise + _SAME_VALUE * max(abs(there), abs(after.value)):
                return None
        elif before.value != after.value:
            return None
    return own if len(again) == len(results) else None


def _in_chosen(
    found: Found,
    values: Mapping[str, Any],
    units_of: Mapping[str, str],
    results: tuple[Result, ...],
    unit: str,
    chosen: UnitSet,
    numbers: tuple[float, ...],
) -> tuple[Step, ...]:
    """Return the steps in the chosen units, or none where they do not hold there."""

    def in_chosen(its_unit: str, value: float) -> float:
        return scaled(chosen, its_unit, value)

    own = in_other_units(found, values, units_of, results, unit, in_chosen)
    other = in_other_units(found, values, units_of, results, unit, odd)
    if own is None or other is None:
        return ()
    _, in_odd = working(found.function, other, units_of)
    if len(in_odd) != len(numbers):
        return ()
    steps, _ = working(
        found.function, own, units_of, unit_set=chosen, powers=powers_of(numbers, in_odd)
    )
    return steps
