"""What is packed for the leaf once it is welded: from turning it over to handing it over."""

from __future__ import annotations

import math
from typing import Final

from leafwright.job.model import FloorPivot
from leafwright.shop.pack.bag import (
    Bag,
    Work,
    mass_words,
    put_bought,
)
from leafwright.shop.pack.bill import spares
from leafwright.shop.pack.holes import tools_of

_INCH: Final = 0.0254

#: Holes that one bit drills in concrete before it is dull (common practice, no source).
CONCRETE_BIT_HOLES: Final = 12


def turn(bag: Bag, work: Work) -> None:
    """Pack what turning a leaf over takes."""
    heaviest = max(leaf.lift_mass for leaf in work.leaves)
    bag.begin("turn", "Turn the leaf over", "Nobody under it; feet out of the way of an edge.")
    hands = heaviest > 45.0
    bag.put("timber bearers", "it lies on them, seams clear of the floor", count=4)
    if hands or work.needs.lift in ("hoist", "lift truck"):
        bag.put(
            "slings with edge guards",
            f"a bare leaf of {mass_words(heaviest, work)}",
            count=2,
            fits="tags that say more than the leaf weighs, at their angle",
        )


def ground(bag: Bag, work: Work) -> None:
    """Pack what setting a gate's posts takes."""
    bag.begin(
        "ground",
        "Set the posts",
        "Have buried lines marked before the first spade. A hole is covered or fenced; wet "
        "concrete burns skin and eyes.",
    )
    if not put_bought(bag, work, "post/", "bolts/cap/posts"):
        bag.cautions["ground"] = []
        return
    bag.put("spade, digging bar or auger", "the holes of the footings")
    bag.put("bucket, water, hoe and barrow", "concrete mixed as its bag says")
    bag.put("braces and stakes", "a post held plumb both ways until the concrete is hard", count=4)


def stand(bag: Bag, work: Work) -> None:
    """Pack what bringing in, standing up and hanging take."""
    heaviest = max(leaf.hung_mass for leaf in work.leaves)
    ways = list(dict.fromkeys(way for _, way in work.needs.hanging)) or ["onto its pins"]
    bag.begin(
        "stand",
        "Bring in, stand up, hang",
        "Tied off both ways until both pins are in; keep everybody else out of its reach.",
    )
    way = "; ".join(ways)
    bag.put("ropes to tether the head, one each way", way, count=2)
    bag.put("blocks and wedges", "the bottom held until the plates are fast", count=4)
    bag.put("pry bar", "the last of the height", count=2)
    if work.needs.lift in ("hoist", "lift truck"):
        bag.put(
            work.needs.lift,
            f"a leaf of {mass_words(heaviest, work)} as it hangs",
            fits="rated for more than that, by who may plan the lift",
        )
    else:
        bag.put(
            "hoist or lift truck, where the push is more than the crew's",
            f"a leaf of {mass_words(heaviest, work)} as it hangs; see the sheet of standing up",
        )
    bag.put("hard hat, steel toes", "each who lifts", count=work.job.job.crew)
    put_bought(bag, work, "bolts/shims", "plate/", "bar/bearing ball", "bar/barrel hinge")


def fix(bag: Bag, work: Work) -> None:
    """Pack what anchoring and bolting take."""
    tools = tools_of(work.holes) if work.holes is not None else ()
    concrete = [use for use in tools if use.in_concrete]
    pivots = [t.mount for t in work.tables if isinstance(t.mount, FloorPivot)]
    if not concrete and not pivots:
        return
    bag.begin(
        "fix",
        "Anchor and bolt",
        "No hole in a slab before it is scanned for tendons, pipes and steel. Silica dust: water "
        "or a shroud with its vacuum, and a respirator.",
    )
    for use in concrete:
        size, bits = use.tool.size, math.ceil(use.count / CONCRETE_BIT_HOLES)
        for why in use.why:
            bag.put(use.tool.kind, why, size=size, count=bits + 1, spare=1, fits=use.goes_with)
        bag.put(
            "blow-out bulb and brush",
            "dust out of every hole, as the anchor's report says",
            size=f"for {size} holes",
        )
    if concrete:
        bag.put("hammer drill", "the floor", fits="the bits' shank")
        bag.put("depth stop", "as deep as the report says")
    anchor = work.job.building.anchor
    if pivots:
        count = ((anchor.per_plate if anchor else None) or 4) * len(pivots)
        size = anchor.size.text if anchor and anchor.size else "size not said"
        bag.put(
            "anchors",
            "bottom plates",
            size=size,
            count=count + spares(count),
            spare=spares(count),
            fits="bit, bulb, socket and torque of one size",
        )
        bag.put("torque wrench, with the sockets", "anchors and bolts, by their own sheets")
    bolts: dict[str, int] = {}
    for mount in pivots:
        if mount.bolt is not None and mount.top_fixed == "bolted" and mount.top_bolts:
            bolts[mount.bolt.size] = bolts.get(mount.bolt.size, 0) + mount.top_bolts
    for size, count in bolts.items():
        bag.put(
            "bolts, nuts and washers",
            "top plates",
            size=size,
            count=count + spares(count),
            spare=spares(count),
            fits="holes by the standard's class",
        )
    if pivots:
        bag.put(
            "shims under the plates, a set",
            "plates plumb over each other",
            size="0.010, 1/32, 1/16 and 1/8 in" if work.inch else "0.25, 0.8, 1.5 and 3 mm",
            count=4 * len(pivots),
        )


def line_up(bag: Bag, work: Work) -> None:
    """Pack what lining up takes."""
    bag.begin("line-up", "Line up and swing")
    bag.put("feeler gauges or gap sticks", "gaps at four corners through the whole swing")
    bag.put("wedges", "a leaf held at an angle while it is read", count=4)
    put_bought(bag, work, *(f"bolts/{what}" for what in ("drop rod", "latch", "hook", "stop")))


def clad(bag: Bag, work: Work) -> None:
    """Pack what closing the panels takes."""
    kinds = list(dict.fromkeys(piece.kind for leaf in work.leaves for piece in leaf.infill))
    if not kinds:
        return
    bag.begin("clad", "Close the panels", "Sheet edges cut: gloves. Weld nothing more behind it.")
    put_bought(bag, work, "infill/")
    if not put_bought(bag, work, "bolts/screws"):
        bag.put("box of screws", f"{', '.join(kinds)}: along every edge and rail, by their spacing")
    bag.put("driver bits", "screws", count=4, spare=2)
    bag.put("shears or saw for the infill", ", ".join(kinds))


def finish(bag: Bag, work: Work) -> None:
    """Pack what greasing, painting and handing over take."""
    bag.begin("finish", "Grease, paint, hand over")
    fittings = list(
        dict.fromkeys(
            t.mount.grease_fitting
            for t in work.tables
            if isinstance(t.mount, FloorPivot) and t.mount.grease_fitting
        )
    )
    if fittings:
        bag.put("grease gun and grease", "pivots, before they carry", fits=", ".join(fittings))
    if put_bought(bag, work, "finish/p"):
        bag.put("brushes, wire brush, rags and thinner", "paint, and what is put down wet", count=2)
    elif any(table.finish == "galvanized" for table in work.tables):
        bag.put("zinc-rich paint and brush", "seams welded as it hangs, drilled and cut places")
    else:
        bag.put("primer and brush", "seams and cut ends")
    put_bought(bag, work, "bolts/cap/", "bolts/grease fitting")
    bag.put("the packet, printed", "ticks, readings, the hand-over sheet")
    bag.put("first-aid kit, eye wash", "the whole job")
