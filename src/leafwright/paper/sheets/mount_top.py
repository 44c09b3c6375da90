"""The top pivot cut through its axis: the leaf's top, sleeve, pin, plate, and what holds that."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.model import FloorPivot
from leafwright.mount import Mounting
from leafwright.mount.carrier import Carrier, carrier_of
from leafwright.mount.envelope import floor_pivot, pin_place
from leafwright.mount.loops import Stack, stack_of
from leafwright.paper.drawing import Drawing, DrawingItem, Hatch
from leafwright.paper.scene import Fill, Layer, Line
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import box
from leafwright.paper.sheets.mount_layouts import Holes, bolt_holes
from leafwright.paper.sheets.mount_parts import (
    Labels,
    Sized,
    Station,
    axis_line,
    cut_steel,
    fillet,
    machined,
    plain,
    rect,
    running,
    shown,
    sized,
    steel_words,
    words_above,
    zigzag,
)
from leafwright.paper.sheets.mount_stile import StileEnd, stile_dimensions, stile_end, stile_steel
from leafwright.say import sentence

#: How much of what is over the leaf is drawn where its own depth is not known, in stile widths.
HEAD_SHOWN = 0.7


@dataclass(frozen=True, slots=True)
class _Parts:
    """The sizes that a top pivot is drawn with, and the heights of its parts [m].

    Heights are over the leaf's top.
    """

    mount: FloorPivot
    stack: Stack
    carrier: Carrier
    bolts: Holes | None
    gap: float
    plate: Sized
    pin: Sized
    pin_length: Sized
    bore: Sized
    outside: Sized
    sleeve: Sized
    weld: Sized

    @property
    def head(self) -> float:
        """Return the underside of what carries the plate."""
        return self.gap + (self.plate.size if self.plate.given else 0.0)

    @property
    def plate_under(self) -> float:
        return self.head - self.plate.size

    @property
    def pin_end(self) -> float:
        return self.plate_under - self.pin_length.size


def _parts(at: Desk, end: StileEnd) -> _Parts:
    m = end.m
    mount, stack = floor_pivot(m), stack_of(m)
    pin = sized(mount.top_pin_diameter or mount.pin_diameter, "top_pin_diameter", 0.5 * end.inside)
    bore = sized(mount.top_sleeve_bore or mount.sleeve_bore, "top_sleeve_bore", pin.size)
    gap = 0.25 * end.width if stack.gap is None else stack.gap.value
    plate = mount.top_plate
    nominal = min(0.2 * end.width, max(0.6 * gap, 0.05 * end.width))
    return _Parts(
        mount=mount,
        stack=stack,
        carrier=carrier_of(m),
        bolts=bolt_holes(at, m) if mount.top_fixed == "bolted" else None,
        gap=gap,
        plate=sized(None if plate is None else plate.thickness, "top_plate", nominal),
        pin=pin,
        pin_length=sized(mount.top_pin_length, "top_pin_length", max(gap, 0.0) + 1.5 * pin.size),
        bore=bore,
        outside=sized(mount.sleeve_outside, "sleeve_outside", min(end.inside, 1.35 * bore.size)),
        sleeve=sized(mount.sleeve_length, "sleeve_length", 2.5 * pin.size),
        weld=sized(mount.pin_weld, "pin_weld", 0.2 * pin.size),
    )


def not_given_above(m: Mounting) -> tuple[str, ...]:
    """Return the keys of a top pivot's sizes that the job does not give."""
    mount = floor_pivot(m)
    lacking = [
        key
        for key in ("top_plate", "top_pin_length", "pin_weld", "sleeve_outside", "sleeve_length")
        if getattr(mount, key) is None
    ]
    for key in ("pin_diameter", "sleeve_bore"):
        if getattr(mount, key) is None and getattr(mount, f"top_{key}") is None:
            lacking.append(f"top_{key}")
    if mount.top_fixed == "unknown":
        lacking.append("top_fixed")
    if mount.top_fixed == "welded" and mount.top_weld is None:
        lacking.append("top_weld")
    if mount.top_fixed == "bolted":
        lacking += [
            key for key in ("top_bolts", "bolt", "bolt_gauge") if getattr(mount, key) is None
        ]
    return tuple(lacking)


