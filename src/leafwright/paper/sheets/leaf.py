"""A sheet for each leaf: its steel in elevation, running dimensions, weights and members."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from leafwright.doorway import Doorway, LeafPlace
from leafwright.job.model import BarrelHinge, LeafTable
from leafwright.leaf import Leaf, Member
from leafwright.paper.drawing import (
    AngleDimension,
    Drawing,
    DrawingItem,
    RunningDimensions,
    Symbol,
)
from leafwright.paper.font import ink_corners, text_width
from leafwright.paper.inspect import boxes_meet, grown
from leafwright.paper.layout import Caution, Column, Table
from leafwright.paper.scale import Scale, fitting_scale
from leafwright.paper.scene import Fill, Line, Point, Polyline, Primitive, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, blank, title_of_leaf
from leafwright.paper.sheets.elevation import centre_mark, hinge_edge, leaf_items
from leafwright.paper.sheets.flow import WIDE_ENOUGH, Figures, Rows, Says, drawn
from leafwright.proof.prove import holding
from leafwright.records import Held
from leafwright.say import end_words, sentence, swing_words
from leafwright.say_cutting import closure_words, fit_words
from leafwright.shop.cut_list import CutEnd, CutItem, CutList
from leafwright.shop.cut_order import CutOrder
from leafwright.units import show_angle

ROD_WORDS = (
    " A rod runs over the face of the mid rails, from tab to tab; its tabs and turnbuckle are "
    "not drawn, listed or weighed."
)
#: A brace's words take up no more than this share of it on paper [-].
ROOM_FOR_WORDS = 0.34
#: A bay lower than this on paper has no room for its brace's angle [mm].
ROOM_FOR_ANGLE_MM = 45.0
#: What of a sheet a leaf's drawing has for itself, dimensions and cautions apart: share of its
#: width and of its height where words stand beside it, and where the sheet is narrow [-].
BESIDE, ALONE = (0.42, 0.5), (0.75, 0.3)

#: Where a mark would touch another it is written so far along its member instead [-].
STEPS_ALONG = (0.1, -0.1, 0.18, -0.18, 0.26, -0.26, 0.34, -0.34)
#: Air that marks keep from one another [mm].
AIR_MM = 0.3

#: A brace closer to the stile than this leaves no room to write its angle there [rad].
NARROW = math.radians(30.0)

LIFTING = Caution(
    "Lifting and standing the leaf",
    "It can crush. Enough people or a lift rated for it, feet and hands clear, tied off until "
    "both pins are captured. Follow a lift plan by a competent person and local rules.",
)
NOT_DRAWN = Caution(
    "Pivots, plates, hinges and holes are not drawn here",
    "Drill nothing from this sheet: how the leaf is held stands on the sheets after it.",
)
HOT_WORK = Caution(
    "Hot work",
    "Clear what burns, keep an extinguisher and a fire watch as the local rules say, and take "
    "coatings off before welding: fumes can poison.",
)


def _middle(member: Member, share: float = 0.5) -> tuple[float, float]:
    """Return a point along a member's outline, by share of its length [m]."""
    xs = [p[0] for p in member.bar.outline]
    ys = [p[1] for p in member.bar.outline]
    if abs(member.direction[0]) < 1e-9:
        return member.foot[0], min(ys) + share * (max(ys) - min(ys))
    if abs(member.direction[1]) < 1e-9:
        return min(xs) + share * (max(xs) - min(xs)), member.foot[1]
    projections = [x * member.direction[0] + y * member.direction[1] for x, y in member.bar.outline]
    base = member.foot[0] * member.direction[0] + member.foot[1] * member.direction[1]
    s = min(projections) + share * (max(projections) - min(projections)) - base
    return member.foot[0] + s * member.direction[0], member.foot[1] + s * member.direction[1]


def _upright(angle: float) -> float:
    """Return the same line's angle, so that words along it read from left to right."""
    angle = math.remainder(angle, 2 * math.pi)
    if angle > math.pi / 2 + 1e-9:
        return angle - math.pi
    return angle + math.pi if angle <= -math.pi / 2 + 1e-9 else angle


