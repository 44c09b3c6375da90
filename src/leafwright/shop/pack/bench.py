"""What is packed for the work on the bench and the pad: from measuring to grinding."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final

from leafwright.job.model import BarrelHinge, FloorPivot
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.pack.bag import (
    Bag,
    Work,
    area_words,
    disc_words,
    marks_words,
    put_bought,
    thin_words,
)
from leafwright.shop.pack.bill import spares
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
    for what, steel in _through(work.cuts).items():
        thing = CONSUMED[what]
        marks = marks_words(steel.marks)
        cuts = "cut" if steel.count == 1 else "cuts"
        why = f"{steel.count} {cuts} by the {steel.tool}, for {marks}"
        if thing.takes is None:
            bag.put(thing.what, why, count=2, spare=1, fits=thing.fits)
            continue
        count = math.ceil(steel.area / thing.takes)
        spare = spares(count) if thing.by_hand else 1
        bag.put(
            thing.what,
            f"{why}; one cuts about {area_words(thing.takes, work)} of steel",
            size=disc_words(work) if thing.by_hand else "",
            count=count + spare,
            spare=spare,
            fits=thing.fits,
        )
        if thing.by_hand:
            bag.put("grinder, with its guard", "ends, seams", size=disc_words(work))
    bag.put("chalk, soapstone, scriber", "every mark on every piece")
    bag.put("combination square and bevel", "ends and offsets")
    bag.put("stands, both ends of a long stick", "long stock at the saw", count=2)
    bag.put("file and deburring tool", "every cut end")


@dataclass(frozen=True, slots=True)
class _Consumed:
    """What a kind of saw wears out: ``takes`` is the steel that one cuts [m2], None if many."""

    what: str
    takes: float | None
    fits: str
    by_hand: bool = False


#: What cuts along a line that no saw serves, and a saw that the job does not list.
BY_HAND: Final = "grinder"
UNSAID: Final = "saw"

#: What each kind of saw wears out.
CONSUMED: Final = {
    "cold saw": _Consumed("cold-saw blade", None, "its bore, and coolant"),
    "band saw": _Consumed("band-saw blade", None, "its length and the wall: 3 teeth in it"),
    "mitre saw": _Consumed("metal-cutting saw blade", None, "its bore and its speed"),
    "abrasive chop saw": _Consumed("chop-saw wheels", WHEEL_CUTS, "its bore and its speed"),
    UNSAID: _Consumed("blade or wheel of the saw", None, "the saw; the job does not say which"),
    "hacksaw": _Consumed("hacksaw blade", None, "the frame"),
    "grinder": _Consumed(
        "thin cutting discs", DISC_CUTS, "the grinder's guard and its speed", by_hand=True
    ),
}


@dataclass(slots=True)
class _Through:
    """What one kind of saw cuts through: the saw's name, cuts, steel [m2], marks."""

    tool: str
    count: int = 0
    area: float = 0.0
    marks: list[str] = field(default_factory=list)


def _through(cuts: CutList) -> dict[str, _Through]:
    """Return what each kind of saw cuts through, in the order in which they are reached for.

    Marked out and cut by hand counts as the grinder's, also where no saw of the job makes the cut.
    """
    kinds = {
        tool.name: tool.kind if tool.listed or tool.freehand else UNSAID for tool in cuts.tools
    }
    found: dict[str, _Through] = {}

    def add(kind: str, tool: str, item: CutItem, each: int, area: float) -> None:
        one = found.setdefault(kind, _Through(tool))
        one.count += each * len(item.marks)
        one.area += area * len(item.marks)
        one.marks += item.marks

    for item in cuts.items:
        # Square through it; slanted, as much more as its line on the face is longer.
        square = item.mass / (item.section.density * max(item.length.value, 0.01))
        for end in (item.start, item.end):
            wide = max(u for u, _ in end.offsets)
            for cut in end.cuts:
                by_hand = cut.way == "none"
                kind = BY_HAND if by_hand else kinds.get(cut.tool, BY_HAND)
                add(kind, BY_HAND if by_hand else cut.tool, item, 1, square * cut.line / wide)
            if not end.cuts:
                add(BY_HAND, BY_HAND, item, 1, square)
        if item.notch is not None:
            add(BY_HAND, BY_HAND, item, 2, square)
    place = {kind: n for n, kind in enumerate(dict.fromkeys(kinds.values()))}
    return {kind: found[kind] for kind in sorted(found, key=lambda k: place.get(k, len(place)))}


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
    put_bought(
        bag, work, "plate/lugs", "plate/tabs", "bolts/turnbuckle", "bar/sleeve", "plate/plates"
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
