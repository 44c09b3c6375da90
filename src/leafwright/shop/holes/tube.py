"""A leaf's tube as it lies on the bench: its datum end, its faces, and what lands on each.

Along is from the datum end (the lower end of a stile or a brace, the hinge end of a rail); across
is from a face's datum edge. On the two flat faces that edge is the hinge edge of a stile and the
lower edge of anything else; on the two edges of the tube it is the side toward the viewer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from leafwright.handbook.sections import RECTANGULAR_TUBE, ROUND_TUBE
from leafwright.leaf import Leaf, Member
from leafwright.records import Metres, Number, Point2, Point3
from leafwright.shop.holes.records import FaceKey, FaceOf, Hole

#: Another tube's end that is no farther off an edge than this lands on it [m]: the root gap.
TOUCHES = 0.004

STILES = ("hanging stile", "meeting stile", "closing stile")


@dataclass(frozen=True, slots=True)
class Tube:
    """A tube of a leaf, laid along its own length.

    ``start`` is its datum end in leaf axes, ``way`` along it and ``out`` across it in the leaf's
    plane, from its datum edge's side to the other (a stile's nose edge, the upper edge of the
    rest). ``ends`` are how far along each of its four corners is: of the datum edge near and far,
    of the other edge near and far [m].
    """

    member: Member
    leaf: Leaf
    start: Point2
    way: tuple[Number, Number]
    out: tuple[Number, Number]
    length: Metres
    ends: tuple[Metres, Metres, Metres, Metres]

    @property
    def width(self) -> Metres:
        """Return its width in the leaf's plane [m]."""
        return self.member.section.width

    @property
    def depth(self) -> Metres:
        """Return its depth across the leaf's plane [m]."""
        section = self.member.section
        return section.height if section.shape == RECTANGULAR_TUBE else section.width

    @property
    def wall(self) -> Metres:
        """Return its wall as bought [m]."""
        return self.member.section.nominal_wall

    @property
    def is_round(self) -> bool:
        """Return whether it has no faces."""
        return self.member.section.shape == ROUND_TUBE

    @property
    def edges(self) -> tuple[FaceKey, FaceKey]:
        """Return its datum edge and the other one as faces of their own."""
        return ("hinge", "nose") if self.member.role in STILES else ("lower", "upper")

    def along(self, point: Point2) -> Metres:
        """Return how far along a point of the leaf lies [m]."""
        return (point[0] - self.start[0]) * self.way[0] + (point[1] - self.start[1]) * self.way[1]

    def across(self, point: Point2) -> Metres:
        """Return how far from the datum edge a point of the leaf lies [m]."""
        return (point[0] - self.start[0]) * self.out[0] + (point[1] - self.start[1]) * self.out[1]

    def in_leaf(self, face: FaceKey, along: Metres, across: Metres) -> Point3:
        """Return where a place on a face is in leaf axes [m]."""
        flat = face in ("face", "back", "round")
        side = across if flat else (0.0 if face == self.edges[0] else self.width)
        z = {"face": self.depth / 2.0, "round": self.depth / 2.0, "back": -self.depth / 2.0}.get(
            face, self.depth / 2.0 - across
        )
        return (
            self.start[0] + along * self.way[0] + side * self.out[0],
            self.start[1] + along * self.way[1] + side * self.out[1],
            z,
        )

    def clear_end(self, face: FaceKey, near: bool) -> Metres:
        """Return how far along a face is whole at an end, from the datum end [m]."""
        edge_near, edge_far, other_near, other_far = self.ends
        if face == self.edges[0]:
            return edge_near if near else edge_far
        if face == self.edges[1]:
            return other_near if near else other_far
        return max(edge_near, other_near) if near else min(edge_far, other_far)


def is_tube(member: Member) -> bool:
    """Return whether a member is hollow."""
    return member.section.shape in (RECTANGULAR_TUBE, ROUND_TUBE)


def tube_of(leaf: Leaf, member: Member) -> Tube:
    """Return a member as it lies on the bench."""
    way = _way(leaf, member)
    left = (-way[1], way[0])
    out = _out(leaf, member, left)
    foot = member.foot
    outline = member.bar.outline
    spots = [((p[0] - foot[0]), (p[1] - foot[1])) for p in outline]
    along = [x * way[0] + y * way[1] for x, y in spots]
    across = [x * out[0] + y * out[1] for x, y in spots]
    first = min(along)
    half = member.section.width / 2.0
    start = (
        foot[0] + first * way[0] - half * out[0],
        foot[1] + first * way[1] - half * out[1],
    )
    datum = sorted(a - first for a, u in zip(along, across, strict=True) if u < -half + 1e-6)
    other = sorted(a - first for a, u in zip(along, across, strict=True) if u > half - 1e-6)
    length = max(along) - first
    ends = (
        datum[0] if datum else 0.0,
        datum[-1] if datum else length,
        other[0] if other else 0.0,
        other[-1] if other else length,
    )
    return Tube(member, leaf, start, way, out, length, ends)


def _way(leaf: Leaf, member: Member) -> tuple[float, float]:
    """Return the direction from the datum end: up, or away from the hinge edge where level."""
    x, y = member.direction
    from_hinge = 1.0 if leaf.hand == "left" else -1.0
    turned = y < -1e-9 or (abs(y) <= 1e-9 and x * from_hinge < 0.0)
    return (-x, -y) if turned else (x, y)


