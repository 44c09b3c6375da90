"""Closed tubes: vents and drains for the zinc bath, vents for the last weld, weeps outdoors.

A tube whose both ends land on other tubes holds a room of its own. Welded shut it blows its last
weld out; dipped in zinc it bursts. What stands open at its lower end drains itself.
"""

from __future__ import annotations

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import galvanizing
from leafwright.records import Metres
from leafwright.shop.holes.bench import Bench, weld_clear
from leafwright.shop.holes.records import FaceKey
from leafwright.shop.holes.stile import WALLS
from leafwright.shop.holes.tools import up_to_size
from leafwright.shop.holes.tube import STILES, Tube, end_open, free_of

_INCH = 0.0254

ZINC = (
    "Never send a closed tube to the zinc bath: without a vent at every end it bursts and throws "
    "molten zinc. Have the galvanizer look at the holes before they are drilled."
)


def vents(b: Bench) -> None:
    """Put vents, drains and weeps into every tube of a leaf that needs them."""
    finish = b.m.table.finish
    sealed = []
    for tube in b.tubes:
        near = end_open(tube, b.tubes, near=True)
        far = end_open(tube, b.tubes, near=False)
        if finish == "galvanized":
            for is_near, is_open in ((True, near), (False, far)):
                if not is_open:
                    _zinc_holes(b, tube, near=is_near)
        elif not near and not far:
            sealed.append(tube)
            if not b.holes.get(tube.member.key):
                _weld_vent(b, tube)
    _open_tops(b)
    if finish == "unknown" and sealed:
        b.asks.append(
            f"how {b.m.who} is finished: say finish. Galvanized, each of its closed tubes needs "
            "vents and drains that are not in this schedule"
        )


def _open_tops(b: Bench) -> None:
    """Say where rain gets in."""
    if b.m.job.building.indoors == "yes":
        return
    marks = [
        tube.member.mark
        for tube in b.tubes
        if tube.member.role in STILES and end_open(tube, b.tubes, near=False)
    ]
    if marks:
        b.words.append(
            f"{' and '.join(marks)} stand open at the top: cap them, after any zinc bath; their "
            "lower ends stay open and drain"
        )


# ---------------------------------------------------------------- the zinc bath


def zinc_size(b: Bench, tube: Tube) -> Metres | str:
    """Return the diameter of each of two vents at a tube's end [m], or why there is none."""
    inside_u, inside_v = tube.width - 2.0 * tube.wall, tube.depth - 2.0 * tube.wall
    try:
        by_table = galvanizing.vent_hole(inside_u, inside_v, tube.length, holes=2)
    except ValueError:
        try:
            by_table = galvanizing.vent_hole(inside_u, inside_v, tube.length, holes=1)
        except ValueError as error:
            return str(error)
    return up_to_size(max(by_table, galvanizing.rail_vent_hole(max(inside_u, inside_v))), b.system)


def _zinc_holes(b: Bench, tube: Tube, *, near: bool) -> None:
    """Put two holes across from one another by a closed end, as near its weld as can be."""
    wide = zinc_size(b, tube)
    key = tube.member.key
    if isinstance(wide, str):
        b.asks.append(f"the vents of {tube.member.mark}: {wide}")
        return
    size = chain.base(
        "table", f"{key}/zinc vent", "vent for the zinc bath", wide,
        note="the larger of a galvanizer's sheet after EN ISO 14713-2 and of ASTM A385's rule for "
        "rails, up to the next drill",
    )  # fmt: skip
    pair = _free_pair(b, tube, wide, near=near)
    end = "lower" if tube.way[1] > 1e-9 else "hinge"
    other = "upper" if tube.way[1] > 1e-9 else "nose"
    name = end if near else other
    for face in pair:
        along = _from_end(tube, face, wide, near=near, key=f"{key}/{name} end vent, {face}")
        lower = face in ("lower", "back")
        b.drill(
            tube,
            f"{name} end {'drain' if lower else 'vent'}, {face}",
            use=f"{'drain' if lower else 'vent'} at its {name} end, for the zinc bath",
            kind="drain" if lower else "vent",
            face=face,
            along=along,
            diameter=size,
            when="before welding",
            why="air and acid out, zinc in and out again; its rim within 1/2 in or 12 mm of the "
            "weld",
        )


def _free_pair(b: Bench, tube: Tube, wide: Metres, *, near: bool) -> tuple[FaceKey, FaceKey]:
    """Return two faces across from one another that nothing lands on by an end."""
    landed = b.landed[tube.member.key]
    for face in tube.edges:
        at = _end_place(tube, face, wide, near=near)
        if free_of(landed, face, at, wide / 2.0, weld_clear(tube)) is not None:
            return ("back", "face")
    return tube.edges


def _end_place(tube: Tube, face: FaceKey, wide: Metres, *, near: bool) -> Metres:
    """Return where a hole is as near to the weld of an end as it may be, along [m]."""
    end = tube.clear_end(face, near)
    keep = max(weld_clear(tube), WALLS * tube.wall)
    return end + (1.0 if near else -1.0) * (wide / 2.0 + keep)


def _from_end(tube: Tube, face: FaceKey, wide: Metres, *, near: bool, key: str) -> Quantity:
    """Return that place as a quantity that follows the tube's length."""
    at = _end_place(tube, face, wide, near=near)
    note = "as near to the weld as its rim may be"
    if near:
        return chain.base("table", key, "from the datum end", at, note=note)
    short = chain.base(
        "default", f"{key}, from its end", "from its end", tube.length - at, note=note
    )
    return chain.total(key, "from the datum end", [(1.0, tube.member.length), (-1.0, short)])


# ---------------------------------------------------------------- the last weld


def _weld_vent(b: Bench, tube: Tube) -> None:
    """Put one small vent into a closed tube, low and out of sight."""
    size = b.usual(
        "weld vent", "vent for the last weld", _INCH / 8.0, 0.003,
        "lets hot air out of a tube that is welded shut; common practice, no source",
    )  # fmt: skip
    face: FaceKey = tube.edges[0]
    landed = b.landed[tube.member.key]
    wide = size.value
    # A hand's breadth from the end, past what lands there.
    start = tube.clear_end(face, True) + (0.1 if b.system == "metric" else 4.0 * _INCH)
    blocked = free_of(landed, face, start, wide / 2.0, weld_clear(tube))
    if blocked is not None:
        start = blocked.high + wide / 2.0 + weld_clear(tube)
    along = chain.base(
        "table",
        f"{tube.member.key}/weld vent/along",
        "from the datum end",
        _on_mark(start, b),
        note="a hand's breadth from the end; common practice, no source",
    )
    outdoors = b.m.job.building.indoors != "yes"
    b.drill(
        tube,
        "weld vent",
        use="vent for the last weld",
        kind="weld vent",
        face=face,
        along=along,
        diameter=size,
        when="before welding",
        why="both its ends are welded shut: hot air blows the last weld out. "
        + (
            "Outdoors leave it open: it lies low and is its weep"
            if outdoors
            else "Plug it once the tube is cold"
        ),
    )


def _on_mark(metres: Metres, b: Bench) -> Metres:
    step = float(b.m.tape.step)
    return round(metres / step) * step