def top_drawing(at: Desk, m: Mounting, how: Labels) -> Drawing:
    """Return a leaf's top pivot cut through its axis, seen from the face side.

    The leaf's top is at y = 0 and the axis at x = 0 [m].

    Args:
        at: the plan and its words.
        m: the leaf as it hangs.
        how: how its labels are set, and whether the plate is broken off near the stile.
    """
    end = stile_end(m)
    p = _parts(at, end)
    low = min(-p.sleeve.size, p.pin_end, 0.0) - 0.3 * end.width
    left, right = sorted((end.out, end.far))
    plate = p.mount.top_plate
    half = None if plate is None or how.broken else plate.length.si / 2.0
    if half is not None:
        left, right = (
            min(left, -half - 0.2 * end.width),
            max(right, half + 0.2 * end.width),
        )
    head, top = _head(m, p, left, right, end.width)
    return Drawing(
        (
            *head,
            *_plate(p, left, right, half),
            *stile_steel(end, low),
            *_sleeve_and_pin(p),
            axis_line(0.0, low - 0.1 * end.width, top + 0.05 * end.width),
            words_above((0.0, top), _fixed_words(at, p), 12.0 if how.apart else 4.0, wide=100.0),
            *stile_dimensions(at, end, low, -1.0),
            _head_side(at, end, p, left if end.way > 0.0 else right, how),
            _leaf_side(at, end, p, right if end.way > 0.0 else left, how),
        )
    )


# ---------------------------------------------------------------- the parts


def _head(
    m: Mounting, p: _Parts, left: float, right: float, wide: float
) -> tuple[list[DrawingItem], float]:
    """Return what the plate is fixed to, and the top of what is drawn of it."""
    carrier, y = p.carrier, p.head
    over = m.room.transom
    if carrier.section is not None and over is not None:
        t = carrier.section.nominal_wall
        top = y + (over.far_edge.value - over.near_edge.value)
        items = cut_steel(left, y, right, y + t, spacing=1.6)
        items += cut_steel(left, top - t, right, top, spacing=1.6)
    elif carrier.beam is not None:
        top = y + max(HEAD_SHOWN * wide, 2.0 * carrier.thickness)
        items = cut_steel(left, y, right, y + carrier.thickness, spacing=1.6)
        items.append(Line((left, top), (right, top), "thin"))
    else:
        top = y + HEAD_SHOWN * wide
        items = [
            Hatch(box(left, y, right, top), "masonry", 2.0),
            Line((left, y), (right, y), "cut" if p.stack.gap is not None else "hidden"),
        ]
    for x in (left, right):
        items += zigzag((x, y), (x, top))
    return [*items, *_bolts(p, left, right, top)], top


def _bolts(p: _Parts, left: float, right: float, top: float) -> list[DrawingItem]:
    """Return the shanks of the bolts in the rows along the plate, as far as they are drawn."""
    if p.bolts is None or p.bolts.layout is None:
        return []
    d = p.bolts.bolt
    # A spacing that is taken and not given is dashed.
    layer: Layer = "thin" if p.bolts.given else "hidden"
    items: list[DrawingItem] = []
    for x in p.bolts.layout.columns:
        if left + d < x < right - d:
            items.append(rect(x - d / 2.0, p.plate_under, x + d / 2.0, top, layer, key="bolt"))
            items.append(axis_line(x, p.plate_under - d, top))
    return items


def _plate(p: _Parts, left: float, right: float, half: float | None) -> list[DrawingItem]:
    """Return the top plate, broken off where ``half`` of it is not said."""
    ends = (left, right) if half is None else (-half, half)
    layer = p.plate.layer
    items = cut_steel(ends[0], p.plate_under, ends[1], p.head, layer=layer, key="top plate")
    if p.plate.given:
        items = cut_steel(
            ends[0], p.plate_under, ends[1], p.plate_under + p.plate.size, spacing=2.0
        )
    if half is None:
        for x in ends:
            items += zigzag((x, p.plate_under), (x, p.head))
    return items


def _sleeve_and_pin(p: _Parts) -> list[DrawingItem]:
    out, bore = p.outside.size / 2.0, min(p.bore.size, 0.96 * p.outside.size) / 2.0
    known = p.outside.given and p.bore.given and p.sleeve.given
    items: list[DrawingItem] = [Fill(box(-out, -p.sleeve.size, out, 0.0), "white")]
    for side in (-1.0, 1.0):
        items += cut_steel(
            side * bore,
            -p.sleeve.size,
            side * out,
            0.0,
            layer="cut" if known else "hidden",
            spacing=0.8,
        )
    r = min(p.pin.size, p.bore.size) / 2.0
    pin: Layer = "cut" if p.pin.given and p.pin_length.given else "hidden"
    items.append(rect(-r, p.pin_end, r, p.plate_under, pin, key="top pin"))
    for side in (-1.0, 1.0):
        leg = p.weld.size
        items += fillet((side * r, p.plate_under), side * leg, -leg, given=p.weld.given)
    return items


