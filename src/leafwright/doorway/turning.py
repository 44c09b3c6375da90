"""The gap between a shape that turns in the plane and one that stands, or turns back as it turns.

Shapes are unions of convex pieces; points are complex numbers about the first shape's axis. The
first shape's points m stand at m e^(iθ). The other's stand still, or, as the mate of a pair that
opens with it, at D + w e^(−iθ) about its own axis D. Then the distance of a corner to the line
of an edge, and the square of the distance between two corners, are Re(a₂ e^(2iθ) + a₁ e^(iθ)) +
a₀: where it is least and where it is nothing follows in closed form, or as the roots of a
quartic, and no grid of angles can step over it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize_scalar

from leafwright.records import Metres, Radians

#: Angles at which pairs of corners and edges are compared before the few near ones are solved.
STEPS = 180


@dataclass(frozen=True, slots=True)
class Shape:
    """A union of convex pieces: all corners one after another, and where each piece starts.

    ``ends`` is the other end of the edge that begins at each corner; edges run counter-clockwise.
    """

    corners: np.ndarray
    ends: np.ndarray
    starts: np.ndarray

    @property
    def reach(self) -> float:
        """Return how far its farthest corner is from the axis [m]."""
        return float(np.abs(self.corners).max())


@dataclass(frozen=True, slots=True)
class Nearest:
    """The least gap over a turn [m], its angle [rad], and where the shapes first touch, if they do.

    Where they overlap the gap is negative: the least shift that would part the pieces that lie
    deepest in each other.
    """

    gap: Metres
    angle: Radians
    contact: Radians | None


def shape(pieces: Sequence[Sequence[complex]]) -> Shape:
    """Return the shape made of convex pieces, each turned counter-clockwise if it is not."""
    corners: list[complex] = []
    ends: list[complex] = []
    starts: list[int] = []
    for piece in pieces:
        ring = list(piece)
        area = sum((a.conjugate() * b).imag for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
        if area < 0:
            ring.reverse()
        starts.append(len(corners))
        corners += ring
        ends += ring[1:] + ring[:1]
    return Shape(np.array(corners), np.array(ends), np.array(starts))


def _measured(points: np.ndarray, corners: np.ndarray, ends: np.ndarray) -> tuple[np.ndarray, ...]:
    """Return offsets outward of edges, and squared distances to them; arrays that broadcast."""
    edge = ends - corners
    length = np.abs(edge)
    from_corner = (points - corners) * np.conj(edge / length)
    return _from_line(-from_corner.imag, from_corner.real, length)


def _from_line(
    out: np.ndarray, along: np.ndarray, length: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    beyond = np.maximum(np.maximum(-along, along - length), 0.0)
    return out, out * out + beyond * beyond


def _to_edges(points: np.ndarray, edges: Shape) -> tuple[np.ndarray, np.ndarray]:
    """Return the same of every point to every edge of a shape: shape (…, edges).

    Two products of matrices: a curve asks for tens of thousands of these.
    """
    edge = edges.ends - edges.corners
    length = np.abs(edge)
    unit = edge / length
    start = edges.corners * np.conj(unit)
    flat = np.stack((points.real.ravel(), points.imag.ravel()), axis=1)
    along = flat @ np.stack((unit.real, unit.imag)) - start.real
    out = flat @ np.stack((unit.imag, -unit.real)) + start.imag
    shaped = (*points.shape, len(edges.corners))
    return _from_line(out.reshape(shaped), along.reshape(shaped), length)


def _moved(
    first: Shape, other: Shape, angles: np.ndarray, mate: complex | None
) -> tuple[np.ndarray, np.ndarray]:
    """Return the first's corners as the other sees them, and the other's as the first does.

    Both are arrays of shape (angles, corners).
    """
    turn = np.exp(1j * angles)[:, None]
    if mate is None:
        return first.corners * turn, other.corners * np.conj(turn)
    return (
        (first.corners * turn - mate) * turn,
        (mate + other.corners * np.conj(turn)) * np.conj(turn),
    )


def gaps(
    first: Shape,
    other: Shape,
    angles: np.ndarray,
    *,
    mate: complex | None = None,
    known_apart: bool = False,
) -> np.ndarray:
    """Return the gap between two shapes at each angle [m]; negative where they overlap.

    Args:
        first: the shape that turns, about the origin.
        other: what stands still; or the mate, about its own axis.
        angles: how far the first has turned, counter-clockwise [rad]; shape (n,).
        mate: the mate's axis, where the other turns back by the same angle.
        known_apart: they are known not to overlap at any of the angles, which is quicker.
    """
    of_first, of_other = _moved(first, other, angles, mate)
    out_1, square_1 = _to_edges(of_first, other)
    out_2, square_2 = _to_edges(of_other, first)
    distance: np.ndarray = np.sqrt(np.minimum(square_1.min(axis=(1, 2)), square_2.min(axis=(1, 2))))
    if known_apart:
        return distance
    # Two convex pieces overlap where no edge of either has the whole of the other outside it.
    apart_1 = np.maximum.reduceat(
        np.minimum.reduceat(out_1, first.starts, axis=1), other.starts, axis=2
    )
    apart_2 = np.maximum.reduceat(
        np.minimum.reduceat(out_2, other.starts, axis=1), first.starts, axis=2
    )
    apart = np.maximum(apart_1, apart_2.transpose(0, 2, 1)).min(axis=(1, 2))
    return np.where(apart < 0.0, apart, distance)


def point_gaps(first: Shape, point: complex, angles: np.ndarray) -> np.ndarray:
    """Return the gap between the turning shape and a point at each angle [m]; 0 inside it."""
    seen = point * np.exp(-1j * angles)
    out, square = _to_edges(seen, first)
    inside = np.maximum.reduceat(out, first.starts, axis=1).min(axis=1) < 0.0
    found: np.ndarray = np.where(inside, 0.0, np.sqrt(square.min(axis=1)))
    return found


def _quartic_angles(
    fourth: np.ndarray, third: np.ndarray, second: np.ndarray, mirrored: float
) -> np.ndarray:
    """Return the angles of the unit roots of z⁴a + z³b + z²c ± (z b̄ + ā) = 0; NaN elsewhere."""
    count = len(fourth)
    if count == 0:
        return np.empty((0, 4))
    companion = np.zeros((count, 4, 4), dtype=complex)
    companion[:, 1, 0] = companion[:, 2, 1] = companion[:, 3, 2] = 1.0
    tail = [mirrored * np.conj(fourth), mirrored * np.conj(third), second, third]
    for row, coefficient in enumerate(tail):
        companion[:, row, 3] = -coefficient / fourth
    roots = np.linalg.eigvals(companion)
    # A double root, where edges only graze, is found to the square root of rounding.
    return np.where(np.abs(np.abs(roots) - 1.0) < 1e-6, np.angle(roots), np.nan)


def _flat(once: np.ndarray, twice: np.ndarray) -> np.ndarray:
    """Return where Re(twice e^(2iθ) + once e^(iθ)) is flat, up to four angles each [rad]."""
    angles = np.full((len(once), 4), np.nan)
    plain = np.abs(twice) < 1e-12
    angles[plain, 0] = -np.angle(once[plain])
    angles[plain, 1] = np.pi - np.angle(once[plain])
    b = ~plain
    angles[b] = _quartic_angles(2 * twice[b], once[b], np.zeros(int(b.sum())), -1.0)
    return angles


def _nothing(constant: np.ndarray, once: np.ndarray, twice: np.ndarray) -> np.ndarray:
    """Return where Re(twice e^(2iθ) + once e^(iθ)) + constant is nothing [rad]."""
    angles = np.full((len(once), 4), np.nan)
    plain = np.abs(twice) < 1e-12
    size = np.abs(once[plain])
    with np.errstate(divide="ignore", invalid="ignore"):
        spread = np.arccos(-constant[plain] / size)
    angles[plain, 0] = -np.angle(once[plain]) - spread
    angles[plain, 1] = -np.angle(once[plain]) + spread
    b = ~plain
    angles[b] = _quartic_angles(twice[b], once[b], 2 * constant[b], 1.0)
    return angles


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Corners of one shape beside edges of the other, flat arrays: the waves that they follow.

    ``of_first`` says whether the corner is the turning shape's. ``line`` is the wave (constant,
    once, twice) of the offset from the edge's line, ``dot`` that of the squared distance from the
    corner at which the edge begins.
    """

    of_first: bool
    corner: np.ndarray
    begin: np.ndarray
    end: np.ndarray
    line: tuple[np.ndarray, np.ndarray, np.ndarray]
    dot: tuple[np.ndarray, np.ndarray]


