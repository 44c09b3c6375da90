"""What the figures are made of: a formula as it can be asked for, and one that was worked."""

from __future__ import annotations

from dataclasses import dataclass

Value = float | str | bool | None
"""A number in the unit beside it, a word, or a yes or no; None is no number."""


class FigureError(ValueError):
    """Something typed that cannot be worked; ``problems`` says each, with what would do."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        super().__init__("\n".join(problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class Argument:
    """One thing to put in.

    ``key`` is what stands before the equals sign. ``unit`` is the formula's own (SI), "" for a
    word; ``kind`` is what it is in plain words, ``forms`` what may be typed. ``otherwise`` is what
    is taken where it is left out, "" where it must be given.
    """

    key: str
    meaning: str
    unit: str
    kind: str
    forms: tuple[str, ...]
    otherwise: str


@dataclass(frozen=True, slots=True)
class Figure:
    """One function of the handbook; ``not_from_shell`` says why it cannot be typed, or is ""."""

    name: str
    module: str
    subject: str
    quantity: str
    unit: str
    source: str
    rule: str
    arguments: tuple[Argument, ...]
    limits: str
    refuses: str
    cautions: tuple[str, ...]
    not_from_shell: str


@dataclass(frozen=True, slots=True)
class PutIn:
    """One value put in: as typed, in the formula's unit, and in both families.

    ``typed`` is "" where nobody typed it: the program called the formula with it, or the formula's
    own default was taken, and then it is ``left_out``. ``meaning`` is the argument's.
    """

    key: str
    typed: str
    value: Value
    unit: str
    customary: str
    metric: str
    meaning: str = ""
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the working: the formula, the same with its numbers, and what came of it.

    ``because`` is the condition that chose this line among others, or "". ``value`` is what came
    of it in the handbook's own units (SI).
    """

    name: str
    formula: str
    numbers: str
    result: str
    because: str
    value: float | bool


@dataclass(frozen=True, slots=True)
class Result:
    """One number or word that came out; ``name`` is "" where it is the only one."""

    name: str
    value: Value
    unit: str
    customary: str
    metric: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """A figure worked with what was put in; ``units`` names the units of the steps' numbers.

    Where the steps cannot be shown there are none, and ``units`` is "".
    """

    figure: Figure
    put_in: tuple[PutIn, ...]
    units: str
    steps: tuple[Step, ...]
    results: tuple[Result, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FigureDocument:
    """What ``leafwright figure --json`` prints: figures as they can be asked for, or one worked."""

    figures: tuple[Figure, ...]
    worked: Worked | None
