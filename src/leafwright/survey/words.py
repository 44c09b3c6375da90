"""What a maker calls a reading, and how far it strays, in plain words."""

from __future__ import annotations

import re

from leafwright import units
from leafwright.job import marks
from leafwright.survey.observe import Observation
from leafwright.units import Tape

_AGAIN = re.compile(r" \(reading ([0-9]+)\)$")

_FOOT = 0.3048

_CORNERS = {
    frozenset(("BL", "BR")): "the bottom width",
    frozenset(("TL", "TR")): "the top width",
    frozenset(("BL", "TL")): "the left height",
    frozenset(("BR", "TR")): "the right height",
    frozenset(("BL", "TR")): "the diagonal from bottom left to top right",
    frozenset(("BR", "TL")): "the diagonal from bottom right to top left",
}


def between(first: str, second: str) -> str:
    """Return what the distance between two marks is called: ``the width at 84in``."""
    corner = _CORNERS.get(frozenset((first, second)))
    if corner is not None:
        return corner
    sides = {name[0]: name[2:].strip() for name in (first, second) if name[1:2] == "@"}
    if len(sides) == 2 and sides.get("L") == sides.get("R"):
        up = sides["L"]
        return "the width half way up" if up == "mid" else f"the width at {up}"
    return f"the distance from {first} to {second}"


def called(seen: Observation) -> str:
    """Return what a reading is called: ``the width at 84in``, ``the level at BL``."""
    again = _AGAIN.search(seen.words)
    number = f", reading {again[1]}" if again else ""
    plain = _AGAIN.sub("", seen.words)
    if seen.assumed:
        return _taken(seen, plain)
    if seen.relation == "distance":
        return between(*seen.between) + number
    if seen.relation == "level":
        return f"the level at {seen.between[0]}{number}"
    if seen.relation == "across":
        return f"the plumb line from {seen.between[0]} to {seen.between[1]}{number}"
    if seen.relation == "up":
        return f"the rise from {seen.between[0]} to {seen.between[1]}{number}"
    return f"the {plain}{number}"


def _taken(seen: Observation, plain: str) -> str:
    if seen.relation == "straight":
        side = marks.side_of(seen.between[0])
        return f"the straightness taken for the {side} side at {seen.between[0]}"
    if seen.relation == "distance":
        return f"the height taken for {seen.between[1]}"
    if seen.relation == "middle":
        return f"the height taken for {seen.between[0]}"
    return f"what is taken for {plain}"


def amount(metres: float, tape: Tape) -> str:
    """Return the size of an error as the tape shows it: ``1 in``, ``under 1/16 in``, ``25 mm``.

    Args:
        metres: the error; its sign is left off [m].
        tape: the maker's tape.
    """
    size = abs(metres)
    if units.rounded_to_tape(size, tape) == 0:
        return f"under {_with_unit(float(tape.step), tape)}"
    return _with_unit(size, tape)


def _with_unit(size: float, tape: Tape) -> str:
    if tape.system == "mm":
        return units.show_length(size, tape)
    if tape.system == "feet-inch" and float(units.rounded_to_tape(size, tape)) >= _FOOT - 1e-9:
        return units.show_length(size, tape)
    return f"{units.show_length(size, tape, unit=False)} in"


def strays(seen: Observation, error: float, tape: Tape) -> str:
    """Return how far a reading is out: ``about 1 in long``, ``about 3/8 in too high``.

    Args:
        seen: the reading.
        error: read − what fits [m].
        tape: the maker's tape.
    """
    if seen.relation == "distance":
        which = "long" if error > 0.0 else "short"
    elif seen.relation == "level" or seen.words.startswith("floor "):
        which = "too high" if error > 0.0 else "too low"
    else:
        which = "too much" if error > 0.0 else "too little"
    size = amount(error, tape)
    return f"{size} {which}" if size.startswith("under") else f"about {size} {which}"


def assumption_fails(seen: Observation, error: float, tape: Tape) -> str:
    """Return in words that what was assumed of a side does not hold: ``the left side …``.

    Args:
        seen: the assumption.
        error: assumed − what fits [m].
        tape: the maker's tape.
    """
    size = amount(error, tape)
    about = size if size.startswith("under") else f"about {size}"
    if seen.relation == "straight":
        side = marks.side_of(seen.between[0]) or "this"
        # What fits is minus the error, and counts to the right, looking up the side.
        way = "left" if error > 0.0 else "right"
        return f"the {side} side is {about} out of straight at {seen.between[0]}, to the {way}"
    if seen.relation == "distance":
        way = "lower" if error > 0.0 else "higher"
        return f"{seen.between[1]} is {about} {way} than its name says"
    way = "above" if error < 0.0 else "below"
    return f"{seen.between[0]} is {size} {way} half way up"
