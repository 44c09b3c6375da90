"""Lines of Python as formulas in plain text, with names or with numbers in their place."""

from __future__ import annotations

import ast
import functools
from collections.abc import Callable, Mapping
from types import CodeType, ModuleType
from typing import Any

import numpy as np

Show = Callable[[str, float], str]
"""Writes the number that stands under a name (or under a longer expression)."""

_ATOM, _POWER, _SIGN, _PRODUCT, _SUM, _COMPARED = 6, 5, 4, 3, 2, 1
_SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_COMPARES: dict[type[ast.cmpop], str] = {
    ast.Lt: "<",
    ast.LtE: "≤",
    ast.Gt: ">",
    ast.GtE: "≥",
    ast.Eq: "=",
    ast.NotEq: "≠",
    ast.Is: "is",
    ast.IsNot: "is not",
    ast.In: "in",
    ast.NotIn: "not in",
}
_FUNCTIONS = {
    "minimum": "min",
    "min": "min",
    "maximum": "max",
    "max": "max",
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "arctan": "arctan",
    "atan": "arctan",
    "arcsin": "arcsin",
    "asin": "arcsin",
    "arccos": "arccos",
    "acos": "arccos",
    "log": "ln",
    "log10": "log10",
    "exp": "exp",
    "hypot": "hypot",
    "sqrt": "√",
    "radians": "radians",
    "degrees": "degrees",
    "floor": "floor",
    "ceil": "ceil",
    "tanh": "tanh",
    "cbrt": "cbrt",
    "atan2": "atan2",
    "arctan2": "atan2",
}
#: What NumPy calls a comparison.
_COMPARING: dict[str, ast.cmpop] = {
    "less": ast.Lt(),
    "less_equal": ast.LtE(),
    "greater": ast.Gt(),
    "greater_equal": ast.GtE(),
    "equal": ast.Eq(),
}
_SIGNS = {"abs", "fabs", "absolute"}
_SAME = {"float", "asarray"}
_POWERS = {"square": 2}
_OPERATORS: dict[str, ast.operator] = {
    "add": ast.Add(),
    "subtract": ast.Sub(),
    "multiply": ast.Mult(),
    "divide": ast.Div(),
}


