"""Stiles and rails of a leaf, with their corners mitred or butted, and the panels between them.

In hinge axes: x from the hinge edge toward the nose, y up from the bottom.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.model import LeafTable
from leafwright.leaf.brace import WHOLE_LEAF, Bay
from leafwright.leaf.brace_ends import Size
from leafwright.leaf.cope import Saddle
from leafwright.leaf.cut import Plane
from leafwright.leaf.records import Role
from leafwright.records import Held, Point2


@dataclass(frozen=True, slots=True)
class Part:
    """A member before it is cut, in hinge axes."""

    name: str
    role: Role
    number: int
    tail: str
    section: CatalogueSection
    foot: Point2
    direction: Point2
    start: tuple[Plane, ...] | Saddle
    end: tuple[Plane, ...] | Saddle
    length: Quantity
    joints: tuple[str, str]
    stands: tuple[Size, Size] | None = None


@dataclass(frozen=True, slots=True)
class Frame:
    """Sizes that every part of the leaf is made from."""

    key: str
    table: LeafTable
    section: CatalogueSection
    nose_role: Role
    width: Quantity
    height: Quantity
    tube: Quantity
    rails: tuple[Quantity, ...]
    gap: Quantity
    shrinkage: Quantity


def _up(at: float) -> Plane:
    return Plane((0.0, 1.0), at)


def _down(at: float) -> Plane:
    return Plane((0.0, -1.0), -at)


def _toward_nose(at: float) -> Plane:
    return Plane((1.0, 0.0), at)


def _toward_hinge(at: float) -> Plane:
    return Plane((-1.0, 0.0), -at)


def rail_heights(
    frame_key: str, table: LeafTable, height: Quantity, tube: Quantity
) -> tuple[Quantity, ...] | Held:
    """Return the y of every rail's centre line, bottom to top [m]."""
    bottom = chain.total(f"{frame_key}/bottom rail/y", "bottom rail centre", [(0.5, tube)])
    top = chain.total(f"{frame_key}/top rail/y", "top rail centre", [(1.0, height), (-0.5, tube)])
    mids = []
    # Counted from the bottom, in whatever order they are wished, as the members are.
    wished = sorted(table.mid_rail, key=lambda m: m.height.si if m.height else height.value / 2)
    for i, mid in enumerate(wished, start=1):
        key, name = f"{frame_key}/mid rail-{i}/y", f"mid rail {i} centre"
        if mid.height is not None:
            typed = mid.height
            wish = chain.base("wish", f"{key}/wish", name, typed.si, note=typed.text)
            mids.append(chain.renamed(wish, key, name))
        else:
            mids.append(chain.total(key, name, [(0.5, height)]))
    rails = (bottom, *mids, top)
    for below, above in itertools.pairwise(rails):
        if above.value - below.value <= tube.value:
            return Held(
                f"{above.name} is not above {below.name} by more than a tube",
                ("mid rails inside the leaf and apart from one another",),
            )
    return rails


