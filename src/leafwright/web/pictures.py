"""Pictures for the screen: a drawing made just wide enough for a phone, its parts to be touched."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from urllib.parse import urlencode

from markupsafe import Markup, escape

from leafwright.chain import Quantity
from leafwright.doorway import Doorway, LeafPlace
from leafwright.paper.drawing import Drawing, DrawingItem, Leader, Symbol, extents, moved
from leafwright.paper.font import text_width
from leafwright.paper.scale import Scale
from leafwright.paper.scene import Circle, Line, Point, Polyline, Primitive, Scene, Text
from leafwright.paper.sheet import scene_of
from leafwright.paper.sheets.elevation import (
    filler_items,
    hinge_edge,
    leaf_box,
    leaf_items,
    opening_outline,
)
from leafwright.paper.svg import svg_text
from leafwright.pipeline import Plan
from leafwright.records import Held
from leafwright.say import Words, words_of

#: Room that a picture is drawn for: the width of a small phone [mm of screen], and its height.
WIDE_MM, HIGH_MM = 80.0, 112.0

#: A picture whose words make it so many times as wide as its room gives way in its geometry, which
#: keeps this share of the room.
WORDS_TOO, LEAST_GEOMETRY = 1.1, 0.55

#: A circle smaller than this is a dot, and no ring to be touched [mm of screen].
LEAST_RING_MM = 1.5

#: From so many inputs on, a list of them is not told twice.
MANY = 6

_KEYED = re.compile(r'<(polygon|polyline|path|circle|line) ([^>]*?) data-key="([^"]*)"/>')
_SIZE = re.compile(r' width="[0-9.]+mm" height="[0-9.]+mm"')


def screen_scale(drawing: Drawing, wide: float = WIDE_MM, high: float = HIGH_MM) -> Scale:
    """Return the scale at which a drawing's geometry fills the room of a small screen [mm]."""
    box = extents(drawing)
    return Scale(max(1, round(1000 * max(box.width / wide, box.height / high))), "to fit")


def svg_of(scene: Scene, *, title: str, description: str) -> Markup:
    """Return a scene as inline SVG that fills the width it is given."""
    text = svg_text(scene, title=title, description=description)
    return Markup(_SIZE.sub("", text, count=1))


def picture(drawing: Drawing, *, title: str, description: str, words_first: bool = False) -> Markup:
    """Return a drawing as inline SVG for a screen.

    ``words_first``: where words beside it would make all of it too small to read, the geometry
    gives way and they keep their size.
    """
    scale = screen_scale(drawing)
    scene = scene_of(drawing, scale, title=title)
    if words_first and scene.width > WORDS_TOO * WIDE_MM:
        beside = scene.width - extents(drawing).width * scale.mm_per_m
        room = max(WIDE_MM - beside, LEAST_GEOMETRY * WIDE_MM)
        scene = scene_of(drawing, screen_scale(drawing, room), title=title)
    return svg_of(scene, title=title, description=description)


def touchable(svg: Markup, names: Mapping[str, str], chosen: str, page: str) -> Markup:
    """Return the picture with every named part a link to its numbers.

    Args:
        svg: the picture.
        names: what each key is called; a key without a name is left as it is.
        chosen: the key that is looked at now.
        page: the page that shows a part.
    """

    def link(match: re.Match[str]) -> str:
        shape, rest, key = match[1], match[2], str(Markup(match[3]).unescape())
        name = names.get(key)
        if name is None:
            return match[0]
        where = escape(f"{page}?{urlencode({'part': key})}#part")
        now = ' aria-current="true"' if key == chosen else ""
        kind = "piece chosen" if key == chosen else "piece"
        outline = re.sub(r' (fill|stroke)="[^"]*"', "", f" {rest}").strip()
        return (
            f'<a href="{where}" class="{kind}" data-part="{match[3]}" '
            f'aria-label="{escape(name)}"{now}><{shape} class="reach" {outline}/>'
            f"<{shape} {rest}/></a>"
        )

    # A picture that holds links is a group of things, not one image.
    text = str(svg).replace('role="img"', 'role="group"', 1)
    return Markup(_KEYED.sub(link, text))


