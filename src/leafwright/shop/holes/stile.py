"""Holes of the hanging stile on floor pivots, and of the sleeve inside it.

The sleeve floats until the leaf stands (`mount.sleeve`): where its plug holes, its fitting and the
hole over that are follows from the stack, and is not worked out here again. A plug hole must be
reached by the gun with the frame whole, so that it may not lie where a rail or a brace lands.
"""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.job.defaults import chosen
from leafwright.job.model import FloorPivot
from leafwright.mount.closing import small
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.loops import Stack, stack_of
from leafwright.mount.sleeve import PLUG_FACES, SleeveFloat, sleeve_float
from leafwright.records import Metres
from leafwright.shop.holes.bench import Bench, weld_clear
from leafwright.shop.holes.records import FaceKey, FaceOf, Hole, HoledPart
from leafwright.shop.holes.tools import cutters, tapped, up_to_size
from leafwright.shop.holes.tube import Tube, free_of

_INCH = 0.0254

#: Least steel between two holes' rims, and between a rim and an open end, in walls [-] (common
#: practice, no source).
WALLS = 2.0


def stile_holes(b: Bench) -> None:
    """Put the pivot's holes into the hanging stile."""
    mount = floor_pivot(b.m)
    tube = b.tube("hanging stile")
    stack = stack_of(b.m)
    floats = sleeve_float(b.m, stack)
    access = access_face(b)
    _access(b, tube, mount, stack, access)
    _plugs(b, tube, mount, floats, stack, access)
    _weep(b, tube, floats, stack)


def access_face(b: Bench) -> FaceKey:
    """Return the face that the grease fitting looks out of: one that no infill lies on."""
    covered = {piece.face for piece in b.m.leaf.infill}
    return "back" if covered == {"face"} else "face"


def _access(b: Bench, tube: Tube, mount: FloorPivot, stack: Stack, face: FaceKey) -> None:
    if mount.grease_fitting is None and mount.access_hole is None:
        b.asks.append(
            f"grease for {b.m.who}: say grease_fitting and access_hole, or how else the ball is "
            "greased"
        )
        return
    if stack.fitting is None:
        b.asks.append(
            f"where the access hole of {b.m.who} is: it follows from bottom_pin_length and "
            "ball_diameter"
        )
        return
    coupler = chosen(
        None, "grease coupler", "stack/grease coupler", "grease coupler", system=b.m.job.job.system
    )
    worst, value = stack.fitting.worst, stack.fitting.value
    off = max(worst[1] - value, value - worst[0])
    needed = coupler.value + 2.0 * off
    reach = (
        f"what goes over the fitting is {small(b.m, coupler.value)} wide and the fitting may be "
        f"{small(b.m, off)} off either way: {small(b.m, needed)} or more"
    )
    name = f"access hole of {b.m.who}"
    if mount.access_hole is not None:
        wide = chain.base(
            "wish", f"{b.m.key}/access hole", name, mount.access_hole.si,
            note=mount.access_hole.text,
        )  # fmt: skip
    else:
        wide = chain.base(
            "default", f"{b.m.key}/access hole", name, up_to_size(needed, b.system), note=reach
        )
        b.defaults.append(wide)
    covered = any(piece.face == face for piece in b.m.leaf.infill)
    b.drill(
        tube,
        "access hole",
        use="access hole to the grease fitting",
        kind="access",
        face=face,
        along=_up(tube, stack.fitting.size),
        diameter=wide,
        when="before welding",
        why=reach + ("; cut the infill away over it" if covered else ""),
    )


def row_names(count: int) -> tuple[str, ...]:
    """Return what rows of plugs are called, from below."""
    if count <= 2:
        return ("lower plug", "upper plug")[:count]
    return tuple(f"plug row {i + 1} from below" for i in range(count))


def plug_faces(b: Bench, tube: Tube, at: Metres, radius: Metres, access: FaceKey) -> list[FaceKey]:
    """Return two faces for a row's plug holes, fewer where no two are free.

    The hinge edge first, and the nose edge across from it; where a rail or a brace lands, or the
    tube's end is cut away, the face across from the access hole, and that hole's own face last.
    """
    other: FaceKey = "back" if access == "face" else "face"
    landed = b.landed[tube.member.key]
    free: list[FaceKey] = []
    for face in ("hinge", "nose", other):
        low, high = tube.clear_end(face, True), tube.clear_end(face, False)
        keep = radius + WALLS * tube.wall - 1e-6
        inside = low + keep <= at <= high - keep
        if inside and free_of(landed, face, at, radius, weld_clear(tube)) is None:
            free.append(face)
    return free[:2]


