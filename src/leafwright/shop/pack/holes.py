"""Which tools all holes take, those alike together, and what must fit each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from leafwright.shop.holes.records import Hole, Holes, HoleTool
from leafwright.shop.holes.tools import size_words

#: What a hole is called where many of its kind are counted.
_KINDS: Final[dict[str, str]] = {
    "tapped": "tapped hole",
    "plug weld": "plug hole",
    "access": "access hole",
    "vent": "vent",
    "drain": "drain",
    "weep": "weep hole",
    "weld vent": "vent for the last weld",
    "grease vent": "vent of the ball's room",
    "match-drill": "hole drilled through its mate",
    "pilot": "pilot hole",
}
_FITS: Final[dict[str, str]] = {
    "masonry bit": "what goes in, by its own report; and the hammer drill",
    "annular cutter": "its own pilot and the magnetic drill",
    "hole saw": "its arbor and pilot",
}


@dataclass(slots=True)
class ToolUse:
    """One tool of one size: how many holes it makes, what for, and what must fit it.

    ``in_concrete`` says that it drills the slab; ``whys`` counts what it makes, by kind and part.
    """

    tool: HoleTool
    goes_with: str
    in_concrete: bool = False
    count: int = 0
    whys: dict[str, list[str]] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)

    def makes(self, what: str, where: str, count: int = 1) -> None:
        """Count holes that it makes, in a part by its mark."""
        self.count += count
        self.counts[what] = self.counts.get(what, 0) + count
        parts = self.whys.setdefault(what, [])
        if where and where not in parts:
            parts.append(where)

    @property
    def why(self) -> tuple[str, ...]:
        """Return what it makes, one reason for each kind of hole."""
        return tuple(
            f"{self.counts[what]} × {what}{f' in {_listed(parts)}' if parts else ''}"
            for what, parts in self.whys.items()
        )


def tools_of(holes: Holes) -> tuple[ToolUse, ...]:
    """Return every tool that the holes of a job take, in the order in which they need it."""
    found: dict[HoleTool, ToolUse] = {}

    def use(tool: HoleTool, beside: Sequence[HoleTool]) -> ToolUse:
        if tool not in found:
            fits = _FITS.get(tool.kind, "")
            # A tap and its drill are a pair, whichever is looked for at the rack.
            if any(one.kind == "tap" for one in beside):
                fits = " and ".join(one.words for one in beside if one is not tool)
            found[tool] = ToolUse(tool, fits)
        return found[tool]

    marked = [(part.mark, hole) for part in holes.parts for hole in part.holes]
    marked += [(plate.mark, hole) for plate in holes.plates for hole in plate.holes]
    for mark, hole in marked:
        if hole.refused:
            continue
        for tool in hole.tools:
            use(tool, hole.tools).makes(_what(hole), mark)
    for place in holes.in_place:
        if place.refused:
            continue
        for tool in place.tools:
            one = use(tool, place.tools)
            # The same for each leaf: "anchors of the floor plate of the left leaf".
            told = re.sub(r" of the (left|right) leaf", "", place.use).partition(",")[0]
            one.makes(f"hole for {told}", "", place.count)
            one.in_concrete = one.in_concrete or tool.kind == "masonry bit"
    return tuple(found.values())


def _what(hole: Hole) -> str:
    if hole.kind in _KINDS:
        return _KINDS[hole.kind]
    # A clearance hole is named for what goes through it: "anchor, lower left".
    named = hole.use.partition(",")[0]
    return f"{named} hole" if hole.kind == "clearance" else named


def _listed(parts: Sequence[str]) -> str:
    shown = ", ".join(parts[:8])
    return f"{shown} and {len(parts) - 8} more" if len(parts) > 8 else shown


def screws_of(holes: Holes, system: str) -> tuple[tuple[str, str, int, str], ...]:
    """Return the screws of the infill by size: what, its size, how many, what for.

    The pilot drill stands in the reason: the two are a pair.
    """
    groups: dict[tuple[float, str], tuple[int, list[str]]] = {}
    for row in holes.screws:
        key = (round(row.screw.value, 6), row.tool)
        count, marks = groups.get(key, (0, []))
        groups[key] = (count + row.count, marks if row.mark in marks else [*marks, row.mark])
    return tuple(
        ("screws", size_words(size, system), count, f"infill on {_listed(marks)}, pilot {tool}")
        for (size, tool), (count, marks) in groups.items()
    )