class Writer:
    """Writes an expression under the names and values of one place in the working."""

    def __init__(self, values: Mapping[str, Any], show: Show | None) -> None:
        """Take the values by name; ``show`` writes numbers, or with None names are written."""
        self.values = values
        self.show = show
        self.because: list[ast.expr] = []

    def text(self, node: ast.expr) -> str:
        """Return the expression as text."""
        return self._written(node)[0]

    def value(self, node: ast.expr) -> Any:
        """Return the value that an expression has here."""
        if isinstance(node, ast.Name) and node.id in self.values:
            return self.values[node.id]
        with np.errstate(all="ignore"):
            # The code is a line of the handbook's own function, never anything typed.
            return eval(_code(node), dict(self.values))

    def _written(self, node: ast.expr) -> tuple[str, int]:
        if isinstance(node, ast.Constant):
            return self._constant(node.value)
        if isinstance(node, (ast.Name, ast.Attribute)):
            return self._named(node)
        if isinstance(node, ast.BinOp):
            return self._worked(node)
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, (ast.USub, ast.UAdd)):
            inner = self._within(node.operand, _PRODUCT)
            return (f"−{inner}" if isinstance(node.op, ast.USub) else inner), _SIGN
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            return f"not {self._within(node.operand, _ATOM)}", _COMPARED
        if isinstance(node, ast.Call):
            return self._called(node)
        if isinstance(node, ast.Compare):
            if isinstance(node.ops[0], (ast.Is, ast.IsNot)) and _is_none(node.comparators[0]):
                is_open = isinstance(node.ops[0], ast.Is)
                text = self._within(node.left, _SUM)
                return f"{text} is {'left open' if is_open else 'given'}", _COMPARED
            text = self._within(node.left, _SUM)
            for operator, right in zip(node.ops, node.comparators, strict=True):
                text += f" {_COMPARES[type(operator)]} {self._within(right, _SUM)}"
            return text, _COMPARED
        if isinstance(node, ast.BoolOp):
            word = " and " if isinstance(node.op, ast.And) else " or "
            return word.join(self._within(part, _COMPARED) for part in node.values), 0
        if isinstance(node, ast.Starred):
            return self._written(node.value)
        if isinstance(node, ast.IfExp):
            return self._chosen(node.test, node.body, node.orelse)
        if isinstance(node, ast.Subscript) and self.show is None:
            return self._picked(node)
        if isinstance(node, (ast.GeneratorExp, ast.ListComp)) and self.show is None:
            return self._each(node), _COMPARED
        return self._otherwise(node)

    def _picked(self, node: ast.Subscript) -> tuple[str, int]:
        """Write one of a list by its number from 1, one of a table by what it is looked up with."""
        if isinstance(node.slice, ast.Tuple) and not node.slice.elts:
            return self._written(node.value)
        name = self._within(node.value, _ATOM)
        place = node.slice.value if isinstance(node.slice, ast.Constant) else None
        if isinstance(place, int) and place >= 0:
            return f"{name}.{place + 1}", _ATOM
        return f"{name}[{self._written(node.slice)[0]}]", _ATOM

    def _each(self, node: ast.GeneratorExp | ast.ListComp) -> str:
        """Write what is worked for each of many: ``a·b for each a, b of pairs``."""
        try:
            text = self._written(node.elt)[0]
        except NameError:
            # What hangs on the one of many that has no value here stays as the handbook has it.
            return unparsed(node).strip("()")
        for loop in node.generators:
            text += f" for each {unparsed(loop.target).strip('()')} of {self._over(loop.iter)}"
            text += "".join(f" with {self._written(test)[0]}" for test in loop.ifs)
        return text

    def _over(self, node: ast.expr) -> str:
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "zip":
            return " and ".join(self._written(argument)[0] for argument in node.args)
        return self._written(node)[0]

    def _within(self, node: ast.expr, least: int) -> str:
        text, binds = self._written(node)
        return text if binds >= least else f"({text})"

    def _after(self, node: ast.expr, least: int) -> str:
        """Write what stands behind a sign of its own: no second sign next to it."""
        text = self._within(node, least)
        return f"({text})" if text.startswith(("-", "−")) else text

    def _constant(self, value: Any) -> tuple[str, int]:
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            return str(value), _ATOM
        text = f"{value:.12g}"
        return (text if "e" not in text else _power_of_ten(text)), _ATOM

    def _named(self, node: ast.Name | ast.Attribute) -> tuple[str, int]:
        name = node.id if isinstance(node, ast.Name) else node.attr
        if name in ("pi", "inf"):
            return "π" if name == "pi" else "without end", _ATOM
        if self.show is not None:
            return self._number_or(node, name)
        if isinstance(node, ast.Attribute) and self._is_method(node):
            return unparsed(node), _ATOM
        return name.lstrip("_"), _ATOM

    def _number_or(self, node: ast.expr, name: str) -> tuple[str, int]:
        """Return the number that an expression has here; its name where it is none."""
        assert self.show is not None
        value = self.value(node)
        if is_number(value):
            text = self.show(unparsed(node), float(value))
            return text, _SIGN if text.startswith(("-", "−")) else _ATOM
        return name, _ATOM

    def _worked(self, node: ast.BinOp) -> tuple[str, int]:
        if isinstance(node.op, ast.Pow):
            return self._raised(node.left, node.right)
        if isinstance(node.op, ast.Mult):
            return f"{self._within(node.left, _PRODUCT)}·{self._after(node.right, _PRODUCT)}", 3
        if isinstance(node.op, ast.Div):
            # `a/b·c` is read in two ways, so what is divided by is kept whole.
            return f"{self._within(node.left, _PRODUCT)}/{self._after(node.right, _POWER)}", 3
        if isinstance(node.op, ast.Add):
            return f"{self._within(node.left, _SUM)} + {self._after(node.right, _SUM)}", _SUM
        if isinstance(node.op, ast.Sub):
            return f"{self._within(node.left, _SUM)} − {self._after(node.right, _PRODUCT)}", _SUM
        return self._otherwise(node)

    def _raised(self, base: ast.expr, power: ast.expr) -> tuple[str, int]:
        below = self._within(base, _ATOM)
        if self.show is not None and " " in below and not below.startswith("("):
            below = f"({below})"
        exponent = power.value if isinstance(power, ast.Constant) else None
        if isinstance(exponent, (int, float)) and float(exponent).is_integer():
            return below + str(int(exponent)).translate(_SUPERSCRIPTS), _POWER
        return f"{below}^{self._within(power, _ATOM)}", _POWER

    def _called(self, node: ast.Call) -> tuple[str, int]:
        name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
        if name == "where" and len(node.args) == 3:
            return self._chosen(*node.args)
        if name in _SAME and node.args:
            return self._written(node.args[0])
        if name in _POWERS and node.args:
            return self._raised(node.args[0], ast.Constant(_POWERS[name]))
        if name in ("power", "pow") and len(node.args) == 2:
            return self._raised(*node.args)
        if name in _OPERATORS and len(node.args) == 2:
            return self._worked(ast.BinOp(node.args[0], _OPERATORS[name], node.args[1]))
        if name in _COMPARING and len(node.args) == 2:
            return self._written(ast.Compare(node.args[0], [_COMPARING[name]], [node.args[1]]))
        if name == "clip" and len(node.args) == 3:
            inside, least, most = (self._written(argument)[0] for argument in node.args)
            return f"min(max({inside}, {least}), {most})", _ATOM
        if name in _SIGNS and node.args:
            return f"|{self._within(node.args[0], _SUM)}|", _ATOM
        if name in ("max", "min", "sum", "mean") and not node.args and self.show is None:
            if isinstance(node.func, ast.Attribute):
                return f"{name} of {self._written(node.func.value)[0]}", _COMPARED
        if name == "len" and self.show is None:
            return f"number of {self._written(node.args[0])[0]}", _COMPARED
        if name in ("sum", "fsum", "next") and node.args and self.show is None:
            what = "the first " if name == "next" else "sum of "
            return f"{what}{self._written(node.args[0])[0]}", _COMPARED
        many = (ast.Starred, ast.GeneratorExp)
        of_many = not node.args or any(isinstance(argument, many) for argument in node.args)
        if name in _FUNCTIONS and not (of_many and self.show is not None):
            inside = ", ".join(self._written(argument)[0] for argument in node.args)
            return f"{_FUNCTIONS[name]}({inside})", _ATOM
        if self.show is not None:
            return self._number_or(node, name)
        if isinstance(node.func, ast.Attribute) and self._is_method(node.func):
            return unparsed(node), _ATOM
        arguments = [
            *(self._written(argument)[0] for argument in node.args),
            *(self._written(keyword.value)[0] for keyword in node.keywords),
        ]
        return f"{name.removeprefix('_')}({', '.join(arguments)})", _ATOM

    def _is_method(self, function: ast.Attribute) -> bool:
        return not isinstance(self.value(function.value), ModuleType)

    def _chosen(self, test: ast.expr, then: ast.expr, other: ast.expr) -> tuple[str, int]:
        """Write the branch that counts here, and keep what chose it."""
        holds = bool(np.all(self.value(test)))
        self.because.append(test if holds else ast.UnaryOp(ast.Not(), test))
        return self._written(then if holds else other)

    def _otherwise(self, node: ast.expr) -> tuple[str, int]:
        if self.show is not None:
            return self._number_or(node, unparsed(node))
        return unparsed(node), _ATOM