def _plugs(
    b: Bench,
    tube: Tube,
    mount: FloorPivot,
    floats: SleeveFloat | None,
    stack: Stack,
    access: FaceKey,
) -> None:
    if mount.plug_hole is None or mount.plug_holes is None or mount.sleeve_length is None:
        b.asks.append(
            f"the plug holes of {b.m.who}: say plug_hole, plug_holes and sleeve_length in its mount"
        )
        return
    hole = chain.base(
        "wish", f"{b.m.key}/plug hole", f"plug hole of {b.m.who}", mount.plug_hole.si,
        note=mount.plug_hole.text,
    )  # fmt: skip
    asked = -(-int(mount.plug_holes) // PLUG_FACES)
    if floats is None or stack.hang is None:
        b.asks.append(
            f"where the bottom sleeve of {b.m.who} comes to rest: its pin, ball, slug and sleeve "
            "are not all given"
        )
    else:
        names = row_names(len(floats.plug_rows))
        for name, at in zip(names, floats.plug_rows, strict=True):
            high = chain.linear(
                f"{tube.member.key}/{name}",
                f"{name} of the bottom sleeve, over the leaf's bottom",
                "half way between the lowest and the highest that lands on the sleeve wherever it "
                "rests",
                at,
                [(1.0, stack.hang.size)],
            )
            _plug_row(b, tube, name, high, hole, access, "bottom sleeve")
    d, long = mount.plug_hole.si, mount.sleeve_length.si
    top = max(d, d / 2.0 + WALLS * tube.wall)
    low = max(long - d, top)
    rows = [low - (low - top) * i / max(asked - 1, 1) for i in range(asked)]
    rows = [top] if asked < 2 else rows
    height = chain.as_made(b.m.place.height, f"{b.m.key}/leaf as made", "the leaf's height as made")
    for name, down in zip(row_names(len(rows)), rows, strict=True):
        below = chain.base(
            "table", f"{tube.member.key}/top {name} down", f"{name} under the leaf's top", down,
            note="a hole's width from the sleeve's ends, two walls of steel over it; the sleeve is "
            "flush with the leaf's top; common practice, no source",
        )  # fmt: skip
        high = chain.total(
            f"{tube.member.key}/top {name}", f"{name} of the top sleeve, over the leaf's bottom",
            [(1.0, height), (-1.0, below)],
        )  # fmt: skip
        _plug_row(b, tube, f"top {name}", high, hole, access, "top sleeve")


def _plug_row(
    b: Bench,
    stile: Tube,
    name: str,
    height: Quantity,
    hole: Quantity,
    access: FaceKey,
    sleeve: str,
) -> None:
    """Put one row of plug holes where it lies: in the stile, or in a rail that runs through."""
    r = hole.value / 2.0
    tube, along, across = stile, _up(stile, height), None
    faces = plug_faces(b, stile, along.value, r, access)
    if not 0.0 < along.value < stile.length:
        rails = (t for t in b.tubes if abs(t.way[1]) < 1e-9)
        rail = next((t for t in rails if t.start[1] <= height.value <= t.start[1] + t.width), None)
        if rail is not None:
            tube, faces = rail, ["face", "back"]
            along = chain.renamed(
                b.m.place.axis, f"{rail.member.key}/{name}", "the pivot's axis from its hinge end"
            )
            across = chain.total(
                f"{rail.member.key}/{name}/across", "over its lower edge",
                [(1.0, height), (-1.0, _bottom(rail))],
            )  # fmt: skip
    if len(faces) < PLUG_FACES:
        b.asks.append(
            f"the {name.removeprefix('top ')}s of the {sleeve} of {b.m.who}: no two faces of the "
            "stile are free there, so that fewer are drilled; weld the sleeve's end as well, or "
            "place it elsewhere"
        )
    then = "plugged once the leaf stands on its ball" if sleeve == "bottom sleeve" else "plugged"
    for face in faces:
        why = f"holds the {sleeve}; {then}"
        if "nose" not in faces and face not in ("hinge", "face"):
            why += "; not on the nose edge, where the frame lands"
        b.drill(
            tube,
            f"{name}, {face}",
            use=f"{name.removeprefix('top ')} of the {sleeve}",
            kind="plug weld",
            face=face,
            along=along,
            across=across,
            diameter=hole,
            when="before welding",
            why=why,
        )


def _bottom(tube: Tube) -> Quantity:
    """Return how high a tube's datum end, or its lower edge, is over the leaf's bottom [m]."""
    return chain.base(
        "table", f"{tube.member.key}/over the leaf's bottom", "its lower end, over the leaf's",
        tube.start[1], note="as the leaf's corners are made",
    )  # fmt: skip


def _up(tube: Tube, height: Quantity) -> Quantity:
    """Return a height over the leaf's bottom as measured from the stile's own lower end [m]."""
    if abs(tube.start[1]) < 1e-9:
        return height
    return chain.total(
        f"{height.key}, from its end", f"{height.name}, from the stile's end",
        [(1.0, height), (-1.0, _bottom(tube))],
    )  # fmt: skip


def _weep(b: Bench, tube: Tube, floats: SleeveFloat | None, stack: Stack) -> None:
    """Put a weep over the sleeve, where rain that gets into the stile would stand."""
    if b.m.job.building.indoors == "yes" or floats is None or stack.hang is None:
        return
    size = b.usual(
        "weep", "weep hole", _INCH / 4.0, 0.006, "lets rain out; common practice, no source"
    )
    over = chain.base(
        "table", "holes/weep over sleeve", "weep over the sleeve's highest end",
        size.value / 2.0 + 0.006, note="clear of the sleeve; common practice, no source",
    )  # fmt: skip
    length = chain.base(
        "wish", f"{b.m.key}/sleeve as wide as it floats", "sleeve at its highest",
        floats.rest[2] + floats.length - stack.hang.value,
        note="its length, and how far it may stand over its place at worst",
    )  # fmt: skip
    height = chain.total(
        f"{tube.member.key}/weep", "weep over the sleeve",
        [(1.0, stack.hang.size), (1.0, length), (1.0, over)],
    )  # fmt: skip
    along = _up(tube, height)
    landed = b.landed[tube.member.key]
    if free_of(landed, "hinge", along.value, size.value / 2.0, weld_clear(tube)) is not None:
        return
    b.drill(
        tube,
        "weep",
        use="weep over the sleeve",
        kind="weep",
        face="hinge",
        along=along,
        diameter=size,
        when="before welding",
        why="slug and sleeve close the stile: water that gets in stands on them, freezes and "
        "splits it",
    )


# ---------------------------------------------------------------- the sleeve itself


def sleeve_part(b: Bench) -> HoledPart | None:
    """Return the bottom sleeve with its grease hole and its vent; None where it is not known."""
    mount = floor_pivot(b.m)
    if mount.sleeve_length is None or mount.slug_length is None or mount.grease_fitting is None:
        return None
    wall = 0.0
    if mount.sleeve_outside is not None and mount.sleeve_bore is not None:
        wall = max((mount.sleeve_outside.si - mount.sleeve_bore.si) / 2.0, 0.0)
    found = tapped(mount.grease_fitting)
    key = f"{b.m.key}/bottom sleeve"
    along = chain.base(
        "wish", f"{key}/slug's face", "slug's face from the upper end", mount.slug_length.si,
        note=mount.slug_length.text,
    )  # fmt: skip
    zero = chain.base("table", f"{key}/middle", "on its line", 0.0, note="on the line itself")
    holes = []
    if found is None:
        b.asks.append(
            f"the grease fitting of {b.m.who}: grease_fitting = {mount.grease_fitting!r} is no "
            'thread that is read here; write it as "1/4-28" or "M6", or drill by its own sheet'
        )
    else:
        diameter, drill, tap = found
        size = chain.base(
            "table", f"{key}/tap drill", "tap drill", diameter,
            note=f"nearest to 75 % of thread, {mount.grease_fitting}",
        )  # fmt: skip
        holes.append(
            Hole(
                key=f"{key}/grease fitting",
                part=key,
                hand=b.hand,
                label="",
                use=f"grease fitting {mount.grease_fitting}",
                kind="tapped",
                face="round",
                side="on a line along it; that line looks out of the access hole",
                along=along,
                across=zero,
                diameter=size,
                slot=0.0,
                through="one wall",
                depth=0.0,
                tools=(drill, tap),
                tap_drill=drill.size,
                when="before welding",
                template="",
                why="at the slug's face, so that grease comes in over the ball",
            )
        )
    vent = b.usual(
        "grease vent", "vent for the ball's room", _INCH / 8.0, 0.003,
        "lets air and old grease out, so that the gun does not lift the leaf; common practice, no "
        "source",
    )  # fmt: skip
    holes.append(
        Hole(
            key=f"{key}/grease vent",
            part=key,
            hand=b.hand,
            label="",
            use="vent for the ball's room",
            kind="grease vent",
            face="back",
            side="across from the fitting's line",
            along=along,
            across=zero,
            diameter=vent,
            slot=0.0,
            through="one wall",
            depth=0.0,
            tools=cutters(vent.value, max(wall, 0.001), b.system, plate=False),
            tap_drill="",
            when="before welding",
            template="",
            why="a ball in a close bore is a piston: without a way out a grease gun can lift the "
            "leaf",
        )
    )
    outside = mount.sleeve_outside.si if mount.sleeve_outside is not None else 0.0
    length = chain.base(
        "wish", f"{key}/length", "sleeve", mount.sleeve_length.si, note=mount.sleeve_length.text
    )
    return HoledPart(
        key=key,
        mark=f"{b.letter}-SL",
        name="bottom sleeve",
        hand=b.hand,
        section="sleeve" if mount.sleeve_outside is None else "turned or tube",
        length=length,
        wall=wall,
        datum_end="its upper end, where the slug is",
        faces=(
            FaceOf("round", "line of the fitting", outside, "the line", True),
            FaceOf("back", "across from that line", outside, "the line", True),
        ),
        holes=tuple(holes),
    )
