"""Names of places: marks on the opening's outline, and places on a leaf's.

``BL BR TL TR`` are the bottom and top corners, left and right as seen from the face side.
``L@84in`` is on the left side, 84 in up it from the bottom corner; ``R@mid`` is half way up the
right side. Any other name must be a ``[[mark]]`` of the job file.

A leaf's corners are ``bottom hinge``, ``top hinge``, ``bottom closing`` and ``top closing``.
``hinge@84in`` is up the hinge edge, 84 in from its bottom corner; ``top@mid`` is half way along
the top edge, which is measured from the hinge edge, as the bottom edge is.
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


Edge = Literal["hinge", "closing", "bottom", "top"]

#: The corners of a leaf, and the edges that meet there: upright, level.
LEAF_CORNERS: dict[str, tuple[Edge, Edge]] = {
    "bottom hinge": ("hinge", "bottom"),
    "top hinge": ("hinge", "top"),
    "bottom closing": ("closing", "bottom"),
    "top closing": ("closing", "top"),
}

_ON_EDGE = re.compile(r"^(hinge|closing|bottom|top)@(.+)$")

LEAF_FORMS = (
    "bottom hinge, top hinge, bottom closing, top closing, hinge@84in, closing@mid, top@mid"
)


@dataclass(frozen=True, slots=True)
class LeafMark:
    """A place on a leaf's outline.

    ``edges`` are those it lies on: two at a corner, else one. ``along`` is how far along the edge
    it is, from the bottom or from the hinge edge; None half way and at a corner.
    """

    name: str
    edges: tuple[Edge, ...]
    along: Typed | None


def leaf_mark(name: str) -> LeafMark | None:
    """Return the place on a leaf that a name like ``hinge@84in`` stands for, else None.

    Raises:
        units.UnitError: the part after ``@`` is not a length, or one below nothing.
    """
    if name in LEAF_CORNERS:
        return LeafMark(name, LEAF_CORNERS[name], None)
    match = _ON_EDGE.match(name)
    if match is None:
        return None
    edge: Edge = next(e for e in ("hinge", "closing", "bottom", "top") if e == match[1])
    if match[2].strip() == "mid":
        return LeafMark(name, (edge,), None)
    along = units.read_length(match[2].strip())
    if along.exact < 0:
        raise units.UnitError(f"length {along.text!r}: a place along an edge is 0 or more")
    return LeafMark(name, (edge,), along)
