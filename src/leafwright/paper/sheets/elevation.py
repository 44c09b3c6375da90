"""Elevations: the opening, the doorway and a leaf as drawings at true size."""

from __future__ import annotations

import math
from dataclasses import replace

from leafwright.doorway import Doorway, LeafPlace
from leafwright.leaf import Leaf, Member
from leafwright.leaf.notch import seen_outlines
from leafwright.paper.drawing import Dimension, DrawingItem, Hatch, Leader
from leafwright.paper.scene import Circle, Fill, Layer, Line, Point, Polyline, Text
from leafwright.say import Words
from leafwright.shop.cut_list import FILLER_MARKS
from leafwright.survey import Survey, side_marks

#: How far the drawn wall and floor reach beyond the opening [m].
WALL = 0.18


def box(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return the corners of a rectangle [m], counter-clockwise."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def opening_outline(found: Survey, head: bool) -> list[DrawingItem]:
    """Return the wall round an opening as found, hatched, and the floor under it."""
    left = [(m.at[0], m.at[1]) for m in side_marks(found, "left")]
    right = [(m.at[0], m.at[1]) for m in side_marks(found, "right")]
    lo = min(y for _, y in (*left, *right)) - WALL
    hi = max(y for _, y in (*left, *right)) + WALL
    out_left, out_right = min(x for x, _ in left) - WALL, max(x for x, _ in right) + WALL
    items: list[DrawingItem] = []
    inside = [*left, *reversed(right)]
    if head:
        wall = (
            (out_left, left[0][1]),
            left[0],
            *left[1:],
            *reversed(right[1:]),
            right[0],
            (out_right, right[0][1]),
            (out_right, hi),
            (out_left, hi),
        )
        items.append(Hatch(wall, "masonry", 2.4))
        items.append(Polyline(tuple(inside), "cut"))
    else:
        for side, edge in ((left, out_left), (right, out_right)):
            post = (*side, (edge, side[-1][1]), (edge, side[0][1]))
            items.append(Hatch(post, "masonry", 2.4))
            items.append(Polyline(tuple(side), "cut"))
    ground = ((out_left, left[0][1]), left[0], right[0], (out_right, right[0][1]))
    items.append(Hatch((*ground, (out_right, lo), (out_left, lo)), "ground", 2.4))
    items.append(Polyline(ground, "cut"))
    return items


def opening_dimensions(found: Survey, words: Words, head: bool) -> list[DrawingItem]:
    """Return the adjusted sizes of an opening with the lean of its sides."""
    marks = {m.name: m for m in found.marks}
    bl, br, tl, tr = (marks[name].at for name in ("BL", "BR", "TL", "TR"))
    items: list[DrawingItem] = [
        Dimension(
            (bl[0], bl[1]),
            (br[0], br[1]),
            -16,
            words.length(math.dist(bl, br)),
            "x",
            base=min(bl[1], br[1]) - WALL,
        ),
        Dimension(
            (tl[0], tl[1]),
            (tr[0], tr[1]),
            10,
            words.length(math.dist(tl, tr)),
            "x",
            base=max(tl[1], tr[1]) + (WALL if head else 0.0),
        ),
        Dimension(
            (bl[0], bl[1]),
            (tl[0], tl[1]),
            -12,
            words.length(math.dist(bl, tl)),
            "y",
            base=min(bl[0], tl[0]) - WALL,
        ),
        Dimension(
            (br[0], br[1]),
            (tr[0], tr[1]),
            12,
            words.length(math.dist(br, tr)),
            "y",
            base=max(br[0], tr[0]) + WALL,
        ),
    ]
    for a, b, share in ((bl, tr, 0.72), (br, tl, 0.72)):
        items.append(Line((a[0], a[1]), (b[0], b[1]), "centre"))
        spot = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
        angle = math.atan2(b[1] - a[1], b[0] - a[0])
        if angle > math.pi / 2:
            angle -= math.pi
        items.append(
            Text(
                spot,
                words.length(math.dist(a, b)),
                anchor="centre-middle",
                angle=angle,
                knockout=True,
            )
        )
    rights = {m.name[1:]: m for m in side_marks(found, "right")}
    for m in side_marks(found, "left"):
        other = rights.get(m.name[1:])
        if m.name in ("BL", "TL") or other is None:
            continue
        across = ((m.at[0], m.at[1]), (other.at[0], other.at[1]))
        items.append(Line(*across, "thin"))
        text = f"{words.length(math.dist(m.at, other.at))} at {m.name[2:]}"
        middle = ((m.at[0] + other.at[0]) / 2, (m.at[1] + other.at[1]) / 2)
        items.append(Text(middle, text, anchor="centre-middle", knockout=True))
    for name, corner in (("BL", bl), ("BR", br), ("TL", tl), ("TR", tr)):
        dx = 5 if name[1] == "L" else -5
        dy = 5 if name[0] == "B" else -5
        items.append(Leader((corner[0], corner[1]), (dx, dy), name, end="none", bold=True))
    return items


def out_of_true(found: Survey, words: Words) -> str:
    """Return how far the corners stand off plumb and level, in one sentence."""
    marks = {m.name: m.at for m in found.marks}
    told = []
    for top, foot in (("TL", "BL"), ("TR", "BR")):
        lean = marks[top][0] - marks[foot][0]
        way = "right" if lean > 0 else "left"
        told.append(f"{top} stands {words.length(abs(lean))} {way} of plumb over {foot}")
    for right, left in (("BR", "BL"), ("TR", "TL")):
        rise = marks[right][1] - marks[left][1]
        way = "above" if rise > 0 else "below"
        told.append(f"{right} is {words.length(abs(rise))} {way} {left}")
    return "; ".join(told) + "."


def filler_items(doorway: Doorway) -> list[DrawingItem]:
    """Return posts and transom as outlines."""
    items: list[DrawingItem] = []
    top_of_posts = []
    for post in doorway.posts:
        left, right = sorted((post.near_edge.value, post.far_edge.value))
        bottom = min(0.0, *(p.bottom.value for p in doorway.leaves)) if doorway.leaves else 0.0
        top = bottom + post.length.value
        top_of_posts.append(top)
        if post.section is not None:
            items.append(Polyline(box(left, bottom, right, top), "cut", closed=True, key=post.key))
        else:
            items.append(Polyline(box(left, bottom, right, top), "hidden", closed=True))
    if doorway.transom is not None and doorway.transom.section is not None:
        t = doorway.transom
        left, right = transom_ends(doorway)
        items.append(
            Polyline(
                box(left, t.near_edge.value, right, t.far_edge.value), "cut", closed=True, key=t.key
            )
        )
    return items


def filler_marks(doorway: Doorway) -> list[DrawingItem]:
    """Return the shop marks of posts and transom, written on or beside them."""
    items: list[DrawingItem] = []
    for post in doorway.posts:
        mark = FILLER_MARKS.get(post.key)
        if post.section is not None and mark is not None:
            x = (post.near_edge.value + post.far_edge.value) / 2
            spot = (x, 0.55 * post.length.value)
            items.append(
                Text(
                    spot,
                    mark,
                    height_mm=2.4,
                    anchor="centre-middle",
                    angle=math.pi / 2,
                    bold=True,
                    knockout=True,
                )
            )
    transom = doorway.transom
    if transom is not None and transom.section is not None:
        left, right = transom_ends(doorway)
        spot = (
            left + 0.25 * (right - left),
            (transom.near_edge.value + transom.far_edge.value) / 2,
        )
        items.append(
            Text(
                spot,
                FILLER_MARKS[transom.key],
                height_mm=2.4,
                anchor="centre-middle",
                bold=True,
                knockout=True,
            )
        )
    return items


def transom_ends(doorway: Doorway) -> tuple[float, float]:
    """Return the x of both ends of the transom [m]: between the lines that the leaves hang from."""
    first = leaf_box(doorway.leaves[0])
    transom = doorway.transom
    length = transom.length.value if transom else 0.0
    if len(doorway.leaves) == 2 or doorway.leaves[0].hand == "left":
        left = first[0] - doorway.leaves[0].heel_gap.value
        return left, left + length
    right = first[2] + doorway.leaves[0].heel_gap.value
    return right - length, right


def leaf_box(place: LeafPlace) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of a leaf in the doorway's axes [m]."""
    edge = place.hinge_edge.value
    left = edge if place.hand == "left" else edge - place.width.value
    bottom = place.bottom.value
    return left, bottom, left + place.width.value, bottom + place.height.value


def member_outline(member: Member, by: Point = (0.0, 0.0)) -> Polyline:
    """Return a member's elevation, moved."""
    points = tuple((x + by[0], y + by[1]) for x, y in member.bar.outline)
    layer: Layer = "thin" if member.role == "rod" else "cut"
    return Polyline(points, layer, closed=True, key=member.key)


def leaf_items(leaf: Leaf, by: Point = (0.0, 0.0), *, braces: bool = True) -> list[DrawingItem]:
    """Return the steel of a leaf, moved; braces first, so that what runs through lies on top."""
    order = [m for m in leaf.members if m.role in ("brace", "rod")] if braces else []
    order += [m for m in leaf.members if m.role not in ("brace", "rod")]
    return [part for m in order for part in (*member_parts(m, by), *splice_mark(leaf, m, by))]


def member_parts(member: Member, by: Point = (0.0, 0.0)) -> list[Polyline]:
    """Return what is seen of a member's elevation, moved: two parts where its face is notched."""
    whole = member_outline(member, by)
    seen = seen_outlines(member.bar.outline, member.direction, member.notch)
    if len(seen) == 1:
        return [whole]
    return [replace(whole, points=tuple((x + by[0], y + by[1]) for x, y in part)) for part in seen]


def splice_mark(leaf: Leaf, member: Member, by: Point = (0.0, 0.0)) -> list[DrawingItem]:
    """Return the seam of a spliced member, with how far its sleeve or plates reach, dashed."""
    splice = next((s for s in leaf.splices if s.member == member.key), None)
    if splice is None:
        return []
    (c, s), half = member.direction, member.section.width / 2
    x, y = splice.place[0] + by[0], splice.place[1] + by[1]
    items: list[DrawingItem] = []
    reach = splice.reach.value
    pens: tuple[tuple[float, Layer], ...] = ((0.0, "cut"), (-reach, "hidden"), (reach, "hidden"))
    for away, pen in pens:
        at = (x + away * c, y + away * s)
        ends = ((at[0] - half * s, at[1] + half * c), (at[0] + half * s, at[1] - half * c))
        items.append(Line(ends[0], ends[1], pen))
    return items


def swing_arrow(place: LeafPlace, by: Point) -> list[DrawingItem]:
    """Return the dashed lines from the nose to the hinges that say which edge is hung.

    Both lines meet on the hinge side: common practice in elevations.
    """
    left, bottom, right, top = leaf_box(place)
    hinge = left if place.hand == "left" else right
    nose = right if place.hand == "left" else left
    middle = (bottom + top) / 2
    return [
        Line((nose + by[0], top + by[1]), (hinge + by[0], middle + by[1]), "hidden"),
        Line((nose + by[0], bottom + by[1]), (hinge + by[0], middle + by[1]), "hidden"),
    ]


def hinge_edge(leaf: Leaf) -> list[DrawingItem]:
    """Return the heavy mark along the hinge edge of a leaf, with its words."""
    x = 0.0 if leaf.hand == "left" else leaf.width
    out = -0.012 if leaf.hand == "left" else 0.012
    strip = box(min(x, x + out), 0.0, max(x, x + out), leaf.height)
    return [Fill(strip, "black", layer="mark")]


def centre_mark(at_point: Point, radius: float) -> list[DrawingItem]:
    """Return the mark of a centre of gravity: a circle with two quarters filled [m]."""
    x, y = at_point
    items: list[DrawingItem] = [Circle(at_point, radius, "note", fill="white")]
    for start in (0.0, math.pi):
        points = [at_point]
        points += [
            (
                x + radius * math.cos(start + i * math.pi / 16),
                y + radius * math.sin(start + i * math.pi / 16),
            )
            for i in range(9)
        ]
        items.append(Fill(tuple(points), "black"))
    return items
