"""The fit-up pad: readings of a leaf lying on its stands, and the shape that fits them best.

The leaf's own axes: u from the hinge edge to the closing edge, v from the bottom to the top, w up
from the pad. Its four corners lie anywhere; each edge bows between its corners as a parabola. A
distance is between any two places on the edges, a string shows how far an edge stands outside the
straight line of its ends, a level how high a corner stands. Nothing is assumed of the shape: what
the readings leave loose stays unknown.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from leafwright.records import Metres, read_only
from leafwright.site import squares
from leafwright.site.squares import Compared

CORNERS = ("bottom hinge", "bottom closing", "top hinge", "top closing")

#: Each edge: its first and last corner, and on which side of the way from one to the other the
#: outside lies (1 left, −1 right).
EDGES = {
    "hinge edge": (0, 2, 1.0),
    "closing edge": (1, 3, -1.0),
    "bottom edge": (0, 1, -1.0),
    "top edge": (2, 3, 1.0),
}

Kind = Literal["distance", "string", "level"]

#: Unknowns in the leaf's plane: u and v of each corner, then the bow of each edge.
PLANE = 2 * len(CORNERS) + len(EDGES)

#: How a twist follows the heights of the corners: the fourth's height over the plane of the rest.
TWIST = read_only(np.array([1.0, -1.0, -1.0, 1.0]))

#: Rounds of least squares, and the step at which they have settled [m].
ROUNDS = 30
SETTLED = 1e-11

_STEP = 1e-6


@dataclass(frozen=True, slots=True)
class PadReading:
    """One reading of a leaf on the pad, as the maker took it.

    Attributes:
        kind: ``distance`` between two places; ``string``, how far an edge stands outside a string
            along its two corners (negative where it is hollow); ``level``, how high a corner
            stands over any level plane, the same for all.
        from_: a corner (``"top hinge"``) or an edge (``"hinge edge"``).
        to: the other place of a distance; empty otherwise.
        at: where on each edge named, from its bottom or its hinge end; None at its middle [m].
        value: what was read [m].
        sd: its standard deviation [m].
        words: what the maker calls it; made from the places where empty.
        at_to: where along the edge ``to`` is, where that is not ``at`` [m].
    """

    kind: Kind
    from_: str
    to: str = ""
    at: Metres | None = None
    value: Metres = 0.0
    sd: Metres = 0.0015
    words: str = ""
    at_to: Metres | None = None


@dataclass(frozen=True, slots=True)
class PadFit:
    """The shape that fits the readings best.

    Attributes:
        plane: u and v of the corners, then bows of the edges, outward positive [m].
        plane_covariance: of these [m2]; plane_loose: what no reading sees of them [-].
        heights: w of the corners [m]; heights_covariance, heights_loose: as above.
        readings: every reading beside its fit, in the order given.
        freedom: readings more than what they fix.
    """

    plane: np.ndarray
    plane_covariance: np.ndarray
    plane_loose: np.ndarray
    heights: np.ndarray
    heights_covariance: np.ndarray
    heights_loose: np.ndarray
    readings: tuple[Compared, ...]
    freedom: int


def reading_words(reading: PadReading) -> str:
    """Return what a reading is, in the maker's words."""
    if reading.words:
        return reading.words
    if reading.kind == "string":
        return f"the string along the {reading.from_}"
    names = [f"{e} corner" if e in CORNERS else e for e in (reading.from_, reading.to) if e]
    if reading.kind == "level":
        return f"the height of the {names[0] if names else 'corner'}"
    return " to ".join(names)


def _place_problem(name: str, allowed: Sequence[str]) -> str:
    close = difflib.get_close_matches(name, allowed, n=1)
    nearest = f"; the nearest is {close[0]!r}" if close else ""
    return f"{name!r} is not one of {', '.join(allowed)}{nearest}"


def problems(readings: Sequence[PadReading], width: float, height: float) -> tuple[str, ...]:
    """Return everything that is wrong with readings, in words; empty where all can be used."""
    found = []
    for number, reading in enumerate(readings, start=1):
        start = f"reading {number} ({reading_words(reading)})"
        if reading.kind not in ("distance", "string", "level"):
            found.append(f"{start}: kind {reading.kind!r}: use distance, string or level")
            continue
        places = {
            "distance": [*CORNERS, *EDGES],
            "string": list(EDGES),
            "level": list(CORNERS),
        }[reading.kind]
        ends = [reading.from_] + ([reading.to] if reading.kind == "distance" else [])
        wrong = [_place_problem(e, places) for e in ends if e not in places]
        found += [f"{start}: place {w}" for w in wrong]
        if reading.kind == "distance" and reading.from_ == reading.to:
            found.append(f"{start}: both ends are the same place: give two places")
        if not math.isfinite(reading.value):
            found.append(f"{start}: value {reading.value!r}: give the length read")
        elif reading.kind == "distance" and reading.value <= 0.0:
            found.append(f"{start}: value {reading.value!r} m: a distance is more than nothing")
        if not (math.isfinite(reading.sd) and reading.sd > 0.0):
            found.append(f"{start}: sd {reading.sd!r} m: say how well it was read, more than 0")
        for end, place in zip(ends, _places(reading), strict=False):
            if end not in EDGES or place is None:
                continue
            long = height if end in ("hinge edge", "closing edge") else width
            if not 0.0 <= place <= long:
                found.append(
                    f"{start}: at {place!r} m along the {end}, which is {long!r} m long: "
                    "measure from its bottom or hinge end"
                )
    return tuple(found)


