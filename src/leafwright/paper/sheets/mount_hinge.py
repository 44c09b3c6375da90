"""One barrel hinge between post and leaf: from above, and from the side of the face."""

from __future__ import annotations

from leafwright.handbook.catalogue import CatalogueError, CatalogueSection
from leafwright.handbook.sections import RECTANGULAR_TUBE
from leafwright.mount import Mounting
from leafwright.mount.hinge_loads import barrel_hinge
from leafwright.paper.drawing import Dimension, Drawing, DrawingItem, Hatch, Symbol
from leafwright.paper.scene import Circle, Fill, Line, Polyline, Text
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import box
from leafwright.paper.sheets.mount_parts import (
    LABEL_MM,
    Station,
    axis_line,
    label,
    machined,
    member,
    plain,
    rect,
    running,
    shown,
    sized,
    steel_words,
    up_mark,
    words_above,
    words_below,
    zigzag,
)

#: A barrel's outside is not in the job: it is drawn so many times its pin, dashed.
BARREL = 1.8


def _post(m: Mounting) -> CatalogueSection | None:
    post = m.job.post
    if post is None:
        return None
    try:
        return m.steel.section(post.section, post.grade)
    except CatalogueError:
        return None


def hinge_drawings(at: Desk, m: Mounting) -> tuple[tuple[Drawing, str], ...]:
    """Return one hinge of a leaf from above and from its face side, each with its caption."""
    face = at.plan.job.job.seen_from.upper()
    return (
        (_from_above(at, m), f"A HINGE FROM ABOVE; THE {face} IS BELOW"),
        (_from_the_face(at, m), f"A HINGE, SEEN FROM THE {face}"),
    )


def hinge_notes(m: Mounting) -> tuple[str, ...]:
    """Return what there is to say of the drawings of one hinge."""
    count = len(barrel_hinge(m).heights)
    return (
        f"{'Both' if count == 2 else f'All {count}'} hinges of the leaf are alike.",
        "Dashed: a barrel's outside, and what bridges from it to tube and post. Neither is in the "
        "job file. The proof takes two welds on each half, up both of its sides, at least the "
        "pin's diameter apart.",
        "Which half goes on the leaf is not in the job file: the upper one is drawn there. The "
        "pin stands half way between post and leaf, as the proof takes it.",
        "Post, pin and stile are drawn on one middle line through the wall.",
    )


def _tube(section: CatalogueSection, x0: float, x1: float, *, name: str) -> list[DrawingItem]:
    """Return a section cut across, between two x, about y = 0."""
    left, right = sorted((x0, x1))
    if section.shape != RECTANGULAR_TUBE:
        middle, r = ((left + right) / 2.0, 0.0), section.width / 2.0
        items: list[DrawingItem] = [Circle(middle, r, "cut", fill="white", key=name)]
        if section.nominal_wall > 0.0:
            items.append(Circle(middle, r - section.nominal_wall, "cut", key=name))
        return items
    h, t = section.height / 2.0, section.nominal_wall
    outer = box(left, -h, right, h)
    inner = box(left + t, -h + t, right - t, h - t)
    return [
        Hatch(outer, "steel", 1.3, holes=(inner,), key=name),
        Polyline(outer, "cut", closed=True, key=name),
        Polyline(inner, "cut", closed=True, key=name),
    ]


def _from_above(at: Desk, m: Mounting) -> Drawing:
    mount, stile, post = barrel_hinge(m), member(m, "hanging stile").section, _post(m)
    way = 1.0 if m.place.hand == "left" else -1.0
    half = mount.standoff.si / 2.0
    pin = sized(mount.pin_diameter, "pin_diameter", 0.3 * half)
    near, edge = -way * half, way * half
    items: list[DrawingItem] = []
    deep = stile.height
    if post is not None:
        items += _tube(post, near - way * post.width, near, name="post")
        deep = max(deep, post.height)
    else:
        items += [Line((near, -deep), (near, deep), "hidden")]
    items += _tube(stile, edge, edge + way * stile.width, name="hanging stile")
    r = pin.size / 2.0
    for side in (near, edge):
        items += [Line((0.0, s * r), (side, s * r), "hidden") for s in (-1.0, 1.0)]
    items.append(Circle((0.0, 0.0), BARREL * r, "hidden", fill="white", key="barrel"))
    items.append(Circle((0.0, 0.0), r, pin.layer, fill="pale", key="pin"))
    if mount.weld is not None:
        leg = mount.weld.si
        for x, out in ((near, way), (edge, -way)):
            for s in (-1.0, 1.0):
                points = ((x, s * r), (x + out * leg, s * r), (x, s * (r + leg)))
                items.append(Fill(points, "black", layer="note"))
    items.append(axis_line(0.0, -0.6 * deep, 0.6 * deep))
    items.append(Line((near, 0.0), (edge, 0.0), "centre"))
    low = -deep / 2.0
    items += _across(at, near, edge, low, half)
    items += [
        words_above((edge + way * stile.width / 2.0, deep / 2.0), "leaf", 2.0),
        words_above((near - way * stile.width / 2.0, deep / 2.0), "post", 2.0),
        Symbol((0.0, deep / 2.0), (_pin_words(at, m, 8.0),)),
    ]
    name = plain(stile.designation)
    names = f"hanging stile, {name}"
    if post is not None:
        names += f"; post, {plain(post.designation)}"
    items.append(words_below((0.0, low), names, 22.0, wide=120.0))
    return Drawing(tuple(items))


