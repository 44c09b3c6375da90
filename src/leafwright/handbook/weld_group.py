"""Weld groups as lines: properties, and the elastic force per length under an off-centre load.

The elastic vector method of machine-design and welding handbooks (weld properties "as a line":
Blodgett, *Design of Welded Structures*, section 7.4; Shigley, Tables 9-1 and 9-2; section numbers
remembered). AISC's Manual, Part 8, calls it the elastic method; it is on the safe side of the
instantaneous centre method, and allows no directional increase.

The welds lie in the plane z = 0. Forces per length are the load's own direction: what the attached
part puts on the weld. Divide by the throat for a stress.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.records import CubicMetres, Metres, NewtonsPerMetre, Point2, Point3

Line = tuple[Point2, Point2]
Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class LineProperties:
    """Length, centroid and second moments of a group of weld lines of unit throat.

    ``I_x`` is the sum of y², ``I_y`` of x² and ``I_xy`` of x y along the lines, from the
    centroid; ``I_p = I_x + I_y``.
    """

    length: Metres
    centroid: Point2
    I_x: CubicMetres
    I_y: CubicMetres
    I_xy: CubicMetres

    @property
    def I_p(self) -> CubicMetres:
        """Return the polar second moment of the lines [m3]."""
        return self.I_x + self.I_y


@dataclass(frozen=True, slots=True)
class LineForce:
    """Force per length of weld at a point, and its size."""

    at: Point2
    f_x: NewtonsPerMetre
    f_y: NewtonsPerMetre
    f_z: NewtonsPerMetre

    @property
    def resultant(self) -> NewtonsPerMetre:
        """Return the size of the force per length [N/m]."""
        return math.hypot(self.f_x, self.f_y, self.f_z)


def line_properties(lines: Sequence[Line]) -> LineProperties:
    """Return length, centroid and second moments of straight weld lines [m, m3].

    Integrals of 1, x, y, x², y² and x y along each line, exact; handbooks tabulate them for
    common patterns (Shigley, Tables 9-1 and 9-2, for throat 1).

    lines: each from one end to the other [m]; effective lengths, starts and stops taken off.
    Raises ValueError for no lines or a line without length. Limits: throats alike all over.
    """
    if not lines:
        raise ValueError("lines = []: a weld group needs a line; give the ends of each weld")
    lengths = []
    for number, ((x_1, y_1), (x_2, y_2)) in enumerate(lines, start=1):
        length = math.hypot(x_2 - x_1, y_2 - y_1)
        if not length > 0.0:
            raise ValueError(
                f"line {number} runs from {(x_1, y_1)!r} to {(x_2, y_2)!r}: it has no length; "
                "give two different ends"
            )
        lengths.append(length)
    total = sum(lengths)
    middles = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in lines]
    x_c = sum(n * m[0] for n, m in zip(lengths, middles, strict=True)) / total
    y_c = sum(n * m[1] for n, m in zip(lengths, middles, strict=True)) / total
    I_x = I_y = I_xy = 0.0
    for (a, b), middle, length in zip(lines, middles, lengths, strict=True):
        d_x, d_y = b[0] - a[0], b[1] - a[1]
        x, y = middle[0] - x_c, middle[1] - y_c
        I_x += length * (y * y + d_y * d_y / 12.0)
        I_y += length * (x * x + d_x * d_x / 12.0)
        I_xy += length * (x * y + d_x * d_y / 12.0)
    return LineProperties(total, (x_c, y_c), I_x, I_y, I_xy)


def line_forces(
    lines: Sequence[Line],
    force: Vector,
    at: Point3,
    *,
    moment: Vector = (0.0, 0.0, 0.0),
) -> tuple[LineForce, ...]:
    """Return the force per length at both ends of every weld line [N/m].

    Elastic vector method: the force spread evenly, f = F/L; the twist in the plane by
    f_x = -M_z y/I_p, f_y = M_z x/I_p; bending out of the plane by f_z = b x + c y with b, c from
    I_y b + I_xy c = -M_y, I_xy b + I_x c = M_x; all about the group's centroid and added as
    vectors. The greatest is always at an end of a line.

    lines: each from one end to the other [m], in the plane z = 0.
    force: F_x, F_y, F_z of the load [N].
    at: point through which it acts [m].
    moment: M_x, M_y, M_z that act besides [N m], right-handed.
    Returns two a line, in the order of the lines. Raises ValueError as `line_properties`, or
    where the lines all lie in one straight line and the moment would turn them about it. Limits:
    throats alike; parts stiff against the weld; no bearing between the parts.
    """
    group = line_properties(lines)
    (x_c, y_c), (F_x, F_y, F_z) = group.centroid, force
    r_x, r_y, r_z = at[0] - x_c, at[1] - y_c, at[2]
    M_x = moment[0] + r_y * F_z - r_z * F_y
    M_y = moment[1] + r_z * F_x - r_x * F_z
    M_z = moment[2] + r_x * F_y - r_y * F_x
    b, c = _slopes(group, M_x, M_y)
    found = []
    for line in lines:
        for point in line:
            x, y = point[0] - x_c, point[1] - y_c
            found.append(
                LineForce(
                    at=point,
                    f_x=F_x / group.length - M_z * y / group.I_p,
                    f_y=F_y / group.length + M_z * x / group.I_p,
                    f_z=F_z / group.length + b * x + c * y,
                )
            )
    return tuple(found)


def _slopes(group: LineProperties, M_x: float, M_y: float) -> tuple[float, float]:
    """Return b and c of f_z = b x + c y [N/m2]."""
    determinant = group.I_x * group.I_y - group.I_xy**2
    if determinant > 1e-12 * group.I_p**2:
        b = (-M_y * group.I_x - M_x * group.I_xy) / determinant
        c = (M_x * group.I_y + M_y * group.I_xy) / determinant
        return b, c
    # All in one straight line at this angle: only bending along it can be carried.
    angle = 0.5 * math.atan2(2.0 * group.I_xy, group.I_y - group.I_x)
    along = (math.cos(angle), math.sin(angle))
    turning = M_x * along[0] + M_y * along[1]
    bending = M_x * along[1] - M_y * along[0]
    if abs(turning) > 1e-9 * max(abs(M_x), abs(M_y)):
        raise ValueError(
            f"a moment of {turning!r} N m turns the part about the weld itself, and the welds "
            "all lie in one straight line, which cannot hold it; weld another side"
        )
    slope = bending / group.I_p
    return slope * along[0], slope * along[1]


def greatest_line_force(
    lines: Sequence[Line],
    force: Vector,
    at: Point3,
    *,
    moment: Vector = (0.0, 0.0, 0.0),
) -> LineForce:
    """Return the greatest force per length of a weld group, with where it is [N/m].

    Elastic vector method, see `line_forces`.

    lines: each from one end to the other [m], in the plane z = 0.
    force: F_x, F_y, F_z of the load [N].
    at: point through which it acts [m].
    moment: M_x, M_y, M_z that act besides [N m], right-handed.
    Raises ValueError as `line_forces`. Limits: as `line_forces`.
    """
    return max(line_forces(lines, force, at, moment=moment), key=lambda f: f.resultant)


def ring_properties(r: float) -> LineProperties:
    """Return length, centroid and second moments of a weld round a circle [m, m3].

    L = 2 π r, I_x = I_y = π r³, I_p = 2 π r³ (Shigley, Tables 9-1 and 9-2). Centred on 0, 0.

    r: radius of the weld's line, that of the pin for a fillet round it [m].
    Raises ValueError for r at or below 0. Limits: welded all round.
    """
    if not r > 0.0:
        raise ValueError(f"r = {r!r}: must be above 0; give the radius of the weld in metres")
    I = math.pi * r**3  # noqa: E741 - the source's symbol
    return LineProperties(2.0 * math.pi * r, (0.0, 0.0), I, I, 0.0)


def ring_greatest_force(
    r: float, *, shear: float = 0.0, pull: float = 0.0, bending: float = 0.0, twist: float = 0.0
) -> NewtonsPerMetre:
    """Return the greatest force per length of a weld round a circle, as of a pin on a plate [N/m].

    Elastic vector method on `ring_properties`: out of the plane P/L + M/(π r²), in it
    V/L + T/(2 π r²), as vectors. The worst points are taken to coincide, which is at most a
    little too much.

    r: radius of the weld's line [m].
    shear: force in the plate's plane [N], magnitude.
    pull: force along the pin's axis [N], magnitude.
    bending: moment that tips the pin, at the plate [N m], magnitude.
    twist: moment about the pin's axis [N m], magnitude.
    Raises ValueError for r at or below 0 or a negative load. Limits: welded all round, the plate
    stiff.
    """
    ring = ring_properties(r)
    for name, value in (("shear", shear), ("pull", pull), ("bending", bending), ("twist", twist)):
        if value < 0.0:
            raise ValueError(f"{name} = {value!r}: must be 0 or more; give its magnitude")
    out = pull / ring.length + bending * r / ring.I_x
    across = shear / ring.length + twist * r / ring.I_p
    return math.hypot(out, across)
