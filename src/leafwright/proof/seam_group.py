"""The seams round one end as a weld group: lines in space, and what each carries in every case.

Coordinates of a group are the member's own: x along it from start to end, y to the left of that
in the leaf's plane, z toward the viewer; from the point of its centre line nearest to the middle
of its seams. Forces are what the member puts on the wall.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from leafwright.frame.element import Floats
from leafwright.handbook.weld_space import Line3, SpaceProperties, space_properties
from leafwright.proof.seam_parts import Piece, WeldedEnd
from leafwright.proof.seam_sizes import Size, Welding, size_of
from leafwright.records import Metres, NewtonsPerMetre, Point2, Point3

#: Of a moment, what a group may leave over through rounding [-].
_LEFT_OVER = 1e-6


@dataclass(frozen=True, slots=True)
class Bead:
    """One counted line of a weld group: the piece it belongs to, its ends, what it may have.

    ``piece`` is the number of the piece among its end's.
    """

    piece: int
    line: Line3
    holds: NewtonsPerMetre


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """The counted seams round one end.

    ``origin`` is on the member's centre line in the leaf's plane; ``sizes`` is one a piece.
    """

    end: WeldedEnd
    origin: Point2
    sizes: tuple[Size, ...]
    beads: tuple[Bead, ...]
    properties: SpaceProperties | None


def group_of(end: WeldedEnd, welding: Welding) -> Group:
    """Return the weld group round an end; without properties where none of its seams counts."""
    origin = _origin(end)
    sizes = tuple(size_of(piece, end, welding) for piece in end.pieces)
    beads = tuple(
        Bead(number, line, size.holds)
        for number, (piece, size) in enumerate(zip(end.pieces, sizes, strict=True))
        if size.counts
        for line in _lines(end, origin, piece, size.width)
    )
    if not beads:
        return Group(end, origin, sizes, (), None)
    properties = space_properties([b.line for b in beads])
    return Group(end, origin, sizes, beads, properties)


def _origin(end: WeldedEnd) -> Point2:
    """Return the point of the member's centre line nearest to the middle of its seams."""
    member = end.member
    weights = [piece.length for piece in end.pieces]
    middle = [
        sum(w * (p.start[i] + p.end[i]) / 2 for w, p in zip(weights, end.pieces, strict=True))
        / sum(weights)
        for i in (0, 1)
    ]
    s = sum((middle[i] - member.foot[i]) * member.direction[i] for i in (0, 1))
    return (
        member.foot[0] + s * member.direction[0],
        member.foot[1] + s * member.direction[1],
    )


def _local(end: WeldedEnd, origin: Point2, at: Point3) -> Point3:
    (x, y), (dx, dy) = (at[0] - origin[0], at[1] - origin[1]), end.member.direction
    return (x * dx + y * dy, y * dx - x * dy, at[2])


def _lines(end: WeldedEnd, origin: Point2, piece: Piece, width: Metres | None) -> tuple[Line3, ...]:
    """Return the line of a piece, or the two ends of it that carry."""
    a, b = _local(end, origin, piece.start), _local(end, origin, piece.end)
    if width is None:
        return ((a, b),)
    share = 0.5 * width / piece.length
    step = tuple(share * (b[i] - a[i]) for i in range(3))
    return (
        (a, (a[0] + step[0], a[1] + step[1], a[2] + step[2])),
        ((b[0] - step[0], b[1] - step[1], b[2] - step[2]), b),
    )


def on_the_wall(end: WeldedEnd, internal: Floats) -> tuple[Floats, Floats]:
    """Return the force and moment (…, 3) that a member puts on the wall, in its own axes.

    ``internal`` (…, 6) are its internal forces there, as in `leafwright.frame.forces`. At the
    member's start it is the part beyond, which is the member, that exerts them.
    """
    sign = -1.0 if end.at_end else 1.0
    return sign * internal[..., :3], sign * internal[..., 3:]


@dataclass(frozen=True, slots=True, eq=False)
class Carried:
    """What a group carries in every case.

    ``per_length`` (cases, beads, 2, 3) is the force on each length at both ends of each bead
    [N/m]; ``used`` (cases, beads, 2) its size over what the length may have [-]; ``held``
    whether the group can hold the moments at all.
    """

    per_length: Floats
    used: Floats
    held: bool


def carried(group: Group, internal: Floats) -> Carried:
    """Return what the seams of a group carry.

    The elastic vector method of `leafwright.handbook.weld_space`, all cases at once.

    Args:
        group: with at least one bead.
        internal: N, V_y, V_z, T, M_y, M_z at its origin (cases, 6).
    """
    assert group.properties is not None
    p = group.properties
    force, moment = on_the_wall(group.end, internal)
    centre = np.array(p.centroid)
    M = moment - _cross(centre, force)
    theta = M @ p.turns()
    left_over = np.linalg.norm(theta @ p.moments() - M, axis=-1)
    held = bool((left_over <= _LEFT_OVER * (np.linalg.norm(M, axis=-1) + 1e-9)).all())
    r = np.array([bead.line for bead in group.beads]) - centre
    per_length = force[:, None, None, :] / p.length + _cross(theta[:, None, None, :], r)
    holds = np.array([bead.holds for bead in group.beads])
    used = np.sqrt((per_length**2).sum(axis=-1)) / holds[:, None]
    return Carried(per_length, used, held)


def landed(group: Group, per_length: Floats, landing: int) -> Floats:
    """Return force and moment (cases, 6) that the seams on one wall put on it.

    In the member's own axes, about the middle of the landing [N, N m].
    """
    number = [i for i, b in enumerate(group.beads) if group.end.pieces[b.piece].landing == landing]
    centre = _local(group.end, group.origin, (*group.end.landings[landing].centre, 0.0))
    lines = np.array([group.beads[i].line for i in number]).reshape(-1, 2, 3)
    a, b = lines[:, 0] - np.array(centre), lines[:, 1] - np.array(centre)
    lengths = np.sqrt(((b - a) ** 2).sum(axis=-1))
    f_a, f_b = per_length[:, number, 0], per_length[:, number, 1]
    force = 0.5 * (f_a + f_b)
    # Force and lever both run straight along a line, so Simpson's rule is exact.
    turning = (_cross(a, f_a) + 4.0 * _cross(0.5 * (a + b), force) + _cross(b, f_b)) / 6.0
    return np.concatenate(
        [(lengths[:, None] * force).sum(axis=1), (lengths[:, None] * turning).sum(axis=1)],
        axis=-1,
    )


def _cross(a: Floats, b: Floats) -> Floats:
    """Return the vector products of arrays of vectors (…, 3)."""
    return np.stack(
        [
            a[..., 1] * b[..., 2] - a[..., 2] * b[..., 1],
            a[..., 2] * b[..., 0] - a[..., 0] * b[..., 2],
            a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0],
        ],
        axis=-1,
    )


def wall_axes(end: WeldedEnd, landing: int) -> Floats:
    """Return the axes of a wall (3, 3) in the member's own: out of it, along it, out of plane."""
    (dx, dy), wall = end.member.direction, end.landings[landing]
    rows: Sequence[Sequence[float]] = [
        *((v[0] * dx + v[1] * dy, v[1] * dx - v[0] * dy, 0.0) for v in (wall.normal, wall.along)),
        (0.0, 0.0, 1.0),
    ]
    return np.array(rows)
