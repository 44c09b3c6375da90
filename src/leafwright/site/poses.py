"""How near a tilted leaf comes to the building, for one pose or for a whole box of poses.

Everything is in the vertical plane through the wall: y up, z toward the viewer. A pose is how far
the leaf's lowest point is over the floor (lift), where the middle of its bottom edge stands (z),
and its tilt, 0 flat on the floor to π/2 upright. The leaf leans toward the viewer here; `leaning`
mirrors what leans the other way. Leaf and building are made of rectangles.

For a box of poses both bounds are proven, not sampled. Low: along a fixed direction, or along one
of the leaf's own, the gap between two rectangles is a sum of arcs in the tilt, whose least over the
box is exact; the widest of nine such gaps holds for every pose in the box. High: no pose leaves
more room than any one point of the leaf has to the building, or any corner of the building to the
leaf; a rectangle round all places of that point bounds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from leafwright.records import Metres, Radians

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Kind = Literal["keep clear", "may touch", "enters the leaf"]


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle of the leaf, seen from its side.

    ``low`` and ``high`` are heights over its bottom edge, ``back`` and ``front`` distances from
    the middle of its frame toward the viewer, as it hangs [m].
    """

    name: str
    low: Metres
    high: Metres
    back: Metres
    front: Metres

    def __post_init__(self) -> None:
        if not (self.low < self.high and self.back < self.front):
            raise ValueError(
                f"{self.name} reaches from {self.low!r} to {self.high!r} m up the leaf and from "
                f"{self.back!r} to {self.front!r} m across it; give the smaller number first"
            )


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of the building: between two heights y and two distances z [m].

    ``kind``: *keep clear* of it by the margin; *may touch*, where the foot may rest; *enters the
    leaf*, a pin that goes into the leaf in the last straight lowering and is solid until then.
    """

    name: str
    back: Metres
    front: Metres
    bottom: Metres
    top: Metres
    kind: Kind = "keep clear"

    def __post_init__(self) -> None:
        if not (self.back < self.front and self.bottom < self.top):
            raise ValueError(
                f"{self.name} reaches from {self.back!r} to {self.front!r} m across the wall and "
                f"from {self.bottom!r} to {self.top!r} m up; give the smaller number first"
            )


@dataclass(frozen=True, slots=True)
class Pose:
    """How the leaf stands: ``lift`` of its lowest point over the floor [m], ``foot`` the z of the
    middle of its bottom edge [m], ``tilt`` from 0 flat to π/2 upright."""

    lift: Metres
    foot: Metres
    tilt: Radians


@dataclass(frozen=True, slots=True)
class Shapes:
    """Leaf and building as arrays: (low, high, back, front) and (back, front, bottom, top).

    Heights are over the floor. ``rest`` tells which boxes the foot may touch.
    """

    parts: Floats
    boxes: Floats
    rest: NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Bounds:
    """Least and greatest room in each box of poses [m], and what decides it.

    A negative number means that leaf and building overlap. ``worth``, shape (n, 3), says how
    far halving along lift, foot or tilt goes toward the room that is asked for: over 1, that alone
    can do. ``box`` says which of the building's is nearest.
    """

    low: Floats
    high: Floats
    worth: Floats
    box: Ints


def shapes(parts: tuple[Part, ...], boxes: tuple[Box, ...], floor: float, toward: bool) -> Shapes:
    """Return leaf and building for a leaf that leans toward the viewer, or mirrored if not."""
    p = [[q.low, q.high, q.back, q.front] for q in parts]
    b = [[q.back, q.front, q.bottom - floor, q.top - floor] for q in boxes]
    if not toward:
        p = [[low, high, -front, -back] for low, high, back, front in p]
        b = [[-front, -back, bottom, top] for back, front, bottom, top in b]
    return Shapes(
        np.array(p).reshape(-1, 4),
        np.array(b).reshape(-1, 4),
        np.array([q.kind != "keep clear" for q in boxes], dtype=bool),
    )


@dataclass(frozen=True, slots=True)
class _Turned:
    """Ranges over a range of tilts of x·cos + y·sin (``f``) and of x·sin − y·cos (``g``).

    With (x, y) a point of the leaf (up it, across it) these are its z and y; with (x, y) a place
    in the building (z, y) they are how far up the leaf and across it that is.
    """

    f_low: Floats
    f_high: Floats
    g_low: Floats
    g_high: Floats


def _turned(x: Floats, y: Floats, c0: Floats, s0: Floats, c1: Floats, s1: Floats) -> _Turned:
    """Return the exact ranges between two tilts, by cosine and sine of each (less than π apart)."""
    f0, f1 = x * c0 + y * s0, x * c1 + y * s1
    g0, g1 = x * s0 - y * c0, x * s1 - y * c1
    # f' = −g and g' = f: where the slope changes sign inside, the arc passes its own extreme.
    r = np.hypot(x, y)
    return _Turned(
        np.where((g0 > 0) & (g1 < 0), -r, np.minimum(f0, f1)),
        np.where((g0 < 0) & (g1 > 0), r, np.maximum(f0, f1)),
        np.where((f0 < 0) & (f1 > 0), -r, np.minimum(g0, g1)),
        np.where((f0 > 0) & (f1 < 0), r, np.maximum(g0, g1)),
    )


def _outside(past_x: Floats, past_y: Floats) -> Floats:
    """Return the signed distance to a rectangle from how far a point is past it either way."""
    out = np.hypot(np.maximum(past_x, 0.0), np.maximum(past_y, 0.0))
    inside = np.minimum(np.maximum(past_x, past_y), 0.0)
    return out + inside


def _corners(low: Floats, high: Floats) -> Floats:
    """Return low, low, high, high along a new last axis."""
    return np.stack([low, low, high, high], axis=-1)


def _zigzag(low: Floats, high: Floats) -> Floats:
    """Return low, high, low, high along a new last axis."""
    return np.stack([low, high, low, high], axis=-1)


def bounds(of: Shapes, cells: Floats, cap: float, level: float = 0.0) -> Bounds:
    """Return the room that every pose of each cell has at least, and at most [m].

    of: leaf and building; cells: shape (n, 6), low and high of lift, foot [m] and tilt [rad];
    cap: more room than this is not told apart from this [m]; level: the room that is asked for, by
    which the line to split along is chosen [m]. A box that the foot may touch gives ``cap`` where
    no pose goes into it and −1 where every pose does.
    """
    n, parts, boxes = len(cells), len(of.parts), len(of.boxes)
    lift0, lift1, z0, z1, tilt0, tilt1 = cells.T
    c0, s0, c1, s1 = np.cos(tilt0), np.sin(tilt0), np.cos(tilt1), np.sin(tilt1)
    along = _corners(of.parts[:, 0], of.parts[:, 1])
    across = _zigzag(of.parts[:, 2], of.parts[:, 3])
    tilt = [a[:, None, None] for a in (c0, s0, c1, s1)]
    corner = _turned(along[None], across[None], tilt[0], tilt[1], tilt[2], tilt[3])
    # The middle of the bottom edge is as high over the lowest point as that is below it.
    y0 = lift0 - corner.g_high.min(axis=(1, 2))
    y1 = lift1 - corner.g_low.min(axis=(1, 2))
    corner_z = (z0[:, None, None] + corner.f_low, z1[:, None, None] + corner.f_high)
    corner_y = (y0[:, None, None] + corner.g_low, y1[:, None, None] + corner.g_high)
    left, right, under, over = of.boxes.T
    sideways = np.stack(
        [corner_z[0].min(2)[..., None] - right, left - corner_z[1].max(2)[..., None]]
    )
    upward = np.stack([corner_y[0].min(2)[..., None] - over, under - corner_y[1].max(2)[..., None]])
    # No point of the leaf is lower than its lift, however that was rounded on the way.
    upward[0] = np.maximum(upward[0], lift0[:, None, None] - over)
    # Gaps of every leaf part and box along four lines: level, plumb, the leaf's own, corner to box.
    gaps = np.full((4, n, parts * boxes), -np.inf)
    gaps[0] = sideways.max(axis=0).reshape(n, -1)
    gaps[1] = upward.max(axis=0).reshape(n, -1)
    normals = np.zeros((2, 4, n, parts * boxes))
    normals[0, 0] = np.where(sideways[0] >= sideways[1], 1.0, -1.0).reshape(n, -1)
    normals[1, 1] = np.where(upward[0] >= upward[1], 1.0, -1.0).reshape(n, -1)
    low = gaps[:2].max(axis=0)
    rest = np.broadcast_to(of.rest, (parts, boxes)).reshape(-1)
    enough = np.where(rest, 0.0, cap)
    high = np.full_like(low, np.inf)

    at, pair = np.nonzero(low < enough)
    if len(at):
        part, box = np.divmod(pair, boxes)
        edge = [a[at, None] for a in (c0, s0, c1, s1)]
        p, b = of.parts[part], of.boxes[box]
        place = (z0[at], z1[at], y0[at], y1[at])
        middle = 0.5 * (tilt0 + tilt1)[at]
        cm, sm = np.cos(middle), np.sin(middle)
        turned = (along[part], across[part], edge[0], edge[1], edge[2], edge[3])

        # Corners of the box as the leaf sees them: up the leaf and across it, over all poses.
        left_of = np.stack([b[:, :2] - place[1][:, None], b[:, :2] - place[0][:, None]], axis=2)
        below = np.stack([b[:, 2:] - place[3][:, None], b[:, 2:] - place[2][:, None]], axis=2)
        seen = _turned(
            left_of[:, :, None, :, None],
            below[:, None, :, None, :],
            *(a[:, :, None, None, None] for a in edge),
        )
        up_low, up_high = seen.f_low.min(axis=(3, 4)), seen.f_high.max(axis=(3, 4))
        off_low, off_high = seen.g_low.min(axis=(3, 4)), seen.g_high.max(axis=(3, 4))
        own = np.stack(
            [
                up_low.min(axis=(1, 2)) - p[:, 1],
                p[:, 0] - up_high.max(axis=(1, 2)),
                off_low.min(axis=(1, 2)) - p[:, 3],
                p[:, 2] - off_high.max(axis=(1, 2)),
            ]
        )
        best_own, own_way = own.max(axis=0), own.argmax(axis=0)

        # Along the line from the box to the leaf's nearest corner, in the middle of the cell.
        x, y = along[part], across[part]
        mid_z = x * cm[:, None] + y * sm[:, None] + 0.5 * (place[0] + place[1])[:, None]
        mid_y = x * sm[:, None] - y * cm[:, None] + 0.5 * (place[2] + place[3])[:, None]
        off_z = mid_z - np.clip(mid_z, b[:, :1], b[:, 1:2])
        off_y = mid_y - np.clip(mid_y, b[:, 2:3], b[:, 3:])
        nearest = np.hypot(off_z, off_y).argmin(axis=1)[:, None]
        nz = np.take_along_axis(off_z, nearest, 1)[:, 0]
        ny = np.take_along_axis(off_y, nearest, 1)[:, 0]
        far = np.hypot(nz, ny)
        apart = far > 1e-12
        nz, ny = nz / np.where(apart, far, 1.0), ny / np.where(apart, far, 1.0)
        along_n = _turned(
            nz[:, None] * x - ny[:, None] * y, nz[:, None] * y + ny[:, None] * x, *turned[2:]
        ).f_low.min(axis=1)
        toward = (
            along_n
            + np.where(nz > 0, nz * (place[0] - b[:, 1]), nz * (place[1] - b[:, 0]))
            + np.where(ny > 0, ny * (place[2] - b[:, 3]), ny * (place[3] - b[:, 2]))
        )
        toward = np.where(apart, toward, -np.inf)

        gaps[2, at, pair], gaps[3, at, pair] = best_own, toward
        normals[0, 2, at, pair] = np.choose(own_way, [-cm, cm, -sm, sm])
        normals[1, 2, at, pair] = np.choose(own_way, [-sm, sm, cm, -cm])
        normals[0, 3, at, pair], normals[1, 3, at, pair] = nz, ny
        low[at, pair] = np.maximum(low[at, pair], np.maximum(best_own, toward))

        # From above: points of the leaf that are certainly near the box, or in it.
        past_z = np.maximum(b[:, :1] - corner_z[0][at, part], corner_z[1][at, part] - b[:, 1:2])
        past_y = np.maximum(b[:, 2:3] - corner_y[0][at, part], corner_y[1][at, part] - b[:, 3:])
        most = _outside(past_z, past_y).min(axis=1)
        # The point of the leaf's middle line nearest the middle of the box finds a leaf across it.
        mz, my = left_of.mean(axis=(1, 2)), below.mean(axis=(1, 2))
        up = np.clip(mz * cm + my * sm, p[:, 0], p[:, 1])
        flat = [a[:, 0] for a in edge]
        point = _turned(up, 0.5 * (p[:, 2] + p[:, 3]), flat[0], flat[1], flat[2], flat[3])
        past_z = np.maximum(b[:, 0] - place[0] - point.f_low, place[1] + point.f_high - b[:, 1])
        past_y = np.maximum(b[:, 2] - place[2] - point.g_low, place[3] + point.g_high - b[:, 3])
        most = np.minimum(most, _outside(past_z, past_y))
        cut = p[:, :, None, None]
        past_up = np.maximum(cut[:, 0] - up_low, up_high - cut[:, 1])
        past = np.maximum(cut[:, 2] - off_low, off_high - cut[:, 3])
        most = np.minimum(most, _outside(past_up, past).min(axis=(1, 2)))
        high[at, pair] = most

    asked = np.where(rest, 0.0, level)
    critical = np.where(high >= asked, low - asked, np.inf).argmin(axis=1)
    each = np.arange(n)
    worth = _worth(
        of,
        cells,
        critical,
        asked[critical] - gaps[:, each, critical],
        normals[:, :, each, critical],
        0.5 * (y0 + y1),
    )
    low = np.where(rest, np.where(low >= 0.0, cap, -1.0), np.minimum(low, cap))
    high = np.where(rest, np.where(high >= 0.0, cap, -1.0), np.minimum(high, cap))
    return Bounds(low.min(axis=1), high.min(axis=1), worth, high.argmin(axis=1) % boxes)


def _worth(
    of: Shapes, cells: Floats, pair: Ints, lacking: Floats, normals: Floats, y: Floats
) -> Floats:
    """Return how much each side of a cell changes the gap, over what is lacking [-]; shape (n, 3).

    pair: which part and box decide; lacking, normals: along each of the four lines, shapes (4, n)
    and (2, 4, n); y: height of the middle of the bottom edge in the middle of each cell [m].
    """
    part, box = np.divmod(pair, len(of.boxes))
    p, b = of.parts[part], of.boxes[box]
    lift, foot, tilt = (cells[:, 1::2] - cells[:, ::2]).T
    c, s = np.cos(0.5 * (cells[:, 4] + cells[:, 5])), np.sin(0.5 * (cells[:, 4] + cells[:, 5]))
    z = 0.5 * (cells[:, 2] + cells[:, 3])
    nz, ny = normals[0, :, :, None], normals[1, :, :, None]
    # What touches first: a corner of the leaf, or, along the leaf's own lines, one of the box.
    up, off = _corners(p[:, 0], p[:, 1]), _zigzag(p[:, 2], p[:, 3])
    at_z, at_y = up * c[:, None] + off * s[:, None], up * s[:, None] - off * c[:, None]
    box_z = _corners(b[:, 0], b[:, 1]) - z[:, None]
    box_y = _zigzag(b[:, 2], b[:, 3]) - y[:, None]
    first = (nz * at_z + ny * at_y).argmin(axis=2)
    each = np.arange(len(cells))
    touch_z, touch_y = at_z[each, first], at_y[each, first]
    by_box = (normals[0, 2, :, None] * box_z + normals[1, 2, :, None] * box_y).argmax(axis=1)
    touch_z[2], touch_y[2] = box_z[each, by_box], box_y[each, by_box]
    reach = np.hypot(touch_z, touch_y)
    lever = np.abs(normals[0] * touch_y - normals[1] * touch_z)
    turn = np.minimum(lever * tilt + reach * tilt**2 / 8.0, reach * tilt)
    # A little of the plain size, so that no side of a cell is left whole for ever.
    sizes = np.stack(
        [
            (np.abs(normals[1]) + 0.02) * lift,
            (np.abs(normals[0]) + 0.02) * foot,
            turn + 0.02 * reach * tilt,
        ]
    )
    return np.asarray((sizes / np.maximum(lacking, 1e-9)).max(axis=1).T)


def rooms(of: Shapes, poses: Floats) -> tuple[Floats, Ints]:
    """Return the distance from leaf to building in each pose [m], and to which box.

    poses: shape (n, 3), lift, foot [m] and tilt [rad]. Boxes that the foot may touch do not
    count. Without any other box the distance is endless. Exact where leaf and building are apart;
    not above nothing where they overlap.
    """
    keep = np.nonzero(~of.rest)[0]
    if not len(keep):
        return np.full(len(poses), np.inf), np.zeros(len(poses), dtype=np.int64)
    clear = Shapes(of.parts, of.boxes[keep], of.rest[keep])
    found = bounds(clear, np.repeat(poses, 2, axis=1), 1e6)
    return np.where(found.low > 0.0, found.high, np.minimum(found.high, 0.0)), keep[found.box]
