"""What is bought, by who sells it, with the mass of each for the truck and its cost by the job."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from leafwright.doorway import Doorway
from leafwright.job.model import BarrelHinge, FloorPivot, Job, LeafTable, Plate
from leafwright.job.steel import STEEL_DENSITY
from leafwright.leaf import Leaf
from leafwright.shop.cut_list import CutList
from leafwright.shop.joiners import Joiner, is_round
from leafwright.shop.nest import Nest
from leafwright.shop.pack.bolt_length import BoltLength, bolt_length, length_words
from leafwright.shop.pack.records import Buying, BuyLine, WeldUse
from leafwright.shop.stock import StickUse, Stock
from leafwright.units import Tape, rounded_to_tape, show_length, show_machined

_INCH: Final = 0.0254
#: Bought over the area that boards and sheets cover [-] (common practice, no source).
WASTE: Final = 1.10
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

Group = Literal["steel", "plate", "bar", "bolts", "infill", "welding"]

#: Under which name of [price] a group is priced.
_PRICED: Final[dict[Group, tuple[str, ...]]] = {
    "steel": ("frame_tube",),
    "plate": ("plate",),
    "bar": ("bar",),
    "bolts": ("bolts",),
    "infill": (),
    "welding": (),
}


class _List:
    """Lines as they are put down, each priced as the job says."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.lines: list[BuyLine] = []

    def put(
        self,
        group: Group,
        key: str,
        what: str,
        size: str,
        count: int,
        mass: float | None,
        why: str,
        *,
        length: float = 0.0,
        area: float = 0.0,
        volume: float = 0.0,
        priced: tuple[str, ...] = (),
        cost: float | None = None,
    ) -> None:
        """Put a line down: amounts are of all of it [kg, m, m2, m3].

        ``cost`` is what it costs where that is known otherwise than by a price of the job.
        """
        names = priced or _PRICED[group]
        name = next((n for n in names if n in self.job.price), "")
        shown = self.job.price[name].text if name and cost is not None else ""
        if name and cost is None:
            rate = self.job.price[name]
            amounts = {
                "kg": mass or 0.0,
                "m": length,
                "m2": area,
                "m3": volume,
                "each": float(count),
            }
            # By the day or the hour is hire: it is not bought.
            if amounts.get(rate.per, 0.0) > 0.0:
                cost, shown = rate.si * amounts[rate.per], rate.text
        self.lines.append(BuyLine(key, group, what, size, count, mass, cost, shown, why))


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
) -> Buying:
    """Return all that is bought: sticks, plates, bar, bolts and anchors, infill, welding supplies.

    Args:
        job: prices, anchors.
        tables, leaves: of the same leaves, in the same order.
        bought: the sticks.
        use: what welding takes; None where that is not known.
        tape: for sizes in words.
        room, cuts: what the bolts of top plates go through, and what splices are made with.
    """
    made = _List(job)
    rack = _sticks(made, bought, tape)
    mounts = [table.mount for table in tables]
    _plates(made, mounts, tape)
    _bars(made, mounts, tape)
    _joiners(made, cuts, tape)
    _bolts(made, mounts, room, cuts)
    _infill(made, leaves, tape)
    if use is not None:
        _welding(made, use)
    lines = tuple(made.lines)
    # To the cent, as each is shown: who adds the list up comes to the same.
    priced = [round(line.cost, 2) for line in lines if line.cost is not None]
    return Buying(
        lines=lines,
        rack=tuple(rack),
        mass=math.fsum(line.mass for line in lines if line.mass is not None),
        unweighed=tuple(f"{line.what}, {line.size}" for line in lines if line.mass is None),
        cost=math.fsum(priced) if priced else None,
        currency=job.job.currency,
        unpriced=tuple(f"{line.what}, {line.size}" for line in lines if line.cost is None),
    )


def _sticks(made: _List, bought: Stock, tape: Tape) -> list[str]:
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
            )
    return rack


def _plates(made: _List, mounts: Sequence[FloorPivot | BarrelHinge], tape: Tape) -> None:
    groups: dict[tuple[str, str, str], tuple[int, float]] = {}
    for mount in mounts:
        if not isinstance(mount, FloorPivot):
            continue
        for name, plate in (("bottom", mount.plate), ("top", mount.top_plate or mount.plate)):
            if plate is None:
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


def _bars(made: _List, mounts: Sequence[FloorPivot | BarrelHinge], tape: Tape) -> None:
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
                if mount.pin_diameter is not None and mount.barrel_length is not None:
                    balls.setdefault(f"barrel hinge, pin {mount.pin_diameter.text}", []).append(0.0)
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


