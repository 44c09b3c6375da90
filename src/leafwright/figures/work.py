"""A figure worked: what was typed read, the function called, its working and results told."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from leafwright.figures.arguments import Slot, alternatives, filled, is_number, typed_number
from leafwright.figures.find import Found, found_named
from leafwright.figures.records import Argument, FigureError, PutIn, Result, Worked
from leafwright.figures.results import NOTHING, number_result, results_of
from leafwright.figures.steps import steps_of
from leafwright.figures.unit_sets import KIPS, MILLIMETRES, POUNDS, UnitSet
from leafwright.handbook.aisc360.safety import FACTORS, LimitState, Method, available
from leafwright.units import UnitError, families
from leafwright.units.typed import nearest

_CUSTOMARY = re.compile(r"in\b|in[234²³⁴]|ft|lb|kip|psi|ksi|psf|['\"′″]|F\b|mph", re.IGNORECASE)
_HEAVY = re.compile(r"kip|ksi", re.IGNORECASE)
_LIMIT_STATE = re.compile(r"`(?:LimitState\.)?([A-Z_]+)`")


def worked(name: str, typed: Mapping[str, str]) -> Worked:
    """Return a figure worked with what was typed.

    name: of the figure. typed: what was typed for each argument by its key, as in
    ``{"F_y": "46 ksi", "A_g": "3.37 in2"}``.

    Raises: FigureError with every problem: an unknown name or key, one that is missing, a unit
    that does not fit, or what the function itself refuses.
    """
    found = found_named(name)
    figure = found.figure
    if figure.not_from_shell:
        raise FigureError((f"{figure.name} cannot be worked so: {figure.not_from_shell}.",))
    problems = _unknown_keys(found, typed)
    try:
        values = filled(found.slots, typed, _as_it_is)
    except FigureError as error:
        raise FigureError((*problems, *error.problems)) from error
    if problems:
        raise FigureError(problems)
    value = _called(found, values)
    unit = _result_unit(found, typed)
    results = results_of(value, unit) or (NOTHING,)
    units_of = {slot.key: _taken_unit(slot, typed) for slot in found.slots if is_number(slot.hint)}
    units, steps = steps_of(found, values, units_of, results, unit, _unit_set(typed))
    return Worked(
        figure=figure,
        put_in=tuple(_put_in(found, argument, typed) for argument in _arguments(found, typed)),
        units=units,
        steps=steps,
        results=(*results, *usable(found, results)),
        cautions=(*about(results), *figure.cautions),
    )


def typed_values(words: Sequence[str]) -> dict[str, str]:
    """Return what was typed for each key, from words as a shell gives them: ``F_y=46 ksi``.

    Raises: FigureError for a word without an equals sign, and for a key that is there twice.
    """
    typed: dict[str, str] = {}
    problems = []
    for word in words:
        key, sign, value = word.partition("=")
        key = key.strip()
        if not sign or not key or not value.strip():
            problems.append(
                f"{word!r} is not a key with its value: write KEY=VALUE, in quotes where it holds "
                'a space, as in "F_y=46 ksi".'
            )
        elif key in typed:
            problems.append(f"{key} is given twice: {typed[key]!r} and {value!r}; leave one.")
        else:
            typed[key] = value
    if problems:
        raise FigureError(tuple(problems))
    return typed


def _as_it_is(_: str, value: float) -> float:
    return value


def _unknown_keys(found: Found, typed: Mapping[str, str]) -> tuple[str, ...]:
    known = [argument.key for argument in found.figure.arguments]
    problems = []
    for key in typed:
        # Items of a list beyond the first have keys like the first one's.
        if re.sub(r"\.\d+(?=\.)", ".1", key) not in known:
            hint = nearest(key, known)
            problems.append(
                f"{key!r} is nothing that {found.figure.name} takes{hint}; it takes "
                f"{', '.join(known) or 'nothing'}."
            )
    return tuple(problems)


def _called(found: Found, values: Mapping[str, Any]) -> Any:
    try:
        with np.errstate(all="ignore"):
            return found.function(**values)
    except FigureError:
        raise
    except ValueError as error:
        said = re.sub(r"<\w+\.\w+: '([^']*)'>", r"\1", str(error)).rstrip(".")
        in_si = " (Sizes in this message are SI: m, N, Pa, rad.)" if re.search(r"\d", said) else ""
        raise FigureError((f"{said}.{in_si}",)) from error
    except ArithmeticError as error:
        why = "it would divide by zero" if isinstance(error, ZeroDivisionError) else str(error)
        raise FigureError(
            (
                f"{found.figure.name} cannot be worked with these values: {why}; "
                "look for a size that is 0.",
            )
        ) from error


def _result_unit(found: Found, typed: Mapping[str, str]) -> str:
    """Return the unit of a bare number in the result; it may be that of an argument."""
    if found.figure.unit:
        return found.figure.unit
    as_of = re.search(r"in (\w+)'s unit", found.figure.quantity)
    slot = next((s for s in found.slots if as_of is not None and s.key == as_of[1]), None)
    if slot is None or slot.key not in typed:
        return "-"
    return typed_number(slot.unit, typed[slot.key])[1]


def _arguments(found: Found, typed: Mapping[str, str]) -> list[Argument]:
    """Return the arguments to tell of: those of a list's further items too, as they were typed."""
    known = {argument.key: argument for argument in found.figure.arguments}
    further = []
    for key in typed:
        if key not in known:
            like = known[re.sub(r"\.\d+(?=\.)", ".1", key)]
            further.append(
                Argument(key, like.meaning, like.unit, like.kind, like.forms, like.otherwise)
            )
    return [*known.values(), *further]


