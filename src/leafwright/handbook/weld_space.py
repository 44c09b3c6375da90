"""Weld groups as lines in space: welds in more than one plane, as round a tube cut to a corner.

The elastic vector method of `weld_group` without its limit to one plane: the parts joined are
stiff and turn against one another as two solids would, and each length of weld gives way in
proportion to the force on it, alike in every direction. For lines of one plane it is
`weld_group.line_forces`; for more no document is quoted, it is statics.

Forces per length are the load's own direction: what the attached part puts on the weld. Divide by
the throat for a stress.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from leafwright.records import CubicMetres, Metres, NewtonsPerMetre, Point3

Line3 = tuple[Point3, Point3]
Vector = tuple[float, float, float]
Floats = NDArray[np.float64]

#: Second moments about one axis under this share of their sum hold nothing about it [-].
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class SpaceProperties:
    """Length, centroid and second moments of a group of weld lines of unit throat.

    ``I_xx`` is the integral of y² + z² along the lines, from the centroid, ``I_xy`` that of -x y,
    and so on: M = I theta for a small turn theta.
    """

    length: Metres
    centroid: Point3
    I_xx: CubicMetres
    I_yy: CubicMetres
    I_zz: CubicMetres
    I_xy: CubicMetres
    I_yz: CubicMetres
    I_zx: CubicMetres

    def moments(self) -> Floats:
        """Return the 3 x 3 second moments [m3]."""
        return np.array(
            [
                [self.I_xx, self.I_xy, self.I_zx],
                [self.I_xy, self.I_yy, self.I_yz],
                [self.I_zx, self.I_yz, self.I_zz],
            ]
        )

    def turns(self) -> Floats:
        """Return the 3 x 3 inverse of the second moments [1/m3], 0 about what holds nothing.

        What they hold nothing about is the line itself, where all lie in one.
        """
        values, axes = np.linalg.eigh(self.moments())
        held = values > _NOTHING * values.sum()
        inverse: Floats = np.where(held, 1.0 / np.where(held, values, 1.0), 0.0)
        turns: Floats = (axes * inverse) @ axes.T
        return turns


@dataclass(frozen=True, slots=True)
class SpaceForce:
    """Force per length of weld at a place, and its size."""

    f_x: NewtonsPerMetre
    f_y: NewtonsPerMetre
    f_z: NewtonsPerMetre

    @property
    def resultant(self) -> NewtonsPerMetre:
        """Return the size of the force per length [N/m]."""
        return math.hypot(self.f_x, self.f_y, self.f_z)


def space_properties(lines: Sequence[Line3]) -> SpaceProperties:
    """Return length, centroid and second moments of straight weld lines in space [m, m3].

    Integrals along each line, exact; statics, no document.

    lines: each from one end to the other [m]; effective lengths, starts and stops taken off.
    Raises ValueError for no lines or a line without length. Limits: throats alike all over, or
    each line's force held against its own throat.
    """
    if len(lines) == 0:
        raise ValueError("lines = []: a weld group needs a line; give the ends of each weld")
    ends = np.array([[_in_space(a), _in_space(b)] for a, b in lines])
    a, b = ends[:, 0], ends[:, 1]
    lengths = np.sqrt(((b - a) ** 2).sum(axis=1))
    if not (lengths > 0.0).all():
        number = int(np.argmin(lengths))
        raise ValueError(
            f"line {number + 1} runs from {lines[number][0]!r} to {lines[number][1]!r}: it has no "
            "length; give two different ends"
        )
    total = float(lengths.sum())
    centroid = lengths @ (0.5 * (a + b)) / total
    a, b = a - centroid, b - centroid
    # The mean of r rᵀ along a straight line, by its ends and its middle (Simpson, exact here).
    mean = (_squares(a) + 4.0 * _squares(0.5 * (a + b)) + _squares(b)) / 6.0
    moments = np.einsum("i,ijk->jk", lengths, mean)
    xx, yy, zz = np.diagonal(moments).tolist()
    x, y, z = centroid.tolist()
    return SpaceProperties(
        total,
        (x, y, z),
        I_xx=yy + zz,
        I_yy=zz + xx,
        I_zz=xx + yy,
        I_xy=-float(moments[0, 1]),
        I_yz=-float(moments[1, 2]),
        I_zx=-float(moments[2, 0]),
    )


def force_in_space(
    lines: Sequence[Line3],
    place: Point3,
    force: Vector,
    at: Point3,
    *,
    moment: Vector = (0.0, 0.0, 0.0),
) -> SpaceForce:
    """Return the force per length of a weld group at one place of it [N/m].

    Elastic vector method in space, statics: F/L + theta × r with theta from M = I theta, all
    about the centroid of the lines.

    lines: each weld from one end to the other [m].
    place: where on the welds the force is wanted [m].
    force: F_x, F_y, F_z of the load [N].
    at: point through which it acts [m].
    moment: M_x, M_y, M_z that act besides [N m], right-handed.
    Raises ValueError as `space_properties`, or where the lines all lie in one straight line and
    the moment would turn them about it. Limits: throats alike all over, or each line's force held
    against its own throat; parts stiff against the welds; no bearing between the parts. The
    greatest is at an end of a line.
    """
    group = space_properties(lines)
    c, F = np.array(group.centroid), np.array(force, dtype=float)
    M = np.array(moment, dtype=float) + _cross(_in_space(at) - c, F)
    theta = group.turns() @ M
    if np.linalg.norm(group.moments() @ theta - M) > 1e-6 * np.linalg.norm(M):
        raise ValueError(
            f"a moment of {M.tolist()!r} N m turns the part about the weld itself, and the welds "
            "all lie in one straight line, which cannot hold it; weld another side"
        )
    f_x, f_y, f_z = (F / group.length + _cross(theta, _in_space(place) - c)).tolist()
    return SpaceForce(f_x, f_y, f_z)


def _squares(points: Floats) -> Floats:
    squares: Floats = points[:, :, None] * points[:, None, :]
    return squares


def _cross(a: Floats, b: Floats) -> Floats:
    """Return a vector product; numpy's own is made for arrays of them."""
    return np.array(
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    )


def _in_space(point: Sequence[float]) -> Floats:
    """Return a point with z = 0 where it has none."""
    return np.array([*point, 0.0][:3], dtype=float)
