"""A leaf on barrel hinges: the line of its hinges on the post, and one hinge by itself."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from leafwright.handbook.catalogue import CatalogueError, CatalogueSection
from leafwright.mount import LeafMount, Mounting
from leafwright.mount.hinge_loads import barrel_hinge, hinge_heights, hinge_words
from leafwright.mount.post_forces import Standing, standing
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Hatch, Symbol
from leafwright.paper.layout import Caution
from leafwright.paper.scene import Line, Polyline, Text
from leafwright.paper.sheet import Sheet
from leafwright.paper.sheets.common import Desk, title_of_leaf
from leafwright.paper.sheets.elevation import box
from leafwright.paper.sheets.flow import Block, Listed, Title
from leafwright.paper.sheets.mount_hinge import hinge_drawings, hinge_notes
from leafwright.paper.sheets.mount_parts import (
    LABEL_MM,
    Labels,
    Sized,
    Station,
    axis_line,
    member,
    plain,
    rect,
    running,
    shown,
    sized,
    up_mark,
    zigzag,
)
from leafwright.paper.sheets.mount_room import large, views
from leafwright.paper.sheets.mount_words import (
    cautions_of,
    checks_in_short,
    hinges_carry,
    mind,
    not_given,
    told,
    words_of_links,
)

#: How much of the leaf is drawn past its stile, in widths of the stile.
STUB = 4.0


@dataclass(frozen=True, slots=True)
class HingeLine:
    """A leaf's hinge line from the side of its face, x across from the pins' axis [m].

    ``way`` is 1 where the leaf is on the right of its hinges. Heights are over the ground, or
    over the leaf's bottom where no post is given.
    """

    m: Mounting
    way: float
    half: float
    stile: CatalogueSection
    post: CatalogueSection | None
    on: Standing | None
    under: float

    @property
    def heights(self) -> dict[str, float]:
        """Return each hinge's height, lowest first [m]."""
        return {place: self.under + y for place, y in hinge_heights(self.m).items()}


def hinge_line(m: Mounting) -> HingeLine:
    """Return a leaf's hinge line as it is drawn."""
    section, on, under = None, None, 0.0
    post = m.job.post
    if post is not None:
        try:
            section = m.steel.section(post.section, post.grade)
        except CatalogueError:
            section = None
        if section is not None:
            on = standing(m, post, section)
            under = on.lowest - min(hinge_heights(m).values())
    return HingeLine(
        m=m,
        way=1.0 if m.place.hand == "left" else -1.0,
        half=barrel_hinge(m).standoff.si / 2.0,
        stile=member(m, "hanging stile").section,
        post=section,
        on=on,
        under=under,
    )


def line_drawing(at: Desk, m: Mounting, how: Labels) -> Drawing:
    """Return a leaf's hinge line with its post, seen from the face; ``how`` sets its labels."""
    line = hinge_line(m)
    items: list[DrawingItem] = []
    if line.on is not None and line.post is not None:
        items += _post(line, line.on, line.post)
        items.append(_post_side(at, line, line.on, line.post, how))
    items += _leaf(line)
    items += _barrels(line)
    items.append(_leaf_side(at, line, how))
    top = line.under + m.leaf.height
    if line.on is not None:
        top = max(top, line.on.height)
    near, edge = -line.way * line.half, line.way * line.half
    items.append(
        Dimension(
            (near, top),
            (edge, top),
            9.0,
            f"{shown(at, 2.0 * line.half)} standoff",
            "x",
            outside="after" if line.way > 0.0 else "before",
            height_mm=LABEL_MM,
        )
    )
    post = 0.0 if line.post is None else line.post.width / 2.0
    items.append(up_mark((near - line.way * post, top), (-4.0 * line.way, 3.0)))
    items.append(axis_line(0.0, line.under - 0.05, top + 0.02))
    return Drawing(tuple(items))


def _ends(line: HingeLine) -> tuple[float, float, float]:
    """Return the x of the leaf's hinge edge, of the stile's other side, and where it is broken."""
    edge = line.way * line.half
    inner = edge + line.way * line.stile.width
    return edge, inner, inner + line.way * STUB * line.stile.width


