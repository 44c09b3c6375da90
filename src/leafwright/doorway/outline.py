"""Plan outlines: what a leaf is in plan, and what stands round it.

Plan axes are x to the right and z toward the viewer. A leaf's own points are complex numbers
u + i z about its pivot axis: u from the axis toward the nose, z toward the viewer, so that
turning a leaf toward the viewer by θ multiplies them by e^(iθ), whichever hand it is.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright.doorway.records import Doorway, LeafPlace, Side
from leafwright.records import Metres, Point2, Radians

Face = Literal["face", "back"]
Way = Literal["toward", "away"]
WAYS: tuple[Way, Way] = ("toward", "away")

#: How far behind its edge a jamb is drawn where nothing says how wide it is [m].
WALL = 0.30


@dataclass(frozen=True, slots=True)
class Cover:
    """Infill on one face of the frame, held back from the heel and from the nose [m].

    A negative ``from_nose`` is a strip that laps over what the leaf shuts against.
    """

    face: Face
    thickness: Metres
    from_heel: Metres = 0.0
    from_nose: Metres = 0.0


@dataclass(frozen=True, slots=True)
class ScrewHeads:
    """A row of screw heads: how far they stand off what they hold, and where along the leaf [m].

    ``start`` and ``end`` are from the hinge edge.
    """

    face: Face
    height: Metres
    start: Metres
    end: Metres


@dataclass(frozen=True, slots=True)
class Bevel:
    """A bevel of the meeting edge: cut back toward ``side`` by ``angle`` [rad] from a z [m]."""

    side: Face
    angle: Radians
    start_z: Metres


@dataclass(frozen=True, slots=True)
class LeafPlan:
    """One leaf in plan [m].

    Attributes:
        key: how the leaf is called: ``leaf``, ``left`` or ``right``.
        hand: the side that it hangs on, as seen from the face side.
        swing: ``toward`` the viewer, ``away`` or ``both``.
        hinge_edge: x of the frame's hinge edge.
        width: of the frame, hinge edge to nose.
        axis: hinge edge to pivot axis, positive into the leaf.
        frame_half: half the depth of the frame.
        bottom: y of the bottom edge at the axis.
        height: of the leaf.
        axis_z: z of the axis.
        middle_z: z of the frame's middle, shut.
        covers: infill on its faces.
        screw_heads: rows of heads on its faces.
        bevels: of its meeting edge.
        nose_drop: how far the nose's bottom corner hangs under the heel's.
    """

    key: str
    hand: Side
    swing: str
    hinge_edge: Metres
    width: Metres
    axis: Metres
    frame_half: Metres
    bottom: Metres
    height: Metres
    axis_z: Metres = 0.0
    middle_z: Metres = 0.0
    covers: tuple[Cover, ...] = ()
    screw_heads: tuple[ScrewHeads, ...] = ()
    bevels: tuple[Bevel, ...] = ()
    nose_drop: Metres = 0.0

    @property
    def sign(self) -> float:
        """Return +1 where the nose lies to the right of the axis, −1 where to the left."""
        return 1.0 if self.hand == "left" else -1.0

    @property
    def axis_x(self) -> float:
        """Return the x of the pivot axis [m]."""
        return self.hinge_edge + self.sign * self.axis

    @property
    def ways(self) -> tuple[Way, ...]:
        """Return which ways it swings."""
        return tuple(way for way in WAYS if self.swing in (way, "both"))

    def half(self, face: Face) -> float:
        """Return the frame's middle to the outermost thing on one face [m]."""
        heads = [_under(self, row) + row.height for row in self.screw_heads if row.face == face]
        covers = [self.frame_half + c.thickness for c in self.covers if c.face == face]
        return max([self.frame_half, *covers, *heads])


Kind = Literal["jamb", "reveal", "obstacle"]


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stands still: a convex outline in plan, and the heights it takes up [m].

    ``side`` is the side of the opening that a jamb or a reveal is on. ``sd`` is how unsure its
    distance from a hung leaf is, as a standard deviation [m].
    """

    key: str
    name: str
    kind: Kind
    side: Side | None
    corners: tuple[Point2, ...]
    bottom: Metres = -math.inf
    top: Metres = math.inf
    sd: Metres = 0.0


@dataclass(frozen=True, slots=True)
class DoorwayPlan:
    """What stands round the leaves in plan; ``meeting_sd`` [m] is that of the meeting gap."""

    blocks: tuple[Block, ...]
    meeting_sd: Metres = 0.0


@dataclass(frozen=True, slots=True)
class Reveal:
    """The z of the wall's faces from the middle of the shut leaves [m]: ``front`` toward you."""

    front: Metres
    back: Metres


