"""What is bought, by who sells it, with the mass of each for the truck and its cost by the job."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from leafwright.doorway import Doorway
from leafwright.job.model import BarrelHinge, FloorPivot, Job, LeafTable, Plate
from leafwright.job.steel import STEEL_DENSITY
from leafwright.leaf import Leaf
from leafwright.shop.cut_list import CutList
from leafwright.shop.holes.records import Holes
from leafwright.shop.joiners import Joiner, is_round
from leafwright.shop.nest import Nest
from leafwright.shop.pack.bill import Bill, sold_in
from leafwright.shop.pack.covers import put_infill
from leafwright.shop.pack.finishes import put_finish
from leafwright.shop.pack.fittings import put_bolts, put_caps, put_holds, put_packing, put_rods
from leafwright.shop.pack.ground import put_posts
from leafwright.shop.pack.records import Buying, Group, WeldUse
from leafwright.shop.stock import StickUse, Stock
from leafwright.units import Tape, show_length

_INCH: Final = 0.0254
#: Spools and boxes that wire and rods are sold in [kg]; common practice, no source.
SPOOLS: Final = {
    "feet-inch": tuple(0.45359237 * pounds for pounds in (2.0, 11.0, 33.0)),
    "metric": (1.0, 5.0, 15.0),
}
#: Bottles of shielding gas [m3 of free gas]; common practice, no source.
BOTTLES: Final = {
    "feet-inch": tuple(0.3048**3 * feet for feet in (20.0, 40.0, 80.0, 125.0, 250.0)),
    "metric": (1.0, 2.0, 4.0, 10.0),
}
#: Cut from a bar beside the piece itself: the saw, and what the jaws hold [m] (common practice).
BAR_END: Final = 0.025

#: Sizes of a pivot and of a hinge that its parts are bought by.
PIVOT_SIZES: Final = (
    "pin_diameter",
    "bottom_pin_length",
    "top_pin_length",
    "slug_length",
    "ball_diameter",
    "sleeve_bore",
    "sleeve_outside",
    "sleeve_length",
)
HINGE_SIZES: Final = ("pin_diameter", "barrel_length")


def buying(
    job: Job,
    tables: Sequence[LeafTable],
    leaves: Sequence[Leaf],
    bought: Stock,
    use: WeldUse | None,
    tape: Tape,
    *,
    room: Doorway,
    cuts: CutList,
    drilled: Holes | None,
) -> Buying:
    """Return all that is bought, from sticks to paint.

    Args:
        job: prices, anchors.
        tables, leaves: of the same leaves, in the same order.
        bought: the sticks.
        use: what welding takes; None where that is not known.
        tape: for sizes in words.
        room, cuts: what the bolts of top plates go through, what splices are made with, and posts.
        drilled: every hole, with the screws of the infill; None where they were held.
    """
    made = Bill(job, tape)
    rack = _sticks(made, bought, tape)
    mounts = [table.mount for table in tables]
    _plates(made, mounts, tape)
    _bars(made, mounts, tape)
    _joiners(made, cuts, tape)
    put_bolts(made, mounts, room, cuts)
    put_holds(made, tables)
    put_packing(made, room)
    put_rods(made, leaves)
    put_caps(made, tables, leaves)
    put_posts(made, mounts, cuts)
    put_infill(made, tables, leaves, drilled)
    put_finish(made, tables, leaves, cuts)
    if use is not None:
        _welding(made, use)
    return made.made(rack)


def _sticks(made: Bill, bought: Stock, tape: Tape) -> list[str]:
    rack: list[str] = []
    for one in bought.sections:
        if not isinstance(one.nest, Nest):
            continue
        name = f"{one.section.designation}, {one.section.grade.name}"
        # Sticks alike in length, price and who sells them stand on one line.
        alike: dict[tuple[str, float, str, float | None], list[StickUse]] = {}
        for use in one.sticks:
            alike.setdefault((use.kind, use.length, use.supplier, use.price), []).append(use)
        for (kind, length, supplier, price), uses in alike.items():
            size = show_length(length, tape)
            count = sum(use.count for use in uses)
            places = {use.place for use in uses}
            marks = ", ".join(
                cut.key
                for layout in one.nest.layouts
                if layout.stick.name in places
                for cut in layout.cuts
            )
            if kind == "offcut":
                rack.append(f"{count} × {name}, {size} (for {marks})")
                continue
            again = any(line.key == f"steel/{name}/{size}" for line in made.lines)
            made.put(
                "steel",
                f"steel/{name}/{size}" + (f"/{'/'.join(sorted(places))}" if again else ""),
                name,
                f"{size} stick" + (f" from {supplier}" if supplier else ""),
                count,
                math.fsum(use.count * use.mass for use in uses),
                f"for {marks}",
                length=count * length,
                cost=None if price is None else count * price,
                supplier=supplier,
            )
    return rack


def _plates(made: Bill, mounts: Sequence[FloorPivot | BarrelHinge], tape: Tape) -> None:
    groups: dict[tuple[str, str, str], tuple[int, float]] = {}
    for mount in mounts:
        if not isinstance(mount, FloorPivot):
            continue
        for name, plate in (("bottom", mount.plate), ("top", mount.top_plate or mount.plate)):
            if plate is None:
                made.ask("plates of the pivots: say plate in their mount")
                continue
            key = (_plate_words(plate, tape), plate.grade, name)
            count, mass = groups.get(key, (0, 0.0))
            own = plate.thickness.si * plate.width.si * plate.length.si * STEEL_DENSITY
            groups[key] = (count + 1, mass + own)
    for (size, grade, name), (count, mass) in groups.items():
        steel = f"plate, {grade}" if grade != "unknown" else "plate, steel not said"
        made.put("plate", f"plate/{size}/{name}", steel, size, count, mass, f"{name} pivots")


def _plate_words(plate: Plate, tape: Tape) -> str:
    sizes = (plate.thickness.si, plate.width.si, plate.length.si)
    return " × ".join(show_length(size, tape) for size in sizes)


def _bars(made: Bill, mounts: Sequence[FloorPivot | BarrelHinge], tape: Tape) -> None:
    _ask_bars(made, mounts)
    pins: dict[tuple[str, str], list[float]] = {}
    sizes: dict[tuple[str, str], float] = {}

    def bar(what: str, size: float, length: float, text: str) -> None:
        pins.setdefault((what, text), []).append(length + BAR_END)
        sizes[what, text] = size

    balls: dict[str, list[float]] = {}
    tubes: dict[str, list[tuple[float, float, float]]] = {}
    for mount in mounts:
        if isinstance(mount, BarrelHinge):
            for _ in mount.heights:
                pin = mount.pin_diameter.text if mount.pin_diameter is not None else "not said"
                balls.setdefault(f"barrel hinge, pin {pin}", []).append(0.0)
            continue
        ends = (
            (mount.bottom_pin_length, mount.pin_diameter, mount.plate),
            (
                mount.top_pin_length,
                mount.top_pin_diameter or mount.pin_diameter,
                mount.top_plate or mount.plate,
            ),
        )
        for length, across, plate in ends:
            if length is not None and across is not None:
                bar(
                    f"round bar for pins, {mount.pin_grade}",
                    across.si,
                    length.si + (plate.thickness.si if plate is not None else 0.0),
                    across.text,
                )
        if mount.pin_diameter is not None:
            if mount.slug_length is not None:
                bar(
                    f"round bar for pins, {mount.pin_grade}",
                    mount.pin_diameter.si,
                    mount.slug_length.si,
                    mount.pin_diameter.text,
                )
        if mount.ball_diameter is not None:
            volume = math.pi / 6.0 * mount.ball_diameter.si**3
            balls.setdefault(f"bearing ball, {mount.ball_diameter.text}", []).append(
                volume * STEEL_DENSITY
            )
        if (
            mount.sleeve_outside is not None
            and mount.sleeve_bore is not None
            and mount.sleeve_length is not None
        ):
            for bore in (mount.sleeve_bore, mount.top_sleeve_bore or mount.sleeve_bore):
                text = f"{mount.sleeve_outside.text} outside, bored {bore.text}"
                ring = (mount.sleeve_outside.si, bore.si, mount.sleeve_length.si + BAR_END)
                tubes.setdefault(text, []).append(ring)
    for (what, text), lengths in pins.items():
        whole = math.fsum(lengths)
        mass = math.pi / 4.0 * sizes[what, text] ** 2 * whole * STEEL_DENSITY
        size = f"{text}, {show_length(whole, tape)} in all"
        made.put(
            "bar",
            f"bar/{what}/{text}",
            what,
            size,
            1,
            mass,
            f"{len(lengths)} pins and slugs, each with its saw cut",
            length=whole,
        )
    for text, rings in tubes.items():
        whole = math.fsum(r[2] for r in rings)
        mass = math.fsum(
            math.pi / 4.0 * (r[0] ** 2 - r[1] ** 2) * r[2] * STEEL_DENSITY for r in rings
        )
        size = f"{text}, {show_length(whole, tape)} in all"
        made.put(
            "bar",
            f"bar/sleeve/{text}",
            "sleeve tube or bar, bored",
            size,
            1,
            mass,
            f"{len(rings)} sleeves",
            length=whole,
        )
    for text, masses in balls.items():
        mass_of = math.fsum(masses)
        name, _, size = text.partition(", ")
        made.put(
            "bar",
            f"bar/{text}",
            name,
            size,
            len(masses),
            mass_of or None,
            "one a pivot" if "ball" in name else "one a hinge line",
        )


def _ask_bars(made: Bill, mounts: Sequence[FloorPivot | BarrelHinge]) -> None:
    """Ask for the sizes without which a pivot's or a hinge's parts are not bought."""
    for mount in mounts:
        keys = PIVOT_SIZES if isinstance(mount, FloorPivot) else HINGE_SIZES
        missing = [key for key in keys if getattr(mount, key) is None]
        if missing:
            parts = "pins, slugs, sleeves and balls" if keys is PIVOT_SIZES else "the hinges"
            made.ask(f"{parts}, all or some of them: say {', '.join(missing)} in their mount")


def _joiners(made: Bill, cuts: CutList, tape: Tape) -> None:
    """Put down what splices are made with; a sleeve of a given section is cut from its stick."""
    groups: dict[tuple[Group, str, str], list[Joiner]] = {}
    for one in cuts.joiners:
        if one.sleeve is not None:
            continue
        long = show_length(one.length.value, tape)
        if one.inside is not None:
            sizes = one.inside[:1] if is_round(one) else one.inside
            room = " × ".join(show_length(size, tape) for size in sizes)
            what = f"sleeve to fit inside {one.section.designation}"
            group: tuple[Group, str, str] = ("bar", what, f"{room} at most, {long} long")
        elif one.plate is not None:
            steel = f", {one.grade}" if one.grade else ""
            wide, thick = (show_length(size, tape) for size in one.plate)
            group = ("plate", f"plates of splices{steel}", f"{thick} × {wide} × {long}")
        else:
            group = ("plate", "plates of splices", f"{long} long")
        groups.setdefault(group, []).append(one)
    for (shelf, what, size), alike in groups.items():
        marks = ", ".join(one.mark for one in alike)
        masses = [one.count * (one.mass or 0.0) for one in alike]
        known = all(one.mass is not None for one in alike)
        asked = "; width and thickness not given" if shelf == "plate" and not known else ""
        if shelf == "bar":
            made.ask(f"the section of the sleeves {marks}: say section in their splice")
        elif not known:
            made.ask(f"how wide and thick the plates {marks} are: say it in their splice")
        count = sum(one.count for one in alike)
        mass = math.fsum(masses) if known else None
        made.put(shelf, f"{shelf}/{what}/{size}", what, size, count, mass, f"{marks}{asked}")


def _welding(made: Bill, use: WeldUse) -> None:
    system = made.job.job.system
    name = "rods" if use.process in ("SMAW", "GTAW") else "wire"
    spool, count = sold_in(use.bought, SPOOLS[system])
    inch = system == "feet-inch"
    each = f"{spool / 0.45359237:.0f} lb" if inch else f"{spool:.0f} kg"
    across = f"{use.diameter / _INCH:.3f} in" if inch else f"{use.diameter * 1e3:g} mm"
    kind = "spool" if name == "wire" else "box"
    needs = use.metal[1] / 0.45359237 if inch else use.metal[1]
    unit = "lb" if inch else "kg"
    made.put(
        "welding",
        f"welding/{name}",
        f"{use.process} {name}, {across}",
        f"{each} {kind}",
        count,
        count * spool,
        f"{needs:.1f} {unit} at most is burnt, its spatter counted, and a quarter spare",
        priced=(name,),
    )
    if isinstance(use.gas, tuple):
        bottle, count = sold_in(use.gas[1], BOTTLES[system])
        size = f"{bottle / 0.3048**3:.0f} ft³" if inch else f"{bottle:.0f} m³"
        most = f"{use.gas[1] / 0.3048**3:.0f} ft³" if inch else f"{1e3 * use.gas[1]:.0f} l"
        made.put(
            "welding",
            "welding/gas",
            "shielding gas",
            f"{size} bottle",
            count,
            None,
            f"{most} at most is burnt; the bottle by its collar, chained upright",
            volume=count * bottle,
            priced=("gas",),
        )
