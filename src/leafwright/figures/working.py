"""The working of a handbook function: its own lines, one by one, with the numbers put in.

The lines are those of the function itself, gone through with one set of values, so that what is
shown is what was computed. Where every quantity scales as its unit says, they are gone through in
inches and pounds (or kips), or in millimetres and newtons, so that each line can be done again on
paper; otherwise in the SI units of the handbook.
"""

from __future__ import annotations

import ast
import contextlib
import dataclasses
import inspect
import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from types import FunctionType
from typing import Any

import numpy as np

from leafwright.figures.formulas import Show, Writer, condition, is_number
from leafwright.figures.records import Step
from leafwright.units.constants import INCH, POUND_FORCE
from leafwright.units.families import plain_unit, shown_number

_DEEPEST = 3
_MOST_STEPS = 60
_MOST_TURNS = 8
_NOT_SHOWN = (
    ArithmeticError,
    AttributeError,
    LookupError,
    NameError,
    OSError,
    SyntaxError,
    TypeError,
    ValueError,
)


@dataclass(frozen=True, slots=True)
class UnitSet:
    """A length and a force in which formulas are worked, with the names of what they make."""

    length: Fraction
    force: Fraction
    length_name: str
    force_name: str
    stress_name: str
    words: str


METRES = UnitSet(Fraction(1), Fraction(1), "m", "N", "Pa", "the handbook's own units: m, N, Pa, kg")
MILLIMETRES = UnitSet(
    Fraction(1, 1000), Fraction(1), "mm", "N", "MPa", "millimetres, newtons and MPa"
)
POUNDS = UnitSet(INCH, POUND_FORCE, "in", "lb", "psi", "inches, pounds and psi")
KIPS = UnitSet(INCH, 1000 * POUND_FORCE, "in", "kip", "ksi", "inches, kips and ksi")
# Nobody's units: what scales with them in no simple ratio is known by it for what it is.
_ODD = UnitSet(Fraction(37, 100), Fraction(113, 10), "", "", "", "")

#: Powers of length and of force in the units that scale with the set; the rest stay as they are.
_POWERS: Mapping[str, tuple[int, int]] = {
    "-": (0, 0),
    "%": (0, 0),
    "rad": (0, 0),
    "K": (0, 0),
    "K difference": (0, 0),
    "1/K": (0, 0),
    "m": (1, 0),
    "m2": (2, 0),
    "m3": (3, 0),
    "m4": (4, 0),
    "N": (0, 1),
    "N m": (1, 1),
    "N m2": (2, 1),
    "N m/rad": (1, 1),
    "N/m": (-1, 1),
    "Pa": (-2, 1),
}
_HALVES = [Fraction(n, 2) for n in range(-10, 13)]


def scaled(units: UnitSet, unit: str, value: float) -> float:
    """Return a value in a unit set. value: in ``unit``, SI; a unit that does not scale stays."""
    length, force = _POWERS.get(plain_unit(unit), (0, 0))
    size = float(units.length) ** length * float(units.force) ** force
    return value / size


def scales(unit: str) -> bool:
    """Return whether a set of length and force says how a unit changes."""
    return plain_unit(unit) in _POWERS or unit == ""


Powers = tuple[Fraction, Fraction] | None
"""What a number is made of: a length to a power times a force to a power; None where unclear."""


@dataclass(slots=True)
class _Going:
    """A function being gone through: what it showed so far, and what its names stand for.

    ``numbers`` are all that were written, in their order, by which one going through is laid
    beside another; ``labels`` are the units that do not scale with the set.
    """

    units: UnitSet
    labels: dict[str, str]
    powers: Sequence[Powers]
    steps: list[Step] = field(default_factory=list)
    numbers: list[float] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)


class _NoFurtherError(Exception):
    """A line that is not gone through one by one (a loop with its end inside)."""


def working(
    function: FunctionType,
    arguments: Mapping[str, Any],
    units_of: Mapping[str, str],
    *,
    unit_set: UnitSet = METRES,
    powers: Sequence[Powers] = (),
) -> tuple[tuple[Step, ...], tuple[float, ...]]:
    """Return the steps of a function, and every number that is written in them, in order.

    arguments: by name, in ``unit_set``. units_of: the docstring's unit of each. powers: what each
    number is made of, where that is known (`powers_of`).
    """
    labels = {name: _own_label(unit) for name, unit in units_of.items()}
    going = _Going(unit_set, {name: u for name, u in labels.items() if u}, powers)
    # A line that cannot be gone through ends the working; the result does not hang on it.
    with contextlib.suppress(_NoFurtherError, *_NOT_SHOWN):
        _go_through(function, arguments, going, depth=0)
    return tuple(going.steps[:_MOST_STEPS]), tuple(going.numbers)