def _pairs(
    of_first: bool, corners: np.ndarray, begin: np.ndarray, end: np.ndarray, mate: complex | None
) -> _Pairs:
    edge = end - begin
    normal = -1j * edge / np.abs(edge)
    constant = -(np.conj(normal) * begin).real
    wave = np.conj(normal) * corners if of_first else normal * np.conj(corners)
    first, other = (corners, begin) if of_first else (begin, corners)
    dot = -2 * first * np.conj(other)
    if mate is None:
        nothing = np.zeros(len(corners), dtype=complex)
        return _Pairs(of_first, corners, begin, end, (constant, wave, nothing), (dot, nothing))
    once = -np.conj(normal) * mate if of_first else normal * np.conj(mate)
    dot_once = -2 * first * np.conj(mate) + 2 * mate * np.conj(other)
    return _Pairs(of_first, corners, begin, end, (constant, once, wave), (dot_once, dot))


def _at(pairs: _Pairs, angles: np.ndarray, mate: complex | None) -> tuple[np.ndarray, np.ndarray]:
    """Return offsets and distances of each pair at its own angles, shape (pairs, angles)."""
    turn = np.exp(1j * angles)
    corner = pairs.corner[:, None]
    if pairs.of_first:
        seen = corner * turn if mate is None else (corner * turn - mate) * turn
    else:
        back = np.conj(turn)
        seen = corner * back if mate is None else (mate + corner * back) * back
    out, square = _measured(seen, pairs.begin[:, None], pairs.end[:, None])
    return out, np.sqrt(square)


