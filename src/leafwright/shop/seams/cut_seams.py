"""The seams of cut members: round the splice of one in two pieces, and at the lap of two bars.

A spliced member is made whole on the bench before the frame is fitted up. At a lap each bar's cut
half lies against the other's sides: two seams across on the face, two on the back, and one in each
of the four corners between the bars, through their whole depth.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright.handbook import sections
from leafwright.handbook.aisc360 import welds
from leafwright.leaf import Leaf, Member
from leafwright.leaf.records import Splice
from leafwright.proof.cut_members import THICKEST_SQUARE
from leafwright.proof.seam_lines import side_kind
from leafwright.proof.seam_parts import Landing, Piece, WeldedEnd, is_round
from leafwright.proof.seam_records import Seam
from leafwright.proof.seam_sizes import Welding, size_of
from leafwright.records import Check, Metres, Point2, Point3
from leafwright.shop.seams.records import NumberedSeam, Positions, View

_LAP_NOT_COUNTED = (
    "the proof counts nothing of it: it works the bars' notched sections alone, and asks"
)
_ROUND_POINTS = 16


@dataclass(frozen=True, slots=True)
class LapSeam:
    """One seam at a lap: the bar that it ends, where, as a piece and as the proof would have it."""

    end: WeldedEnd
    piece: Piece
    seam: Seam
    words: str
    note: str = _LAP_NOT_COUNTED


def lap_seams(leaf: Leaf, how: Welding) -> list[LapSeam]:
    """Return the seams of every half-lapped crossing of a leaf, each crossing's face first."""
    by_key = {m.key: m for m in leaf.members}
    found: list[LapSeam] = []
    for across in leaf.members:
        if across.notch is None or not across.key.endswith("/across"):
            continue
        through = by_key[f"{across.key.removesuffix('across')}through"]
        joint = next(j.key for j in leaf.joints if j.kind == "crossing" and across.key in j.members)
        ends = [_lap_end(leaf, one, other) for one, other in _pairs(across, through)]
        for end in ends:
            found += [_as_seam(joint, end, piece, how) for piece in end.pieces if not piece.across]
        found += [_as_seam(joint, ends[0], p, how) for p in ends[0].pieces if p.across]
    return found


def _pairs(a: Member, b: Member) -> tuple[tuple[Member, Member], tuple[Member, Member]]:
    return (a, b), (b, a)


def _lap_end(leaf: Leaf, member: Member, onto: Member) -> WeldedEnd:
    """Return a bar's cut half as an end that stands on both sides of the other bar."""
    notch = member.notch
    assert notch is not None
    a, b, d, e = notch.corners
    lines = ((a, e), (b, d))
    landings = tuple(
        Landing(
            onto=onto,
            normal=side.normal,
            along=onto.direction,
            centre=((p[0] + q[0]) / 2, (p[1] + q[1]) / 2),
            length=math.dist(p, q),
            angle=math.pi / 2 - notch.slant,
            to_end=math.inf,
            cross=True,
        )
        for side, (p, q) in zip(notch.sides, lines, strict=True)
    )
    half = member.section.height / 2
    z = half if notch.face == "face" else -half
    pieces = [
        Piece(
            f"{notch.face} {name}",
            side_kind(landing, onto.section.height / 2 - half),
            (*p, z),
            (*q, z),
            math.pi / 2,
            0.0,
            number,
            across=False,
        )
        for number, (name, landing, (p, q)) in enumerate(
            zip(("lower", "upper"), landings, lines, strict=True)
        )
    ]
    names = _corner_names(leaf, notch.corners)
    for corner, number, name in zip((a, b, d, e), (0, 1, 1, 0), names, strict=True):
        pieces.append(
            Piece(
                f"corner {name}",
                "fillet",
                (*corner, -half),
                (*corner, half),
                _opening(member, onto, notch.at, corner),
                math.inf,
                number,
                across=True,
            )
        )
    gap = leaf.root_gap.value
    return WeldedEnd(member, "lap", False, "", landings, tuple(pieces), gap=gap)