def _places(reading: PadReading) -> tuple[float | None, float | None]:
    """Return where along their edges the two ends of a reading are [m]."""
    return reading.at, reading.at if reading.at_to is None else reading.at_to


def _share(place: float | None, edge: str, width: float, height: float) -> float:
    if place is None:
        return 0.5
    return place / (height if edge in ("hinge edge", "closing edge") else width)


def edge_point(plane: np.ndarray, edge: str, share: float) -> np.ndarray:
    """Return the place on a bowed edge, as u and v [m].

    Args:
        plane: the unknowns in the leaf's plane [m].
        edge: the edge's name.
        share: part of the way along it, 0 to 1 [-].
    """
    first, last, side = EDGES[edge]
    a, b = plane[2 * first : 2 * first + 2], plane[2 * last : 2 * last + 2]
    way = b - a
    outward = side * np.array([-way[1], way[0]]) / math.hypot(way[0], way[1])
    bow = plane[2 * len(CORNERS) + list(EDGES).index(edge)]
    return np.asarray(a + share * way + bow * 4.0 * share * (1.0 - share) * outward)


def _end(
    plane: np.ndarray, heights: np.ndarray, name: str, share: float
) -> tuple[np.ndarray, float]:
    if name in CORNERS:
        index = CORNERS.index(name)
        return plane[2 * index : 2 * index + 2], float(heights[index])
    first, last, _ = EDGES[name]
    height = (1.0 - share) * heights[first] + share * heights[last]
    return edge_point(plane, name, share), float(height)


def predicted(
    reading: PadReading, plane: np.ndarray, heights: np.ndarray, width: float, height: float
) -> float:
    """Return what a reading should be on a leaf of this shape [m].

    Args:
        reading: the reading; a level is over the plane from which ``heights`` are.
        plane: unknowns in the leaf's plane [m].
        heights: w of the corners [m].
        width: designed width, of which ``at`` is a part on the bottom and top edges [m].
        height: designed height, of which it is a part on the others [m].
    """
    if reading.kind == "level":
        return float(heights[CORNERS.index(reading.from_)])
    if reading.kind == "string":
        share = _share(reading.at, reading.from_, width, height)
        bow = plane[2 * len(CORNERS) + list(EDGES).index(reading.from_)]
        return float(bow * 4.0 * share * (1.0 - share))
    ends = [
        _end(plane, heights, name, _share(place, name, width, height))
        for name, place in zip((reading.from_, reading.to), _places(reading), strict=True)
    ]
    across = ends[1][0] - ends[0][0]
    return math.hypot(float(across[0]), float(across[1]), ends[1][1] - ends[0][1])


def designed(width: float, height: float) -> np.ndarray:
    """Return the unknowns in the plane of a perfect leaf [m]."""
    corners = [0.0, 0.0, width, 0.0, 0.0, height, width, height]
    return np.array(corners + [0.0] * len(EDGES))


def slopes_of(function: Callable[[np.ndarray], float], at: np.ndarray) -> np.ndarray:
    """Return how a number follows each unknown, by central differences [number's unit / m]."""
    found = np.zeros(len(at))
    for i in range(len(at)):
        step = np.zeros(len(at))
        step[i] = _STEP
        found[i] = (function(at + step) - function(at - step)) / (2.0 * _STEP)
    return found


def plane_rows(
    readings: Sequence[PadReading],
    plane: np.ndarray,
    heights: np.ndarray,
    width: float,
    height: float,
) -> np.ndarray:
    """Return how readings follow the unknowns in the plane [-], readings × unknowns.

    That a distance follows the corners' heights too is left to the readings of the heights: half
    an inch in one corner moves a diagonal by less than a thousandth.
    """
    rows = np.zeros((len(readings), PLANE))
    for i, reading in enumerate(readings):
        told = partial(_in_plane, reading=reading, heights=heights, size=(width, height))
        rows[i] = slopes_of(told, plane)
    return rows


def _in_plane(
    plane: np.ndarray, reading: PadReading, heights: np.ndarray, size: tuple[float, float]
) -> float:
    return predicted(reading, plane, heights, size[0], size[1])


def height_rows(readings: Sequence[PadReading]) -> np.ndarray:
    """Return how levels follow the corners' heights [-], readings × corners."""
    rows = np.zeros((len(readings), len(CORNERS)))
    for i, reading in enumerate(readings):
        rows[i, CORNERS.index(reading.from_)] = 1.0
    return rows


