"""The end of a hanging stile with its rail, cut through the axis that the leaf turns on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leafwright.mount import Mounting
from leafwright.paper.drawing import Dimension, DrawingItem
from leafwright.paper.scene import Line
from leafwright.paper.sheets.common import Desk
from leafwright.paper.sheets.mount_parts import (
    LABEL_MM,
    cut_steel,
    hinge_edge_mark,
    member,
    plain,
    shown,
    up_mark,
    words_above,
    zigzag,
)

#: How far floor and plate go on past the hinge edge, and the rail past the stile, in widths of it.
OVER, STUB = 0.3, 0.7


@dataclass(frozen=True, slots=True)
class StileEnd:
    """The end of a hanging stile on its pivot's axis, x across from the axis [m].

    ``way`` is 1 where the leaf is on the right of its hinge edge. ``edge`` and ``inner`` are the
    stile's sides, ``out`` and ``far`` where the drawing ends beyond them.
    """

    m: Mounting
    way: float
    width: float
    wall: float
    edge: float
    inner: float
    out: float
    far: float

    @property
    def inside(self) -> float:
        """Return the room inside the stile [m]."""
        return max(self.width - 2.0 * self.wall, 0.4 * self.width)


def stile_end(m: Mounting) -> StileEnd:
    """Return the hanging stile's end as it is drawn."""
    section = member(m, "hanging stile").section
    way = 1.0 if m.place.hand == "left" else -1.0
    axis, wide = m.place.axis.value, section.width
    edge, inner = -way * axis, way * (wide - axis)
    return StileEnd(
        m=m,
        way=way,
        width=wide,
        wall=section.nominal_wall,
        edge=edge,
        inner=inner,
        out=edge - way * OVER * wide,
        far=inner + way * STUB * wide,
    )


def stile_steel(end: StileEnd, reach: float) -> list[DrawingItem]:
    """Return stile and rail at a leaf's corner, cut through; the corner is at y = 0.

    Args:
        end: the stile.
        reach: how far up the stile is drawn [m]; negative for one that hangs down from y = 0.
    """
    m, t, b = end.m, end.wall, end.width
    up = 1.0 if reach > 0.0 else -1.0
    corners, way = m.table.corners, end.way
    starts = {"stiles run through": (0.0, 0.0), "rails run through": (b, b), "mitred": (0.0, b - t)}
    outer, inner = starts[corners]
    items: list[DrawingItem] = []
    if t > 0.0:
        rail_in = {
            "stiles run through": (end.inner, end.inner),
            "rails run through": (end.edge, end.edge),
            "mitred": (end.edge + way * t, end.inner),
        }[corners]
        for x, level in zip(rail_in, (0.0, b - t), strict=True):
            items += cut_steel(x, up * level, end.far, up * (level + t), spacing=1.6)
        items += cut_steel(end.edge, up * outer, end.edge + way * t, reach)
        items += cut_steel(end.inner - way * t, up * inner, end.inner, reach)
        if corners == "mitred":
            items.append(Line((end.edge, 0.0), (end.inner, up * b), "thin"))
    else:
        items += cut_steel(end.inner, 0.0, end.far, up * b, spacing=1.6)
        items += cut_steel(end.edge, up * min(outer, b), end.inner, reach)
    items += zigzag((end.edge, reach), (end.inner, reach))
    items += zigzag((end.far, 0.0), (end.far, up * b))
    return items


def stile_dimensions(at: Desk, end: StileEnd, y: float, side: float) -> list[DrawingItem]:
    """Return where the axis is and how wide the stile is, past its broken end at ``y`` [m].

    ``side`` is 1 for dimensions over that end, −1 for those under it.
    """
    outside: Literal["after", "before"] = "after" if end.way > 0.0 else "before"
    section = member(end.m, "hanging stile").section
    words = f"hanging stile, {plain(section.designation)}"
    up = side > 0.0
    spans = ((end.edge, 0.0), (end.edge, end.inner))
    return [
        *(
            Dimension(
                (a, y),
                (b, y),
                side * off,
                shown(at, abs(b - a)),
                "x",
                outside=outside,
                height_mm=LABEL_MM,
            )
            for (a, b), off in zip(spans, (6.0, 12.5) if up else (8.0, 14.5), strict=True)
        ),
        words_above((0.0, y), words, 18.0 if up else -21.5, wide=90.0),
        hinge_edge_mark((end.edge, y), -end.way, side * 12.5),
        up_mark((end.edge, y), (-end.way * 7.0, 1.8 if up else -9.5)),
    ]
