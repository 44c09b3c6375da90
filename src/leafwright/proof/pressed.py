"""Where wind and what lies on the infill go: from the panels to the members of a leaf's frame.

What presses on a panel goes to its two long edges, half each, spread evenly along them; on boards
to the two that they end on. The frame shares it truly, out of its plane; the long members are taken
to carry all of it of a plate, and are the ones that bend most. Where nobody says which way boards
run, the leaf is proved both ways. What bare bars catch stays on them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from leafwright.frame.of_leaf import LeafFrame, MemberLoad
from leafwright.leaf import Leaf, Member
from leafwright.proof.panels import bars_in, rectangles
from leafwright.proof.wind import LeafWind, PanelWind
from leafwright.records import KilogramsPerSquareMetre


def wind_lines(
    frame: LeafFrame, on: LeafWind, *, other_way: bool = False
) -> tuple[MemberLoad, ...]:
    """Return what wind puts on every element square to the leaf, a magnitude [N/m].

    Args:
        frame: the leaf's frame.
        on: the wind on its panels.
        other_way: boards that nobody says the way of end on the panel's short edges.
    """
    at = {node.key: node.at for node in frame.model.nodes}
    lengths = {e.key: math.dist(at[e.start], at[e.end]) for e in frame.model.elements}
    middles = {e.key: (at[e.start][1] + at[e.end][1]) / 2.0 for e in frame.model.elements}
    of_member: dict[str, list[str]] = {}
    for element in frame.model.elements:
        of_member.setdefault(element.member, []).append(element.key)
    put: dict[str, float] = {}

    def spread(member: Member, panel: PanelWind, force: float) -> None:
        keys: Iterable[str] = of_member[member.key]
        if member.role.endswith("stile"):
            # A pivot or a corner may stand a little outside what the panel covers.
            low = -math.inf if panel is on.panels[0] else panel.bottom
            high = math.inf if panel is on.panels[-1] else panel.top
            keys = [key for key in keys if low < middles[key] <= high]
        total = sum(lengths[key] for key in keys)
        for key in keys:
            put[key] = put.get(key, 0.0) + force / total

    leaf = frame.leaf
    rails = sorted((m for m in leaf.members if m.role.endswith("rail")), key=lambda m: m.foot[1])
    stiles = [m for m in leaf.members if m.role.endswith("stile")]
    for panel, clear, rectangle in zip(on.panels, leaf.panels, rectangles(leaf), strict=True):
        tall = clear.top - clear.bottom >= clear.right - clear.left
        to_stiles = tall != (other_way and panel.either)
        if panel.edges != "long":
            to_stiles = panel.edges == "stiles"
        edges = stiles if to_stiles else rails[clear.number - 1 : clear.number + 1]
        for edge in edges:
            spread(edge, panel, panel.on_edges / 2.0)
        if panel.on_bars > 0.0:
            for member, long, wide in bars_in(leaf, rectangle):
                spread(member, panel, panel.on_bars * long * wide)
    return tuple(MemberLoad(key, force) for key, force in put.items())


def with_water_or_ice(leaf: Leaf, per_area: KilogramsPerSquareMetre) -> Leaf:
    """Return the leaf with water or ice on every face of its infill, as part of its hung mass."""
    wet = tuple(replace(piece, mass=piece.mass + per_area * piece.area) for piece in leaf.infill)
    more = sum(w.mass - dry.mass for w, dry in zip(wet, leaf.infill, strict=True))
    return replace(leaf, infill=wet, hung_mass=leaf.hung_mass + more)
