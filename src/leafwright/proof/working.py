"""The formulas behind a check, kept as they are worked, so that a reader can work them again."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar

from leafwright.records import Working

_Given = ParamSpec("_Given")
_Value = TypeVar("_Value")
_HANDBOOK = "leafwright.handbook."


class Lines:
    """Formulas of the handbook worked for one check, in order."""

    def __init__(self) -> None:
        self._lines: list[Working] = []

    def work(
        self,
        function: Callable[_Given, _Value],
        *unnamed: _Given.args,
        **given: _Given.kwargs,
    ) -> _Value:
        """Return what a handbook function makes of arguments given by name, and keep the line.

        Raises ValueError for an argument without a name, and for a function of another place:
        a reader could not tell what was put in, or work it again.
        """
        module = function.__module__
        if unnamed or not module.startswith(_HANDBOOK):
            raise ValueError(
                f"{module}.{function.__name__}: name each argument, of a handbook function"
            )
        value = function(*unnamed, **given)
        name = f"{module.removeprefix(_HANDBOOK)}.{function.__name__}"
        self._lines.append(Working(name, tuple(given.items()), value))
        return value

    def kept(self) -> tuple[Working, ...]:
        """Return the lines worked so far."""
        return tuple(self._lines)