# ---------------------------------------------------------------- the figures beside them


def _fixed_words(at: Desk, p: _Parts) -> str:
    """Return what the plate is fixed to, and how."""
    carrier, mount = p.carrier, p.mount
    name = plain(carrier.name)
    if p.stack.gap is None:
        return "Nothing is over the leaf: say what holds the top pin"
    where = name if carrier.kind != "none" else f"Over it: {name}, not proved here"
    how = "fixing not given: write top_fixed"
    if mount.top_fixed == "welded":
        leg = "write top_weld" if mount.top_weld is None else f"{shown(at, mount.top_weld.si)}"
        how = f"plate welded on, fillets along both its long edges, {leg}"
    elif p.bolts is not None:
        how = f"{p.bolts.words}; places on the plate's own sheet"
        tube, layout = carrier.section, p.bolts.layout
        if tube is not None and layout is not None and 2.0 * max(layout.rows) > tube.height:
            how += "; they pass beside the transom to what is over it"
    return f"{sentence(where)}; {how}"


def _head_side(at: Desk, end: StileEnd, p: _Parts, base: float, how: Labels) -> DrawingItem:
    """Return the loop from the leaf's top to what is over it."""
    words, mount = at.words, p.mount
    named = {"transom": "transom", "beam": "beam", "none": "what is over it"}[p.carrier.kind]
    weld = f"{shown(at, p.weld.size)} fillet, all round" if p.weld.given else "weld: write pin_weld"
    stations = []
    if p.plate.given and mount.top_plate is not None:
        made = f"{shown(at, p.plate.size)}, {steel_words(mount.top_plate.grade)}"
        under = f"{_height(at, p, p.plate_under)} underside of plate, {made}; pin: {weld}"
    else:
        under = f"plate: not given, write top_plate; pin: {weld}"
    stations.append(Station((base, p.plate_under), under))
    if p.stack.gap is not None:
        over = f"{_height(at, p, p.head)} underside of {named}"
        stations.append(Station((base, p.head), over))
    return running(
        Station(
            (end.edge, 0.0),
            f"0: top of leaf, as hung, gap {words.small(p.gap)}"
            if p.stack.gap is not None
            else "0: top of leaf",
        ),
        stations,
        base=base,
        side=-end.way,
        how=how,
    )


def _height(at: Desk, p: _Parts, y: float) -> str:
    return "not known yet:" if p.stack.gap is None else f"{at.words.length(y)}:"


def _leaf_side(at: Desk, end: StileEnd, p: _Parts, base: float, how: Labels) -> DrawingItem:
    """Return the loop down from the leaf's top over sleeve and pin."""
    mount, words = p.mount, at.words
    place = pin_place(end.m, end.m.pivots[-1])
    across = f"{machined(at, p.pin.size)} dia." if p.pin.given else "write pin_diameter"
    made = f"{across}, {steel_words(mount.pin_grade)}"
    bored = f"bore {machined(at, p.bore.size)}" if p.bore.given else "bore: write sleeve_bore"
    if place.clearance is not None:
        bored += f" ({machined(at, place.clearance)} clear of the pin)"
    turned = (
        f"{shown(at, p.outside.size)} outside"
        if p.outside.given
        else "outside: write sleeve_outside"
    )
    if p.pin_length.given:
        deep = "not known yet:" if p.stack.gap is None else f"{words.length(-p.pin_end)}:"
        pin = f"{deep} end of pin, {shown(at, p.pin_length.size)} from its plate, {made}"
    else:
        pin = f"not given: write top_pin_length: end of pin, {made}"
    if p.sleeve.given:
        sleeve = f"{shown(at, p.sleeve.size)}: low end of sleeve, {bored}, {turned}"
    else:
        sleeve = f"not given: write sleeve_length: low end of sleeve, {bored}, {turned}"
    side = end.way
    return running(
        Station((end.far, 0.0), "0: top of leaf and of sleeve"),
        [
            Station((side * p.pin.size / 2.0, p.pin_end), pin),
            Station((side * p.outside.size / 2.0, -p.sleeve.size), sleeve),
        ],
        base=base,
        side=side,
        how=how,
    )