def _out(leaf: Leaf, member: Member, left: tuple[float, float]) -> tuple[float, float]:
    """Return the direction from datum edge to the other edge."""
    if member.role in STILES:
        from_hinge = 1.0 if leaf.hand == "left" else -1.0
        return left if left[0] * from_hinge > 0.0 else (-left[0], -left[1])
    return left if left[1] > 0.0 else (-left[0], -left[1])


def tubes_of(leaf: Leaf) -> tuple[Tube, ...]:
    """Return every tube of a leaf."""
    return tuple(tube_of(leaf, member) for member in leaf.members if is_tube(member))


# ---------------------------------------------------------------- what lands where


@dataclass(frozen=True, slots=True)
class Landing:
    """Where another part is welded on a face: from and to, along it [m], and who."""

    face: FaceKey
    low: Metres
    high: Metres
    who: str


def landings(tube: Tube) -> tuple[Landing, ...]:
    """Return what lands on a tube's two edges: ends of the leaf's other members.

    Every part of a leaf but its infill lies in its middle plane, so that only the edges are met.
    """
    found = []
    for other in tube.leaf.members:
        if other.key == tube.member.key:
            continue
        for face, at in zip(tube.edges, (0.0, tube.width), strict=True):
            spots = [tube.along(p) for p in other.bar.outline if abs(tube.across(p) - at) < TOUCHES]
            low, high = max(min(spots, default=0.0), 0.0), min(max(spots, default=0.0), tube.length)
            if len(spots) >= 2 and high - low > TOUCHES:
                found.append(Landing(face, low, high, other.mark))
    return tuple(sorted(found, key=lambda one: (one.face, one.low)))


def free_of(
    landed: Iterable[Landing], face: FaceKey, at: Metres, radius: Metres, clear: Metres
) -> Landing | None:
    """Return what a hole comes too near to, or None.

    Args:
        landed: what lands on the tube.
        face: of the hole.
        at: of its middle, along [m].
        radius: half of its length along the tube [m].
        clear: wanted between its rim and the edge of what lands [m].
    """
    for one in landed:
        keep = radius + clear - 1e-6
        if one.face == face and one.low - keep < at < one.high + keep:
            return one
    return None


def end_open(tube: Tube, tubes: Iterable[Tube], *, near: bool) -> bool:
    """Return whether an end stands open: no other tube of the leaf covers it.

    An end that is mitred against another opens into it, and the two are closed together.
    """
    cut_at = tube.ends[0::2] if near else tube.ends[1::2]
    for other in tubes:
        if other.member.key == tube.member.key:
            continue
        for across, along in zip((0.0, tube.width), cut_at, strict=True):
            inward = min(max(across, 0.1 * tube.width), 0.9 * tube.width)
            beyond = along + (-1.0 if near else 1.0) * 2.0 * TOUCHES
            x, y, _ = tube.in_leaf("face", beyond, inward)
            if _covers(other, (x, y)):
                return False
    return True


def _covers(tube: Tube, point: Point2) -> bool:
    along, across = tube.along(point), tube.across(point)
    return -1e-6 <= along <= tube.length + 1e-6 and -1e-6 <= across <= tube.width + 1e-6


# ---------------------------------------------------------------- words

_NAMES: dict[FaceKey, str] = {
    "hinge": "hinge edge",
    "nose": "nose edge",
    "lower": "lower edge",
    "upper": "upper edge",
    "round": "side toward the viewer",
}


def side_words(face: FaceKey, seen_from: str) -> str:
    """Return a face in the maker's words: ``face, toward the dock side``."""
    if face == "face":
        return f"face, toward the {seen_from}"
    if face == "back":
        return f"back, away from the {seen_from}"
    return _NAMES.get(face, face)


def face_of(tube: Tube, face: FaceKey, seen_from: str) -> FaceOf:
    """Return a face as it is laid flat."""
    flat = face in ("face", "back", "round")
    datum = _NAMES[tube.edges[0]] if flat else f"side toward the {seen_from}"
    other_left = _other_on_left(tube)
    left_edge = tube.edges[1] if other_left else tube.edges[0]
    # An edge on the left of the face has the viewer's side on its right, by the face.
    datum_left = face != left_edge
    if flat:
        datum_left = other_left if face == "back" else not other_left
    wide = tube.width if flat else tube.depth
    return FaceOf(face, side_words(face, seen_from), wide, datum, datum_left)


def _other_on_left(tube: Tube) -> bool:
    """Return whether the edge across from the datum edge is on the left, the datum end down."""
    return -tube.way[1] * tube.out[0] + tube.way[0] * tube.out[1] > 0.0


def faces_in_turn(tube: Tube) -> tuple[FaceKey, ...]:
    """Return a tube's faces as they come round, the datum end down: edge, face, edge, back."""
    first, last = tube.edges[::-1] if _other_on_left(tube) else tube.edges
    return (first, "face", last, "back", "round")


def datum_end_words(tube: Tube) -> str:
    """Return where the tape hooks."""
    role = tube.member.role
    if role in STILES:
        return "its lower end"
    return "its hinge end" if abs(tube.way[1]) <= 1e-9 else "the long point of its lower end"


def placed(tube: Tube, hole: Hole) -> Point3:
    """Return where the middle of a hole is in leaf axes [m]."""
    return tube.in_leaf(hole.face, hole.along.value, hole.across.value)


def distance(a: Point3, b: Point3) -> Metres:
    """Return how far two places are apart [m]."""
    return math.dist(a, b)
