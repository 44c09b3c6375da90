"""The seam round a coped end: where it lies on the round tube, and the corner that it fills there.

The corner opens from that between the two tubes at heel and toe to none at all on the flanks,
where tubes of one size lie flush; there nothing of the seam is counted.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from leafwright.handbook.weld_shapes import BLUNTEST_FILLET, SHARPEST_FILLET
from leafwright.leaf import Leaf, Member, Saddle
from leafwright.proof.seam_parts import Landing, Piece, is_round
from leafwright.records import Metres, Point2, Point3

#: Two places closer than this are one [m].
SAME = 1e-6
#: Straight pieces that stand for the seam round a coped end.
PIECES = 32


def _dot(a: Point2, b: Point2) -> float:
    return a[0] * b[0] + a[1] * b[1]


def saddle_landing(
    leaf: Leaf, member: Member, saddle: Saddle, to_end: Callable[[Member, Metres], Metres]
) -> Landing | None:
    """Return what a coped end lands on, None where there is no such round tube.

    Args:
        leaf: its members.
        member: whose end it is.
        saddle: of the end.
        to_end: how far a place along a member is from its nearer open end [m].
    """
    n = saddle.normal
    for other in leaf.members:
        if other is member or not is_round(other) or abs(_dot(other.direction, n)) > SAME:
            continue
        axis = _dot(other.foot, n) - leaf.root_gap.value
        if abs(axis - saddle.offset) > SAME or abs(other.section.width / 2 - saddle.radius) > SAME:
            continue
        # Where the member's centre line meets the tube's side, as on a flat wall.
        into = _dot(n, member.direction)
        s = (saddle.offset - saddle.radius - _dot(member.foot, n)) / into
        centre = tuple(f + s * d for f, d in zip(member.foot, member.direction, strict=True))
        at = _dot((centre[0] - other.foot[0], centre[1] - other.foot[1]), other.direction)
        sine = min(1.0, abs(into))
        return Landing(
            onto=other,
            normal=(-n[0], -n[1]),
            along=other.direction,
            centre=(centre[0], centre[1]),
            length=member.section.width / sine,
            angle=math.asin(sine),
            to_end=to_end(other, at),
            cross=other.key.endswith("/through"),
        )
    return None


def local_normal(landing: Landing, at: Point3) -> Point3:
    """Return the outward normal of the tube that is landed on, at a place on its outside [-]."""
    onto, n = landing.onto, landing.normal
    off = _dot((at[0] - onto.foot[0], at[1] - onto.foot[1]), n)
    size = math.hypot(off, at[2])
    return (n[0] * off / size, n[1] * off / size, at[2] / size)


def saddle_pieces(member: Member, saddle: Saddle, landing: Landing) -> tuple[Piece, ...]:
    """Return the seam round a coped end, in straight pieces from point to point of it."""
    along, across = member.direction, (-member.direction[1], member.direction[0])
    radius, n = member.section.width / 2, saddle.normal
    into = _dot(n, along)

    def at(turn: float) -> Point3:
        u, z = radius * math.cos(turn), radius * math.sin(turn)
        deep = math.sqrt(max(saddle.radius**2 - z * z, 0.0))
        s = (saddle.offset - deep - _dot(n, member.foot) - u * _dot(n, across)) / into
        x, y = (member.foot[i] + s * along[i] + u * across[i] for i in (0, 1))
        return (x, y, z)

    step = 2.0 * math.pi / PIECES
    made: list[tuple[Point3, Point3, float, float]] = []
    for number in range(PIECES):
        turn = (number + 0.5) * step
        own, wall = (math.cos(turn), math.sin(turn)), local_normal(landing, at(turn))
        facing = own[0] * _dot(across, (wall[0], wall[1])) + own[1] * wall[2]
        angle = math.pi - math.acos(max(-1.0, min(1.0, facing)))
        made.append((at(number * step), at((number + 1) * step), angle, own[0]))

    def whole(sign: float) -> Metres:
        """Return the length of fillet round heel or toe, as one weld [m]."""
        return sum(
            math.dist(a, b)
            for a, b, angle, side in made
            if side * sign > 0.0 and SHARPEST_FILLET <= angle <= BLUNTEST_FILLET
        )

    run = {True: whole(1.0), False: whole(-1.0)}
    return tuple(
        Piece(
            "round",
            "fillet",
            a,
            b,
            angle,
            math.inf,
            0,
            across=False,
            whole=max(run[side > 0.0], math.dist(a, b)),
        )
        for a, b, angle, side in made
    )
