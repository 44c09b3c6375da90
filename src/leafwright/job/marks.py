"""Names of marks on the opening's outline: corners, and points along a side.

``BL BR TL TR`` are the bottom and top corners, left and right as seen from the face side.
``L@84in`` is on the left side, 84 in up it from the bottom corner; ``R@mid`` is half way up the
right side. Any other name must be a ``[[mark]]`` of the job file.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from leafwright import units
from leafwright.units import Typed

Side = Literal["left", "right"]

CORNERS: dict[str, Side] = {"BL": "left", "TL": "left", "BR": "right", "TR": "right"}

_ALONG = re.compile(r"^([LR])@(.+)$")

FORMS = "BL, BR, TL, TR, L@84in, R@mid, or the name of a [[mark]] of this file"


@dataclass(frozen=True, slots=True)
class SideMark:
    """A mark on a side, ``up`` metres along it from its bottom corner; None is half way."""

    name: str
    side: Side
    up: Typed | None


def side_mark(name: str) -> SideMark | None:
    """Return the mark on a side that a name like ``L@84in`` stands for, else None.

    Raises:
        units.UnitError: the part after ``@`` is not a length.
    """
    match = _ALONG.match(name)
    if match is None:
        return None
    side: Side = "left" if match[1] == "L" else "right"
    if match[2].strip() == "mid":
        return SideMark(name, side, None)
    return SideMark(name, side, units.read_length(match[2].strip()))


def side_of(name: str) -> Side | None:
    """Return the side of the opening that a mark stands on, by its name; None for neither."""
    if name in CORNERS:
        return CORNERS[name]
    along = side_mark(name)
    return along.side if along else None