def _within(angles: np.ndarray, upto: float) -> np.ndarray:
    """Return angles brought into one turn from nothing, NaN where past ``upto`` [rad]."""
    turned = np.mod(angles, 2 * np.pi)
    return np.where(turned <= upto, turned, np.nan)


def _near_pairs(
    first: Shape, other: Shape, upto: float, to: float, mate: complex | None
) -> list[_Pairs]:
    """Return the pairs of corner and edge that may be nearest up to one angle, or touch to another.

    Against what stands still every pair is solved. Between two that turn, a distance changes no
    faster than their reaches together allow; so pairs that stay far at all steps are left out.
    """
    kept = [
        np.ones((len(first.corners), len(other.corners)), bool),
        np.ones((len(other.corners), len(first.corners)), bool),
    ]
    if mate is not None:
        angles = np.linspace(0.0, to, STEPS + 1)
        slack = (first.reach + other.reach) * float(angles[1]) / 2
        so_far = angles <= upto
        near = []
        for points, edges in zip(_moved(first, other, angles, mate), (other, first), strict=True):
            _, square = _to_edges(points, edges)
            near.append(np.sqrt(square))
        best = min(float(distances[so_far].min()) for distances in near)
        kept = [distances.min(axis=0) - slack <= best for distances in near]
    found = []
    for of_first, keep, points, edges in (
        (True, kept[0], first.corners, other),
        (False, kept[1], other.corners, first),
    ):
        at, edge = np.nonzero(keep)
        found.append(_pairs(of_first, points[at], edges.corners[edge], edges.ends[edge], mate))
    return found