def _put_in(found: Found, argument: Argument, typed: Mapping[str, str]) -> PutIn:
    text = typed.get(argument.key, "").strip()
    put = _value_put_in(found, argument, text)
    return replace(put, meaning=argument.meaning, left_out=not text)


def _value_put_in(found: Found, argument: Argument, text: str) -> PutIn:
    unit = argument.unit
    if not text:
        default = _default(found.slots, argument.key)
        if isinstance(default, (int, float)) and not isinstance(default, bool):
            customary, metric = families.show_both(float(default), alternatives(unit)[0])
            if not math.isfinite(default):
                return PutIn(argument.key, "", None, unit, "left open", "left open")
            return PutIn(argument.key, "", float(default), unit, customary, metric)
        word = argument.otherwise or "left open"
        return PutIn(argument.key, "", word, unit, word, word)
    try:
        if not unit:
            return PutIn(argument.key, text, text, "", text, text)
        number, taken = typed_number(unit, text)
    except UnitError:
        # A list: each of its numbers was read, and they are told as they were typed.
        return PutIn(argument.key, text, text, unit, text, text)
    customary, metric = families.show_both(number, taken)
    return PutIn(argument.key, text, number, taken, customary, metric)


def _default(slots: tuple[Slot, ...], key: str) -> Any:
    for slot in slots:
        if slot.key == key:
            return slot.default
    return None


def usable(found: Found, results: tuple[Result, ...]) -> tuple[Result, ...]:
    """Return what of a nominal strength may be used, by both methods."""
    # Where the rule names several states, only the maker knows which it is.
    states = [s for s in _LIMIT_STATE.findall(found.figure.rule) if s in LimitState.__members__]
    is_one = len(results) == 1 and isinstance(results[0].value, float)
    if len(states) != 1 or not is_one:
        return ()
    state = LimitState[states[0]]
    nominal, unit = results[0].value, results[0].unit
    if "nominal" not in found.figure.quantity and "M_n" not in found.figure.quantity:
        return ()
    assert isinstance(nominal, float)
    clause = f"ANSI/AISC 360-22, B3 and {FACTORS[state].clause}"
    return tuple(
        number_result(
            f"may be used, {method}",
            float(available(nominal, state, method)),
            unit,
            source=clause,
        )
        for method in (Method.ASD, Method.LRFD)
    )


def about(results: tuple[Result, ...]) -> tuple[str, ...]:
    """Return what must be said of results that are no number."""
    if any("no number" in r.customary for r in results):
        return ("No number: these values lie outside the limits that the rule states for itself.",)
    return ()


def _taken_unit(slot: Slot, typed: Mapping[str, str]) -> str:
    choices = alternatives(slot.unit)
    if len(choices) > 1 and slot.key in typed:
        return typed_number(slot.unit, typed[slot.key])[1]
    return choices[0]


def _unit_set(typed: Mapping[str, str]) -> UnitSet:
    sizes = [text for text in typed.values() if re.match(r"[-+\s]*[\d.½¼¾⅛⅜⅝⅞].*[^\d\s%]", text)]
    if 2 * sum(bool(_CUSTOMARY.search(text)) for text in sizes) < len(sizes):
        return MILLIMETRES
    return KIPS if any(_HEAVY.search(text) for text in sizes) else POUNDS