def _on_another(text: Text, others: Sequence[Text], about: Scale) -> bool:
    """Return whether a mark would touch one that is written already, at about the scale to be."""

    def corners(one: Text) -> tuple[Point, ...]:
        x, y = one.at
        on_paper = replace(one, at=(x * about.mm_per_m, y * about.mm_per_m))
        return grown(ink_corners(on_paper), AIR_MM)

    return any(boxes_meet(corners(text), corners(other)) for other in others)


def _marks(at: Desk, leaf: Leaf, about: Scale) -> list[DrawingItem]:
    """Return each member's mark written along it, a brace's with its length."""
    items: list[Text] = []
    # Braces that cross have the least room to choose from, so that they come first.
    for member in sorted(leaf.members, key=lambda m: m.role not in ("brace", "rod")):
        crossed = member.key.endswith(("/through", "/lower", "/upper", "/across"))
        text = member.mark
        # Three bars that cross leave no room for lengths, nor does a small bay; the table has them.
        longer = f"{text}  {at.words.length(member.length)}"
        room = ROOM_FOR_WORDS * member.bar.long * about.mm_per_m
        if member.role in ("brace", "rod") and not crossed and text_width(longer, 2.4) < room:
            text += f"  {at.words.length(member.length)}"
        share = 0.5
        if member.role == "brace" and not member.key.endswith(("/lower", "/upper")):
            share = 0.4 if member.key.endswith("/through") else 0.62
            share = 0.74 if member.key.endswith("/across") else share
        elif member.role == "brace":
            share = 0.45 if member.key.endswith("/lower") else 0.55
        elif "stile" in member.role:
            share = 0.75
        elif "rail" in member.role:
            share = 0.3
        angle = _upright(math.atan2(member.direction[1], member.direction[0]))

        def written(
            share: float, text: str = text, angle: float = angle, member: Member = member
        ) -> Text:
            return Text(
                _middle(member, share),
                text,
                height_mm=2.4,
                anchor="centre-middle",
                angle=angle,
                bold=True,
                knockout=True,
                key=member.key,
            )

        shares = (share, *(share + by for by in STEPS_ALONG if 0.12 < share + by < 0.88))
        free = (t for t in map(written, shares) if not _on_another(t, items, about))
        items.append(next(free, written(share)))
    return [*items]


def _running(at: Desk, leaf: Leaf) -> list[DrawingItem]:
    """Return running dimensions from the hinge edge along the bottom, and from the bottom up."""
    words = at.words
    left_hand = leaf.hand == "left"
    hinge = 0.0 if left_hand else leaf.width
    xs = sorted(
        {round(x, 9) for p in leaf.panels for x in (p.left, p.right)}
        | {leaf.width if left_hand else 0.0}
    )
    places = tuple((x, 0.0) for x in xs)
    across = RunningDimensions(
        (hinge, 0.0), places, -10, tuple(words.length(abs(x - hinge)) for x in xs), "x"
    )
    ys = sorted({round(y, 9) for p in leaf.panels for y in (p.bottom, p.top)} | {leaf.height})
    side = leaf.width if left_hand else 0.0
    up = RunningDimensions(
        (side, 0.0),
        tuple((side, y) for y in ys),
        10 if left_hand else -10,
        tuple(words.length(y) for y in ys),
        "y",
    )
    return [across, up]


def _off_stile(member: Member) -> float:
    """Return the angle between a brace and the stiles [rad]."""
    return abs(math.pi / 2 - math.atan2(member.direction[1], abs(member.direction[0])))


def _brace_angles(leaf: Leaf, about: Scale) -> list[DrawingItem]:
    """Return the angle of each brace at its foot, from the stile beside it, where it has room."""
    items: list[DrawingItem] = []
    for member in leaf.members:
        if member.role != "brace" or member.key.endswith(
            ("/upper", "/lower", "/through", "/across")
        ):
            continue
        slope = math.atan2(member.direction[1], member.direction[0])
        upright = math.pi / 2
        high = abs(member.direction[1]) * member.bar.long * about.mm_per_m
        if abs(upright - slope) < NARROW or high < ROOM_FOR_ANGLE_MM:
            continue
        start, end = sorted((slope, upright))
        items.append(
            AngleDimension(
                member.foot,
                22.0,
                start,
                end,
                show_angle(abs(upright - slope)),
                height_mm=2.6,
            )
        )
    return items


