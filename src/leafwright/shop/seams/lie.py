"""How a seam lies: which way its face looks, and so in what position it is welded."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence

from leafwright.handbook.weld_positions import weld_position
from leafwright.proof.seam_parts import Piece, WeldedEnd, is_coped, is_round
from leafwright.proof.seam_saddle import local_normal
from leafwright.records import Point3
from leafwright.shop.seams.records import Positions

#: Which way is up, in leaf axes, as the leaf lies or hangs.
UP: dict[str, Point3] = {
    "face_up": (0.0, 0.0, 1.0),
    "face_down": (0.0, 0.0, -1.0),
    "hung": (0.0, 1.0, 0.0),
}


def face_of(end: WeldedEnd, piece: Piece) -> Point3:
    """Return the unit direction that a piece of a seam faces, in leaf axes [-].

    Half way between the two surfaces that the weld joins; straight out of the leaf where they lie
    in one plane.
    """
    own = _own_surface(end, piece)
    if piece.landing < 0 or piece.kind == "flare-bevel" or piece.kind == "square groove":
        return own
    landing = end.landings[piece.landing]
    if is_coped(end):
        a, b = piece.start, piece.end
        wall = local_normal(landing, tuple((x + y) / 2 for x, y in zip(a, b, strict=True)))  # type: ignore[arg-type]
        return _unit([x + y for x, y in zip(own, wall, strict=True)])
    normal = landing.normal
    return _unit((own[0] + normal[0], own[1] + normal[1], own[2]))


def _own_surface(end: WeldedEnd, piece: Piece) -> Point3:
    """Return the outward normal of the member's own surface along a piece."""
    member = end.member
    (dx, dy), foot = member.direction, member.foot
    middle = [(a + b) / 2 for a, b in zip(piece.start, piece.end, strict=True)]
    across = (middle[1] - foot[1]) * dx - (middle[0] - foot[0]) * dy
    if is_round(member):
        return _unit((-dy * across, dx * across, middle[2]))
    if piece.across:
        sign = 1.0 if across > 0.0 else -1.0
        return (-dy * sign, dx * sign, 0.0)
    return (0.0, 0.0, 1.0 if middle[2] > 0.0 else -1.0)


def _unit(v: Sequence[float]) -> Point3:
    size = math.sqrt(sum(x * x for x in v))
    return (v[0] / size, v[1] / size, v[2] / size)


def position(along: Point3, faces: Point3, up: Point3, *, fillet: bool) -> str:
    """Return the position of a straight piece of seam.

    Args:
        along: its direction, of any length.
        faces: unit direction that it faces [-].
        up: unit direction that is up [-].
        fillet: whether it is one.
    """
    return _position(_rounded(along), _rounded(faces), up, fillet=fillet)


def _rounded(v: Point3) -> Point3:
    return (round(v[0], 9), round(v[1], 9), round(v[2], 9))


@functools.lru_cache(maxsize=2048)
def _position(along: Point3, faces: Point3, up: Point3, *, fillet: bool) -> str:
    axis = _unit(along)
    inclination = math.asin(min(1.0, abs(_dot(axis, up))))
    rotation = math.acos(max(-1.0, min(1.0, -_dot(faces, up))))
    return weld_position(inclination, rotation, fillet=fillet).value


def positions_of(pieces: Sequence[tuple[Point3, Point3]], *, fillet: bool) -> Positions:
    """Return in which positions a seam is made.

    Args:
        pieces: direction and face of each straight piece of it.
        fillet: whether it is one.
    """
    found = {
        name: tuple(
            dict.fromkeys(position(along, faces, up, fillet=fillet) for along, faces in pieces)
        )
        for name, up in UP.items()
    }
    return Positions(**found)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