def _leaf(line: HingeLine) -> list[DrawingItem]:
    """Return the hinge edge of the leaf: its stile, and its rails broken off."""
    edge, inner, far = _ends(line)
    y, high = line.under, line.m.leaf.height
    items: list[DrawingItem] = []
    for one in line.m.leaf.members:
        if "rail" in one.role:
            low = min(p[1] for p in one.bar.outline)
            tall = max(p[1] for p in one.bar.outline)
            start = inner if line.m.table.corners == "stiles run through" else edge
            start = inner if one.role == "mid rail" else start
            items.append(rect(start, y + low, far, y + tall, key=one.key))
    stile = member(line.m, "hanging stile")
    low = min(p[1] for p in stile.bar.outline)
    tall = max(p[1] for p in stile.bar.outline)
    items.append(rect(edge, y + low, inner, y + tall, key=stile.key))
    items += zigzag((far, y), (far, y + high), tooth=0.3 * line.stile.width)
    items.append(_edge_words(line, inner))
    return items


def _edge_words(line: HingeLine, inner: float) -> DrawingItem:
    """Return the words HINGE EDGE up the stile, where neither rail nor hinge is near."""
    high = line.m.leaf.height
    rails = [one.foot[1] for one in line.m.leaf.members if "rail" in one.role]
    taken = sorted([0.0, *rails, *hinge_heights(line.m).values(), high])
    low, top = max(itertools.pairwise(taken), key=lambda pair: pair[1] - pair[0])
    text = Text(
        (line.way * 3.0, 0.0),
        "HINGE EDGE",
        height_mm=2.6,
        bold=True,
        anchor="centre-middle",
        angle=math.pi / 2.0,
        knockout=True,
    )
    return Symbol((inner, line.under + (low + top) / 2.0), (text,))


def _barrels(line: HingeLine) -> list[DrawingItem]:
    """Return the barrels, each half as long as it is; how thick they are is not in the job."""
    mount = barrel_hinge(line.m)
    pin = sized(mount.pin_diameter, "pin_diameter", 0.3 * line.half)
    long = sized(mount.barrel_length, "barrel_length", 1.5 * line.half)
    r = 0.9 * pin.size
    items: list[DrawingItem] = []
    for place, y in line.heights.items():
        for half in (-1.0, 1.0):
            items.append(rect(-r, y, r, y + half * long.size, long.layer, key=place))
        reach = line.half
        for side, up in ((-line.way, -1.0), (line.way, 1.0)):
            middle = y + up * long.size / 2.0
            items.append(Line((side * r, middle), (side * reach, middle), "cut"))
    return items


def _post(line: HingeLine, on: Standing, section: CatalogueSection) -> list[DrawingItem]:
    """Return the post in its footing, and the ground."""
    near = -line.way * line.half
    far = near - line.way * section.width
    middle = (near + far) / 2.0
    _, _, leaf_end = _ends(line)
    wide, deep = _footing(line, section)
    left = min(middle - 0.75 * wide.size, leaf_end, far)
    right = max(middle + 0.75 * wide.size, leaf_end, far)
    half = wide.size / 2.0
    thick = 0.14 * deep.size
    items: list[DrawingItem] = []
    for x0, x1 in ((left, middle - half), (middle + half, right)):
        items.append(Hatch(box(x0, -thick, x1, 0.0), "ground", 2.0))
        items.append(Line((x0, 0.0), (x1, 0.0), "cut"))
    footing = box(middle - half, -deep.size, middle + half, 0.0)
    given = wide.given and deep.given
    items.append(Hatch(footing, "concrete", 2.0))
    items.append(Polyline(footing, "cut" if given else "hidden", closed=True, key="footing"))
    items.append(rect(near, 0.0, far, on.height, key="post"))
    # How far it goes down into the footing is not in the job.
    for x in (near, far):
        items.append(Line((x, 0.0), (x, -0.7 * deep.size), "hidden"))
    return items


def _footing(line: HingeLine, section: CatalogueSection) -> tuple[Sized, Sized]:
    """Return a footing's width and depth."""
    post = line.m.job.post
    assert post is not None
    return (
        sized(post.footing_diameter, "post.footing_diameter", 3.0 * section.width),
        sized(post.footing_depth, "post.footing_depth", 0.4 * post.height.si),
    )