def _axis(at: Desk, leaf: Leaf, place: LeafPlace, table: LeafTable) -> list[DrawingItem]:
    """Return the axis that the leaf turns on, with the heights of its hinges."""
    held = holding(place, table)
    top, bottom = leaf.height + 0.04, -0.04
    items: list[DrawingItem] = [Line((held.axis, bottom), (held.axis, top), "centre")]
    if not isinstance(table.mount, BarrelHinge):
        return items
    size = 0.012
    for y in held.heights:
        corners = (
            (held.axis - size, y - 3 * size),
            (held.axis + size, y - 3 * size),
            (held.axis + size, y + 3 * size),
            (held.axis - size, y + 3 * size),
        )
        items.append(Polyline(corners, "mark", closed=True))
    items.append(
        RunningDimensions(
            (held.axis, 0.0),
            tuple((held.axis, y) for y in held.heights),
            -12 if leaf.hand == "left" else 12,
            tuple(at.words.length(y) for y in held.heights),
            "y",
        )
    )
    return items


def _up_arrow() -> tuple[Primitive, ...]:
    """Return the word TOP with an arrow over it, to stand on the leaf's upper edge [mm]."""
    return (
        Text((0.0, 2.0), "TOP", height_mm=3.0, anchor="centre-bottom", bold=True),
        Fill(((-2.0, 6.0), (2.0, 6.0), (0.0, 9.0)), "black", layer="note"),
    )


def _about_scale(at: Desk, leaf: Leaf) -> Scale:
    """Return about the scale that a leaf will be drawn at, to know what its bays have room for."""
    size = at.drawing_size
    wide, high = BESIDE if size.width >= WIDE_ENOUGH else ALONE
    return fitting_scale(
        (leaf.width, leaf.height), (wide * size.width, high * size.height), at.scales
    )


def leaf_drawing(at: Desk, leaf: Leaf, place: LeafPlace, table: LeafTable) -> Drawing:
    """Return a leaf's steel as seen, with marks, running dimensions and its centre of gravity."""
    about = _about_scale(at, leaf)
    items: list[DrawingItem] = [*hinge_edge(leaf), *leaf_items(leaf), *_running(at, leaf)]
    items += _brace_angles(leaf, about)
    items += _marks(at, leaf, about)
    radius = 0.018 * max(leaf.width, leaf.height) / 2
    items += centre_mark(leaf.centre, radius)
    outward = -1.0 if leaf.hand == "left" else 1.0
    hinge = (0.0 if leaf.hand == "left" else leaf.width, 0.45 * leaf.height)
    words_along = Text(
        (outward * 3.2, 0.0),
        "HINGE EDGE",
        height_mm=3.0,
        bold=True,
        anchor="centre-bottom" if leaf.hand == "left" else "centre-top",
        angle=math.pi / 2,
    )
    items.append(Symbol(hinge, (words_along,)))
    items += _axis(at, leaf, place, table)
    middle = leaf.width / 2
    items.append(Symbol((middle, leaf.height), _up_arrow()))
    return Drawing(tuple(items))


def _end_in_short(end: CutEnd) -> str:
    """Return how an end is cut, a pointed or coped one by its card."""
    if end.coped is not None:
        return "coped as its card says"
    return end_words(end) if len(end.angles) == 1 else "pointed as its card says"


def _member_table(at: Desk, leaf: Leaf, cuts: CutList | Held) -> Table:
    lines: dict[str, CutItem] = {}
    if isinstance(cuts, CutList):
        lines = {key: item for item in cuts.items for key in item.keys}
    rows = []
    for member in leaf.members:
        item = lines.get(member.key)
        ends = "–"
        if item is not None:
            both = (_end_in_short(item.start), _end_in_short(item.end))
            ends = f"both {both[0]}" if both[0] == both[1] else "; ".join(both)
        spliced = next((s for s in leaf.splices if s.member == member.key), None)
        if spliced is not None:
            pieces = " and ".join(piece.mark for piece in spliced.pieces)
            ends = f"two pieces, {pieces}, {spliced.by}"
        if member.notch is not None:
            ends += f", notched half through from the {member.notch.face}"
        if member.role in ("brace", "rod"):
            ends += f", {show_angle(_off_stile(member))} off the stiles"
        rows.append(
            (
                member.mark,
                member.role,
                at.words.length(member.length),
                ends,
                at.words.mass(member.mass),
            )
        )
    return Table(
        (
            Column("Mark", 17.0, bold=True),
            Column("Piece", 24.0),
            Column("Long point to long point", 26.0, align="right", bold=True),
            Column("Ends", 42.0),
            Column("Weighs", 16.0, align="right"),
        ),
        tuple(rows),
        height_mm=3.0,
        title_height_mm=2.4,
    )


