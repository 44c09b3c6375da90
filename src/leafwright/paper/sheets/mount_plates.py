"""A floor pivot's two plates as they are cut and drilled, from their own edges."""

from __future__ import annotations

from leafwright.job.model import Plate
from leafwright.mount import Mounting
from leafwright.mount.carrier import carrier_of
from leafwright.mount.envelope import floor_pivot
from leafwright.paper.drawing import Drawing, DrawingItem, RunningDimensions
from leafwright.paper.scene import Circle, Layer, Line, Polyline
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.elevation import box
from leafwright.paper.sheets.mount_layouts import Holes, anchor_holes, bolt_holes
from leafwright.paper.sheets.mount_parts import (
    LABEL_MM,
    Station,
    machined,
    member,
    running,
    shown,
    steel_words,
    words_above,
)
from leafwright.units import Typed

#: A plate whose size is not given is drawn so long and so wide, in widths of the stile.
NOMINAL = (3.0, 2.0)


def plate_drawings(at: Desk, m: Mounting) -> tuple[tuple[Drawing, str], ...]:
    """Return a leaf's floor plate and top plate in plan, each with its caption.

    Both are seen with the pin toward the viewer, their lower left corner at (0, 0) [m].
    """
    mount = floor_pivot(m)
    wide = member(m, "hanging stile").section.width
    nominal = (NOMINAL[0] * wide, NOMINAL[1] * wide)
    top_pin = mount.top_pin_diameter or mount.pin_diameter
    bolts = bolt_holes(at, m)
    if mount.top_fixed != "bolted":
        how = "welded" if mount.top_fixed == "welded" else "fixing: not given, write top_fixed"
        bolts = Holes(None, None, 0.0, how, ())
    return (
        (
            _plan(at, m, mount.plate, "plate", mount.pin_diameter, anchor_holes(at, m), nominal),
            "FLOOR PLATE, SEEN FROM ABOVE",
        ),
        (
            _plan(at, m, mount.top_plate, "top_plate", top_pin, bolts, nominal),
            "TOP PLATE, SEEN FROM BELOW",
        ),
    )


def plate_notes(m: Mounting, *, both: bool) -> tuple[str, ...]:
    """Return what there is to say of the plates; ``both`` where they are those of both leaves."""
    carrier = carrier_of(m)
    along = "transom" if carrier.kind == "transom" else "beam"
    whose = ("Both leaves have these plates; each", "Each")[0 if both else 1]
    notes = [
        f"{whose} is alike turned end for end, so that it has neither left nor right.",
        "Each is seen with its pin toward you. Distances run from the two edges with the small "
        "ring: mark those edges. The pin stands in the middle, as the proof takes it.",
        "Which way the floor plate lies on the floor is not in the job file; the proof tries its "
        "forces every way.",
    ]
    if carrier.kind != "none":
        notes.append(f"The top plate's length lies along the {along}, as the proof takes it.")
    return tuple(notes)


def not_given_of_plates(at: Desk, m: Mounting) -> tuple[str, ...]:
    """Return the keys of the plates' sizes and holes that the job does not give."""
    mount = floor_pivot(m)
    lacking = [key for key in ("plate", "top_plate") if getattr(mount, key) is None]
    lacking += anchor_holes(at, m).lacking if mount.plate is not None else ()
    if mount.top_fixed == "unknown":
        lacking.append("top_fixed")
    if mount.top_fixed == "bolted" and mount.top_plate is not None:
        lacking += bolt_holes(at, m).lacking
    return tuple(lacking)


def _plan(
    at: Desk,
    m: Mounting,
    plate: Plate | None,
    key: str,
    pin: Typed | None,
    holes: Holes,
    nominal: tuple[float, float],
) -> Drawing:
    long, wide = nominal if plate is None else (plate.length.si, plate.width.si)
    layer: Layer = "hidden" if plate is None else "cut"
    outline = box(0.0, 0.0, long, wide)
    middle = (long / 2.0, wide / 2.0)
    items: list[DrawingItem] = [
        Polyline(outline, layer, closed=True, fill="white", key=key),
        *_cross(middle, 0.45 * wide),
        *_pin(m, pin, middle, wide),
        *_drilled(holes, middle),
        _across(at, plate, holes, middle, long),
        _up(at, m, plate, pin, holes, middle, (long, wide), key),
    ]
    if plate is not None and holes.layout is None:
        asked = f"{holes.words}: not given, write {', '.join(holes.lacking)}"
        items.append(words_above((long / 2.0, wide), asked if holes.lacking else holes.words, 3.0))
    return Drawing(tuple(items))


