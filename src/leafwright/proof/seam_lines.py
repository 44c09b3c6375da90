"""Where a leaf is welded: the walls that each end of a member stands on, the seams round it.

In leaf axes. A seam lies along the outline of the member where its end meets a wall. Beside the
end's two walls that lie in the leaf's plane (its face and back) the seam is a fillet where the
member is narrower than what it stands on, and lies in the round corner of that tube where both
are as wide.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from leafwright.leaf import Leaf, Member
from leafwright.leaf.cut import EndCut, Plane
from leafwright.proof.seam_parts import ROOT_GAP, Kind, Landing, Piece, WeldedEnd, is_round
from leafwright.proof.seam_saddle import saddle_landing, saddle_pieces
from leafwright.records import Metres, Point2, Point3, Radians

#: Two places closer than this are one [m].
SAME = 1e-6
#: A stretch of a cut that is welded: the number of its landing, and its two ends.
Stretch = tuple[int, Point2, Point2]
#: Straight pieces that stand for the seam round a round bar.
ROUND_PIECES = 16


def ends_of(leaf: Leaf) -> tuple[WeldedEnd, ...]:
    """Return both ends of every member of a leaf, each with its seams or why it has none."""
    return tuple(_end(leaf, member, at_end) for member in leaf.members for at_end in (False, True))


def _end_name(member: Member, joint: str, at_end: bool) -> str:
    if member.role.endswith("rail"):
        return joint.rsplit(" ", 1)[-1]
    return "upper" if at_end else "lower"


def _end(leaf: Leaf, member: Member, at_end: bool) -> WeldedEnd:
    cut = member.bar.end if at_end else member.bar.start
    joint = member.end_joint if at_end else member.start_joint
    gap = leaf.root_gap.value
    bare = WeldedEnd(member, _end_name(member, joint, at_end), at_end, joint, gap=gap)
    if member.role == "rod":
        return replace(bare, reason="it ends at a tab, whose size is not given", gap=0.0)
    corners = _corners(member, at_end)
    if cut.saddle is not None:
        onto = saddle_landing(leaf, member, cut.saddle, lambda m, s: _to_open_end(leaf, m, s))
        if onto is None:
            return replace(bare, reason="it runs through: nothing stands before its end")
        return replace(bare, landings=(onto,), pieces=saddle_pieces(member, cut.saddle, onto))
    mate = _mate(leaf, member, cut)
    if mate is not None:
        if not member.role.endswith("rail"):
            return replace(bare, mate=mate, reason=f"the seam is that of {mate.mark}")
        return replace(bare, mate=mate, pieces=_mitre_pieces(leaf, member, cut, corners))
    landings: list[Landing] = []
    stretches: list[Stretch] = []
    nose = 0.0
    for a, b in itertools.pairwise(corners):
        if _is_nose(cut, a, b):
            nose += math.dist(a, b)
            continue
        landing = _landing(leaf, member, cut.planes, a, b)
        if landing is None:
            return replace(bare, reason="it runs through: nothing stands before its end")
        stretches.append((len(landings), a, b))
        landings.append(landing)
    if nose:
        bare = replace(
            bare,
            bare="its nose is cut back to clear the bead in the corner: no seam there",
            bare_length=nose,
        )
    if is_round(member):
        pieces = _round_pieces(member, at_end, landings)
    else:
        pieces = _flat_pieces(leaf, member, landings, stretches)
    return replace(bare, landings=tuple(landings), pieces=pieces)


def _is_nose(cut: EndCut, a: Point2, b: Point2) -> bool:
    """Return whether a stretch of a wedged end's cut is the one that clears the corner's bead."""
    return len(cut.planes) == 3 and all(
        abs(_dot(cut.planes[2].normal, at) - cut.planes[2].offset) < SAME for at in (a, b)
    )


def _corners(member: Member, at_end: bool) -> tuple[Point2, ...]:
    """Return the corners of the cut in elevation, from the member's right edge to its left."""
    count = len(member.bar.end.profile)
    if at_end:
        return member.bar.outline[:count]
    return tuple(reversed(member.bar.outline[count:]))


def cut_middle(end: WeldedEnd) -> Point2:
    """Return the middle of an end's cut in elevation [m]."""
    corners = _corners(end.member, end.at_end)
    a, b = corners[0], corners[-1]
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return a[0] * b[0] + a[1] * b[1]


def _less(a: Point2, b: Point2) -> Point2:
    return (a[0] - b[0], a[1] - b[1])


def _unit(a: Point2) -> Point2:
    size = math.hypot(*a)
    return (a[0] / size, a[1] / size)


def _left_of(direction: Point2) -> Point2:
    return (-direction[1], direction[0])


def _acute(a: Point2, b: Point2) -> Radians:
    return math.acos(min(1.0, abs(_dot(a, b))))


