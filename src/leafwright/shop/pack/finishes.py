"""What a leaf is finished with, as it is bought: primer and paint by area, zinc by weight."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from leafwright.handbook.sections import ROUND_BAR, ROUND_TUBE
from leafwright.job.model import LeafTable
from leafwright.leaf import Leaf
from leafwright.shop.cut_list import CutItem, CutList
from leafwright.shop.pack.bill import Bill, sold_in

#: What one coat covers [m2 to a cubic metre], by brush, its losses in it: 300 ft2 to a gallon,
#: 7.4 m2 to a litre; common practice, no source: the can says its own.
COVERS: Final = 300.0 * 0.3048**2 / 3.785411784e-3
#: Coats of primer, and of paint over it; common practice, no source.
COATS: Final = {"primer": 1, "paint": 2}
#: Cans [m3] and their names.
CANS: Final = {
    "feet-inch": ((0.946352946e-3, "1 qt"), (3.785411784e-3, "1 gal")),
    "metric": ((0.75e-3, "0.75 l"), (2.5e-3, "2.5 l"), (5.0e-3, "5 l")),
}


def put_finish(
    made: Bill, tables: Sequence[LeafTable], leaves: Sequence[Leaf], cuts: CutList
) -> None:
    """Put down what finishes the leaves, each as its job says."""
    painted = [leaf for t, leaf in zip(tables, leaves, strict=True) if t.finish == "paint"]
    dipped = [leaf for t, leaf in zip(tables, leaves, strict=True) if t.finish == "galvanized"]
    if any(table.finish == "unknown" for table in tables):
        made.ask('paint or zinc: say finish = "paint", "galvanized" or "bare" for each leaf')
    if painted:
        _paint(made, painted, cuts)
    if dipped:
        # The infill of wood or plastic never goes in, and sheet is screwed on afterwards.
        mass = math.fsum(leaf.lift_mass for leaf in dipped)
        names = " and ".join(leaf.key for leaf in dipped) if len(dipped) > 1 else "the leaf"
        made.put(
            "finish",
            "finish/galvanizing",
            "hot-dip galvanizing",
            f"{mass / 0.45359237:.0f} lb" if made.inch else f"{mass:.0f} kg",
            0,
            None,
            f"{names}, as welded, before what closes them; the bath weighs them again, zinc in it",
            priced=("galvanizing",),
            cost=_by_mass(made, mass),
        )
    own = {key for leaf in leaves for key in _own(leaf)}
    others = [
        mark
        for item in cuts.items
        for key, mark in zip(item.keys, item.marks, strict=True)
        if key not in own
    ]
    if others and (painted or dipped):
        marks = ", ".join(others)
        made.ask(f"the finish of {marks}: it is not in the job, nor in the amounts here")


def _by_mass(made: Bill, mass: float) -> float | None:
    rate = made.job.price.get("galvanizing")
    return None if rate is None or rate.per != "kg" else rate.si * mass


def _own(leaf: Leaf) -> set[str]:
    """Return the keys of all pieces of a leaf's own; a post beside it is none of them."""
    halves = {piece.key for splice in leaf.splices for piece in splice.pieces}
    return {member.key for member in leaf.members} | halves


def outside(item: CutItem) -> float:
    """Return the outside of one piece of a line, its corners taken sharp [m2]."""
    section = item.section
    round_one = section.shape in (ROUND_TUBE, ROUND_BAR)
    way = math.pi * section.width if round_one else 2.0 * (section.width + section.height)
    return way * item.length.value


def _paint(made: Bill, leaves: Sequence[Leaf], cuts: CutList) -> None:
    own = {key for leaf in leaves for key in _own(leaf)}
    area = math.fsum(outside(item) for item in cuts.items for key in item.keys if key in own)
    # Steel sheet is painted on both faces.
    sheet = math.fsum(2.0 * p.area for leaf in leaves for p in leaf.infill if p.kind == "sheet")
    system = made.job.job.system
    shown = f"{(area + sheet) / 0.3048**2:.0f} ft²" if made.inch else f"{area + sheet:.1f} m²"
    sizes = dict(CANS[system])
    for what, coats in COATS.items():
        needs = coats * (area + sheet) / COVERS
        can, count = sold_in(needs, tuple(sizes))
        times = "one coat" if coats == 1 else f"{coats} coats"
        made.put(
            "finish",
            f"finish/{what}",
            f"{what} for steel",
            f"{sizes[can]} can",
            count,
            None,
            f"{times} on {shown} of tube{' and sheet' if sheet else ''}; seams and mill scale "
            "first, the can's own sheet for what goes under and over it",
            area=coats * (area + sheet),
            volume=count * can,
            priced=(what,),
        )