def odd(unit: str, value: float) -> float:
    """Return a value in units by which `powers_of` tells a length from a force."""
    return scaled(_ODD, unit, value)


def powers_of(in_metres: Sequence[float], in_odd: Sequence[float]) -> tuple[Powers, ...]:
    """Return what each number of a working is made of, from the same working in two sets."""
    return tuple(_powers(a, b) for a, b in zip(in_metres, in_odd, strict=True))


def _powers(in_metres: float, in_odd: float) -> Powers:
    if not (math.isfinite(in_metres) and math.isfinite(in_odd)):
        return None
    if in_metres == 0.0 or in_odd == 0.0:
        return None
    ratio = math.log(abs(in_metres / in_odd))
    for force in (Fraction(0), Fraction(1), Fraction(1, 2), Fraction(-1), Fraction(2)):
        for length in _HALVES:
            guess = float(length) * math.log(_ODD.length) + float(force) * math.log(_ODD.force)
            if abs(ratio - guess) < 1e-9:
                return length, force
    return None


def _own_label(unit: str) -> str:
    """Return the unit of an argument that does not scale with lengths and forces, or nothing."""
    plain = plain_unit(unit)
    if plain == "rad":
        return "°"
    if plain in ("K", "1/K", "K difference") or plain not in _POWERS:
        return plain.removesuffix(" difference").removeprefix("1")
    return ""


def _go_through(
    function: FunctionType, arguments: Mapping[str, Any], going: _Going, *, depth: int
) -> None:
    names = _names_in(function, arguments)
    _run(_body(function), names, going, called="" if depth == 0 else function.__name__, depth=depth)


def _body(function: FunctionType) -> list[ast.stmt]:
    """Return a function's statements, its docstring left off."""
    [definition] = ast.parse(textwrap.dedent(inspect.getsource(function))).body
    assert isinstance(definition, ast.FunctionDef)
    return [s for s in definition.body if not _is_words(s)]


def _is_words(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)


def _names_in(function: FunctionType, arguments: Mapping[str, Any]) -> dict[str, Any]:
    bound = inspect.signature(function).bind(**arguments)
    bound.apply_defaults()
    return dict(function.__globals__) | bound.arguments


def _run(
    body: list[ast.stmt], names: dict[str, Any], going: _Going, *, called: str, depth: int
) -> bool:
    """Go through statements; return whether one of them ended the function."""
    for statement in body:
        if isinstance(statement, ast.Return):
            if statement.value is not None:
                _returned(statement.value, names, going, called=called, depth=depth)
            return True
        if isinstance(statement, ast.If):
            holds = bool(np.all(Writer(names, None).value(statement.test)))
            branch = statement.body if holds else statement.orelse
            because = statement.test if holds else ast.UnaryOp(ast.Not(), statement.test)
            before = len(going.steps)
            ended = _run(branch, names, going, called=called, depth=depth)
            if len(going.steps) > before:
                _give_reason(going, before, condition(Writer(names, None), because))
            if ended:
                return True
        elif isinstance(statement, ast.With):
            # Only numpy's silence about a division by zero, which the writer keeps anyway.
            if _run(statement.body, names, going, called=called, depth=depth):
                return True
        elif isinstance(statement, ast.For) and _is_short(statement, names):
            for item in list(Writer(names, None).value(statement.iter)):
                if isinstance(statement.target, ast.Tuple):
                    names.update(zip(map(ast.unparse, statement.target.elts), item, strict=True))
                else:
                    names[ast.unparse(statement.target)] = item
                if _run(statement.body, names, going, called=called, depth=depth):
                    return True
        elif isinstance(statement, ast.AugAssign) and isinstance(statement.target, ast.Name):
            old = ast.Name(statement.target.id, ast.Load())
            changed = ast.BinOp(old, statement.op, statement.value)
            again = ast.Assign([statement.target], ast.fix_missing_locations(changed))
            _assigned(again, names, going, depth=depth)
        elif _is_plain_assignment(statement):
            _assigned(statement, names, going, depth=depth)
        elif any(isinstance(node, ast.Return) for node in ast.walk(statement)):
            raise _NoFurtherError
        else:
            _execute(statement, names)
    return False