def _is_level(plane: Plane, other: Plane, gap: Metres) -> bool:
    """Return whether two cuts are the two sides of one, a root gap apart."""
    return (
        abs(plane.offset + other.offset + gap) < SAME
        and math.dist(plane.normal, (-other.normal[0], -other.normal[1])) < SAME
    )


def _mate(leaf: Leaf, member: Member, cut: EndCut) -> Member | None:
    """Return the member on the other side of a mitre, or None where there is none."""
    if len(cut.planes) != 1 or cut.saddle is not None:
        return None
    for other in leaf.members:
        if other is member or not {other.start_joint, other.end_joint} & {
            member.start_joint,
            member.end_joint,
        }:
            continue
        for theirs in (other.bar.start, other.bar.end):
            if (
                len(theirs.planes) == 1
                and theirs.saddle is None
                and _is_level(cut.planes[0], theirs.planes[0], leaf.root_gap.value)
            ):
                return other
    return None


def _wall(member: Member, normal: Point2) -> tuple[Metres, Metres]:
    """Return where the wall with this outward normal starts and ends along a member [m].

    From the member's foot, along its direction.
    """
    face = _dot(member.foot, normal) + member.section.width / 2
    along = [
        _dot(_less(p, member.foot), member.direction)
        for p in member.bar.outline
        if abs(_dot(p, normal) - face) < SAME
    ]
    return (min(along), max(along)) if along else (0.0, 0.0)


def _under(
    leaf: Leaf, member: Member, planes: Sequence[Plane], a: Point2, b: Point2
) -> tuple[Member, Point2] | None:
    """Return what a stretch of a cut stands on and the wall's outward normal, or None."""
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    plane = next(
        p for p in planes if all(abs(_dot(p.normal, at) - p.offset) < SAME for at in (a, b))
    )
    normal = (-plane.normal[0], -plane.normal[1])
    for other in leaf.members:
        if other is member or other.role == "rod" or is_round(other):
            continue
        if abs(_dot(other.direction, normal)) > SAME:
            continue
        over = _dot(_less(middle, other.foot), normal) - other.section.width / 2
        if abs(over - leaf.root_gap.value) > SAME:
            continue
        first, last = _wall(other, normal)
        if first < _dot(_less(middle, other.foot), other.direction) < last:
            return other, normal
    return None


def _landing(
    leaf: Leaf, member: Member, planes: Sequence[Plane], a: Point2, b: Point2
) -> Landing | None:
    """Return the wall that a stretch of a cut stands on, or None where there is none."""
    found = _under(leaf, member, planes, a, b)
    if found is None:
        return None
    other, normal = found
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    first, last = _wall(other, normal)
    at = _dot(_less(middle, other.foot), other.direction)
    ends = ((at - first, False), (last - at, True))
    return Landing(
        onto=other,
        normal=normal,
        along=other.direction,
        centre=middle,
        length=math.dist(a, b),
        angle=_acute(member.direction, other.direction),
        to_end=min(
            (far for far, at_end in ends if _is_open(leaf, other, at_end)), default=math.inf
        ),
        cross=other.key.endswith("/through"),
    )


def _to_open_end(leaf: Leaf, member: Member, at: Metres) -> Metres:
    """Return how far a place along a member's centre line is from its nearer open end [m]."""
    along = [_dot(_less(p, member.foot), member.direction) for p in member.bar.outline]
    ends = ((at - min(along), False), (max(along) - at, True))
    return min((far for far, at_end in ends if _is_open(leaf, member, at_end)), default=math.inf)


def _is_open(leaf: Leaf, member: Member, at_end: bool) -> bool:
    """Return whether a member's end is open: welded to nothing."""
    cut = member.bar.end if at_end else member.bar.start
    if cut.saddle is not None or _mate(leaf, member, cut) is not None:
        return False
    corners = _corners(member, at_end)
    return any(
        _under(leaf, member, cut.planes, a, b) is None for a, b in itertools.pairwise(corners)
    )


def _room(landing: Landing, at: Point2, way: Point2) -> Metres:
    """Return how far a wall goes on beyond a point of it, one way along it [m]."""
    first, last = _wall(landing.onto, landing.normal)
    here = _dot(_less(at, landing.onto.foot), landing.along)
    return last - here if _dot(way, landing.along) > 0.0 else here - first


def side_kind(landing: Landing, beside: Metres) -> Kind:
    """Return what a seam is whose surface lies so far inside the side of what it stands on."""
    radius = landing.onto.section.design_radii()[0]
    if beside < -SAME:
        return "none"
    if beside < SAME and radius < SAME:
        return "square groove"
    inside = radius - beside
    drop = radius - math.sqrt(radius**2 - inside**2) if inside > 0.0 else 0.0
    return "fillet" if drop <= ROOT_GAP else "flare-bevel"