def leading(svg: Markup, links: Mapping[str, tuple[str, str]]) -> Markup:
    """Return the picture with its keyed things leading to where they are told of on the page.

    Args:
        svg: the picture.
        links: by key, the address and what it is called.
    """

    def link(match: re.Match[str]) -> str:
        shape, rest, key = match[1], match[2], str(Markup(match[3]).unescape())
        size = re.search(r'\br="([0-9.]+)"', rest)
        # Not the line to a ring, nor the dot at its end.
        if key not in links or size is None or float(size[1]) < LEAST_RING_MM:
            return match[0]
        where, name = links[key]
        outline = re.sub(r' (fill|stroke)="[^"]*"', "", f" {rest}").strip()
        return (
            f'<a href="{escape(where)}" class="leads" aria-label="{escape(name)}">'
            f'<{shape} class="reach" {outline}/><{shape} {rest}/></a>'
        )

    text = str(svg).replace('role="img"', 'role="group"', 1)
    return Markup(_KEYED.sub(link, text))


def ringed(items: Sequence[DrawingItem]) -> list[DrawingItem]:
    """Return what is drawn with every number in a ring as the key of its ring."""
    told = {item.at: item.text for item in items if isinstance(item, Text)}
    found: list[DrawingItem] = []
    for item in items:
        if isinstance(item, Leader) and item.ring:
            found.append(replace(item, key=item.text))
        elif isinstance(item, Symbol):
            inside = {one.at: one.text for one in item.items if isinstance(one, Text)}
            found.append(replace(item, items=tuple(_ring(one, inside) for one in item.items)))
        elif isinstance(item, Circle):
            found.append(_ring(item, told))
        else:
            found.append(item)
    return found


def _ring(item: Primitive, told: Mapping[Point, str]) -> Primitive:
    """Return a ring round words with them as its key, and anything else as it is."""
    if isinstance(item, Circle) and item.centre in told:
        return replace(item, key=told[item.centre])
    return item


def part_names(made: Plan) -> dict[str, str]:
    """Return what each part of the doorway is called, by key."""
    found: dict[str, str] = {}
    words = words_of(made.job)
    for leaf in made.leaves:
        if not isinstance(leaf, Held):
            for member in leaf.members:
                length = words.length(member.length)
                found[member.key] = f"{member.mark}, {member.role}, {length}"
    if isinstance(made.doorway, Doorway):
        room = made.doorway
        for filler in (*room.posts, *((room.transom,) if room.transom else ())):
            found[filler.key] = f"{filler.name}, {words.length(filler.length)}"
        for gap in room.gaps:
            found[gap.key] = f"{gap.name}, {words.length(gap)}"
    return found


def doorway_picture(made: Plan, *, chosen: str, page: str) -> Markup | None:
    """Return the doorway with its leaves, every member, filler and gap to be touched."""
    found, room = made.survey, made.doorway
    if isinstance(found, Held):
        return None
    words = words_of(made.job)
    items: list[DrawingItem] = [*opening_outline(found, made.job.opening.head)]
    if isinstance(room, Doorway):
        items += filler_items(room)
        leaves = {leaf.key: leaf for leaf in made.leaves if not isinstance(leaf, Held)}
        for place in room.leaves:
            left, bottom, _, _ = leaf_box(place)
            if place.key in leaves:
                leaf = leaves[place.key]
                items += moved(Drawing(tuple(hinge_edge(leaf))), (left, bottom)).items
                items += leaf_items(leaf, (left, bottom))
        items += _gap_tags(room, words)
    seen = made.job.job.seen_from
    svg = picture(
        Drawing(tuple(items)),
        title=f"{made.job.job.name}, seen from the {seen}",
        description="The opening with its leaves. The heavy edge of a leaf is the one it hangs by.",
    )
    return touchable(svg, part_names(made), chosen, page)


