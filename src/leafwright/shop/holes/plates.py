"""A floor pivot's two plates: outlines, holes from two edges, and what is drilled through them.

Where the holes are is what the proof takes (`mount.plate_loads`); their sizes are the class of
AISC 360-22, Table J3.3 for bolts, and for anchors what their makers' sheets commonly ask for.
"""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook.aisc360 import bolt_holes
from leafwright.handbook.aisc360.bolt_holes import Hole as HoleClass
from leafwright.job.model import Anchor
from leafwright.job.mounts import Plate as JobPlate
from leafwright.mount.carrier import Carrier, carrier_of
from leafwright.mount.envelope import floor_pivot
from leafwright.mount.head_holes import standard_hole
from leafwright.mount.head_loads import BoltKind, pretension
from leafwright.mount.layouts import told_anchors, told_bolts
from leafwright.mount.parts import size
from leafwright.mount.plate_loads import Layout
from leafwright.records import Metres
from leafwright.shop.holes.bench import Bench
from leafwright.shop.holes.records import Hole, HoleTool, InPlace, Plate, When
from leafwright.shop.holes.tools import cutters, size_words

_SIXTEENTH = 0.0254 / 16.0

#: By how much a plate's hole is wider than its anchor [m], inch and metric: anchors that are set
#: through it, and screw anchors, whose thread must pass. Makers' sheets; the report decides.
ANCHOR_PLAY = {"feet-inch": (_SIXTEENTH, 2.0 * _SIXTEENTH), "metric": (0.002, 0.003)}


def plate_parts(b: Bench) -> None:
    """Put both plates on the bench, with their holes and what is drilled through them."""
    mount = floor_pivot(b.m)
    if mount.plate is None:
        b.asks.append(f"the floor plate of {b.m.who}: say plate, its thickness, width and length")
    else:
        b.plates.append(_floor_plate(b, mount.plate))
    if mount.top_plate is None:
        b.asks.append(f"the top plate of {b.m.who}: say top_plate, its thickness, width and length")
    else:
        b.plates.append(_top_plate(b, mount.top_plate))


def _sizes(key: str, plate: JobPlate) -> tuple[Quantity, Quantity, Quantity]:
    """Return a plate's length, width and thickness [m]."""
    named = (("length", plate.length), ("width", plate.width), ("thickness", plate.thickness))
    made = [chain.base("wish", f"{key}/{n}", f"plate's {n}", t.si, note=t.text) for n, t in named]
    return made[0], made[1], made[2]


def _jamb(b: Bench) -> tuple[str, str]:
    """Return what is toward the left and what toward the right of a plate, as the leaf is seen."""
    post = "the jamb"
    rest = "the leaf's nose"
    return (post, rest) if b.m.place.hand == "left" else (rest, post)


def _made(
    b: Bench,
    key: str,
    mark: str,
    name: str,
    plate: JobPlate,
    *,
    from_above: bool,
    holes: tuple[Hole, ...],
    pin: Metres,
) -> Plate:
    length, width, thickness = _sizes(key, plate)
    left, right = _jamb(b)
    toward = f"the {b.m.job.job.seen_from}"
    lower, upper = (toward, f"away from {toward}") if from_above else (
        f"away from {toward}", toward
    )  # fmt: skip
    weld = floor_pivot(b.m).pin_weld
    long, wide = length.value, width.value
    return Plate(
        key=key,
        mark=mark,
        name=name,
        hand=b.hand,
        outline=((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)),
        length=length,
        width=width,
        thickness=thickness,
        grade=plate.grade,
        count=1,
        edges=(left, lower, right, upper),
        seen="from above, its pin toward you" if from_above else "from below, its pin toward you",
        pin=pin,
        weld=weld.si if weld is not None else 0.0,
        holes=holes,
    )


_COLUMNS = {1: ("middle",), 2: ("left", "right"), 3: ("left", "middle", "right")}
_ROWS = {1: ("middle",), 2: ("lower", "upper")}


def _places(layout: Layout) -> list[tuple[str, float, float]]:
    """Return each hole's name by its place, and where it is from the plate's middle [m]."""
    columns, rows = layout.columns, layout.rows
    named_x = _COLUMNS.get(len(columns)) or tuple(
        f"column {i + 1} from the left" for i in range(len(columns))
    )
    named_y = _ROWS[len(rows)]
    found = []
    for x, y in sorted(layout.points, key=lambda p: (p[1], p[0])):
        name = f"{named_y[rows.index(y)]} {named_x[columns.index(x)]}"
        found.append((name.replace("middle middle", "middle"), x, y))
    return found


