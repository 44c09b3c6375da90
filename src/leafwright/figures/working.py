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
import functools
import inspect
import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import CodeType, FunctionType
from typing import Any

import numpy as np

from leafwright.figures.formulas import Show, Writer, condition, is_number, unparsed
from leafwright.figures.records import Step
from leafwright.figures.unit_sets import METRES, Powers, UnitSet, own_label, si_label, unit_label
from leafwright.units.families import shown_number

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


@dataclass(slots=True)
class _Going:
    """A function being gone through: what it showed so far, and what its names stand for.

    ``numbers`` are all that were written, in their order, by which one going through is laid
    beside another; ``labels`` are the units that do not scale with the set; ``gathered`` are the
    records put to a list, each with the first of its steps and the one behind its last.
    """

    units: UnitSet
    labels: dict[str, str]
    powers: Sequence[Powers]
    steps: list[Step] = field(default_factory=list)
    numbers: list[float] = field(default_factory=list)
    seen: set[str] = field(default_factory=set)
    gathered: list[tuple[int, int, Any]] = field(default_factory=list)


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
    # In SI the handbook's constants may have units of their own: only what was given has one.
    label_of = si_label if unit_set is METRES else own_label
    labels = {name: label_of(unit) for name, unit in units_of.items()}
    going = _Going(unit_set, {name: u for name, u in labels.items() if u}, powers)
    # A line that cannot be gone through ends the working; the result does not hang on it.
    with contextlib.suppress(_NoFurtherError, *_NOT_SHOWN):
        _go_through(function, arguments, going, depth=0)
    return tuple(going.steps[:_MOST_STEPS]), tuple(going.numbers)


def _go_through(
    function: FunctionType, arguments: Mapping[str, Any], going: _Going, *, depth: int
) -> None:
    names = _names_in(function, arguments)
    called = "" if depth == 0 else function.__name__.lstrip("_")
    _run(_body(function), names, going, called=called, depth=depth)


@functools.cache
def _signature(function: FunctionType) -> inspect.Signature:
    return inspect.signature(function)


@functools.cache
def _body(function: FunctionType) -> list[ast.stmt]:
    """Return a function's statements, its docstring left off."""
    [definition] = ast.parse(textwrap.dedent(inspect.getsource(function))).body
    assert isinstance(definition, ast.FunctionDef)
    return [s for s in definition.body if not _is_words(s)]


def _is_words(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)


def _names_in(function: FunctionType, arguments: Mapping[str, Any]) -> dict[str, Any]:
    bound = _signature(function).bind(**arguments)
    bound.apply_defaults()
    return dict(function.__globals__) | bound.arguments


def _run(
    body: list[ast.stmt],
    names: dict[str, Any],
    going: _Going,
    *,
    called: str,
    depth: int,
    first: int = 0,
) -> bool:
    """Go through statements; return whether one of them ended the function.

    first: where the steps of this turn of a loop begin.
    """
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
                first = len(going.steps)
                names.update(_bound(statement.target, item))
                if _run(statement.body, names, going, called=called, depth=depth, first=first):
                    return True
        elif isinstance(statement, ast.AugAssign) and isinstance(statement.target, ast.Name):
            _assigned(_written_out(statement), names, going, depth=depth)
        elif _is_plain_assignment(statement):
            _assigned(statement, names, going, depth=depth)
        elif (record := _gathered(statement)) is not None:
            _returned(record, names, going, called=called, depth=depth)
            _execute(statement, names)
            going.gathered.append((first, len(going.steps), Writer(names, None).value(record)))
        elif _holds(statement, ast.Return):
            raise _NoFurtherError
        else:
            _execute(statement, names)
    return False


@functools.cache
def _holds(statement: ast.stmt, *kinds: type[ast.stmt]) -> bool:
    return any(isinstance(node, kinds) for node in ast.walk(statement))


def _gathered(statement: ast.stmt) -> ast.Call | None:
    """Return the record that a line puts to a list of results, or None for any other line."""
    call = statement.value if isinstance(statement, ast.Expr) else None
    if not isinstance(call, ast.Call) or len(call.args) != 1:
        return None
    [argument] = call.args
    is_put = isinstance(call.func, ast.Attribute) and call.func.attr == "append"
    return argument if is_put and isinstance(argument, ast.Call) else None


@functools.cache
def _written_out(statement: ast.AugAssign) -> ast.Assign:
    """Return ``a += b`` as ``a = a + b``."""
    assert isinstance(statement.target, ast.Name)
    old = ast.Name(statement.target.id, ast.Load())
    changed = ast.BinOp(old, statement.op, statement.value)
    return ast.Assign([statement.target], ast.fix_missing_locations(changed))


def _is_short(loop: ast.For, names: dict[str, Any]) -> bool:
    """Return whether a loop over a few values is gone through one by one."""
    targets = loop.target.elts if isinstance(loop.target, ast.Tuple) else [loop.target]
    if loop.orelse or not all(isinstance(target, ast.Name) for target in targets):
        return False
    if _holds(loop, ast.Break, ast.Continue):
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
        label = going.labels.get(unparsed(node), "")
        going.labels.pop(name, None)
        if label:
            going.labels[name] = label