def _is_short(loop: ast.For, names: dict[str, Any]) -> bool:
    """Return whether a loop over a few values is gone through one by one."""
    targets = loop.target.elts if isinstance(loop.target, ast.Tuple) else [loop.target]
    if loop.orelse or not all(isinstance(target, ast.Name) for target in targets):
        return False
    if any(isinstance(node, (ast.Break, ast.Continue)) for node in ast.walk(loop)):
        return False
    over = Writer(names, None).value(loop.iter)
    known = (tuple, list, np.ndarray, enumerate, zip)
    return isinstance(over, known) and len(list(over)) <= _MOST_TURNS


def _is_plain_assignment(statement: ast.stmt) -> bool:
    if isinstance(statement, ast.AnnAssign):
        return statement.value is not None and isinstance(statement.target, ast.Name)
    if isinstance(statement, ast.Assign) and len(statement.targets) == 1:
        target = statement.targets[0]
        if isinstance(target, ast.Tuple):
            return all(isinstance(part, ast.Name) for part in target.elts)
        return isinstance(target, ast.Name)
    return False


def _assigned(statement: ast.stmt, names: dict[str, Any], going: _Going, *, depth: int) -> None:
    assert isinstance(statement, (ast.Assign, ast.AnnAssign)) and statement.value is not None
    target = statement.targets[0] if isinstance(statement, ast.Assign) else statement.target
    if isinstance(target, ast.Name):
        parts = [(target.id, statement.value)]
    elif isinstance(target, ast.Tuple) and isinstance(statement.value, ast.Tuple):
        parts = [
            (name.id, value)
            for name, value in zip(target.elts, statement.value.elts, strict=True)
            if isinstance(name, ast.Name)
        ]
    else:
        _execute(statement, names)
        return
    values = [_stepped(name, node, names, going, depth=depth) for name, node in parts]
    for (name, node), value in zip(parts, values, strict=True):
        names[name] = value
        label = going.labels.get(ast.unparse(node), "")
        going.labels.pop(name, None)
        if label:
            going.labels[name] = label


def _returned(
    node: ast.expr, names: dict[str, Any], going: _Going, *, called: str, depth: int
) -> None:
    made = Writer(names, None).value(node.func) if isinstance(node, ast.Call) else None
    parts = [(called, node)]
    if isinstance(node, ast.Call) and isinstance(made, type) and dataclasses.is_dataclass(made):
        fields = list(inspect.signature(made).parameters)
        parts = list(zip(fields, node.args, strict=False))
        parts += [(keyword.arg or "", keyword.value) for keyword in node.keywords]
    elif isinstance(node, ast.Tuple):
        parts = [(str(number), part) for number, part in enumerate(node.elts, 1)]
    for name, part in parts:
        _stepped(name, part, names, going, depth=depth)


def _stepped(name: str, node: ast.expr, names: dict[str, Any], going: _Going, *, depth: int) -> Any:
    """Return the value of an expression, after showing how it comes about."""
    if depth < _DEEPEST:
        for call in _calls_within(node):
            _show_call(call, names, going, depth=depth)
    symbols = Writer(names, None)
    value = symbols.value(node)
    is_given = isinstance(node, (ast.Name, ast.Constant)) or _is_whole_call(node, names)
    is_answer = isinstance(value, (bool, np.bool_)) and isinstance(node, (ast.Compare, ast.BoolOp))
    if not (is_number(value) or is_answer):
        return value
    is_shown = bool(going.steps) and going.steps[-1].value == value
    if is_given and (depth > 0 or not name) and is_shown:
        return value
    if isinstance(node, ast.Constant) or (isinstance(node, ast.Name) and node.id == name):
        return value
    formula = symbols.text(node)
    show = _show(going)
    numbers = Writer(names, show).text(node)
    because = " and ".join(dict.fromkeys(condition(symbols, test) for test in symbols.because))
    result = ("yes" if value else "no") if is_answer else show("", float(value))
    plain = bool(value) if is_answer else float(value)
    going.steps.append(Step(name, formula, numbers, result, because, plain))
    return value


