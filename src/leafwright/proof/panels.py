"""A leaf's panels as wind sees them: what each covers, and the bars that stand bare in it."""

from __future__ import annotations

from dataclasses import dataclass

from leafwright.leaf import Leaf, Member
from leafwright.records import Metres


@dataclass(frozen=True, slots=True)
class Rectangle:
    """What one panel covers: between the middles of its mid rails, to the leaf's edges [m]."""

    panel: int
    bottom: Metres
    top: Metres
    first: bool
    last: bool


def rectangles(leaf: Leaf) -> tuple[Rectangle, ...]:
    """Return what each panel covers, bottom first; together they are the whole leaf."""
    between = [
        (below.top + above.bottom) / 2
        for below, above in zip(leaf.panels, leaf.panels[1:], strict=False)
    ]
    ends = [0.0, *between, leaf.height]
    last = len(leaf.panels) - 1
    return tuple(
        Rectangle(panel.number, ends[i], ends[i + 1], i == 0, i == last)
        for i, panel in enumerate(leaf.panels)
    )


def bars_in(leaf: Leaf, rectangle: Rectangle) -> list[tuple[Member, Metres, Metres]]:
    """Return the bars that stand bare in a panel, each with its length and its width there [m]."""
    found = []
    height = rectangle.top - rectangle.bottom
    rails = sorted((m for m in leaf.members if m.role.endswith("rail")), key=lambda m: m.foot[1])
    edges = (rails[rectangle.panel - 1], rails[rectangle.panel])
    for member in leaf.members:
        wide = member.section.width
        if member.role.endswith("stile"):
            found.append((member, height, wide))
        elif member.role.endswith("rail"):
            if member in edges:
                between = leaf.width - 2.0 * leaf.members[0].section.width
                found.append((member, between, wide / 2 if member.role == "mid rail" else wide))
        else:
            along = member.length.value * share_in(member, rectangle)
            if along > 0.0:
                found.append((member, along, wide))
    return found


def share_in(member: Member, rectangle: Rectangle) -> float:
    """Return what part of a leaning bar lies in a panel [-]."""
    low = member.foot[1]
    high = low + member.direction[1] * member.length.value
    low, high = min(low, high), max(low, high)
    inside = min(high, rectangle.top) - max(low, rectangle.bottom)
    return max(0.0, inside) / (high - low) if high > low else 0.0