@functools.lru_cache(maxsize=8192)
def unparsed(node: ast.AST) -> str:
    """Return a line or an expression as Python writes it."""
    return ast.unparse(node)


@functools.lru_cache(maxsize=8192)
def _code(node: ast.expr) -> CodeType:
    return compile(ast.Expression(node), "<handbook>", "eval")


def is_number(value: Any) -> bool:
    """Return whether a value is one plain number."""
    return isinstance(value, (int, float, np.number)) and not isinstance(value, (bool, np.bool_))


def condition(writer: Writer, test: ast.expr) -> str:
    """Return a condition that holds, in words and signs: one that does not is turned round."""
    if isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not):
        inner = _compared(test.operand)
        opposite = {ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt}
        opposite |= {ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is}
        if isinstance(inner, ast.UnaryOp) and isinstance(inner.op, ast.Not):
            return writer.text(inner.operand)
        if isinstance(inner, ast.Compare) and len(inner.ops) == 1:
            turned = opposite.get(type(inner.ops[0]))
            if turned is not None:
                return writer.text(ast.Compare(inner.left, [turned()], inner.comparators))
        return f"not {writer.text(inner)}"
    return writer.text(test)


def _compared(node: ast.expr) -> ast.expr:
    """Return a comparison that is written as a call of NumPy as one with signs."""
    name = getattr(node.func, "attr", "") if isinstance(node, ast.Call) else ""
    if isinstance(node, ast.Call) and name in _COMPARING and len(node.args) == 2:
        return ast.Compare(node.args[0], [_COMPARING[name]], [node.args[1]])
    return node


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _power_of_ten(text: str) -> str:
    figures, _, power = text.partition("e")
    raised = str(int(power)).translate(_SUPERSCRIPTS)
    return f"10{raised}" if figures == "1" else f"{figures}·10{raised}"
