"""What is packed for the work on the bench and the pad: from measuring to grinding."""

from __future__ import annotations

import math
from typing import Final

from leafwright.job.model import BarrelHinge, FloorPivot
from leafwright.shop.pack.bag import (
    Bag,
    Work,
    area_words,
    disc_words,
    marks_words,
    thin_words,
)
from leafwright.shop.pack.buying import spares
from leafwright.shop.pack.holes import tools_of
from leafwright.shop.pack.use import PROCESSES

_INCH: Final = 0.0254

#: Steel cut by one abrasive chop-saw wheel [m2], and by one thin cutting disc (common practice).
WHEEL_CUTS: Final = 0.06
DISC_CUTS: Final = 0.006
#: Seam ground by one flap disc [m] (common practice, no source).
FLAP_GRINDS: Final = 3.0
#: Wire through one contact tip [kg] (common practice, no source).
TIP_PASSES: Final = 2.0
#: Holes that one bit drills before it is dull (common practice, no source).
STEEL_BIT_HOLES: Final = 15
#: Clamps over the joints of the leaf being fitted up.
CLAMPS_OVER: Final = 2

_PAINT_SAFE = ("none", "new", "tested, no lead")


def measure(bag: Bag, work: Work) -> None:
    """Pack what is measured again before cutting."""
    bag.begin("measure", "Measure again before cutting")
    bag.put("tape", "the opening, the sticks, the leaves", count=2, spare=1)
    bag.put("long level or laser, with its spare cells", "floor, plates, pins")
    bag.put("plumb line", "jambs and pins")
    if any(isinstance(table.mount, FloorPivot) for table in work.tables):
        bag.put("calliper that reads thousandths", "pins, sleeves and balls, each as it is")


def cut(bag: Bag, work: Work) -> None:
    """Pack what cutting takes."""
    bag.begin(
        "cut",
        "Cut",
        "Eyes, ears and hands protected; sparks away from what burns.",
    )
    count = sum(2 * len(item.marks) for item in work.cuts.items)
    area = math.fsum(
        2 * len(i.marks) * i.mass / (i.section.density * max(i.length.value, 0.01))
        for i in work.cuts.items
    )
    marks = marks_words([mark for item in work.cuts.items for mark in item.marks])
    wheels = math.ceil(area / WHEEL_CUTS)
    bag.put(
        "chop-saw wheels, or a band-saw blade and one spare",
        f"{count} cuts, for {marks}; a wheel cuts about {area_words(WHEEL_CUTS, work)} of steel",
        count=wheels + 1,
        spare=1,
    )
    by_hand = [
        mark
        for item in work.cuts.items
        for mark in item.marks
        if not (item.start.sawn and item.end.sawn)
    ]
    if by_hand:
        ends = math.fsum(
            2 * len(i.marks) * i.mass / (i.section.density * max(i.length.value, 0.01))
            for i in work.cuts.items
            if not (i.start.sawn and i.end.sawn)
        )
        discs = math.ceil(ends / DISC_CUTS)
        bag.put(
            "thin cutting discs",
            f"ends that no saw makes, for {marks_words(by_hand)}; a disc cuts about "
            f"{area_words(DISC_CUTS, work)}",
            size=disc_words(work),
            count=discs + spares(discs),
            spare=spares(discs),
            fits="the grinder's guard and its speed",
        )
        bag.put("grinder, with its guard", "ends, seams", size=disc_words(work))
    bag.put("chalk, soapstone, scriber", "every mark on every piece")
    bag.put("combination square and bevel", "ends and offsets")
    bag.put("stands, both ends of a long stick", "long stock at the saw", count=2)
    bag.put("file and deburring tool", "every cut end")


def drill(bag: Bag, work: Work) -> None:
    """Pack what drilling and tapping take."""
    if work.holes is None:
        return
    steel = [use for use in tools_of(work.holes) if not use.in_concrete]
    if not steel:
        return
    bag.begin("drill", "Drill and tap", "No gloves at a drill; clamp the piece.")
    for use in steel:
        dull = math.ceil(use.count / STEEL_BIT_HOLES)
        for why in use.why:
            bag.put(
                use.tool.kind,
                why,
                size=use.tool.size,
                count=dull + 1,
                spare=1,
                fits=use.goes_with,
            )
    bag.put("bore, or a machinist", "pins and sleeves, each to its own fit")
    bag.put("centre punch, cutting oil", "every hole in steel")


def fit_up(bag: Bag, work: Work) -> None:
    """Pack what fitting up on the pad takes."""
    bag.begin("fit-up", "Fit up on the pad")
    joints = max(len(leaf.joints) for leaf in work.leaves)
    bag.put(
        "clamps",
        f"one a joint and {CLAMPS_OVER} over: {joints} joints in a leaf",
        count=joints + CLAMPS_OVER,
    )
    _packers(bag, work)
    bag.put("string line", "straight edges, twist")
    bag.put("corner magnets or square blocks", "corners while they are tacked", count=4)
    bag.put("ratchet strap", "a long diagonal pulled in")
    bag.put("bar or jack", "a corner pushed out")
    spacers: dict[str, int] = {}
    for table in work.tables:
        mount = table.mount
        if isinstance(mount, FloorPivot) and mount.spacer is not None:
            spacers[mount.spacer.text] = spacers.get(mount.spacer.text, 0) + 2
    for size, count in spacers.items():
        bag.put(
            "spacers under the leaves", "the gap over the bottom plates", size=size, count=count
        )
    pins: dict[str, int] = {}
    for table in work.tables:
        mount = table.mount
        pin = mount.pin_diameter
        if pin is not None:
            number = len(mount.heights) if isinstance(mount, BarrelHinge) else 2
            pins[pin.text] = pins.get(pin.text, 0) + number
    for size, count in pins.items():
        bag.put(
            "pins",
            "tried in their own sleeves or barrels before they are welded",
            size=size,
            count=count,
            fits="each its own sleeve or barrel, marked alike",
        )


