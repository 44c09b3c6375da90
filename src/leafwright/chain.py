"""Derived quantities: a number with the formula, the inputs and the sureness behind it.

A `Quantity` is either a *base* (a reading, a wish, a default, a table value) or is made from
other quantities by one of the functions here. It carries its slope with respect to every base
below it, so that its standard deviation follows from all the readings at once (two quantities
that rest on the same reading are correlated, and their difference knows it), and so that "why is
it this long?" is answered by walking the inputs down to what was measured.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

Kind = Literal["reading", "wish", "default", "table", "derived", "made"]

#: Half-width of a two-sided 95 % band, in standard deviations of the normal distribution.
BAND_95 = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Slope:
    """How a quantity follows one base variable.

    Attributes:
        base: key of the base variable.
        by: change of the quantity per change of the base [quantity's unit / base's unit].
        sd: standard deviation of the base [base's unit].
        low: lower tolerance of the base, as a deviation, zero or negative [base's unit].
        high: upper tolerance of the base, as a deviation, zero or positive [base's unit].
    """

    base: str
    by: float
    sd: float = 0.0
    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number that a maker builds to, with where it comes from.

    Attributes:
        key: identity from its place, as in ``left/width``.
        name: what it is, in the maker's words.
        value: the number in ``unit`` (SI).
        unit: SI unit, ``"m"``, ``"rad"``, ``"kg"``, ...
        formula: the formula in words, or for a base what it is.
        kind: reading, wish, default, table or derived; or made, once steel is cut to it.
        inputs: the quantities it is made from, in the formula's order.
        slopes: one entry for each base variable it rests on.
        note: where a base stands: the reading as typed, the source of a default or a table.
    """

    key: str
    name: str
    value: float
    unit: str
    formula: str
    kind: Kind
    inputs: tuple[Quantity, ...] = ()
    slopes: tuple[Slope, ...] = ()
    note: str = ""

    @property
    def sd(self) -> float:
        """Standard deviation [the quantity's unit], from all its bases."""
        return math.sqrt(sum((s.by * s.sd) ** 2 for s in self.slopes))

    @property
    def band(self) -> float:
        """Half-width of the 95 % band [the quantity's unit]; tolerances are not in it."""
        return BAND_95 * self.sd

    @property
    def low(self) -> float:
        """Least value the stated tolerances allow [the quantity's unit]."""
        return self.value + sum(min(s.by * s.low, s.by * s.high) for s in self.slopes)

    @property
    def high(self) -> float:
        """Greatest value the stated tolerances allow [the quantity's unit]."""
        return self.value + sum(max(s.by * s.low, s.by * s.high) for s in self.slopes)


def base(
    kind: Kind,
    key: str,
    name: str,
    value: float,
    *,
    unit: str = "m",
    sd: float = 0.0,
    low: float = 0.0,
    high: float = 0.0,
    note: str = "",
) -> Quantity:
    """Return a base quantity: something read, wished, taken by default or from a table."""
    slope = Slope(key, 1.0, sd, low, high)
    return Quantity(key, name, float(value), unit, kind, kind, slopes=(slope,), note=note)


def _joined(parts: Iterable[tuple[float, Quantity]]) -> tuple[Slope, ...]:
    """Return the slopes of a sum of quantities, each times a number."""
    by: dict[str, float] = {}
    known: dict[str, Slope] = {}
    for factor, quantity in parts:
        if factor == 0.0:
            continue
        for slope in quantity.slopes:
            by[slope.base] = by.get(slope.base, 0.0) + factor * slope.by
            known[slope.base] = slope
    return tuple(
        slope if slope.by == by[base] else Slope(base, by[base], slope.sd, slope.low, slope.high)
        for base, slope in known.items()
        if by[base] != 0.0
    )


def _derived(
    key: str,
    name: str,
    value: float,
    unit: str,
    formula: str,
    parts: Sequence[tuple[float, Quantity]],
) -> Quantity:
    inputs = tuple(quantity for _, quantity in parts)
    return Quantity(key, name, value, unit, formula, "derived", inputs, _joined(parts))


def _term(factor: float, name: str, first: bool) -> str:
    sign = ("−" if factor < 0 else "") if first else (" − " if factor < 0 else " + ")
    size = abs(factor)
    return f"{sign}{name}" if size == 1.0 else f"{sign}{size:g} × {name}"


def total(key: str, name: str, parts: Sequence[tuple[float, Quantity]]) -> Quantity:
    """Return the sum of quantities, each times a number; the unit is that of the first.

    Raises:
        ValueError: nothing to add, or quantities of different units.
    """
    if not parts:
        raise ValueError(f"{name}: nothing to add up")
    units = {quantity.unit for _, quantity in parts}
    if len(units) != 1:
        raise ValueError(f"{name}: cannot add quantities in {sorted(units)}")
    formula = "".join(_term(f, q.name, i == 0) for i, (f, q) in enumerate(parts))
    value = math.fsum(f * q.value for f, q in parts)
    return _derived(key, name, value, units.pop(), formula, parts)


def largest(key: str, name: str, of: Sequence[Quantity]) -> Quantity:
    """Return the largest of some quantities; its slopes are those of the one that governs."""
    return _extreme(key, name, of, "largest", max(of, key=lambda q: q.value))


def least(key: str, name: str, of: Sequence[Quantity]) -> Quantity:
    """Return the least of some quantities; its slopes are those of the one that governs."""
    return _extreme(key, name, of, "least", min(of, key=lambda q: q.value))


def _extreme(
    key: str, name: str, of: Sequence[Quantity], word: str, governing: Quantity
) -> Quantity:
    formula = f"the {word} of {', '.join(q.name for q in of)}: {governing.name}"
    parts = [(1.0 if q is governing else 0.0, q) for q in of]
    return _derived(key, name, governing.value, governing.unit, formula, parts)


def worked(
    key: str,
    name: str,
    formula: str,
    function: Callable[..., float],
    inputs: Sequence[Quantity],
    *,
    unit: str = "m",
) -> Quantity:
    """Return ``function`` of the inputs' values, with slopes by central differences.

    The function must be smooth within a thousandth of each input; its partial derivatives are
    then good to about nine figures, far beyond what a standard deviation needs.
    """
    values = [q.value for q in inputs]
    parts: list[tuple[float, Quantity]] = []
    for i, quantity in enumerate(inputs):
        step = 1e-6 * max(abs(quantity.value), 1e-2)
        up, down = list(values), list(values)
        up[i] += step
        down[i] -= step
        parts.append(((function(*up) - function(*down)) / (2 * step), quantity))
    return _derived(key, name, float(function(*values)), unit, formula, parts)


def linear(
    key: str,
    name: str,
    formula: str,
    value: float,
    parts: Sequence[tuple[float, Quantity]],
    *,
    unit: str = "m",
) -> Quantity:
    """Return a quantity solved elsewhere (by least squares, say) with its known slopes."""
    return _derived(key, name, value, unit, formula, parts)


def renamed(quantity: Quantity, key: str, name: str) -> Quantity:
    """Return the same quantity standing in another place: ``name`` is ``quantity``."""
    return total(key, name, [(1.0, quantity)])


def as_made(quantity: Quantity, key: str, name: str) -> Quantity:
    """Return a quantity as it is once steel is cut or set to its figure.

    From then on it no longer follows the readings: a reading that was wrong moves the opening and
    not the steel, so that a gap between them is as unsure as the opening is.
    """
    formula = f"{quantity.name}, made to the figure on the sheet"
    unit = quantity.unit
    return Quantity(key, name, quantity.value, unit, formula, "made", (quantity,), note=formula)


def walked(quantity: Quantity) -> Iterator[Quantity]:
    """Yield the quantity and all below it, each key once, inputs after what they make."""
    seen: set[str] = set()
    waiting = [quantity]
    while waiting:
        here = waiting.pop(0)
        if here.key in seen:
            continue
        seen.add(here.key)
        yield here
        waiting.extend(here.inputs)


def covariance(a: Quantity, b: Quantity) -> float:
    """Return the covariance of two quantities [unit of a × unit of b] from their shared bases."""
    of_b = {s.base: s.by for s in b.slopes}
    return sum(s.by * of_b.get(s.base, 0.0) * s.sd**2 for s in a.slopes)