def _pin_words(at: Desk, m: Mounting, up_mm: float) -> Text:
    """Return what there is to say of the pin and its welds, over it."""
    mount = barrel_hinge(m)
    across = (
        "pin: not given, write pin_diameter"
        if mount.pin_diameter is None
        else f"pin {machined(at, mount.pin_diameter.si)} dia., {steel_words(mount.pin_grade)}"
    )
    play = (
        "play: write clearance"
        if mount.clearance is None
        else f"barrel {machined(at, mount.clearance.si)} larger than it"
    )
    words = label(f"{across}; {play}", wide=70.0)
    return Text((0.0, up_mm), words, height_mm=LABEL_MM, anchor="centre-bottom")


def _across(at: Desk, near: float, edge: float, low: float, half: float) -> list[DrawingItem]:
    """Return the standoff, and the pin half way along it."""
    left, right = sorted((near, edge))
    return [
        Dimension(
            (left, low),
            (0.0, low),
            -8.0,
            shown(at, half),
            "x",
            outside="before",
            height_mm=LABEL_MM,
        ),
        Dimension((0.0, low), (right, low), -8.0, shown(at, half), "x", height_mm=LABEL_MM),
        Dimension(
            (left, low),
            (right, low),
            -16.0,
            f"{shown(at, 2.0 * half)} standoff",
            "x",
            height_mm=LABEL_MM,
        ),
    ]


def _from_the_face(at: Desk, m: Mounting) -> Drawing:
    mount, stile, post = barrel_hinge(m), member(m, "hanging stile").section, _post(m)
    way = 1.0 if m.place.hand == "left" else -1.0
    half = mount.standoff.si / 2.0
    pin = sized(mount.pin_diameter, "pin_diameter", 0.3 * half)
    long = sized(mount.barrel_length, "barrel_length", 1.5 * half)
    welded = sized(mount.weld_length, "weld_length", long.size)
    near, edge = -way * half, way * half
    reach = 1.35 * max(long.size, welded.size / 2.0)
    width = stile.width if post is None else min(post.width, 1.5 * stile.width)
    back, far = near - way * width, edge + way * stile.width
    items: list[DrawingItem] = []
    if post is not None:
        items += [Line((near, -reach), (near, reach), "cut"), *zigzag((near, reach), (back, reach))]
        items += zigzag((near, -reach), (back, -reach))
    else:
        items.append(Line((near, -reach), (near, reach), "hidden"))
    items.append(Line((edge, -reach), (edge, reach), "cut"))
    items.append(Line((far, -reach), (far, reach), "cut"))
    items += zigzag((edge, reach), (far, reach)) + zigzag((edge, -reach), (far, -reach))
    r = pin.size / 2.0
    for up, side in ((-1.0, near), (1.0, edge)):
        middle = up * long.size / 2.0
        low, high = sorted((middle - welded.size / 2.0, middle + welded.size / 2.0))
        items.append(rect(0.0, low, side, high, "hidden", key="bridge"))
        items.append(rect(-BARREL * r, 0.0, BARREL * r, up * long.size, "hidden", key="half"))
        for y in (0.0, up * long.size):
            items.append(Line((-BARREL * r, y), (BARREL * r, y), long.layer))
        thick = 0.35 * r if mount.weld is None else mount.weld.si
        inward = side - (1.0 if side > 0.0 else -1.0) * thick
        x0, x1 = sorted((side, inward))
        strip = box(x0, low, x1, high)
        if mount.weld is None or mount.weld_length is None:
            items.append(Polyline(strip, "hidden", closed=True, key="weld"))
        else:
            items.append(Fill(strip, "black", layer="note", key="weld"))
    for s in (-1.0, 1.0):
        items.append(Line((s * r, -long.size), (s * r, long.size), "hidden"))
    items.append(axis_line(0.0, -1.1 * reach, 1.1 * reach))
    items += _heights(at, m, far, back, way)
    items += [
        words_above(((edge + far) / 2.0, reach), "leaf", 5.0),
        words_above(((near + back) / 2.0, reach), "post", 5.0),
        up_mark((near / 2.0, reach), (0.0, 2.0)),
    ]
    return Drawing(tuple(items))


def _heights(at: Desk, m: Mounting, far: float, back: float, way: float) -> list[DrawingItem]:
    """Return the lengths of the halves on the leaf's side, and the welds on the post's."""
    mount = barrel_hinge(m)
    half = mount.standoff.si / 2.0
    long = sized(mount.barrel_length, "barrel_length", 1.5 * half)
    size = f"{shown(at, long.size)}:" if long.given else "not given: write barrel_length:"
    leg = "write weld" if mount.weld is None else f"{shown(at, mount.weld.si)} fillet"
    run = (
        "as long as the half: write weld_length"
        if mount.weld_length is None
        else f"{shown(at, mount.weld_length.si)} long"
    )
    weld = f"weld: {leg}, {run}, up both sides"
    return [
        running(
            Station((0.0, 0.0), "0: where the halves meet, the hinge's height"),
            [
                Station((0.0, long.size), f"{size} top of the upper half"),
                Station((0.0, -long.size), f"{size} bottom of the lower half"),
            ],
            base=far,
            side=way,
        ),
        running(Station((-way * half, -long.size / 2.0), weld), (), base=back, side=-way),
    ]
