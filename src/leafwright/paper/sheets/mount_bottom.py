"""The bottom pivot cut through its axis: floor, plate, pin, ball and slug in the hanging stile."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.job.model import FloorPivot
from leafwright.mount import Mounting
from leafwright.mount.envelope import floor_pivot, pin_place
from leafwright.mount.loops import Stack, stack_of
from leafwright.mount.sleeve import PLUG_FACES, SleeveFloat, sleeve_float
from leafwright.paper.drawing import Drawing, DrawingItem, Hatch
from leafwright.paper.scene import Circle, Fill, Layer, Line, Polyline
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import box
from leafwright.paper.sheets.mount_parts import (
    OFF,
    TO_WORDS,
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
    zigzag,
)
from leafwright.paper.sheets.mount_stile import StileEnd, stile_dimensions, stile_end, stile_steel


@dataclass(frozen=True, slots=True)
class _Parts:
    """The sizes that a bottom pivot is drawn with, and the heights of its parts [m].

    Heights are over the leaf's bottom.
    """

    mount: FloorPivot
    stack: Stack
    floats: SleeveFloat | None
    plate: float
    spacer: float
    packing: float
    fall: float
    pin: Sized
    pin_length: Sized
    bore: Sized
    outside: Sized
    ball: Sized
    slug: Sized
    sleeve: Sized
    weld: Sized

    @property
    def plate_top(self) -> float:
        return -self.spacer

    @property
    def plate_under(self) -> float:
        return -self.spacer - self.plate

    @property
    def floor(self) -> float:
        return self.plate_under - self.packing

    @property
    def pin_end(self) -> float:
        return self.plate_top + self.pin_length.size

    @property
    def ball_top(self) -> float:
        return self.pin_end + self.ball.size

    @property
    def slug_top(self) -> float:
        return self.ball_top + self.slug.size

    @property
    def sleeve_low(self) -> float:
        return self.slug_top - self.sleeve.size

    @property
    def fitting(self) -> float:
        """Return where the grease fitting is: at the slug's face."""
        return self.ball_top if self.stack.fitting is None else self.stack.fitting.value

    @property
    def rows(self) -> tuple[float, ...]:
        """Return the heights of the rows of plug holes, as far as they are known."""
        return () if self.floats is None else self.floats.plug_rows


def _parts(end: StileEnd) -> _Parts:
    mount, stack = floor_pivot(end.m), stack_of(end.m)
    floor = {part.name: part.size.value for part in stack.floor.parts}
    spacer = floor["spacer"]
    pin = sized(mount.pin_diameter, "pin_diameter", 0.5 * end.inside)
    d = pin.size
    bore = sized(mount.sleeve_bore, "sleeve_bore", d)
    ball = sized(mount.ball_diameter, "ball_diameter", d)
    slug = sized(mount.slug_length, "slug_length", 0.6 * d)
    return _Parts(
        mount=mount,
        stack=stack,
        floats=sleeve_float(end.m, stack),
        plate=floor["plate"],
        spacer=spacer,
        packing=max(floor.get("packing", 0.0), 0.0),
        fall=floor.get("floor at the pivot", 0.0),
        pin=pin,
        pin_length=sized(mount.bottom_pin_length, "bottom_pin_length", spacer + 3.0 * d),
        bore=bore,
        outside=sized(mount.sleeve_outside, "sleeve_outside", min(end.inside, 1.35 * bore.size)),
        ball=ball,
        slug=slug,
        sleeve=sized(mount.sleeve_length, "sleeve_length", slug.size + ball.size + 1.5 * d),
        weld=sized(mount.pin_weld, "pin_weld", 0.2 * d),
    )


def not_given_below(m: Mounting) -> tuple[str, ...]:
    """Return the keys of a bottom pivot's sizes that the job does not give."""
    mount = floor_pivot(m)
    keys = (
        "plate",
        "pin_diameter",
        "bottom_pin_length",
        "pin_weld",
        "slug_weld",
        "sleeve_bore",
        "sleeve_outside",
        "sleeve_length",
        "ball_diameter",
        "slug_length",
        "access_hole",
        "grease_fitting",
        "plug_hole",
        "plug_holes",
    )
    return tuple(key for key in keys if getattr(mount, key) is None)


def bottom_drawing(at: Desk, m: Mounting, how: Labels) -> Drawing:
    """Return a leaf's bottom pivot cut through its axis, seen from the face side.

    The leaf's bottom is at y = 0 and the axis at x = 0 [m]. ``how`` sets its labels.
    """
    end = stile_end(m)
    p = _parts(end)
    top = max(p.slug_top, *p.rows, 0.0) + 0.3 * end.width
    return Drawing(
        (
            *_floor(end, p),
            *stile_steel(end, top),
            *_plugs(end, p),
            *_sleeve_and_pin(p),
            axis_line(0.0, p.floor - 0.2 * end.width, top + 0.1 * end.width),
            *_holes(p),
            *stile_dimensions(at, end, top, 1.0),
            _floor_side(at, end, p, how),
            *_hole_heights(at, end, p, how),
            _sleeve_side(at, end, p, how),
        )
    )


