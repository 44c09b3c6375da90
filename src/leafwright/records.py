"""What every stage's records are made of: units on numbers, `Held`, `Check`, and JSON.

A number in a record carries its unit in its type (``Metres``, ``Newtons``), so that the JSON
schema can state it. All are SI; see `units` for what a maker types and reads.
"""

from __future__ import annotations

import dataclasses
import enum
import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any

import numpy as np


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of a number in a record, as the JSON schema prints it (``x-unit``)."""

    symbol: str


Metres = Annotated[float, Unit("m")]
SquareMetres = Annotated[float, Unit("m2")]
CubicMetres = Annotated[float, Unit("m3")]
QuarticMetres = Annotated[float, Unit("m4")]
Radians = Annotated[float, Unit("rad")]
Kilograms = Annotated[float, Unit("kg")]
KilogramsPerMetre = Annotated[float, Unit("kg/m")]
KilogramsPerSquareMetre = Annotated[float, Unit("kg/m2")]
KilogramsPerCubicMetre = Annotated[float, Unit("kg/m3")]
Newtons = Annotated[float, Unit("N")]
NewtonMetres = Annotated[float, Unit("N m")]
NewtonsPerMetre = Annotated[float, Unit("N/m")]
Pascals = Annotated[float, Unit("Pa")]
Number = Annotated[float, Unit("1")]

Point2 = tuple[Metres, Metres]
Point3 = tuple[Metres, Metres, Metres]


@dataclass(frozen=True, slots=True)
class Held:
    """A stage that could not be done: why, and what it needs. Later stages pass it on."""

    why: str
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stop:
    """Why nothing may be cut yet, and what the maker has to decide."""

    key: str
    why: str
    decide: str


class Verdict(enum.StrEnum):
    """How a check came out, in the order in which the maker should look at it."""

    SHORT = "short"
    TIGHT = "tight"
    ASK = "ask"
    OK = "ok"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a rule comes from: document with edition, and clause (or why there is none)."""

    document: str
    clause: str = ""

    def __str__(self) -> str:
        return f"{self.document}, {self.clause}" if self.clause else self.document


COMMON_PRACTICE = Source("common practice, no source")


@dataclass(frozen=True, slots=True)
class Working:
    """One formula of the handbook as a check used it.

    ``figure`` names it as `leafwright figure` does, by its module under the handbook and its own
    name; ``given`` is each argument with its value in SI, ``value`` what came of it.
    """

    figure: str
    given: tuple[tuple[str, Any], ...]
    value: Any


@dataclass(frozen=True, slots=True)
class Check:
    """One question asked of the design, with its answer.

    ``demand`` and ``available`` are in ``unit`` (SI); ``ratio`` is demand / available, and is
    None where nothing was computed (verdict ``ask``). ``change`` says what would mend it.
    ``rule`` is how demand and available came about, in a line; ``working`` the formulas behind
    them, in order.
    """

    key: str
    subject: str
    question: str
    verdict: Verdict
    source: Source
    unit: str = "1"
    demand: float | None = None
    available: float | None = None
    ratio: float | None = None
    case: str = ""
    change: str = ""
    basis: str = ""
    rule: str = ""
    working: tuple[Working, ...] = ()


def ratio_of(demand: float, available: float) -> float:
    """Return demand over what is available [-]; infinite where there is nothing.

    What is just as large as its limit is so however it was converted: 1.0 within a thousand
    millionth.
    """
    if not available > 0.0:
        return math.inf
    ratio = demand / available
    return 1.0 if abs(ratio - 1.0) < 1e-9 else ratio


def graded(ratio: float, *, tight_from: float = 0.9) -> Verdict:
    """Return ok, tight or short for a ratio of demand to what is available [-].

    ``tight_from`` is the ratio from which a passing check is called tight (common practice, no
    source). A ratio that is not a number is never ok: it raises ValueError.
    """
    if math.isnan(ratio):
        raise ValueError("a check's ratio is not a number; nothing was computed")
    if ratio > 1.0:
        return Verdict.SHORT
    return Verdict.TIGHT if ratio >= tight_from else Verdict.OK


def to_json(value: Any) -> Any:
    """Return plain JSON data for a record: full precision, SI, fields in their own order.

    A record becomes an object with a ``record`` field naming its type only where it is a `Held`
    (so that a reader can tell it from the stage's own record).
    """
    if isinstance(value, Held):
        return {"record": "Held", "why": value.why, "needs": list(value.needs)}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_json(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, enum.Enum):
        return value.value
    if isinstance(value, np.ndarray):
        return to_json(value.tolist())
    if isinstance(value, np.generic):
        return to_json(value.item())
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, dict):
        return {str(k): to_json(v) for k, v in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [to_json(v) for v in value]
    return value


def read_only(array: np.ndarray) -> np.ndarray:
    """Return the array, no longer writeable, as arrays inside records must be."""
    array.setflags(write=False)
    return array