def _figures(at: Desk, place: LeafPlace, leaf: Leaf) -> list[tuple[str, str]]:
    words = at.words
    inset = leaf.centre[0] if leaf.hand == "left" else leaf.width - leaf.centre[0]
    return [
        ("Width, outside", words.length(place.on_sheet)),
        ("Height, outside", words.length(place.height_on_sheet)),
        ("Each diagonal, outside corners", words.length(math.hypot(leaf.width, leaf.height))),
        ("Bare frame, as lifted", words.mass(leaf.lift_mass)),
        ("Hung, with infill (no pivot parts)", words.mass(leaf.hung_mass)),
        ("Centre of gravity from the hinge edge", words.length(inset)),
        ("and above the bottom", words.length(leaf.centre[1])),
        *_hanging(at, place),
    ]


def _hanging(at: Desk, place: LeafPlace) -> list[tuple[str, str]]:
    words = at.words
    if place.axis.value < 0:
        return [("Hinge axis, outside the hinge edge", words.length(-place.axis.value))]
    found = [("Pivot axis, inside the hinge edge", words.length(place.axis))]
    if place.packing is not None:
        found.append(("Packing under the pivot plate", words.length(place.packing)))
    return found


def _fits(at: Desk, leaf: Leaf) -> str:
    """Return what is left and added at the joints, and whether the leaf closes as cut."""
    told = f"{sentence(fit_words(leaf, at.words))}."
    order = at.plan.order
    if not isinstance(order, CutOrder):
        return told
    closures = [c for c in order.closures if c.leaf == leaf.key]
    return " ".join((told, *(f"{sentence(closure_words(c, at.words))}." for c in closures)))


def _leaf_sheet(at: Desk, place: LeafPlace, table: LeafTable, leaf: Leaf) -> tuple[Sheet, ...]:
    title = f"{title_of_leaf(leaf.key)}, hung {leaf.hand}"
    sheet = blank(at, title, cautions=(NOT_DRAWN, LIFTING, HOT_WORK), drawing=True)
    section = leaf.members[0].section
    covers = [f"{p.kind} on the {p.face} of panel {p.panel}" for p in leaf.infill]
    face = at.plan.job.job.seen_from
    note = (
        f"Frame: {section.designation}, {section.grade.name}. Hangs {leaf.hand}, swings "
        f"{swing_words(place.swing)}. Covered with: "
        f"{', '.join(covers) or 'nothing'} (the face is the {face}, panel 1 the lowest); over all "
        f"{at.words.length(place.half_face.value + place.half_back.value)} thick. Distances across "
        "run from the hinge edge, heights from the bottom of the leaf. The quartered circle is "
        "the centre of gravity. An angle on the drawing is off the stile; those of cuts are from "
        f"square. {_fits(at, leaf)}"
        + (ROD_WORDS if any(m.role == "rod" for m in leaf.members) else "")
    )
    return drawn(
        sheet,
        leaf_drawing(at, leaf, place, table),
        at.scales,
        lambda: blank(at, f"{title}, pieces"),
        (
            Figures(tuple(_figures(at, place, leaf))),
            Says(note),
            Rows(_member_table(at, leaf, at.plan.cuts)),
        ),
        caption=f"SEEN FROM THE {at.plan.job.job.seen_from.upper()}",
        share=0.52,
    )


def leaf_parts(at: Desk) -> tuple[tuple[LeafPlace, LeafTable, Leaf], ...]:
    """Return each leaf that could be designed, with its place and its choices."""
    doorway = at.plan.doorway
    if not isinstance(doorway, Doorway):
        return ()
    tables = {table.hand: table for table in at.plan.job.leaf}
    return tuple(
        (place, tables[place.hand], leaf)
        for place, leaf in zip(doorway.leaves, at.plan.leaves, strict=False)
        if isinstance(leaf, Leaf)
    )


def leaf_sheets(at: Desk) -> tuple[Sheet, ...]:
    """Return a sheet for each leaf that could be designed."""
    return tuple(sheet for parts in leaf_parts(at) for sheet in _leaf_sheet(at, *parts))