# ---------------------------------------------------------------- the parts


def _floor(end: StileEnd, p: _Parts) -> list[DrawingItem]:
    left, right = sorted((end.out, end.far))
    deep = p.floor - 0.3 * end.width
    items: list[DrawingItem] = [
        Hatch(box(left, deep, right, p.floor), "concrete", 1.6),
        Line((left, p.floor), (right, p.floor), "cut"),
    ]
    if p.packing > 1e-6:
        pack = box(left, p.floor, right, p.plate_under)
        items.append(Polyline(pack, "cut", closed=True, fill="pale", key="packing"))
    items += cut_steel(
        left,
        p.plate_under,
        right,
        p.plate_top,
        layer="cut" if p.mount.plate is not None else "hidden",
        spacing=2.0,
        key="plate",
    )
    for x in (left, right):
        items += zigzag((x, deep), (x, p.plate_top))
    return items


def _sleeve_and_pin(p: _Parts) -> list[DrawingItem]:
    out, bore = p.outside.size / 2.0, min(p.bore.size, 0.96 * p.outside.size) / 2.0
    known = p.outside.given and p.bore.given and p.sleeve.given
    layer: Layer = "cut" if known and p.stack.hang is not None else "hidden"
    items: list[DrawingItem] = [Fill(box(-out, p.sleeve_low, out, p.slug_top), "white")]
    for side in (-1.0, 1.0):
        items += cut_steel(
            side * bore, p.sleeve_low, side * out, p.slug_top, layer=layer, spacing=0.8
        )
    r = min(p.pin.size, p.bore.size) / 2.0
    items.append(
        rect(
            -r,
            p.plate_top,
            r,
            p.pin_end,
            "cut" if p.pin.given and p.pin_length.given else "hidden",
            key="pin",
        )
    )
    for side in (-1.0, 1.0):
        leg = side * p.weld.size
        items += fillet((side * r, p.plate_top), leg, p.weld.size, given=p.weld.given)
    above = p.pin_length.given and p.ball.given
    slug = box(-bore, p.ball_top, bore, p.slug_top)
    layer = "cut" if above and p.slug.given else "hidden"
    items.append(Polyline(slug, layer, closed=True, fill="pale", key="slug"))
    middle = (0.0, p.pin_end + p.ball.size / 2.0)
    ball = min(p.ball.size, p.bore.size) / 2.0 if p.ball.given else p.ball.size / 2.0
    items.append(Circle(middle, ball, "cut" if above else "hidden", fill="white", key="ball"))
    return items


def _plugs(end: StileEnd, p: _Parts) -> list[DrawingItem]:
    """Return the plug welds in the stile's walls on either side, at their heights."""
    if p.mount.plug_hole is None:
        return []
    r, items = p.mount.plug_hole.si / 2.0, list[DrawingItem]()
    for y in p.rows:
        for wall in (end.edge, end.inner - end.way * end.wall):
            x0, x1 = sorted((wall, wall + end.way * end.wall))
            items.append(Fill(box(x0, y - r, x1, y + r), "black", layer="note"))
    return items


def _holes(p: _Parts) -> list[DrawingItem]:
    """Return the access hole in the stile's face, with the grease fitting behind it."""
    y = p.fitting
    hole = p.mount.access_hole
    r = 0.4 * p.outside.size if hole is None else hole.si / 2.0
    items: list[DrawingItem] = [Line((-1.25 * r, y), (1.25 * r, y), "centre")]
    if hole is not None:
        items.append(Circle((0.0, y), r, "hidden", key="access hole"))
    if p.mount.grease_fitting is not None:
        items.append(Circle((0.0, y), 0.18 * r, "thin", fill="white", key="grease fitting"))
    return items


# ---------------------------------------------------------------- the figures beside them


def _floor_side(at: Desk, end: StileEnd, p: _Parts, how: Labels) -> DrawingItem:
    """Return the floor side's loop: from the floor under the plate up to the leaf's bottom."""
    words = at.words
    x = end.out
    stations = []
    if abs(p.fall) > float(words.tape.step) / 2.0:
        over = words.length(-p.fall)
        stations.append(Station((x, p.floor - p.fall), f"{over}: highest floor it sweeps"))
    if p.packing > 1e-6:
        tall = words.length(p.packing)
        stations.append(Station((x, p.plate_under), f"{tall}: top of packing"))
    plate = p.mount.plate
    made = steel_words(plate.grade) if plate is not None else "by default: write plate"
    stations.append(
        Station(
            (x, p.plate_top),
            f"{words.length(p.packing + p.plate)}: top of plate, {shown(at, p.plate)}, {made}",
        )
    )
    by_default = "" if p.mount.spacer is not None else " by default"
    stations.append(
        Station(
            (end.edge, 0.0),
            f"{words.length(-p.floor)}: bottom of leaf, spacer {shown(at, p.spacer)}{by_default}",
        )
    )
    under = "" if p.packing > 1e-6 else ", no packing"
    return running(
        Station((x, p.floor), f"0: floor at the pivot{under}"),
        stations,
        base=x,
        side=-end.way,
        off=OFF + (how.wide + TO_WORDS if how.apart else 0.0),
        how=how,
    )


