"""The metal in all seams as drawn, added up, and the wall that sets the welder's current."""

from __future__ import annotations

import math
from collections.abc import Sequence

from leafwright.handbook import sections, weld_metal
from leafwright.leaf import Leaf
from leafwright.proof.working import Lines
from leafwright.shop.pack.records import SeamSum
from leafwright.shop.seams import Seams, WeldLength


def sums_of(seams: Seams) -> tuple[SeamSum, ...]:
    """Return the seams of all leaves by kind, size and where they are made, most metal first."""
    groups: dict[tuple[str, float | None, str], list[WeldLength]] = {}
    for leaf in seams.leaves:
        for row in leaf.lengths:
            size = None if row.size is None else round(row.size, 9)
            groups.setdefault((row.kind, size, row.done_at), []).append(row)
    sums = [
        SeamSum(
            kind=kind,
            size=size,
            done_at=rows[0].done_at,
            count=sum(row.seams for row in rows),
            length=math.fsum(row.length for row in rows),
            mass=math.fsum(row.volume for row in rows) * weld_metal.DENSITY,
            unknown=sum(row.unknown for row in rows),
        )
        for (kind, size, _), rows in groups.items()
    ]
    return tuple(sorted(sums, key=lambda s: (-s.mass, s.kind, s.done_at)))


def worked_example(seams: Seams, lines: Lines) -> None:
    """Keep the formula of the largest group whose section is all one, as one to work again."""
    rows = [row for leaf in seams.leaves for row in leaf.lengths if row.area is not None]
    if rows:
        most = max(rows, key=lambda row: row.volume)
        lines.work(weld_metal.deposit_mass, area=most.area or 0.0, length=most.length)


def wall_welded(leaves: Sequence[Leaf]) -> float:
    """Return the thickest wall that is welded among the frames' tubes and bars [m]."""
    walls = [
        member.section.nominal_wall or min(member.section.width, member.section.height)
        for leaf in leaves
        for member in leaf.members
        if member.section.shape != sections.ROUND_BAR
    ]
    return max(walls)
