"""Joints of a leaf enlarged, from the face and from the back, each seam with its number."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from leafwright.leaf import Leaf, Member
from leafwright.paper.beside import InTheWay, clipped, placed_round, slots_round
from leafwright.paper.drawing import DrawingItem
from leafwright.paper.layout import heading
from leafwright.paper.scene import Box, Circle, Fill, Line, Point, Text, box_around
from leafwright.shop.seams import NumberedSeam
from leafwright.shop.seams.records import View
from leafwright.shop.seams.words import ranges

_NUMBER, _APART, _AIR = 3.6, 6.4, 6.0
#: Air between a picture's window and its member marks [mm].
_MARK = 3.6


@dataclass(frozen=True, slots=True)
class JointSeams:
    """One joint with its seams, and the part of the leaf that its picture shows [m]."""

    place: str
    seams: tuple[NumberedSeam, ...]
    window: Box


def joint_places(leaf: Leaf) -> dict[str, Point]:
    """Return where each joint and each splice of a leaf is, by key [m]."""
    return {
        **{joint.key: joint.at for joint in leaf.joints},
        **{splice.key: splice.place for splice in leaf.splices},
    }


def joints_of(leaf: Leaf, seams: Sequence[NumberedSeam]) -> tuple[JointSeams, ...]:
    """Return the joints of a leaf in the order of their numbers."""
    tube = leaf.members[0].section.width
    at = joint_places(leaf)
    found = []
    for place, group in itertools.groupby(seams, key=lambda seam: seam.place):
        here = tuple(group)
        x, y = at[here[0].joint]
        whole = [(x - tube / 2, y - tube / 2), (x + tube / 2, y + tube / 2)]
        around = box_around([*whole, *((x, y) for seam in here for x, y, _ in seam.path)])
        found.append(JointSeams(place, here, around.inset(-0.45 * tube)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Cell:
    """A joint's cell on a sheet, at least, and how large both its pictures are in it [mm].

    ``enlarged`` is how long a metre of the leaf is in them [mm].
    """

    width: float
    height: float
    window: tuple[float, float]
    enlarged: float = 0.0

    def with_scale(self, joints: Sequence[JointSeams]) -> Cell:
        """Return the cell with the scale at which every joint fits it."""
        return replace(self, enlarged=enlarged_for(joints, self.window))


_SMALL, _LARGE = Cell(128.0, 92.0, (38.0, 60.0)), Cell(170.0, 92.0, (62.0, 60.0))
#: A small cell serves where the narrowest tube is so wide in it [mm].
_LEGIBLE = 13.0


def enlarged_for(joints: Sequence[JointSeams], window: tuple[float, float]) -> float:
    """Return how long a metre may be so that every joint fits a window of that size [mm]."""
    wide = max(joint.window.width for joint in joints)
    high = max(joint.window.height for joint in joints)
    return min(window[0] / wide, window[1] / high)


def cell_for(joints: Sequence[JointSeams], room: float, tube: float) -> Cell:
    """Return the cell for the joints of a leaf: a small one where that is legible.

    Args:
        joints: to be drawn, all at one scale.
        room: width of the sheet [mm].
        tube: width of the leaf's narrowest tube [m].
    """
    small, large = _SMALL.with_scale(joints), _LARGE.with_scale(joints)
    return small if small.enlarged * tube >= _LEGIBLE or room < large.width else large


def seen(seam: NumberedSeam, view: View) -> bool:
    """Return whether a picture of one side numbers a seam: those across the tubes on the face."""
    return seam.view == view


def joint_cell(leaf: Leaf, joint: JointSeams, cell: Cell, box: Box, face: str) -> list[DrawingItem]:
    """Return one joint from both sides with its numbers, in a cell of a sheet.

    Args:
        leaf: whose joint it is.
        joint: the joint.
        cell: how large its pictures are.
        box: the room on the sheet [mm].
        face: what the face is called in the job.
    """
    numbers = ranges([seam.number for seam in joint.seams])
    title = f"{joint.place[:1].upper()}{joint.place[1:]}: {numbers}"
    head = heading(title, left=box.left, top=box.top, width=box.width - 4.0, height_mm=3.2)
    items: list[DrawingItem] = [*head.items]
    half = (box.width - 4.0) / 2.0
    views: tuple[tuple[View, str], ...] = (("face", f"from the {face}"), ("back", "from the back"))
    for i, (view, told) in enumerate(views):
        left = box.left + i * half
        room = Box(left, box.bottom, left + half, head.bottom - 1.0)
        items += detail_picture(leaf, joint, view, cell.enlarged, room)
        hinge = "left" if (leaf.hand == "left") is (view == "face") else "right"
        caption = f"{told}, hinge edge to the {hinge}"
        at = (room.centre[0], room.bottom + 0.6)
        items.append(Text(at, caption, height_mm=2.2, anchor="centre-bottom"))
    return items


def detail_picture(
    leaf: Leaf, joint: JointSeams, view: View, k: float, room: Box
) -> list[DrawingItem]:
    """Return one joint from one side, each seam with its number.

    Args:
        leaf: whose joint it is.
        joint: the joint.
        view: the side it is seen from.
        k: how long a metre of the leaf is in it [mm].
        room: what it stands in the middle of [mm].
    """
    sign = 1.0 if view == "face" else -1.0
    cx, cy = room.centre[0], room.centre[1] + 1.5
    mx, my = joint.window.centre

    def on(p: Sequence[float]) -> Point:
        return (cx + sign * k * (p[0] - mx), cy + k * (p[1] - my))

    wide, high = k * joint.window.width / 2.0, k * joint.window.height / 2.0
    window = Box(cx - wide, cy - high, cx + wide, cy + high)
    items: list[DrawingItem] = []
    marks: list[Text] = []
    for member in leaf.members:
        lines, mark = _member(member, on, window)
        items += lines
        marks += mark
    items += marks
    targets, numbers, drawn = [], [], list[tuple[Point, Point]]()
    for seam in joint.seams:
        if not seen(seam, view):
            continue
        a, b = on(seam.path[0]), on(seam.path[-1])
        if math.dist(a, b) < 0.3:
            items.append(Circle(a, 1.0, "note", fill="black", key=seam.key))
        else:
            points = [on(p) for p in seam.path]
            for start, end in itertools.pairwise(points):
                items.append(_thick(start, end, seam.key))
                drawn.append((start, end))
        targets.append(on(seam.middle))
        numbers.append(seam.number)
    way = InTheWay(tuple(drawn), tuple(mark.at for mark in marks))
    slots = slots_round(window, apart=_APART, air=_AIR)
    for number, target, at in zip(numbers, targets, placed_round(targets, slots, way), strict=True):
        items += _numbered(str(number), target, at)
    return items


def _numbered(number: str, target: Point, at: Point) -> list[DrawingItem]:
    """Return a number with its line, which stops short of the digits."""
    away = math.dist(target, at)
    share = 1.0 - min(3.4, 0.5 * away) / away
    end = (target[0] + share * (at[0] - target[0]), target[1] + share * (at[1] - target[1]))
    return [
        Line(target, end, "dimension"),
        Circle(target, 0.55, "dimension", fill="black"),
        Text(at, number, height_mm=_NUMBER, anchor="centre-middle", bold=True),
    ]


def _thick(a: Point, b: Point, key: str) -> Fill:
    """Return a seam as a bar along it."""
    size = math.dist(a, b) or 1.0
    nx, ny = -(b[1] - a[1]) / size * 0.55, (b[0] - a[0]) / size * 0.55
    corners = (
        (a[0] + nx, a[1] + ny),
        (b[0] + nx, b[1] + ny),
        (b[0] - nx, b[1] - ny),
        (a[0] - nx, a[1] - ny),
    )
    return Fill(corners, "grey", layer="note", key=key)


def _member(
    member: Member, on: Callable[[Sequence[float]], Point], window: Box
) -> tuple[list[DrawingItem], list[Text]]:
    """Return what of a member is in a picture, and its mark where it leaves it."""
    outline = [on(p) for p in member.bar.outline]
    items: list[DrawingItem] = []
    inside: list[Point] = []
    for a, b in itertools.pairwise([*outline, outline[0]]):
        part = clipped(a, b, window)
        if part is not None:
            items.append(Line(*part, "thin", key=member.key))
            inside += part
    start, end = _centre_line(member)
    middle = clipped(on(start), on(end), window)
    if not inside or middle is None:
        return items, []
    far = max(middle, key=lambda p: math.dist(p, window.centre))
    size = math.dist(*middle) or 1.0
    other = middle[0] if far == middle[1] else middle[1]
    step = min(_MARK, size / 2.0) / size
    at = (far[0] + step * (other[0] - far[0]), far[1] + step * (other[1] - far[1]))
    name = member.mark.partition("-")[2]
    mark = Text(at, name, height_mm=2.4, anchor="centre-middle", ink="dark", knockout=True)
    return items, [mark]


def _centre_line(member: Member) -> tuple[Point, Point]:
    """Return both ends of a member's centre line [m]."""
    (fx, fy), (dx, dy) = member.foot, member.direction
    along = [(x - fx) * dx + (y - fy) * dy for x, y in member.bar.outline]
    return (
        (fx + min(along) * dx, fy + min(along) * dy),
        (fx + max(along) * dx, fy + max(along) * dy),
    )