def block(
    key: str,
    name: str,
    kind: Kind,
    *,
    left: float,
    right: float,
    back: float,
    front: float,
    side: Side | None = None,
    bottom: float = -math.inf,
    top: float = math.inf,
    sd: float = 0.0,
) -> Block:
    """Return a rectangular block [m], its sides along x and z.

    Raises:
        ValueError: it has no size.
    """
    if not (left < right and back < front and bottom < top):
        raise ValueError(
            f"{name} has no size: left {left!r} to right {right!r}, back {back!r} to front "
            f"{front!r}, bottom {bottom!r} to top {top!r}; give the smaller of each pair first"
        )
    corners = ((left, back), (right, back), (right, front), (left, front))
    return Block(key, name, kind, side, corners, bottom, top, sd)


def _under(plan: LeafPlan, row: ScrewHeads) -> float:
    """Return the frame's middle to what a row of heads stands on [m]: the thickest along it."""
    thick = [
        cover.thickness
        for cover in plan.covers
        if cover.face == row.face
        and cover.from_heel < row.end
        and plan.width - cover.from_nose > row.start
    ]
    return plan.frame_half + max(thick, default=0.0)


def _clipped(corners: list[complex], keep: complex, limit: float) -> list[complex]:
    """Return the part of a convex outline whose projection on ``keep`` is at most ``limit``."""
    off = [(keep.conjugate() * p).real - limit for p in corners]
    kept: list[complex] = []
    for i, here in enumerate(corners):
        j = (i + 1) % len(corners)
        if off[i] <= 0.0:
            kept.append(here)
        if (off[i] < 0.0 < off[j]) or (off[j] < 0.0 < off[i]):
            kept.append(here + (corners[j] - here) * (off[i] / (off[i] - off[j])))
    return kept


def _bevelled(plan: LeafPlan, corners: list[complex]) -> list[complex]:
    for bevel in plan.bevels:
        toward_side = 1.0 if bevel.side == "face" else -1.0
        normal = complex(math.cos(bevel.angle), toward_side * math.sin(bevel.angle))
        edge = complex(plan.width - plan.axis, bevel.start_z - plan.axis_z)
        corners = _clipped(corners, normal, (normal.conjugate() * edge).real)
    return corners


def pieces(plan: LeafPlan) -> list[list[complex]]:
    """Return the convex pieces of a shut leaf about its axis [m], counter-clockwise.

    The frame, each cover and each row of screw heads; the outline is all of them together.
    """
    # Frame and infill over its whole width are one rectangle.
    whole = [c for c in plan.covers if c.from_heel == 0.0 and c.from_nose == 0.0]
    ahead, behind = (
        plan.frame_half + max((c.thickness for c in whole if c.face == face), default=0.0)
        for face in ("face", "back")
    )
    parts = [(0.0, plan.width, -behind, ahead)]
    laid = [
        (c.face, c.from_heel, plan.width - c.from_nose, plan.frame_half, c.thickness)
        for c in plan.covers
        if c not in whole
    ]
    # A row of heads is taken as solid down to the frame, as high all along as at its highest.
    laid += [
        (s.face, s.start, s.end, plan.frame_half, _under(plan, s) + s.height - plan.frame_half)
        for s in plan.screw_heads
    ]
    for face, start, end, foot, thickness in laid:
        if not (start < end and thickness > 0.0):
            raise ValueError(
                f"{plan.key}: what lies on its {face} from {start!r} to {end!r} m of its width, "
                f"{thickness!r} m thick, has no size; leave it out, or hold it back less"
            )
        low, high = (foot, foot + thickness) if face == "face" else (-foot - thickness, -foot)
        parts.append((start, end, low, high))
    shift = complex(-plan.axis, plan.middle_z - plan.axis_z)
    found = []
    for start, end, low, high in parts:
        corners = [complex(start, low), complex(end, low), complex(end, high), complex(start, high)]
        found.append(_bevelled(plan, [corner + shift for corner in corners]))
    return [piece for piece in found if len(piece) > 2]