def _filled(surface: Point2, landing: Landing) -> Radians:
    """Return the angle that a weld fills between a surface, by its outward normal, and a wall."""
    return math.pi - math.acos(max(-1.0, min(1.0, _dot(surface, landing.normal))))


def _in_space(at: Point2, z: float) -> Point3:
    return (at[0], at[1], z)


def _edge_name(leaf: Leaf, member: Member, outward: Point2) -> str:
    if abs(member.direction[0]) < SAME:
        inward = leaf.width / 2 - member.foot[0]
        return "inner" if outward[0] * inward > 0.0 else "outer"
    return "upper" if outward[1] > 0.0 else "lower"


def _flat_pieces(
    leaf: Leaf, member: Member, landings: Sequence[Landing], stretches: Sequence[Stretch]
) -> tuple[Piece, ...]:
    """Return the seams round a member with flat sides: face and back, and one across each edge."""
    half = member.section.height / 2
    pieces = []
    for face, z in (("face", half), ("back", -half)):
        for number, a, b in stretches:
            landing = landings[number]
            beside = landing.onto.section.height / 2 - half
            name = f"{face} on {landing.onto.role}" if len(landings) > 1 else face
            pieces.append(
                Piece(
                    name,
                    side_kind(landing, beside),
                    _in_space(a, z),
                    _in_space(b, z),
                    math.pi / 2,
                    max(beside, 0.0),
                    number,
                    across=False,
                )
            )
    across = _left_of(member.direction)
    (first, right, beyond), (last, before, left) = stretches[0], stretches[-1]
    edges = ((right, beyond, -1.0, first), (left, before, 1.0, last))
    for at, inner, sign, number in edges:
        outward = (sign * across[0], sign * across[1])
        room = _room(landings[number], at, _less(at, inner))
        pieces.append(
            Piece(
                _edge_name(leaf, member, outward),
                "square groove" if room < SAME else "fillet",
                _in_space(at, -half),
                _in_space(at, half),
                _filled(outward, landings[number]),
                room,
                number,
                across=True,
            )
        )
    return tuple(pieces)


def _round_pieces(member: Member, at_end: bool, landings: Sequence[Landing]) -> tuple[Piece, ...]:
    """Return the seam round a round member, in straight pieces from point to point of it."""
    along, across = member.direction, _left_of(member.direction)
    radius = member.section.width / 2
    governs = min if at_end else max

    def at(number: int) -> tuple[float, float, Point3]:
        angle = 2.0 * math.pi * number / ROUND_PIECES
        u, z = radius * math.cos(angle), radius * math.sin(angle)
        reach = [
            (
                _dot(landing.normal, _less(landing.centre, member.foot))
                - u * _dot(landing.normal, across)
            )
            / _dot(landing.normal, along)
            for landing in landings
        ]
        s = governs(reach)
        x, y = (member.foot[i] + s * along[i] + u * across[i] for i in (0, 1))
        return u, s, (x, y, z)

    pieces = []
    for number in range(ROUND_PIECES):
        middle = 2.0 * math.pi * (number + 0.5) / ROUND_PIECES
        a, b = at(number)[2], at(number + 1)[2]
        mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        off = [abs(_dot(landing.normal, _less(mid, landing.centre))) for landing in landings]
        which = off.index(min(off))
        landing = landings[which]
        outward = (math.cos(middle) * across[0], math.cos(middle) * across[1])
        beside = landing.onto.section.height / 2 - abs(radius * math.sin(middle))
        pieces.append(
            Piece(
                f"round on {landing.onto.role}" if len(landings) > 1 else "round",
                side_kind(landing, beside),
                a,
                b,
                _filled(outward, landing),
                max(beside, 0.0),
                which,
                across=False,
            )
        )
    return tuple(pieces)


def _mitre_pieces(
    leaf: Leaf, member: Member, cut: EndCut, corners: Sequence[Point2]
) -> tuple[Piece, ...]:
    """Return the four seams round a mitre: only that in the inner corner is a fillet."""
    half = member.section.height / 2
    a, b = corners[0], corners[-1]
    pieces = [
        Piece(face, "square groove", _in_space(a, z), _in_space(b, z), math.pi, 0.0, -1, False)
        for face, z in (("face", half), ("back", -half))
    ]
    middle = (leaf.width / 2, leaf.height / 2)
    inner = min(a, b, key=lambda at: math.dist(at, middle))
    bent = 2.0 * max(cut.angles)
    for at in (a, b):
        is_inner = at is inner
        pieces.append(
            Piece(
                "inner" if is_inner else "outer",
                "fillet" if is_inner else "square groove",
                _in_space(at, -half),
                _in_space(at, half),
                math.pi - bent if is_inner else math.pi + bent,
                math.inf if is_inner else 0.0,
                -1,
                across=True,
            )
        )
    return tuple(pieces)