def _hole_heights(at: Desk, end: StileEnd, p: _Parts, how: Labels) -> list[DrawingItem]:
    """Return the heights of the holes in the stile, from the leaf's bottom."""
    words, mount = at.words, p.mount
    if mount.access_hole is None:
        access = "access hole: not given, write access_hole"
    else:
        fitting = mount.grease_fitting
        said = f"fitting {plain(fitting)}" if fitting else "fitting: write grease_fitting"
        tall = "height not known yet:" if p.stack.fitting is None else f"{words.length(p.fitting)}:"
        access = f"{tall} access hole, {shown(at, mount.access_hole.si)} dia.; {said}"
    stations = [Station((end.edge, p.fitting), access)]
    if mount.plug_hole is not None:
        across = shown(at, mount.plug_hole.si)
        stations += [
            Station(
                (end.edge, y),
                f"{words.length(y)}: {PLUG_FACES} plug holes, {across} dia.; faces: hole schedule",
            )
            for y in p.rows
        ]
    origin = Station((end.edge, 0.0), "0")
    return [running(origin, stations, base=end.edge, side=-end.way, how=how)]


def _value(at: Desk, p: _Parts, height: float, *parts: Sized) -> str:
    """Return a height over the plate where all of what it hangs on is given, else why not."""
    lacking = [part.key for part in parts if not part.given]
    if not lacking:
        return f"{at.words.length(height - p.plate_top)}:"
    # The part itself is the last; what it stands on is asked for at its own place.
    return f"not given: write {parts[-1].key}:" if not parts[-1].given else "not known yet:"


def _sleeve_side(at: Desk, end: StileEnd, p: _Parts, how: Labels) -> DrawingItem:
    """Return the sleeve side's loop: from the plate's top over pin, ball and slug, and down."""
    mount = p.mount
    place = pin_place(end.m, end.m.pivots[0])
    pin, ball, slug, sleeve = p.pin_length, p.ball, p.slug, p.sleeve
    across = f"{machined(at, p.pin.size)} dia." if p.pin.given else "write pin_diameter"
    bored = f"bore {machined(at, p.bore.size)}" if p.bore.given else "bore: write sleeve_bore"
    if place.clearance is not None:
        bored += f" ({machined(at, place.clearance)} clear of the pin)"
    turned = (
        f"{shown(at, p.outside.size)} outside"
        if p.outside.given
        else "outside: write sleeve_outside"
    )
    long = f", {shown(at, sleeve.size)} long" if sleeve.given else ""
    seats = "seats not given" if mount.ball_seat == "unknown" else f"{mount.ball_seat} seats"
    round_ball = f", {shown(at, ball.size)} dia., {seats}" if ball.given else ""
    of_slug = f", {shown(at, slug.size)} long" if slug.given else ""
    legs = shown(at, p.weld.size)
    weld = f"{legs}: fillet weld, all round" if p.weld.given else "weld: not given, write pin_weld"
    stations = [
        Station((end.way * (p.pin.size / 2.0), p.plate_top + p.weld.size), weld),
        Station(
            (end.way * p.outside.size / 2.0, p.sleeve_low),
            f"{_value(at, p, p.sleeve_low, pin, ball, slug, sleeve)} low end of sleeve, "
            f"{bored}, {turned}{long}",
        ),
        Station(
            (end.way * p.pin.size / 2.0, p.pin_end),
            f"{_value(at, p, p.pin_end, pin)} end of pin, {across}, {steel_words(mount.pin_grade)}",
        ),
        Station(
            (0.0, p.ball_top),
            f"{_value(at, p, p.ball_top, pin, ball)} top of ball{round_ball}",
        ),
        Station(
            (end.way * p.outside.size / 2.0, p.slug_top),
            f"{_value(at, p, p.slug_top, pin, ball, slug)} top of slug{of_slug}, and of sleeve; "
            + (
                "its weld: write slug_weld"
                if mount.slug_weld is None
                else f"{shown(at, mount.slug_weld.si)} throat of groove weld, all round"
            ),
        ),
    ]
    return running(
        Station((end.far, p.plate_top), "0: top of plate"),
        stations,
        base=end.far,
        side=end.way,
        how=how,
    )