def _corner_names(leaf: Leaf, corners: Sequence[Point2]) -> list[str]:
    """Return what each of four corners is called: the lowest, the uppermost, and one a side."""
    hinge = 0.0 if leaf.hand == "left" else leaf.width
    order = sorted(range(4), key=lambda i: corners[i][1])
    sides = sorted(order[1:3], key=lambda i: abs(corners[i][0] - hinge))
    names = {order[0]: "lower", order[3]: "upper", sides[0]: "hinge", sides[1]: "nose"}
    return [names[i] for i in range(4)]


def _opening(a: Member, b: Member, at: Point2, corner: Point2) -> float:
    """Return the angle between two bars at a corner of their crossing [rad]."""
    (ax, ay), (bx, by) = a.direction, b.direction
    dx, dy = corner[0] - at[0], corner[1] - at[1]
    turn = ax * by - ay * bx
    along_a, along_b = (dx * by - dy * bx) / turn, (ax * dy - ay * dx) / turn
    cosine = math.copysign(1.0, along_a) * math.copysign(1.0, along_b) * (ax * bx + ay * by)
    return math.acos(max(-1.0, min(1.0, cosine)))


def _as_seam(joint: str, end: WeldedEnd, piece: Piece, how: Welding) -> LapSeam:
    size = size_of(piece, end, how)
    side, _, which = piece.face.partition(" ")
    if side == "corner":
        where = {"hinge": "on the hinge side", "nose": "on the nose side"}.get(which, which)
        words = f"the corner between the bars {where}, through their depth"
    else:
        words = f"the {side}, along the {which} side of {end.landings[0].onto.mark}"
    seam = Seam(
        key=f"{end.key}/{piece.face.replace(' ', '-')}",
        joint=joint,
        member=end.member.key,
        mark=end.member.mark,
        end=end.name,
        onto=end.landings[0].onto.key,
        face=piece.face,
        kind=piece.kind,
        path=(piece.start, piece.end),
        angle=piece.angle,
        leg=size.leg,
        throat=size.throat,
        length=piece.length,
        counted=0.0,
        at_start=0.0,
        at_end=0.0,
        holds=0.0,
        used=None,
        case="",
        rests_on_trial=size.trial,
    )
    return LapSeam(end, piece, seam, words)


# ---------------------------------------------------------------- splices


def splice_seams(
    leaf: Leaf, splice: Splice, proved: Check | None, how: Welding
) -> tuple[NumberedSeam, ...]:
    """Return the seams of a splice, not numbered yet.

    Args:
        leaf: whose member it is.
        splice: the splice.
        proved: the proof's check of it, None for none.
        how: by what it is welded.
    """
    member = next(m for m in leaf.members if m.key == splice.member)
    if splice.by == "plates":
        return _plated(leaf, member, splice, proved, how)
    wall = member.section.nominal_wall
    thick = wall > THICKEST_SQUARE
    unknown = (
        "a wall over 1/4 in is beveled for it, how is not given: have an engineer answer"
        if thick
        else ""
    )
    return (
        _seam(
            leaf,
            member,
            splice,
            proved,
            "round",
            onto=f"{splice.pieces[1].mark}, on the sleeve inside",
            face="all round",
            kind="square groove",
            size=None if thick else wall,
            length=perimeter(member),
            path=_round(member, splice.place),
            view="face",
            notes=(
                "on the bench, before the frame is fitted up: the sleeve pushed into "
                f"{splice.pieces[0].mark} and tacked through the root, both pieces on one straight "
                "edge, tacked at four places; weld opposite sides in turn, through the wall onto "
                "the sleeve, and look at each side",
            ),
            unknown=unknown,
        ),
    )