def outline(plan: LeafPlan, angle: float) -> list[list[Point2]]:
    """Return the leaf's pieces in plan (x, z) [m], opened by an angle.

    Args:
        plan: the leaf.
        angle: how far it is open [rad], positive toward the viewer.
    """
    turned = cmath.exp(1j * angle)
    return [
        [
            (plan.axis_x + plan.sign * (p * turned).real, plan.axis_z + (p * turned).imag)
            for p in piece
        ]
        for piece in pieces(plan)
    ]


def leaf_plan(
    place: LeafPlace,
    *,
    frame_depth: float,
    covers: Sequence[Cover] | None = None,
    screw_heads: Sequence[ScrewHeads] = (),
    bevels: Sequence[Bevel] = (),
    nose_drop: float = 0.0,
) -> LeafPlan:
    """Return the plan of a leaf that stands in its place [m].

    Args:
        place: from the doorway stage.
        frame_depth: depth of the frame's tube, face to back.
        covers: what lies on the faces; left out, each face is covered over its whole width as
            thickly as the place says.
        screw_heads: rows of heads, if any.
        bevels: of the meeting edge, if any.
        nose_drop: how far the nose hangs under the heel.

    Raises:
        ValueError: the frame is deeper than the place allows.
    """
    half = frame_depth / 2
    if covers is None:
        thick: dict[Face, float] = {
            "face": place.half_face.value - half,
            "back": place.half_back.value - half,
        }
        if min(thick.values()) < -1e-9:
            raise ValueError(
                f"{place.key}: frame_depth {frame_depth!r} m is more than the leaf's thickness "
                f"{place.half_face.value + place.half_back.value!r} m; give the depth of its tube"
            )
        covers = [Cover(face, t) for face, t in thick.items() if t > 1e-9]
    return LeafPlan(
        key=place.key,
        hand=place.hand,
        swing=place.swing,
        hinge_edge=place.hinge_edge.value,
        width=place.width.value,
        axis=place.axis.value,
        frame_half=half,
        bottom=place.bottom.value,
        height=place.height.value,
        covers=tuple(covers),
        screw_heads=tuple(screw_heads),
        bevels=tuple(bevels),
        nose_drop=nose_drop,
    )


def doorway_plan(
    found: Doorway,
    *,
    jamb_depth: float,
    reveal: Reveal | None = None,
    obstacles: Sequence[Block] = (),
) -> DoorwayPlan:
    """Return what stands round the leaves of a doorway in plan [m].

    Each side is a jamb, its post or the wall itself, in the middle of the leaves' depth, and
    where the wall's faces are known the reveal behind a post.

    Args:
        found: the doorway stage's record.
        jamb_depth: depth of the posts; or of the wall, where there are none and no ``reveal``.
        reveal: where the wall's faces are from the middle of the leaves.
        obstacles: what else stands there.
    """
    hung = next(gap for gap in found.gaps if gap.key.endswith(" as hung"))
    blocks: list[Block] = []
    sides: tuple[Side, Side] = ("left", "right")
    for side in sides:
        inward = 1.0 if side == "left" else -1.0
        own = [place for place in found.leaves if place.hand == side]
        if own:
            line, sd = own[0].hinge_edge.value - inward * own[0].heel_gap.value, own[0].heel_gap.sd
        else:
            other = found.leaves[0]
            line = other.hinge_edge.value - inward * (other.width.value + hung.value)
            sd = hung.sd
        post = [p for p in found.posts if p.key == f"{side}/jamb post"]
        depth = (-jamb_depth / 2, jamb_depth / 2)
        if not post and reveal is not None:
            depth = (reveal.back, reveal.front)
        back_edge = post[0].far_edge.value if post else line - inward * WALL
        name = f"{side} jamb post" if post else f"{side} jamb"
        blocks.append(_side_block(f"{side}/jamb", name, "jamb", side, line, back_edge, depth, sd))
        if post and reveal is not None:
            wall = back_edge - inward * min(b.value for b in post[0].behind)
            far = wall - inward * WALL
            depth = (reveal.back, reveal.front)
            name = f"{side} side of the reveal"
            blocks.append(_side_block(f"{side}/reveal", name, "reveal", side, wall, far, depth, sd))
    pair = len(found.leaves) == 2
    return DoorwayPlan((*blocks, *obstacles), meeting_sd=hung.sd if pair else 0.0)


def _side_block(
    key: str,
    name: str,
    kind: Kind,
    side: Side,
    near: float,
    far: float,
    depth: tuple[float, float],
    sd: float,
) -> Block:
    left, right = min(near, far), max(near, far)
    back, front = depth
    return block(key, name, kind, left=left, right=right, back=back, front=front, side=side, sd=sd)