def out_of_plane(heights: np.ndarray) -> np.ndarray:
    """Return the corners' heights over the flat plane nearest to them [m]."""
    return float(TWIST @ heights) / 4.0 * TWIST


def fitted(readings: Sequence[PadReading], width: float, height: float) -> PadFit:
    """Return the shape that fits the readings best.

    Args:
        readings: what was read.
        width: designed width of the leaf, where the search starts [m].
        height: designed height of the leaf [m].

    Raises:
        ValueError: readings that cannot be used, all named at once.
    """
    wrong = problems(readings, width, height)
    if wrong:
        raise ValueError("the pad's readings cannot be used:\n" + "\n".join(wrong))
    levels = [r for r in readings if r.kind == "level"]
    flat = [r for r in readings if r.kind != "level"]
    rise = squares.fit(
        height_rows(levels), np.array([r.value for r in levels]), np.array([r.sd for r in levels])
    )
    heights = rise.values
    # The leaf's plane is tilted with the pad; only what stands out of it lengthens a distance.
    twisted = (
        out_of_plane(heights) if squares.is_known(TWIST, rise.loose) else np.zeros(len(CORNERS))
    )
    sds = np.array([r.sd for r in flat])
    plane = designed(width, height)
    for _ in range(ROUNDS):
        rows = plane_rows(flat, plane, twisted, width, height)
        misfit = np.array([r.value - predicted(r, plane, twisted, width, height) for r in flat])
        shape = squares.fit(rows, misfit, sds)
        plane = plane + shape.values
        if float(np.max(np.abs(shape.values))) < SETTLED:
            break
    ranks = (
        PLANE - shape.loose.shape[1],
        len(CORNERS) - rise.loose.shape[1],
    )
    of_level = iter(zip(rise.residuals, rise.redundancy, strict=True))
    of_flat = iter(zip(shape.residuals, shape.redundancy, strict=True))
    beside = []
    for reading in readings:
        residual, redundancy = next(of_level if reading.kind == "level" else of_flat)
        words = reading_words(reading)
        beside.append(
            squares.compared(words, reading.value, reading.sd, float(residual), float(redundancy))
        )
    return PadFit(
        plane=read_only(plane),
        plane_covariance=shape.covariance,
        plane_loose=shape.loose,
        heights=heights,
        heights_covariance=rise.covariance,
        heights_loose=rise.loose,
        readings=tuple(beside),
        freedom=len(readings) - sum(ranks),
    )


def _corner(plane: np.ndarray, index: int) -> np.ndarray:
    return plane[2 * index : 2 * index + 2]


def mean_edges(plane: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return the mean of bottom and top edge, and of hinge and closing edge, as vectors [m].

    Their sum and their difference are the two diagonals, exactly.
    """
    bh, bc, th, tc = (_corner(plane, i) for i in range(4))
    return (bc - bh + tc - th) / 2.0, (th - bh + tc - bc) / 2.0


def edge_length(plane: np.ndarray, edge: str) -> float:
    """Return the length of an edge, corner to corner [m]."""
    first, last, _ = EDGES[edge]
    return float(np.linalg.norm(_corner(plane, last) - _corner(plane, first)))


def diagonals(plane: np.ndarray) -> tuple[float, float]:
    """Return the diagonals from the bottom hinge corner and from the bottom closing corner [m]."""
    across, up = mean_edges(plane)
    return float(np.linalg.norm(across + up)), float(np.linalg.norm(up - across))


def lean_over_height(plane: np.ndarray, width: float | None = None) -> float:
    """Return how far the top leans to the closing edge [m]: (d₁² − d₂²) / (4 × width), exactly.

    Args:
        plane: unknowns in the leaf's plane [m].
        width: the width to go by; that of the plane where not given [m].
    """
    across, up = mean_edges(plane)
    return float(across @ up) / (float(np.linalg.norm(across)) if width is None else width)


def rack_angle(plane: np.ndarray) -> float:
    """Return the angle of the mean upright from square, top to the closing edge positive [rad]."""
    across, up = mean_edges(plane)
    return math.asin(float(across @ up / (np.linalg.norm(across) * np.linalg.norm(up))))


def size_over(plane: np.ndarray, edges: tuple[str, str], size: float) -> float:
    """Return how much the mean of two edges is over a size [m]."""
    return (edge_length(plane, edges[0]) + edge_length(plane, edges[1])) / 2.0 - size


def longer(plane: np.ndarray, edges: tuple[str, str]) -> float:
    """Return how much the first of two edges is longer than the second [m]."""
    return edge_length(plane, edges[0]) - edge_length(plane, edges[1])


def bow(plane: np.ndarray, edge: str) -> float:
    """Return how far the middle of an edge stands outside the line of its corners [m]."""
    return float(plane[2 * len(CORNERS) + list(EDGES).index(edge)])