def _plated(
    leaf: Leaf, member: Member, splice: Splice, proved: Check | None, how: Welding
) -> tuple[NumberedSeam, ...]:
    asked = (
        "how large it and the plates are is not given, nor worked: have an engineer answer; two "
        "plates are taken, on face and back"
    )
    leg = way = None
    if splice.plate is not None:
        wide, thick = splice.plate
        edge = float(welds.maximum_fillet(thick, metric=how.metric))
        leg = min(member.section.nominal_wall, edge)
        way = 2.0 * (wide + 2.0 * splice.reach.value)
        asked = (
            "as large as the plate's edge and the tube's wall take; whether it and the plates are "
            "strong enough is not worked: have an engineer answer"
        )
    (x, y), (c, s), reach = splice.place, member.direction, splice.reach.value
    half = member.section.height / 2
    found = [
        _seam(
            leaf,
            member,
            splice,
            proved,
            "butt",
            onto=splice.pieces[1].mark,
            face="all round, under the plates ground flush",
            kind="square groove",
            size=None,
            length=perimeter(member),
            path=_round(member, splice.place),
            view="face",
            notes=("on the bench, before the frame is fitted up, and before its plates",),
            unknown=asked,
        )
    ]
    sides: tuple[tuple[View, float], ...] = (("face", half), ("back", -half))
    for side, z in sides:
        a: Point3 = (x - reach * c, y - reach * s, z)
        b: Point3 = (x + reach * c, y + reach * s, z)
        found.append(
            _seam(
                leaf,
                member,
                splice,
                proved,
                f"plate-{side}",
                onto=f"its plate on the {side}",
                face="all round the plate",
                kind="fillet",
                size=leg,
                length=way,
                path=(a, b),
                view=side,
                notes=("on the bench, after the seam under it",),
                unknown=asked,
            )
        )
    return tuple(found)


def _seam(
    leaf: Leaf,
    member: Member,
    splice: Splice,
    proved: Check | None,
    tail: str,
    *,
    onto: str,
    face: str,
    kind: str,
    size: Metres | None,
    length: Metres | None,
    path: tuple[Point3, ...],
    view: View,
    notes: tuple[str, ...],
    unknown: str,
) -> NumberedSeam:
    mark = splice.pieces[0].mark
    known = size is not None and proved is not None
    groove = kind == "square groove"
    return NumberedSeam(
        key=f"{splice.key}/{tail}",
        leaf=leaf.key,
        number=0,
        mark="",
        joint=splice.key,
        place=f"{member.mark} {member.role}, splice",
        member=mark,
        onto=onto,
        end="",
        face=face,
        where=f"{mark} on {onto}: {face}",
        kind="square groove" if groove else "fillet",
        leg=None if groove else size,
        size=size,
        throat=(size or 0.0) * (1.0 if groove else math.sqrt(0.5)),
        length=length,
        counted=(length or 0.0) if known and groove else 0.0,
        angle=math.pi if groove else math.pi / 2,
        radius=0.0,
        wall=member.section.nominal_wall or min(member.section.width, member.section.height),
        path=path,
        view=view,
        faces=(0.0, 0.0, 1.0 if view == "face" else -1.0),
        all_round=True,
        done_at="shop",
        positions=Positions(apart=("flat",)),
        flush=False,
        covered_by="",
        before="",
        used=proved.ratio if known and groove and proved is not None else None,
        case=proved.case if known and groove and proved is not None else "",
        on_trial=False,
        notes=notes,
        unknown=unknown,
        root=splice.root.value,
    )


def perimeter(member: Member) -> Metres:
    """Return the way round a member on its outside, round its corners [m]."""
    section = member.section
    if is_round(member):
        return math.pi * section.width
    way = 2.0 * (section.width + section.height)
    if section.shape != sections.RECTANGULAR_TUBE:
        return way
    return way - (8.0 - 2.0 * math.pi) * section.design_radii()[0]


def _round(member: Member, place: Point2) -> tuple[Point3, ...]:
    """Return the points of a closed way round a member, square to it."""
    (x, y), (c, s) = place, member.direction
    half_wide, half_deep = member.section.width / 2, member.section.height / 2
    if is_round(member):
        turns = [2.0 * math.pi * i / _ROUND_POINTS for i in range(_ROUND_POINTS + 1)]
        flat = [(half_wide * math.cos(t), half_wide * math.sin(t)) for t in turns]
    else:
        flat = [
            (-half_wide, half_deep),
            (half_wide, half_deep),
            (half_wide, -half_deep),
            (-half_wide, -half_deep),
            (-half_wide, half_deep),
        ]
    return tuple((x - u * s, y + u * c, z) for u, z in flat)