def _returned(
    node: ast.expr,
    names: dict[str, Any],
    going: _Going,
    *,
    called: str,
    depth: int,
    under: str = "",
) -> None:
    """Show what is returned: a record by its fields, a list by its numbers, below ``under``."""
    if (each := _each_of_few(node, names)) is not None:
        for number, (item, inner) in enumerate(each, 1):
            place = f"{under}{number}"
            _returned(item, inner, going, called=place, depth=depth, under=f"{place}.")
        return
    made = Writer(names, None).value(node.func) if isinstance(node, ast.Call) else None
    parts = [(called, node)]
    if isinstance(node, ast.Call) and isinstance(made, type) and dataclasses.is_dataclass(made):
        fields = list(inspect.signature(made).parameters)
        parts = list(zip(fields, node.args, strict=False))
        parts += [(keyword.arg or "", keyword.value) for keyword in node.keywords]
    elif isinstance(node, ast.Tuple):
        parts = [(str(number), part) for number, part in enumerate(node.elts, 1)]
    for name, part in parts:
        below = name if part is node else f"{under}{name}"
        _stepped(below, part, names, going, depth=depth)


def _each_of_few(
    node: ast.expr, names: dict[str, Any]
) -> list[tuple[ast.expr, dict[str, Any]]] | None:
    """Return what a tuple makes for each of a few, with the names that hold for it."""
    inside = node.args[0] if isinstance(node, ast.Call) and len(node.args) == 1 else None
    if not isinstance(inside, ast.GeneratorExp) or len(inside.generators) != 1:
        return None
    [loop] = inside.generators
    assert isinstance(node, ast.Call)
    over = Writer(names, None).value(loop.iter)
    is_tuple = isinstance(node.func, ast.Name) and node.func.id == "tuple" and not loop.ifs
    if not is_tuple or not isinstance(over, (tuple, list)) or len(over) > _MOST_TURNS:
        return None
    return [(inside.elt, names | _bound(loop.target, item)) for item in over]


def _bound(target: ast.expr, item: Any) -> dict[str, Any]:
    """Return what the names of a loop stand for in one of its turns."""
    if isinstance(target, ast.Tuple):
        return dict(zip(map(unparsed, target.elts), item, strict=True))
    return {unparsed(target): item}


def _stepped(name: str, node: ast.expr, names: dict[str, Any], going: _Going, *, depth: int) -> Any:
    """Return the value of an expression, after showing how it comes about."""
    if depth < _DEEPEST:
        for call in _calls_within(node):
            _show_call(call, names, going, depth=depth)
    symbols = Writer(names, None)
    value = symbols.value(node)
    if isinstance(node, ast.Call) and any(keyword.arg == "key" for keyword in node.keywords):
        _keep_only(value, going)
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


def _keep_only(chosen: Any, going: _Going) -> None:
    """Leave out the steps of what was gathered, but for the one that was chosen among it."""
    if any(record == chosen for *_, record in going.gathered):
        for first, end, record in reversed(going.gathered):
            if record != chosen:
                del going.steps[first:end]
        going.gathered.clear()


def _is_whole_call(node: ast.expr, names: dict[str, Any]) -> bool:
    """Return whether an expression is a call that was shown by its own steps, and nothing more."""
    return isinstance(node, ast.Call) and _handbook_function(node, names) is not None


@functools.cache
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
    arguments = _signature(function).bind(*positional, **named).arguments
    if not all(_is_plain(value) for value in arguments.values()):
        return
    key = f"{function.__qualname__} {arguments}"
    if key in going.seen:
        return
    going.seen.add(key)
    inner = dataclasses.replace(going, labels={})
    for name, node in [
        *zip(arguments, call.args, strict=False),
        *((k.arg, k.value) for k in call.keywords),
    ]:
        label = going.labels.get(unparsed(node))
        if label is not None and name is not None:
            inner.labels[name] = label
    with contextlib.suppress(_NoFurtherError):
        _go_through(function, arguments, inner, depth=depth + 1)


def _is_plain(value: Any) -> bool:
    """Return whether a value is a number, a word or a list of them: no record, no array."""
    if isinstance(value, (list, tuple)):
        return all(_is_plain(item) for item in value)
    return isinstance(value, (int, float, str, np.number, np.bool_))


def _give_reason(going: _Going, number: int, reason: str) -> None:
    step = going.steps[number]
    because = f"{reason} and {step.because}" if step.because else reason
    going.steps[number] = dataclasses.replace(step, because=because)


def _execute(statement: ast.stmt, names: dict[str, Any]) -> None:
    with np.errstate(all="ignore"):
        # The statement is the handbook's own; nothing typed ever comes here but as a number.
        exec(_executable(statement), names)


@functools.cache
def _executable(statement: ast.stmt) -> CodeType:
    return compile(ast.Module([statement], []), "<handbook>", "exec")


def _show(going: _Going) -> Show:
    def show(name: str, value: float) -> str:
        label = going.labels.get(name)
        number = len(going.numbers)
        going.numbers.append(value)
        if label == "°":
            return f"{shown_number(math.degrees(value))}°"
        if label is None:
            powers = going.powers[number] if number < len(going.powers) else None
            label = "" if powers is None else unit_label(going.units, *powers)
        return f"{shown_number(value)} {label}".strip()

    return show
