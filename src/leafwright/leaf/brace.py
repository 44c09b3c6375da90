"""Braces: tubes wedged into a panel's corners, crossed bars, and rods.

A tube's centre line runs from inner corner to inner corner of its panel, so each end is cut by
two planes, the stile's face and the rail's, and its long point is the corner itself; or an end
stands on one of the two faces, clear of the corner (`leafwright.leaf.brace_ends`). Crossed, one
bar runs through and the other is two halves cut to its sides, or coped to it where they are round
tube. A rod stops short of both corners
by the length of its tabs and is cut square.

All planes here are in hinge axes: x from the hinge edge toward the nose.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from leafwright import chain
from leafwright.chain import Quantity
from leafwright.handbook import sections
from leafwright.handbook.catalogue import CatalogueSection
from leafwright.job.cut_wishes import BraceEnd
from leafwright.job.model import Brace
from leafwright.leaf.brace_ends import (
    End,
    Size,
    bar_length,
    end_held,
    half_length,
    planes_of,
    size_of,
    slope_of,
)
from leafwright.leaf.cope import Saddle
from leafwright.leaf.cut import Plane
from leafwright.records import Held, Point2

Rise = Literal["rising", "falling"]

#: The lower and the upper end of a brace, as wished and as numbers.
Ends = tuple[End, End]
Sizes = tuple[Size, Size]

#: Number of the bay that spans all panels, for a rod that passes the mid rails on their face.
WHOLE_LEAF = 0


@dataclass(frozen=True, slots=True)
class Bay:
    """The clear inside of one panel in hinge axes, with its sizes as derived quantities."""

    number: int
    near: float
    far: float
    bottom: float
    top: float
    width: Quantity
    height: Quantity

    def corner(self, *, far: bool, top: bool) -> Point2:
        """Return one of the four inner corners [m]."""
        return (self.far if far else self.near, self.top if top else self.bottom)


@dataclass(frozen=True, slots=True)
class BracePart:
    """One bar of a brace, ready to be cut; ``upper`` is the joint at its higher end."""

    name: str
    foot: Point2
    direction: Point2
    start: tuple[Plane, ...] | Saddle
    end: tuple[Plane, ...] | Saddle
    length: Quantity
    lower: str
    upper: str


def wishes_held(braces: Sequence[Brace], panels: int) -> Held | None:
    """Return why a leaf of so many panels cannot be braced as wished, or None where it can."""
    seen: set[int | str] = set()
    for brace in braces:
        panel = brace.panel
        if isinstance(panel, int) and not 1 <= panel <= panels:
            return Held(
                f"there is no panel {panel} to brace",
                (f"a panel from 1 (the lowest) to {panels}",),
            )
        where = {"each": "each panel", "whole leaf": "the whole leaf"}.get(
            str(panel), f"panel {panel}"
        )
        if panel in seen:
            return Held(
                f"{where} is braced twice",
                (f'one brace for {where}; two tubes that cross are pattern = "X"',),
            )
        seen.add(panel)
        if brace.pattern == "rod" and brace.section is None:
            return Held(
                f"the rod over {where} has no section",
                ('its section, as in section = "round bar 1/2 in"',),
            )
    return None


def section_held(bay: Bay, brace: Brace, section: CatalogueSection) -> Held | None:
    """Return why a section cannot be the brace of a bay, or None where it can."""
    if section.shape == sections.ANGLE:
        return Held(
            f"a brace of {section.designation} is not there yet: which way its legs point "
            "cannot be said",
            ("a brace of tube, flat or round bar",),
        )
    if brace.pattern == "rod":
        return None
    if brace.pattern == "X" and section.shape == sections.ROUND_BAR:
        return Held(
            f"an X of {section.designation} needs the halves milled to the solid bar between "
            "them, which is not there yet",
            ("an X of tube, one diagonal, or a rod",),
        )
    if brace.crossing == "half lapped" and section.shape == sections.ROUND_TUBE:
        return Held(
            f"a half lap of {section.designation} is not there yet: its notch would be a trough",
            ('crossing = "one through", whose halves are coped, or square tube',),
        )
    if section.width >= min(bay.width.value, bay.height.value):
        return Held(
            f"a brace of {section.designation} is wider than panel {bay.number}",
            ("a larger panel or a smaller brace",),
        )
    return None


def _ends(bay: Bay, rise: Rise) -> tuple[Point2, Point2]:
    """Return the corners at the lower and the upper end; rising runs up from the hinge side."""
    lower = bay.corner(far=rise == "falling", top=False)
    upper = bay.corner(far=rise == "rising", top=True)
    return lower, upper


def ends_held(bay: Bay, ends: Ends, section: CatalogueSection) -> Held | None:
    """Return why the ends of a tube cannot stand in a bay as wished, or None where they can."""
    sizes = [size_of(end) for end in ends]
    round_one = section.shape in (sections.ROUND_TUBE, sections.ROUND_BAR)
    if round_one and any(size.on == "corner" and size.bead > size.gap for size in sizes):
        return Held(
            f"room for the corner's bead at an end of {section.designation} is not there yet",
            ("a brace of square tube, no bead_clearance, or its ends on the stile or rail alone",),
        )
    try:
        slope = slope_of(bay.width.value, bay.height.value, section.width, sizes)
    except ValueError as error:
        return Held(f"brace {bay.number}: {error}", ("its ends nearer to the corners",))
    for size in sizes:
        held = end_held(size, section.width, bay.width.value, bay.height.value, slope)
        if held is not None:
            return Held(f"panel {bay.number}: {held.why}", held.needs)
    return None


def _joint(bay: Bay, on: BraceEnd, *, far: bool, top: bool) -> str:
    """Return the name of the joint at an end: that of its corner, and what it stands on alone."""
    corner = f"{'top' if top else 'bottom'} {'nose' if far else 'hinge'}"
    if bay.number == WHOLE_LEAF:
        return corner
    return f"panel-{bay.number} {corner}" + ("" if on == "corner" else f" {on}")


def _inputs(bay: Bay, bar: Quantity, ends: Ends) -> tuple[list[Quantity], Callable[..., Sizes]]:
    """Return the quantities a length is made from, and what makes both ends of their values.

    Only what is not nothing is an input: a plain brace is its panel's diagonal and no more.
    """
    inputs = [bay.width, bay.height]
    plain = all(e.on == "corner" and not e.gap.value and not e.bead.value for e in ends)
    if not plain:
        inputs.append(bar)
    places: list[dict[str, int]] = []
    for end in ends:
        mine = {"gap": end.gap} if end.gap.value else {}
        if end.on != "corner":
            mine["clear"] = end.clear
        elif end.bead.value > end.gap.value:
            mine["bead"] = end.bead
        where = {}
        for name, quantity in mine.items():
            if quantity not in inputs:
                inputs.append(quantity)
            where[name] = inputs.index(quantity)
        places.append(where)

    def sizes(values: Sequence[float]) -> Sizes:
        lower, upper = (
            Size(end.on, *(values[at[n]] if n in at else 0.0 for n in ("clear", "bead", "gap")))
            for end, at in zip(ends, places, strict=True)
        )
        return lower, upper

    return inputs, sizes


def _end_words(end: End) -> str:
    """Return how an end counts in a length, in words."""
    if end.on == "corner":
        back = []
        if end.bead.value > end.gap.value:
            back.append("bead clearance")
        if end.gap.value:
            back.append("root gap")
        return f"wedged, kept back by the {' and the '.join(back)} along its slope" if back else ""
    gap = ", less the root gap along its slope" if end.gap.value else ""
    return f"on the {end.on} alone, clear of the corner, to its long point{gap}"


def _formula(ends: Ends) -> str:
    told = [_end_words(end) for end in ends]
    if not any(told):
        return "√(clear width² + clear height²)"
    lower, upper = (t or "wedged into the corner" for t in told)
    if lower == upper:
        return f"along its centre line from face to face, both ends {lower}"
    return f"along its centre line from face to face, lower end {lower}; upper end {upper}"


def one_diagonal(
    key: str, bay: Bay, rise: Rise, name: str, section: CatalogueSection, ends: Ends
) -> BracePart:
    """Return a tube across a panel, from corner to corner or from face to face."""
    rising = rise == "rising"
    bar = _bar_width(key, section)
    inputs, sizes = _inputs(bay, bar, ends)

    at = inputs.index(bar) if bar in inputs else None

    def long(*values: float) -> float:
        own = section.width if at is None else values[at]
        return bar_length(values[0], values[1], own, *sizes(values))

    length = chain.worked(
        f"{key}/length", f"length of {name}, long point to long point", _formula(ends), long, inputs
    )
    own = (size_of(ends[0]), size_of(ends[1]))
    slope = slope_of(bay.width.value, bay.height.value, section.width, own)
    corners = _ends(bay, rise)
    faces, cuts = [], []
    for corner, end, far, top in (
        (corners[0], own[0], not rising, False),
        (corners[1], own[1], rising, True),
    ):
        planes, (x, y) = planes_of(end, corner, far=far, top=top)
        dx, dy = end.offset(section.width, slope)
        faces.append((corner[0] - x * dx, corner[1] - y * dy))
        cuts.append(planes)
    (x0, y0), (x1, y1) = faces
    return BracePart(
        name=name,
        foot=faces[0],
        direction=(x1 - x0, y1 - y0),
        start=cuts[0],
        end=cuts[1],
        length=length,
        lower=_joint(bay, own[0].on, far=not rising, top=False),
        upper=_joint(bay, own[1].on, far=rising, top=True),
    )


def _bar_width(key: str, section: CatalogueSection) -> Quantity:
    key = key.rsplit("/", 1)[0] if key.endswith(("/through", "/cut", "/across")) else key
    return chain.base(
        "table", f"{key}/bar width", "bar width", section.width, note=section.designation
    )


def rod(key: str, bay: Bay, rise: Rise, name: str, allowance: Quantity) -> BracePart:
    """Return a rod between two corners of a panel, square cut, short by a tab at each end."""
    lower, upper = _ends(bay, rise)
    rising = rise == "rising"
    run = (upper[0] - lower[0], upper[1] - lower[1])
    size = math.hypot(*run)
    along = (run[0] / size, run[1] / size)
    at_lower = lower[0] * along[0] + lower[1] * along[1]
    length = chain.worked(
        f"{key}/length",
        f"length of {name}",
        "√(clear width² + clear height²) − 2 × tab",
        lambda w, h, a: math.hypot(w, h) - 2 * a,
        [bay.width, bay.height, allowance],
    )
    tab = allowance.value
    return BracePart(
        name=name,
        foot=lower,
        direction=run,
        start=(Plane((-along[0], -along[1]), -(at_lower + tab)),),
        end=(Plane(along, at_lower + size - tab),),
        length=length,
        lower=_joint(bay, "corner", far=not rising, top=False),
        upper=_joint(bay, "corner", far=rising, top=True),
    )


def half_lapped(
    key: str, bay: Bay, through: Rise, section: CatalogueSection, name: str, ends: Ends
) -> tuple[BracePart, BracePart]:
    """Return an X of two whole bars; the first is notched from the back, the other from the face.

    They are cut as whole bars here; the notches are made where the leaf's members are.
    """
    other: Rise = "falling" if through == "rising" else "rising"
    first = one_diagonal(f"{key}/through", bay, through, f"{name}, its face whole", section, ends)
    second = one_diagonal(f"{key}/across", bay, other, f"{name}, its back whole", section, ends)
    return first, second


def crossed(
    key: str, bay: Bay, through: Rise, section: CatalogueSection, name: str, ends: Ends
) -> tuple[BracePart, BracePart, BracePart]:
    """Return an X: the bar that runs through, then the lower and upper half of the other."""
    whole = one_diagonal(f"{key}/through", bay, through, f"{name}, through", section, ends)
    other: Rise = "falling" if through == "rising" else "rising"
    cut = one_diagonal(f"{key}/cut", bay, other, name, section, ends)
    size = math.hypot(*whole.direction)
    along = (whole.direction[0] / size, whole.direction[1] / size)
    side = (-along[1], along[0])
    # The side of the through bar that faces the upper half.
    if side[0] * cut.direction[0] + side[1] * cut.direction[1] < 0:
        side = (-side[0], -side[1])
    middle = side[0] * whole.foot[0] + side[1] * whole.foot[1]
    gap = ends[0].gap
    coped = section.shape == sections.ROUND_TUBE
    bar = _bar_width(key, section)
    inputs, sizes = _inputs(bay, bar, ends)
    if bar not in inputs and not coped:
        inputs.append(bar)
    at = inputs.index(bar) if bar in inputs else None
    halves = []
    for upper in (False, True):
        which = "upper" if upper else "lower"
        part_key = f"{key}/{which}"

        def long(*values: float, upper: bool = upper) -> float:
            w, h, b = values[0], values[1], section.width if at is None else values[at]
            return half_length(w, h, b, *sizes(values), of_upper=upper, coped=coped)

        own = _end_words(ends[1] if upper else ends[0])
        formula = (
            f"from its end, {own or 'wedged into the corner'}, to the middle of the crossing"
            if any(_end_words(end) for end in ends)
            else "half the clear diagonal"
        )
        if not coped:
            formula += " − bar width / (2 sin crossing) + bar width / (2 tan crossing)"
        if gap.value:
            formula += " − root gap / sin crossing"
        length = chain.worked(
            f"{part_key}/length",
            f"length of {name}, {which} half, long point to long point",
            formula,
            long,
            inputs,
        )
        into = _to_the_side(section, side, middle - gap.value)
        out = _to_the_side(section, (-side[0], -side[1]), -(middle + gap.value))
        halves.append(
            BracePart(
                name=f"{name}, {which} half",
                foot=cut.foot,
                direction=cut.direction,
                start=out if upper else cut.start,
                end=cut.end if upper else into,
                length=length,
                lower=f"panel-{bay.number} crossing" if upper else cut.lower,
                upper=cut.upper if upper else f"panel-{bay.number} crossing",
            )
        )
    return whole, halves[0], halves[1]


def _to_the_side(
    section: CatalogueSection, normal: Point2, middle: float
) -> tuple[Plane, ...] | Saddle:
    """Return the cut of a half at a bar of the same section whose axis lies on a plane."""
    half = section.width / 2
    if section.shape == sections.ROUND_TUBE:
        return Saddle(normal, middle, half, half - section.nominal_wall)
    return (Plane(normal, middle - half),)