def _first_contact(pairs: list[_Pairs], upto: float, mate: complex | None) -> float | None:
    """Return the first angle at which a corner stands on an edge [rad], if any does."""
    first = np.inf
    for some in pairs:
        angles = _within(_nothing(*some.line), upto)
        if angles.size == 0:
            continue
        _, distance = _at(some, angles, mate)
        touching = np.where(np.isnan(angles) | (distance > 1e-9), np.inf, angles)
        first = min(first, float(touching.min()))
    return first if first <= upto else None


def nearest(
    first: Shape,
    other: Shape,
    upto: float,
    *,
    to: float | None = None,
    mate: complex | None = None,
) -> Nearest:
    """Return the least gap while a shape turns from 0 to an angle, and the first contact.

    The gap is exact but for rounding while the shapes stay apart, as is the angle of contact;
    how deep they then overlap is searched for round the deepest of `STEPS` steps.

    Args:
        first: the shape that turns counter-clockwise, about the origin.
        other: what stands still; or the mate, about its own axis.
        upto: how far it turns [rad], not negative and under a full turn.
        to: how far on a contact is looked for, ``upto`` or more; as far as ``upto`` if left out.
        mate: the mate's axis, where the other turns back by the same angle.

    Raises:
        ValueError: an angle is out of its range.
    """
    to = upto if to is None else to
    found = _apart(first, other, upto, to, mate)
    if found.contact is None or found.contact > upto:
        return found
    return _deepest(first, other, upto, mate, found.contact)


def least_apart(
    first: Shape, other: Shape, upto: float, *, mate: complex | None = None
) -> float | None:
    """Return the least gap of `nearest` [m], or None where the shapes touch: quicker where so."""
    found = _apart(first, other, upto, upto, mate)
    return found.gap if found.contact is None else None


def _apart(first: Shape, other: Shape, upto: float, to: float, mate: complex | None) -> Nearest:
    """Return the least gap up to one angle, where no contact up to another comes before it."""
    if not 0.0 <= upto <= to < 2 * np.pi:
        raise ValueError(
            f"a turn of {upto!r} rad, and {to!r} rad for a contact, cannot be followed; give "
            "angles from 0 to under 2π, the second no less than the first"
        )
    at_ends = gaps(first, other, np.array([0.0, upto]), mate=mate)
    if at_ends[0] <= 0.0:
        return Nearest(float(at_ends[0]), 0.0, 0.0)
    pairs = _near_pairs(first, other, upto, to, mate)
    contact = _first_contact(pairs, to, mate)
    if contact is not None and contact <= upto:
        return Nearest(0.0, contact, contact)
    gap, angle = float(at_ends[0]), 0.0
    if at_ends[1] < gap:
        gap, angle = float(at_ends[1]), upto
    for some in pairs:
        _, once, twice = some.line
        flat = np.concatenate((_flat(once, twice), _flat(*some.dot)), axis=1)
        angles = _within(flat, upto)
        if angles.size == 0:
            continue
        _, distance = _at(some, angles, mate)
        distance = np.where(np.isnan(angles), np.inf, distance)
        i, j = np.unravel_index(int(distance.argmin()), distance.shape)
        if distance[i, j] < gap:
            gap, angle = float(distance[i, j]), float(angles[i, j])
    return Nearest(gap, angle, contact)


def _deepest(
    first: Shape, other: Shape, upto: float, mate: complex | None, contact: float
) -> Nearest:
    angles = np.unique(np.append(np.linspace(0.0, upto, STEPS + 1), contact))
    found = gaps(first, other, angles, mate=mate)
    i = int(found.argmin())
    low, high = float(angles[max(i - 1, 0)]), float(angles[min(i + 1, len(angles) - 1)])
    gap, angle = float(found[i]), float(angles[i])
    if high > low:
        better = minimize_scalar(
            lambda at: float(gaps(first, other, np.array([at]), mate=mate)[0]),
            bounds=(low, high),
            method="bounded",
            options={"xatol": 1e-9},
        )
        if better.fun < gap:
            gap, angle = float(better.fun), float(better.x)
    return Nearest(min(gap, 0.0), angle, contact)