def _joiners(made: _List, cuts: CutList, tape: Tape) -> None:
    """Put down what splices are made with: sleeves, and plates whose size is not given."""
    groups: dict[tuple[Group, str, str], list[Joiner]] = {}
    for one in cuts.joiners:
        long = show_length(one.length.value, tape)
        if one.inside is None:
            group: tuple[Group, str, str] = ("plate", "plates of splices", f"{long} long")
        else:
            sizes = one.inside[:1] if is_round(one) else one.inside
            room = " × ".join(show_length(size, tape) for size in sizes)
            what = f"sleeve to fit inside {one.section.designation}"
            group = ("bar", what, f"{room} at most, {long} long")
        groups.setdefault(group, []).append(one)
    for (shelf, what, size), alike in groups.items():
        marks = ", ".join(one.mark for one in alike)
        asked = "; width and thickness not given" if shelf == "plate" else ""
        count = sum(one.count for one in alike)
        made.put(shelf, f"{shelf}/{what}/{size}", what, size, count, None, f"{marks}{asked}")


def _bolts(
    made: _List, mounts: Sequence[FloorPivot | BarrelHinge], room: Doorway, cuts: CutList
) -> None:
    bolts: dict[tuple[str, str], int] = {}
    fittings: dict[str, int] = {}
    pivots = 0
    for mount in mounts:
        if not isinstance(mount, FloorPivot):
            continue
        pivots += 1
        if mount.bolt is not None and mount.top_fixed == "bolted" and mount.top_bolts is not None:
            name = f"bolt, nut and washers, {mount.bolt.grade}, {mount.bolt.size}"
            told = "length by what they go through"
            found = bolt_length(made.job, room, cuts, mount)
            if isinstance(found, BoltLength):
                metric = made.job.job.system == "metric"
                name += f" × {length_words(found.length, metric=metric)}"
                told = f"through {found.through}; measure it before buying"
            else:
                told += f", which is not known: give {found}"
            bolts[name, told] = bolts.get((name, told), 0) + mount.top_bolts
        if mount.grease_fitting is not None:
            fittings[mount.grease_fitting] = fittings.get(mount.grease_fitting, 0) + 1
    for (name, told), count in bolts.items():
        what, _, size = name.rpartition(", ")
        spare = spares(count)
        made.put(
            "bolts",
            f"bolts/{name}",
            what,
            size,
            count + spare,
            None,
            f"top plates; {spare} spare; {told}",
        )
    anchor = made.job.building.anchor
    if anchor is not None and pivots:
        count = (anchor.per_plate or 4) * pivots
        spare = spares(count)
        told = "" if anchor.per_plate else "; four a plate taken: the job does not say how many"
        size = anchor.size.text if anchor.size is not None else "size not said"
        kind = "" if anchor.kind == "unknown" else f"{anchor.kind} "
        made.put(
            "bolts",
            "bolts/anchors",
            f"{kind}anchor",
            size,
            count + spare,
            None,
            f"bottom plates; {spare} spare{told}",
        )
    for fitting, count in fittings.items():
        made.put(
            "bolts",
            f"bolts/{fitting}",
            "grease fitting",
            fitting,
            count + spares(count),
            None,
            f"pivots; {spares(count)} spare",
        )


def spares(count: int) -> int:
    """Return how many spare of so many small parts: one in ten, never fewer than one."""
    return max(1, math.ceil(0.1 * count))


def _infill(made: _List, leaves: Sequence[Leaf], tape: Tape) -> None:
    groups: dict[tuple[str, float], list[tuple[float, float, str]]] = {}
    for leaf in leaves:
        for piece in leaf.infill:
            groups.setdefault((piece.kind, round(piece.thickness, 6)), []).append(
                (
                    piece.area,
                    piece.mass,
                    f"{show_length(piece.right - piece.left, tape)} × "
                    f"{show_length(piece.top - piece.bottom, tape)}",
                )
            )
    inch = tape.system != "mm"
    for (kind, thickness), pieces in groups.items():
        area = WASTE * math.fsum(a for a, _, _ in pieces)
        mass = WASTE * math.fsum(m for _, m, _ in pieces)
        amount = f"{area / 0.3048**2:.0f} ft²" if inch else f"{area:.1f} m²"
        each = ", ".join(
            f"{sum(p[2] == size for p in pieces)} × {size}"
            for size in dict.fromkeys(p[2] for p in pieces)
        )
        thick = f"{_thin(thickness, tape)}, "
        made.put(
            "infill",
            f"infill/{kind}/{thickness}",
            kind,
            f"{thick}{amount}",
            len(pieces),
            mass,
            f"covers {each}, and a tenth more",
            area=area,
            priced=(kind,),
        )


def _thin(thickness: float, tape: Tape) -> str:
    """Return a thickness as a tape shows it, or in figures where no mark of it is near."""
    if abs(float(rounded_to_tape(thickness, tape)) - thickness) < 1e-4:
        return show_length(thickness, tape)
    return show_machined(thickness, tape.system)


def _welding(made: _List, use: WeldUse) -> None:
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


def sold_in(amount: float, sizes: Sequence[float]) -> tuple[float, int]:
    """Return the smallest size that holds an amount and 1; or the largest, and how many of it."""
    fits = next((size for size in sizes if size >= amount * (1.0 - 1e-9)), None)
    if fits is not None:
        return fits, 1
    return sizes[-1], math.ceil(amount / sizes[-1] * (1.0 - 1e-9))