def _post_side(
    at: Desk, line: HingeLine, on: Standing, section: CatalogueSection, how: Labels
) -> DrawingItem:
    """Return the heights over the ground, on the post's side."""
    words = at.words
    wide, deep = _footing(line, section)
    near = -line.way * line.half
    far = near - line.way * section.width
    middle = (near + far) / 2.0
    out = middle - line.way * 0.75 * wide.size
    across = f"{shown(at, wide.size)} across" if wide.given else "write post.footing_diameter"
    if deep.given:
        foot = f"{shown(at, deep.size)}: bottom of footing, {across}"
    else:
        foot = f"footing: not given, write post.footing_depth; {across}"
    stations = [
        Station((middle - line.way * wide.size / 2.0, -deep.size), foot),
        Station(
            (far, on.height), f"{shown(at, on.height)}: top of post, {plain(section.designation)}"
        ),
    ]
    for place, y in line.heights.items():
        stations.append(Station((far, y), f"{words.length(y)}: {hinge_words(line.m, place)}"))
    ground = Station((out, 0.0), f"0: ground, {on.ground}")
    return running(ground, stations, base=out, side=-line.way, how=how)


def _leaf_side(at: Desk, line: HingeLine, how: Labels) -> DrawingItem:
    """Return the heights from the leaf's bottom, on the leaf's side."""
    _, _, far = _ends(line)
    y, m = line.under, line.m
    under = f", {at.words.length(y)} over the ground" if line.on is not None else ""
    stations = [
        Station((0.0, y + h), f"{shown(at, h)}: {hinge_words(m, place)}, where its halves meet")
        for place, h in hinge_heights(m).items()
    ]
    stations.append(Station((far, y + m.leaf.height), f"{shown(at, m.leaf.height)}: top of leaf"))
    origin = Station((far, y), f"0: bottom of leaf{under}")
    return running(origin, stations, base=far, side=line.way, how=how)


def not_given_of_hinges(m: Mounting) -> tuple[str, ...]:
    """Return the keys of the hinges' and the post's sizes that the job does not give."""
    mount, post = barrel_hinge(m), m.job.post
    keys = ("pin_diameter", "clearance", "barrel_length", "weld", "weld_length")
    lacking = [key for key in keys if getattr(mount, key) is None]
    if post is None:
        return (*lacking, "[post]")
    lacking += [
        f"post.{key}" for key in ("footing_diameter", "footing_depth") if getattr(post, key) is None
    ]
    return tuple(lacking)


def _notes(m: Mounting) -> tuple[str, ...]:
    notes = [
        "On the leaf's side heights are over the bottom of the leaf. A barrel's thickness is "
        "not in the job file: see the sheet of one hinge."
    ]
    if m.job.post is not None:
        notes.append(
            "On the post's side heights are over the ground. How far the post goes down into its "
            "footing is not in the job file: dashed there."
        )
    return tuple(notes)


def hinge_sheets(at: Desk, m: Mounting, mount: LeafMount) -> tuple[Sheet, ...]:
    """Return a leaf's sheets of its hinge line and of one hinge.

    Args:
        at: the plan and its paper.
        m: the leaf as it hangs, on barrel hinges.
        mount: its proof.
    """
    face = at.plan.job.job.seen_from.upper()
    who = title_of_leaf(m.key)
    warned = tuple(dict.fromkeys(cautions_of(mount, "hinges", "post")))
    boxed = (Caution("Before you hang it or weld a hinge", " ".join(warned)),) if warned else ()
    words: list[Block] = [
        Title("The hinges", 3.6),
        *hinges_carry(at, m),
        *checks_in_short(at, m, mount, lambda name, check: True),
        *mind("Mind", cautions_of(mount, "pin fits", "stops")),
        Title("What goes with the drawing", 3.6),
        *told((*_notes(m), *words_of_links(mount, "hinges", "post", "pin fits"))),
    ]
    lacking = not_given_of_hinges(m)
    return (
        *large(
            at,
            f"{who}: its hinges and post",
            lambda how: line_drawing(at, m, how),
            words,
            caption=f"THE HINGE LINE, SEEN FROM THE {face}",
            stops=not_given(lacking),
            cautions=boxed,
        ),
        *views(
            at,
            f"{who}: one hinge",
            hinge_drawings(at, m),
            [[Listed(hinge_notes(m), 2.7)], []],
            cautions=not_given(tuple(key for key in lacking if "post." not in key)),
        ),
    )