def _gap_tags(room: Doorway, words: Words) -> list[DrawingItem]:
    """Return a tag with its size at every gap that a maker can point at."""
    gaps = {gap.key: gap for gap in room.gaps}
    items: list[DrawingItem] = []

    def put(key: str, at: Point) -> None:
        if key in gaps:
            items.append(_tag(at, words.length(gaps[key]), key))

    for place in room.leaves:
        left, bottom, right, top = leaf_box(place)
        hinge, nose = (left, right) if place.hand == "left" else (right, left)
        high = top - bottom
        put(f"{place.key}/heel gap", (hinge, bottom + 0.25 * high))
        put(f"{place.key}/closing gap", (nose, bottom + 0.66 * high))
        if place is room.leaves[0]:
            put("doorway/closing gap", (nose, bottom + 0.66 * high))
            put("doorway/meeting gap", (nose, bottom + 0.66 * high))
            put("doorway/meeting gap left", (nose, bottom + 0.66 * high))
            put("doorway/top gap", ((left + right) / 2, top))
            put("doorway/floor clearance", ((left + right) / 2, bottom))
        else:
            put("doorway/deepest gap", ((left + right) / 2, bottom))
    return items


def _tag(at: Point, text: str, key: str) -> Symbol:
    """Return a size in a pill, to be touched [mm of screen round the point]."""
    high = 2.5
    half = text_width(text, high) / 2 + 1.6
    pill = ((-half, -2.4), (half, -2.4), (half + 1.4, 0.0), (half, 2.4), (-half, 2.4))
    outline = Polyline((*pill, (-half - 1.4, 0.0)), "note", closed=True, fill="white", key=key)
    return Symbol(at, (outline, Text((0.0, 0.0), text, height_mm=high, anchor="centre-middle")))


def leaf_outline(place: LeafPlace) -> tuple[float, float]:
    """Return the lower left corner of a leaf in the doorway's axes [m]."""
    left, bottom, _, _ = leaf_box(place)
    return left, bottom


def arrow(tip: Point, tail: Point, size: float) -> list[DrawingItem]:
    """Return an arrow: a line and two barbs [m]."""
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    ux, uy = dx / length, dy / length
    back = (tip[0] - 2 * size * ux, tip[1] - 2 * size * uy)
    barbs = (
        (back[0] - size * uy, back[1] + size * ux),
        tip,
        (back[0] + size * uy, back[1] - size * ux),
    )
    return [Line(tail, tip, "note"), Polyline(barbs, "cut")]


def walk(quantity: Quantity, tell: Callable[[Quantity], str], seen: set[str], depth: int) -> Markup:
    """Return a derived quantity as nested lists down to what was measured, each part told once."""
    told = escape(tell(quantity))
    if not quantity.inputs:
        return Markup('<li class="base">{}</li>').format(told)
    if quantity.key in seen:
        return Markup('<li class="base">{} <small>(told above)</small></li>').format(told)
    seen.add(quantity.key)
    # What is fitted rests on every reading, and so does the next: they are listed once.
    readings = "from " + ",".join(q.key for q in quantity.inputs)
    if len(quantity.inputs) >= MANY and readings in seen:
        same = "from the same readings as above"
        return Markup('<li class="base">{} <small>({}, {})</small></li>').format(
            told, quantity.formula, same
        )
    seen.add(readings)
    inner = Markup("").join(walk(q, tell, seen, depth + 1) for q in quantity.inputs)
    opened = Markup(" open") if depth == 0 else Markup("")
    return Markup(
        "<li><details{}><summary>{}</summary><p>= {}</p><ul>{}</ul></details></li>"
    ).format(opened, told, quantity.formula, inner)