def _drilled(
    b: Bench,
    key: str,
    plate: JobPlate,
    layout: Layout,
    *,
    what: str,
    side: str,
    diameter: Quantity,
    why: str,
    refused: str = "",
) -> tuple[Hole, ...]:
    """Return the holes of a plate, each from its left and its lower edge."""
    length, width, _ = _sizes(key, plate)
    taken = {q.key.rsplit(" ", 1)[-1] for q in layout.defaults}
    holes = []
    for name, x, y in _places(layout):
        along, across = (
            chain.total(
                f"{key}/{what} {name}/{way}",
                f"{what} {name}, {way} the plate",
                [
                    (0.5, whole),
                    (
                        1.0,
                        chain.base(
                            "table" if way in taken else "wish",
                            f"{key}/{what} {name}/{way} from middle",
                            "from the plate's middle",
                            off,
                            note="as the proof takes it" if way in taken else "as the job has it",
                        ),
                    ),
                ],
            )
            for way, whole, off in (("along", length, x), ("across", width, y))
        )
        holes.append(
            Hole(
                key=f"{key}/{what} {name}",
                part=key,
                hand=b.hand,
                label="",
                use=f"{what}, {name}",
                kind="clearance",
                face="plate",
                side=side,
                along=along,
                across=across,
                diameter=diameter,
                slot=0.0,
                through="all the way",
                depth=0.0,
                tools=cutters(diameter.value, plate.thickness.si, b.system, plate=True),
                tap_drill="",
                when="before welding",
                template="",
                why=why,
                refused=refused,
            )
        )
    if taken:
        b.asks.append(
            f"where the {what}s are {' and '.join(sorted(taken))} the {key.split('/')[-1]} of "
            f"{b.m.who}: the job does not say, and they stand where the proof takes them"
        )
    return tuple(holes)


# ---------------------------------------------------------------- the floor plate


def _floor_plate(b: Bench, plate: JobPlate) -> Plate:
    key, mount = f"{b.m.key}/floor plate", floor_pivot(b.m)
    return _made(
        b,
        key,
        f"{b.letter}-FP",
        "floor plate",
        plate,
        from_above=True,
        holes=_anchor_holes(b, key, plate),
        pin=mount.pin_diameter.si if mount.pin_diameter is not None else 0.0,
    )


def anchor_hole(d: Metres, kind: str, system: str) -> Metres:
    """Return the hole of a plate for an anchor [m]; ``kind`` is as in the job."""
    play = ANCHOR_PLAY[system]
    return d + play[1 if "screw" in kind.lower() else 0]


def _anchor_holes(b: Bench, key: str, plate: JobPlate) -> tuple[Hole, ...]:
    anchor = b.m.job.building.anchor
    layout, _ = told_anchors(b.m)
    if anchor is None or anchor.size is None or layout is None:
        b.asks.append(
            f"the anchors of the floor plate of {b.m.who}: say size and per_plate in "
            "building.anchor; no hole is drilled before"
        )
        return ()
    if isinstance(layout, str):
        b.asks.append(f"the anchors of the floor plate of {b.m.who}: {layout}")
        return ()
    d = anchor.size.si
    hole = chain.base(
        "default",
        f"{b.m.key}/anchor hole",
        f"hole for the anchors of {b.m.who}",
        anchor_hole(d, anchor.kind, b.system),
        note="a sixteenth or 2 mm over the anchor, twice that for a screw anchor; makers' sheets: "
        "the anchor's own report decides",
    )
    b.defaults.append(hole)
    bit = HoleTool("masonry bit", size_words(d, b.system))
    b.in_place.append(_in_slab(b, key, anchor, bit, len(layout.points)))
    return _drilled(
        b,
        key,
        plate,
        layout,
        what="anchor",
        side="flat, straight through",
        diameter=hole,
        why=f"passes the {bit.words} and the {size(b.m, d)} anchor: the plate is the template for "
        "the slab",
    )


def _in_slab(b: Bench, key: str, anchor: Anchor, bit: HoleTool, count: int) -> InPlace:
    assert anchor.size is not None
    deep = anchor.embedment
    wide = chain.base("wish", f"{b.m.key}/anchor", "anchor", anchor.size.si, note=anchor.size.text)
    say = "as deep as its report asks" if deep is None else (
        f"{size(b.m, deep.si)} of anchor in the concrete, and deeper by what its report asks for "
        "dust"
    )  # fmt: skip
    return InPlace(
        key=f"{b.m.key}/slab/anchors",
        hand=b.hand,
        use=f"anchors of the floor plate of {b.m.who}",
        into="slab",
        count=count,
        diameter=wide,
        depth=0.0 if deep is None else deep.si,
        tools=(bit,),
        template=key,
        when="once the leaf hangs",
        why=f"through the plate as it stands plumb under the leaf; {say}. Have the slab scanned "
        "first",
    )