def _cross(at: tuple[float, float], reach: float) -> list[DrawingItem]:
    x, y = at
    return [
        Line((x - reach, y), (x + reach, y), "centre"),
        Line((x, y - reach), (x, y + reach), "centre"),
    ]


def _pin(
    m: Mounting, pin: Typed | None, middle: tuple[float, float], wide: float
) -> list[DrawingItem]:
    weld = floor_pivot(m).pin_weld
    r = 0.15 * wide if pin is None else pin.si / 2.0
    items: list[DrawingItem] = []
    if weld is not None and pin is not None:
        items.append(Circle(middle, r + weld.si, "thin", key="weld"))
    items.append(Circle(middle, r, "hidden" if pin is None else "cut", key="pin"))
    return items


def _drilled(holes: Holes, middle: tuple[float, float]) -> list[DrawingItem]:
    if holes.layout is None or holes.across is None:
        return []
    r = holes.across / 2.0
    items: list[DrawingItem] = []
    for x, y in holes.layout.points:
        spot = (middle[0] + x, middle[1] + y)
        items.append(Circle(spot, r, "note" if holes.given else "hidden", key="hole"))
        items += _cross(spot, 1.5 * r)
    return items


def _across(
    at: Desk, plate: Plate | None, holes: Holes, middle: tuple[float, float], long: float
) -> DrawingItem:
    """Return the distances along the plate from its left edge."""
    xs = {middle[0]: "pin"}
    if holes.layout is not None and "along" not in _taken(holes):
        xs |= {middle[0] + x: "" for x in holes.layout.columns if abs(x) > 1e-9}
    xs[long] = ""
    if plate is None:
        xs = {middle[0]: "pin", long: "length not given"}
    texts = [
        (f"{shown(at, x)} {what}" if plate is not None else what).strip() for x, what in xs.items()
    ]
    return RunningDimensions(
        (0.0, 0.0),
        tuple((x, 0.0) for x in xs),
        -6.0,
        tuple(texts),
        "x",
        height_mm=LABEL_MM,
    )


def _taken(holes: Holes) -> set[str]:
    """Return the ways, along and across, in which the proof places the holes and not the job."""
    if holes.layout is None:
        return set()
    return {q.key.rsplit(" ", 1)[-1] for q in holes.layout.defaults}


def _up(
    at: Desk,
    m: Mounting,
    plate: Plate | None,
    pin: Typed | None,
    holes: Holes,
    middle: tuple[float, float],
    size: tuple[float, float],
    key: str,
) -> DrawingItem:
    """Return the distances across the plate from its lower edge, with what is there."""
    long, wide = size
    weld = floor_pivot(m).pin_weld
    round_it = "weld: write pin_weld" if weld is None else f"{shown(at, weld.si)} fillet all round"
    across = "write pin_diameter" if pin is None else f"{machined(at, pin.si)} dia."
    stations = []
    half = f"{shown(at, middle[1])}: " if plate is not None else ""
    stations.append(Station(middle, f"{half}pin, {across}, {round_it}"))
    if plate is None:
        stations.append(Station((long, wide), f"plate: not given, write {key}"))
    else:
        thick = f"{shown(at, plate.thickness.si)} thick, {steel_words(plate.grade)}"
        stations.append(Station((long, wide), f"{shown(at, wide)}: plate, {thick}"))
    if holes.layout is not None:
        taken = _taken(holes)
        far = max(holes.layout.columns)
        rows = [y for y in holes.layout.rows if abs(y) > 1e-9 or len(holes.layout.rows) == 1]
        for number, y in enumerate(reversed(rows)):
            value = "" if "across" in taken else f"{shown(at, middle[1] + y)}: "
            words = holes.words if number == 0 else "as above"
            if taken and number == len(rows) - 1:
                how = f"not given, dashed as the proof takes them: {_where(at, holes)}"
                words = f"{words}; {how}" if number == 0 else how
            stations.append(Station((middle[0] + far, middle[1] + y), f"{value}{words}"))
    return running(Station((long, 0.0), "0"), stations, base=long, side=1.0)


def _where(at: Desk, holes: Holes) -> str:
    """Return how far apart the proof takes holes that the job does not place."""
    assert holes.layout is not None
    ways = {"along": holes.layout.along, "across": holes.layout.across}
    return ", ".join(
        f"{shown(at, ways[way])} apart {way} it"
        for way in ("along", "across")
        if way in _taken(holes)
    )