def _packers(bag: Bag, work: Work) -> None:
    """Pack the packers that the pad's readings ask for, thickness by thickness."""
    counts: dict[float, int] = {}
    for stack in work.needs.packers:
        for thickness in stack:
            counts[thickness] = counts.get(thickness, 0) + 1
    for thickness in sorted(counts, reverse=True):
        count = counts[thickness]
        bag.put(
            "packers under the stands",
            "as read of this floor; see the pad's sheet for which stand",
            size=thin_words(thickness, work),
            count=count + spares(count),
            spare=spares(count),
        )
    if not counts:
        sizes = "1/4, 1/8, 1/16 and 1/32 in" if work.inch else "5, 3, 1.5 and 0.8 mm"
        bag.put(
            "packers under the stands, a set",
            "the floor's wave; read it, and the plan says how many of which",
            size=sizes,
            count=4,
        )


def weld(bag: Bag, work: Work) -> None:
    """Pack what welding takes."""
    use = work.use
    bag.begin(
        "weld",
        "Weld",
        "Hot work: what burns 35 ft (11 m) away or covered; a watch for half an hour after it, "
        "longer where the local rule says so (29 CFR 1910.252; NFPA 51B). A permit where the "
        "building asks for one.",
        "Fumes out of the breathing zone; never on galvanized or painted steel before it is "
        "stripped.",
    )
    bag.put("fire extinguisher", "hot work, on site and in the shop")
    bag.put("fire blanket", "floor, wall and glass behind the arc", count=2)
    bag.put("welding helmet, gloves, sleeves", "each who welds or holds", count=work.job.job.crew)
    bag.put("screens", "others' eyes")
    if use is None:
        return
    bag.put(
        f"welder, {PROCESSES[use.process]}",
        f"{use.amps:.0f} A at {use.volts:.1f} V",
        fits="its plug and the outlet",
    )
    wire = use.process not in ("SMAW", "GTAW")
    across = f"{use.diameter / _INCH:.3f} in" if work.inch else f"{use.diameter * 1e3:g} mm"
    bought = f"{use.bought / 0.45359237:.1f} lb" if work.inch else f"{use.bought:.1f} kg"
    length = f"{use.length / 0.3048:.0f} ft" if work.inch else f"{use.length:.0f} m"
    bag.put(
        "wire" if wire else "rods",
        f"{bought} for {length} of seam, a quarter of it spare",
        size=f"{use.process}, {across}",
        fits="the drive roll and tip" if wire else "kept dry",
    )
    if wire:
        tips = 1 + math.ceil(use.bought / TIP_PASSES)
        bag.put(
            "contact tips",
            "they wear and burn",
            size=across,
            count=tips + 1,
            spare=tips,
            fits=f"the {across} wire",
        )
        bag.put("nozzle and anti-spatter", "spatter", count=2, spare=1)
    if use.flow is not None:
        bag.put("gas bottle, chained, with its regulator", "see the buying list")
        bag.put("wind screen", "gas that is blown away leaves holes in the seam")
    if use.process != "GMAW":
        bag.put("chipping hammer", "slag" if use.process != "GTAW" else "scale")
    bag.put("wire brush", "every seam before it is painted", count=2, spare=1)
    bag.put("pliers, spare earth clamp", "the lead, and a bare place for it")
    power = work.job.power
    if use.place == "site" and power is not None and power.cord is not None:
        long = f", {power.cord_length.text}" if power.cord_length is not None else ""
        drawn = (
            f"the welder, {work.outlet.drawn:.0f} A" if work.outlet is not None else "the welder"
        )
        bag.put(
            "cord",
            f"{drawn}: unrolled whole, no thinner one before or behind it",
            size=f"{power.cord}{long}",
        )


def grind(bag: Bag, work: Work) -> None:
    """Pack what grinding takes."""
    bag.begin("grind", "Grind", "Guard on, face shield over glasses; a disc by its date and speed.")
    length = work.use.length if work.use is not None else 0.0
    flaps = max(1, math.ceil(length / FLAP_GRINDS))
    each = "10 ft" if work.inch else "3 m"
    bag.put(
        "grinder, with its guard",
        "seams that lie under infill or close a gap",
        size=disc_words(work),
    )
    bag.put(
        "flap discs, 60 grit",
        f"about {each} of seam each, where a seam must be flush; the rest stays as welded",
        size=disc_words(work),
        count=flaps + spares(flaps),
        spare=spares(flaps),
        fits="the grinder's speed",
    )
    bag.put("thin cutting discs", "tacks cut out again", size=disc_words(work), count=2, spare=1)
    paint = work.job.building.paint
    if work.job.opening.head and paint not in _PAINT_SAFE:
        bag.put(
            "lead test, respirator with P100 filters, sheeting, wipes",
            f"old paint ({paint}) where it is ground or welded: test first; the local rule on lead "
            "decides who may do it and how",
            count=work.job.job.crew,
        )