# ---------------------------------------------------------------- the top plate


def _top_plate(b: Bench, plate: JobPlate) -> Plate:
    key, mount = f"{b.m.key}/top plate", floor_pivot(b.m)
    pin = mount.top_pin_diameter or mount.pin_diameter
    holes: tuple[Hole, ...] = ()
    if mount.top_fixed == "bolted":
        holes = _bolt_holes(b, key, plate)
    elif mount.top_fixed == "unknown":
        b.asks.append(f"how the top plate of {b.m.who} is held: say top_fixed in its mount")
    return _made(
        b,
        key,
        f"{b.letter}-TP",
        "top plate",
        plate,
        from_above=False,
        holes=holes,
        pin=pin.si if pin is not None else 0.0,
    )


def _bolt_holes(b: Bench, key: str, plate: JobPlate) -> tuple[Hole, ...]:
    mount = floor_pivot(b.m)
    layout, kind, _ = told_bolts(b.m)
    if mount.bolt is None or mount.top_bolts is None:
        b.asks.append(f"the bolts of the top plate of {b.m.who}: say bolt and top_bolts")
        return ()
    for refused_by in (kind, layout):
        if isinstance(refused_by, str):
            b.asks.append(f"the bolts of the top plate of {b.m.who}: {refused_by}")
            return ()
    assert isinstance(kind, BoltKind) and isinstance(layout, Layout)
    carrier = carrier_of(b.m)
    standard = standard_hole(b.m, kind.d)
    if mount.bolt.hole is not None:
        hole = chain.base(
            "wish", f"{b.m.key}/bolt hole", "hole for the bolts", mount.bolt.hole.si,
            note=mount.bolt.hole.text,
        )  # fmt: skip
    elif isinstance(standard, str):
        b.asks.append(f"the bolts of the top plate of {b.m.who}: {standard}")
        return ()
    else:
        hole = standard[1][0]
    why, refused = bolt_hole_words(b, kind, hole.value)
    b.in_place += _in_carrier(b, key, carrier, hole, len(layout.points), refused)
    return _drilled(
        b,
        key,
        plate,
        layout,
        what="bolt",
        side="flat, straight through",
        diameter=hole,
        why=why,
        refused=refused,
    )


def bolt_hole_words(b: Bench, kind: BoltKind, hole: Metres) -> tuple[str, str]:
    """Return what a hole is for its bolt, and why it is refused, "" where it is not."""
    bolt = f"a {size(b.m, kind.d)} bolt"
    try:
        right = bolt_holes.hole_sizes(kind.d).standard
    except ValueError:
        if hole < kind.d - 1e-6:
            return "", f"{bolt} does not go through a hole of {size(b.m, hole)}"
        return f"{bolt}; no table of holes has it: an engineer answers for its hole", ""
    if hole < kind.d - 1e-6:
        return "", (
            f"{bolt} does not go through a hole of {size(b.m, hole)}: drill {size(b.m, right)}, "
            "its standard hole"
        )
    found = bolt_holes.hole_class(kind.d, hole)
    if found is HoleClass.LARGER:
        return "", (
            f"{size(b.m, hole)} is larger than the oversize hole for {bolt}, and not allowed: "
            f"drill {size(b.m, right)}"
        )
    if found is HoleClass.OVERSIZE:
        friction = "" if pretension(kind) is not None else "; these bolts cannot be so tightened"
        return (
            f"oversize for {bolt}: hardened washers, tightened to hold by friction, nothing "
            f"counted on bearing{friction}",
            "",
        )
    return f"standard hole for {bolt}", ""


def _in_carrier(
    b: Bench, key: str, carrier: Carrier, hole: Quantity, count: int, refused: str
) -> list[InPlace]:
    """Return the holes in what carries the top plate, drilled through it."""
    if carrier.kind == "none":
        b.asks.append(f"what the top plate of {b.m.who} is held to: {carrier.unknown}")
        return []
    when: When = "when it is fitted"
    name = "the transom's lower wall" if carrier.kind == "transom" else "the beam's lower flange"
    return [
        InPlace(
            key=f"{b.m.key}/{carrier.kind}/bolts",
            hand=b.hand,
            use=f"bolts of the top plate of {b.m.who}",
            into=f"{name} ({carrier.name})",
            count=count,
            diameter=hole,
            depth=0.0,
            tools=cutters(hole.value, max(carrier.thickness, 0.006), b.system, plate=True),
            template=key,
            when=when,
            why="clamp the plate up, drill one hole through it, bolt that, then drill the rest; "
            "ask who owns the beam before it is drilled",
            refused=refused,
        )
    ]