def _is_whole_call(node: ast.expr, names: dict[str, Any]) -> bool:
    """Return whether an expression is a call that was shown by its own steps, and nothing more."""
    return isinstance(node, ast.Call) and _handbook_function(node, names) is not None


def _calls_within(node: ast.expr) -> list[ast.Call]:
    """Return the calls in an expression, the innermost first; not those made for each of many."""
    if isinstance(node, (ast.GeneratorExp, ast.ListComp, ast.SetComp, ast.DictComp, ast.Lambda)):
        return []
    inner = [call for part in ast.iter_child_nodes(node) for call in _calls_of(part)]
    return [*inner, node] if isinstance(node, ast.Call) else inner


def _calls_of(node: ast.AST) -> list[ast.Call]:
    if isinstance(node, ast.expr):
        return _calls_within(node)
    return _calls_within(node.value) if isinstance(node, ast.keyword) else []


def _handbook_function(call: ast.Call, names: dict[str, Any]) -> FunctionType | None:
    """Return the function of the handbook that is called, where its lines are worth showing."""
    if not isinstance(call.func, (ast.Name, ast.Attribute)):
        return None
    function = Writer(names, None).value(call.func)
    if not isinstance(function, FunctionType):
        return None
    place, own = function.__module__, function.__name__
    if not place.startswith("leafwright.handbook") or place.rpartition(".")[2].startswith("_"):
        return None
    # A helper of one line says nothing that its name does not.
    is_small = own.startswith("_") and len(_body(function)) < 2
    return None if is_small else function


def _show_call(call: ast.Call, names: dict[str, Any], going: _Going, *, depth: int) -> None:
    function = _handbook_function(call, names)
    if function is None or any(isinstance(part, ast.Starred) for part in call.args):
        return
    writer = Writer(names, None)
    positional = [writer.value(argument) for argument in call.args]
    named = {k.arg: writer.value(k.value) for k in call.keywords if k.arg is not None}
    arguments = inspect.signature(function).bind(*positional, **named).arguments
    if not all(isinstance(v, (int, float, str, np.number, np.bool_)) for v in arguments.values()):
        return
    key = f"{function.__qualname__} {arguments}"
    if key in going.seen:
        return
    going.seen.add(key)
    inner = _Going(going.units, {}, going.powers, going.steps, going.numbers, going.seen)
    for name, node in [
        *zip(arguments, call.args, strict=False),
        *((k.arg, k.value) for k in call.keywords),
    ]:
        label = going.labels.get(ast.unparse(node))
        if label is not None and name is not None:
            inner.labels[name] = label
    with contextlib.suppress(_NoFurtherError):
        _go_through(function, arguments, inner, depth=depth + 1)


def _give_reason(going: _Going, number: int, reason: str) -> None:
    step = going.steps[number]
    because = f"{reason} and {step.because}" if step.because else reason
    going.steps[number] = dataclasses.replace(step, because=because)


def _execute(statement: ast.stmt, names: dict[str, Any]) -> None:
    module = ast.Module([statement], [])
    with np.errstate(all="ignore"):
        # The statement is the handbook's own; nothing typed ever comes here but as a number.
        exec(compile(module, "<handbook>", "exec"), names)


def _show(going: _Going) -> Show:
    def show(name: str, value: float) -> str:
        label = going.labels.get(name)
        number = len(going.numbers)
        going.numbers.append(value)
        if label == "°":
            return f"{shown_number(math.degrees(value))}°"
        if label is None:
            powers = going.powers[number] if number < len(going.powers) else None
            label = "" if powers is None else _label(going.units, *powers)
        return f"{shown_number(value)} {label}".strip()

    return show


def _label(units: UnitSet, length: Fraction, force: Fraction) -> str:
    """Return the name of a length to a power times a force to a power."""
    if length == -2 and force == 1:
        return units.stress_name
    if length == -1 and force == 1:
        return f"{units.force_name}/{units.length_name}"
    parts = [_raised(units.force_name, force), _raised(units.length_name, length)]
    return "·".join(part for part in parts if part)


def _raised(name: str, power: Fraction) -> str:
    if power == 0:
        return ""
    if power == 1:
        return name
    signs = {Fraction(n): sign for n, sign in ((2, "²"), (3, "³"), (4, "⁴"), (5, "⁵"), (6, "⁶"))}
    return name + signs.get(power, f"^{power}")
