"""Bolts, anchors, fittings, what holds a leaf shut and open, caps and shims, as they are bought."""

from __future__ import annotations

from collections.abc import Sequence

from leafwright.doorway import Doorway
from leafwright.job.model import BarrelHinge, FloorPivot, LeafTable
from leafwright.job.mounts import Hold
from leafwright.leaf import Leaf
from leafwright.shop.cut_list import CutList
from leafwright.shop.pack.bill import Bill, spares
from leafwright.shop.pack.bolt_length import BoltLength, bolt_length, length_words
from leafwright.units import show_length


def put_bolts(
    made: Bill, mounts: Sequence[FloorPivot | BarrelHinge], room: Doorway, cuts: CutList
) -> None:
    """Put down bolts of top plates, anchors of bottom plates, and grease fittings."""
    bolts: dict[tuple[str, str], int] = {}
    fittings: dict[str, int] = {}
    pivots = 0
    for mount in mounts:
        if not isinstance(mount, FloorPivot):
            continue
        pivots += 1
        if mount.top_fixed == "unknown":
            made.ask("what fixes the top plates: say top_fixed in their mount")
        elif mount.top_fixed == "bolted" and (mount.bolt is None or mount.top_bolts is None):
            made.ask("bolts of the top plates: say bolt and top_bolts in their mount")
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
    if anchor is None and pivots:
        made.ask("anchors of the bottom plates: say them in [building.anchor]")
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
            f"bolts/grease fitting/{fitting}",
            "grease fitting",
            fitting,
            count + spares(count),
            None,
            f"pivots; {spares(count)} spare",
        )


def rods_of(hold: Hold) -> tuple[str, ...]:
    """Return at which end of the nose each drop rod of a leaf is.

    The one at the bottom that holds it shut holds it open too, in another hole.
    """
    rods = list(hold.at) if hold.shut == "drop rod" else []
    if hold.open == "drop rod" and "bottom" not in rods:
        rods.append("bottom")
    return tuple(rods)


def put_holds(made: Bill, tables: Sequence[LeafTable]) -> None:
    """Put down what holds the leaves shut and open, and what they come against."""
    rods: dict[str, list[str]] = {}
    counts: dict[tuple[str, str, str], int] = {}

    def add(what: str, size: str, why: str, count: int = 1) -> None:
        counts[what, size, why] = counts.get((what, size, why), 0) + count

    for table in tables:
        hold = table.hold
        size = hold.rod_diameter.text if hold.rod_diameter is not None else "size not said"
        for end in rods_of(hold):
            rods.setdefault(size, []).append(end)
        for key, what in (("shut", "holds a nose shut"), ("open", "keeps a leaf open")):
            if getattr(hold, key) == "unknown":
                made.ask(f"what {what}: say {key} in its hold")
        if hold.stop_out is None and hold.shut != "stop":
            made.ask("stops that the open leaves come against: say stop_out in their hold")
        if hold.shut == "latch":
            at = " and ".join(hold.at)
            add("latch with its keeper", "", f"holds a nose shut at its {at}; by its own sheet")
        if hold.open == "hook":
            add("hook and eye", "", "holds a leaf open; for the pull that the checks show")
        if hold.stop_out is not None:
            give = f", gives {hold.stop_travel.text}" if hold.stop_travel is not None else ""
            why = f"{hold.stop_out.text} out from the axis{give}; with what fixes it to the ground"
            add("stop with its buffer", "", why)
        elif hold.shut == "stop":
            add("stop with its buffer", "", "the shut leaf comes against it")
    for size, ends in rods.items():
        told = ", ".join(f"{ends.count(e)} at the {e}" for e in dict.fromkeys(ends))
        made.put(
            "bolts",
            f"bolts/drop rod/{size}",
            "drop rod, with two guides and a keeper",
            size,
            len(ends),
            None,
            f"{told} of the noses; as long as reaches a hand, of plain bar",
        )
    for (what, size, why), count in counts.items():
        made.put("bolts", f"bolts/{what}/{why}", what, size, count, None, why)


def put_packing(made: Bill, room: Doorway) -> None:
    """Put down the shims behind posts and transom, and ask what fixes those."""
    every = (*room.posts, *((room.transom,) if room.transom is not None else ()))
    there = [filler for filler in every if filler.section is not None]
    if not there:
        return
    named = [filler.name for filler in there]
    names = " and ".join((", ".join(named[:-1]), named[-1])) if len(named) > 1 else named[0]
    thick = [q.value for filler in there for q in filler.behind]
    if thick:
        low, high = (show_length(max(t, 0.0), made.tape) for t in (min(thick), max(thick)))
        made.put(
            "bolts",
            "bolts/shims",
            "steel shims, a set for each place",
            low if low == high else f"{low} to {high}",
            len(thick),
            None,
            f"behind {names}, at each place where the opening was read; and where they are fixed",
        )
    made.ask(f"what fixes {names} to the building: how many, which and where")


def put_rods(made: Bill, leaves: Sequence[Leaf]) -> None:
    """Put down what a brace of rod is tightened and held by."""
    counts: dict[str, int] = {}
    for leaf in leaves:
        for member in leaf.members:
            if member.role == "rod":
                name = member.section.designation
                counts[name] = counts.get(name, 0) + 1
    for name, count in counts.items():
        made.put(
            "bolts",
            f"bolts/turnbuckle/{name}",
            "turnbuckle, or both ends threaded with nuts",
            f"for {name}",
            count,
            None,
            "what pulls a rod tight; what it takes up comes off the rod's length",
        )
        made.put(
            "plate",
            f"plate/tabs/{name}",
            "tabs of rods",
            f"for {name}",
            2 * count,
            None,
            "one at each end; thickness, width and length not given",
        )


def put_caps(made: Bill, tables: Sequence[LeafTable], leaves: Sequence[Leaf]) -> None:
    """Put down caps for the ends of tubes that rain would fall into."""
    if made.job.building.indoors == "yes":
        return
    marks: dict[str, list[str]] = {}
    for table, leaf in zip(tables, leaves, strict=True):
        for member in leaf.members:
            stile = member.role.endswith("stile")
            # A floor pivot's sleeve stands in the hanging stile's top.
            sleeved = member.role == "hanging stile" and isinstance(table.mount, FloorPivot)
            rail = member.role in ("top rail", "bottom rail")
            ends = 0
            if table.corners == "stiles run through" and stile and not sleeved:
                ends = 1
            elif table.corners == "rails run through" and rail:
                ends = 2
            marks.setdefault(member.section.designation, []).extend([member.mark] * ends)
    for section, named in marks.items():
        if named:
            made.put(
                "bolts",
                f"bolts/cap/{section}",
                "caps of tubes",
                section,
                len(named),
                None,
                f"open tops of {', '.join(dict.fromkeys(named))}, against rain; after any zinc bath"
                ". Lower ends stay open and drain",
            )