def outer_parts(f: Frame) -> list[Part]:
    """Return stiles and rails with their corners mitred or butted."""
    w, h, b, g = f.width.value, f.height.value, f.tube.value, f.gap.value
    corners = f.table.corners
    root = math.sqrt(0.5)
    mitre = {  # the four corner cuts, for the stile that meets each, less half the root gap
        "bottom hinge stile": Plane((root, -root), -g / 2),
        "top hinge stile": Plane((root, root), root * h - g / 2),
        "bottom nose stile": Plane((-root, -root), -root * w - g / 2),
        "top nose stile": Plane((-root, root), root * (h - w) - g / 2),
    }

    def length(name: str, part: str, whole: Quantity, less: bool) -> Quantity:
        key, name = f"{f.key}/{part}/length", f"length of the {name}"
        parts = [(1.0, whole), *([(-2.0, f.tube)] if less else [])]
        if not (less or corners == "mitred") or not (g or f.shrinkage.value):
            return chain.total(key, name, parts)
        if f.shrinkage.value:
            parts.append((2.0, f.shrinkage))
        if not g:
            return chain.total(key, name, parts)
        if less:
            return chain.total(key, name, [*parts, (-2.0, f.gap)])
        added = " + 2 × weld shrinkage" if f.shrinkage.value else ""
        return chain.worked(
            key,
            name,
            f"{whole.name} − √2 × root gap{added}",
            lambda size, gap, pulled: size - math.sqrt(2.0) * gap + 2.0 * pulled,
            [whole, f.gap, f.shrinkage],
        )

    parts = []
    stiles: tuple[tuple[Role, float, str], ...] = (
        ("hanging stile", b / 2, "hinge"),
        (f.nose_role, w - b / 2, "nose"),
    )
    for role, x, side in stiles:
        start, end = _down(0.0), _up(h)
        if corners == "rails run through":
            start, end = _down(b + g), _up(h - b - g)
        elif corners == "mitred":
            start, end = mitre[f"bottom {side} stile"], mitre[f"top {side} stile"]
        parts.append(
            Part(
                role,
                role,
                0,
                "",
                f.section,
                (x, 0.0),
                (0.0, 1.0),
                (start,),
                (end,),
                length(role, role, f.height, corners == "rails run through"),
                (f"bottom {side}", f"top {side}"),
            )
        )
    for i, y in enumerate(f.rails):
        outer = i in (0, len(f.rails) - 1)
        name = "bottom rail" if i == 0 else "top rail" if outer else f"mid rail-{i}"
        role = "bottom rail" if i == 0 else "top rail" if outer else "mid rail"
        start, end = _toward_hinge(b + g), _toward_nose(w - b - g)
        butted = not outer or corners == "stiles run through"
        if outer and corners == "rails run through":
            start, end = _toward_hinge(0.0), _toward_nose(w)
        elif outer and corners == "mitred":
            which = "bottom" if i == 0 else "top"
            start = _turned_round(mitre[f"{which} hinge stile"], g)
            end = _turned_round(mitre[f"{which} nose stile"], g)
        ends = (
            (f"{name} hinge", f"{name} nose")
            if not outer
            else (("bottom hinge", "bottom nose") if i == 0 else ("top hinge", "top nose"))
        )
        parts.append(
            Part(
                name,
                role,
                i if not outer else 0,
                "",
                f.section,
                (0.0, y.value),
                (1.0, 0.0),
                (start,),
                (end,),
                length(name.replace("-", " "), name, f.width, butted),
                ends,
            )
        )
    return parts


def _turned_round(plane: Plane, gap: float) -> Plane:
    """Return the cut on the other side of a mitre, a root gap away [m]."""
    return Plane((-plane.normal[0], -plane.normal[1]), -plane.offset - gap)


def bays_of(f: Frame) -> tuple[Bay, ...]:
    """Return the clear panels between the rails, counted from the bottom."""
    b = f.tube.value
    clear = chain.total(
        f"{f.key}/clear width", "clear width between stiles", [(1.0, f.width), (-2.0, f.tube)]
    )
    bays = []
    for number, (below, above) in enumerate(itertools.pairwise(f.rails), start=1):
        clear_height = chain.total(
            f"{f.key}/panel-{number}/clear height",
            f"clear height of panel {number}",
            [(1.0, above), (-1.0, below), (-1.0, f.tube)],
        )
        bays.append(
            Bay(
                number,
                b,
                f.width.value - b,
                below.value + b / 2,
                above.value - b / 2,
                clear,
                clear_height,
            )
        )
    return tuple(bays)


def whole_leaf(f: Frame, bays: Sequence[Bay]) -> Bay:
    """Return the bay from bottom rail to top rail, mid rails passed by."""
    clear_height = chain.total(
        f"{f.key}/clear height",
        "clear height between top and bottom rail",
        [(1.0, f.height), (-2.0, f.tube)],
    )
    first, last = bays[0], bays[-1]
    return Bay(WHOLE_LEAF, first.near, first.far, first.bottom, last.top, first.width, clear_height)
